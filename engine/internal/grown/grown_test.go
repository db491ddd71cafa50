//go:build unix

package grown_test

import (
	"errors"
	"fmt"
	"slices"
	"syscall"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/engine/advise"
	"slipcase/engine/diagnose"
	"slipcase/engine/drill"
	"slipcase/engine/internal/grown"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/refine"
	"slipcase/engine/teardown"
	"slipcase/engine/trial"
	"slipcase/knowledge"
	"slipcase/rules"
)

// large is the largest unit, grown.
func large(tb testing.TB, times int) *model.Model {
	tb.Helper()
	k, _ := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "built in", FS: knowledge.FS}}, Unit: "four-gearset-8", NoExamples: true})
	m, err := model.Build(grown.Unit(k, k.Units[0], times))
	if err != nil {
		tb.Fatal(err)
	}
	return m
}

// findings of a model, places and conditions counted.
func findings(m *model.Model) (n int) {
	for i := range m.Nodes {
		if m.Nodes[i].Finding != nil {
			n++
		}
	}
	return n
}

// Twice the parts are twice the modes and findings, and a complaint comes of the
// same causes as before.
func TestGrown(t *testing.T) {
	one, two := large(t, 1), large(t, 2)
	if a, b := len(one.Modes()), len(two.Modes()); b != 2*a {
		t.Errorf("%d modes grew to %d", a, b)
	}
	if a, b := findings(one), findings(two); b < 2*a*9/10 || b > 2*a {
		t.Errorf("%d findings grew to %d", a, b)
	}
}

// asked is a case after a complaint and the answers to the checks that are open,
// until so many reports are there.
func asked(tb testing.TB, m *model.Model, seed uint64, reports int) *engine.CaseFile {
	tb.Helper()
	d, err := drill.New(m, drill.OneFault, seed)
	if err != nil {
		tb.Fatal(err)
	}
	list, err := d.Checks()
	if err != nil {
		tb.Fatal(err)
	}
	for _, x := range list {
		if len(d.Case().Reports) >= reports {
			break
		}
		if _, err := d.Do(x.Check.Name); err != nil {
			tb.Fatal(err)
		}
	}
	c := d.Case()
	c.Reports = c.Reports[:min(len(c.Reports), reports)]
	return &c
}

// closed are vehicles as closed cases: what came in, and all that had failed found.
func closed(tb testing.TB, m *model.Model, n int) []refine.Case {
	tb.Helper()
	var out []refine.Case
	source := trial.NewVehicles(m)
	for i := range n {
		v, err := source.Draw(10, uint64(i))
		if err != nil || v == nil {
			tb.Fatal(err)
		}
		c := engine.CaseFile{ID: fmt.Sprint(i), Unit: m.Unit.ID, Reports: slices.Clone(v.Opening())}
		for _, node := range m.Modes() {
			if v.On(node) {
				c.Seen = append(c.Seen, engine.Seen{Component: m.Nodes[node].Component.Name, Mode: m.Nodes[node].Mode.Name})
			}
		}
		if len(c.Seen) == 0 {
			c.Seen = append(c.Seen, engine.Seen{Component: m.Unit.Components[0].Name, Cleared: true})
		}
		out = append(out, refine.Case{ID: c.ID, File: c, Outcome: engine.CaseFixed})
	}
	return out
}

// What ties too much together whatever the cases say is told before any of them is
// read: 24 of this unit took a minute.
func TestTooWideToLearn(t *testing.T) {
	m := large(t, 7)
	_, err := refine.Propose(t.Context(), []*model.Model{m}, closed(t, m, 2), refine.Options{Progress: func(p refine.Progress) {
		if p.Done > 0 {
			t.Errorf("%d cases are read", p.Done)
		}
	}})
	if !errors.Is(err, network.ErrWide) {
		t.Error(err)
	}
}

func spent() time.Duration {
	var r syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &r)
	return time.Duration(r.Utime.Nano() + r.Stime.Nano())
}

// BenchmarkGrowth is what is asked of a case of 25 reports, and learning from 24
// closed cases, on the largest unit with its parts and findings once, twice and so
// on up to the bound of 2,000 modes and 5,000 findings of the rules, in processor
// time of all threads; near are reports of a case that count approximately, too-wide
// is the share of cases that end with the advice that says so.
func BenchmarkGrowth(b *testing.B) {
	// The same cases at every size, of vehicles of the real unit.
	var cases []*engine.CaseFile
	for seed := range uint64(6) {
		cases = append(cases, asked(b, large(b, 1), seed, 25))
	}
	for _, times := range []int{1, 2, 4, 7, 10} {
		m := large(b, times)
		size := fmt.Sprintf("%d-modes-%d-findings", len(m.Modes()), findings(m))
		a, err := advise.New(m)
		if err != nil {
			b.Fatal(err)
		}
		shop := closed(b, m, 24)
		each := func(do func(c *engine.CaseFile) (near int, err error)) func(b *testing.B) {
			return func(b *testing.B) {
				var took []float64
				near, failed := 0, 0
				for b.Loop() {
					for _, c := range cases {
						from := spent()
						n, err := do(c)
						if errors.Is(err, network.ErrWide) {
							failed++
							b.Log(err)
						} else if err != nil {
							b.Fatal(err)
						}
						took = append(took, float64((spent()-from).Microseconds())/1000)
						near += n
					}
				}
				slices.Sort(took)
				b.ReportMetric(took[len(took)/2], "median-ms")
				b.ReportMetric(took[len(took)-1], "worst-ms")
				b.ReportMetric(float64(near)/float64(len(took)), "near")
				b.ReportMetric(float64(failed)/float64(len(took)), "too-wide")
				b.ReportMetric(0, "ns/op")
			}
		}
		b.Run("suspects/"+size, each(func(c *engine.CaseFile) (int, error) {
			r, _, err := diagnose.Case(m, c, diagnose.Options{Top: 8, Weights: 1})
			if err != nil {
				return 0, err
			}
			return len(r.Near), nil
		}))
		b.Run("next/"+size, each(func(c *engine.CaseFile) (int, error) {
			out, err := a.Price(c, advise.Options{Best: 3, Explain: true})
			if err != nil {
				return 0, err
			}
			return len(out.Near), nil
		}))
		b.Run("plan/"+size, each(func(c *engine.CaseFile) (int, error) {
			r, _, err := diagnose.Case(m, c, diagnose.Options{})
			if err != nil {
				return 0, err
			}
			_, err = teardown.Make(m, c, r)
			return len(r.Near), err
		}))
		b.Run("learn/"+size, func(b *testing.B) {
			from := spent()
			for b.Loop() {
				if _, err := refine.Propose(b.Context(), []*model.Model{m}, shop, refine.Options{NoHeldOut: true, HeardOnly: true}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64((spent()-from).Milliseconds())/float64(b.N), "cpu-ms")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// BenchmarkCases is learning from more and more closed cases of the real unit, in
// processor time of all threads.
func BenchmarkCases(b *testing.B) {
	m := large(b, 1)
	shop := closed(b, m, 384)
	for _, n := range []int{24, 96, 384} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			from := spent()
			for b.Loop() {
				if _, err := refine.Propose(b.Context(), []*model.Model{m}, shop[:n], refine.Options{HeardOnly: true}); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64((spent()-from).Milliseconds())/float64(b.N), "cpu-ms")
			b.ReportMetric(0, "ns/op")
		})
	}
}
