package advise

import (
	"cmp"
	"context"
	"fmt"
	"hash/fnv"
	"os"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

// largeCase is a case of the largest unit with so many reports by the driver, each
// about another finding drawn by name alone, of which a share is reported present.
// No vehicle is like that; it is what a hostile or mistaken import may hold.
func largeCase(m *model.Model, reports int, share float64) *engine.CaseFile {
	names := m.FindingNames()
	order := func(salt, s string) uint64 {
		h := fnv.New64a()
		fmt.Fprint(h, salt, s)
		return h.Sum64()
	}
	names = slices.DeleteFunc(slices.Clone(names), func(s string) bool { return strings.Contains(s, ":") })
	slices.SortFunc(names, func(a, b string) int { return cmp.Compare(order("which", a), order("which", b)) })
	names = names[:min(reports, len(names))]
	slices.SortFunc(names, func(a, b string) int { return cmp.Compare(order("present", a), order("present", b)) })
	c := &engine.CaseFile{Unit: m.Unit.ID}
	for i, n := range names {
		r := engine.Report{Finding: n, By: "driver", State: engine.Absent}
		if float64(i) < share*float64(len(names)) {
			r.State = engine.Present
		}
		c.Reports = append(c.Reports, r)
	}
	return c
}

var largest = sync.OnceValues(func() (*model.Model, error) { return loadModel("four-gearset-8") })

// BenchmarkLarge is what suspects and next ask of cases of
// hundreds of reports take. ONLY narrows it, as 329/0.06.
func BenchmarkLarge(b *testing.B) {
	m, err := largest()
	if err != nil {
		b.Fatal(err)
	}
	a, err := New(m)
	if err != nil {
		b.Fatal(err)
	}
	for _, n := range []int{329, 493, 619, 917} {
		for _, share := range []float64{0.01, 0.06, 0.3, 0.5, 1} {
			name := fmt.Sprint(n, "/", share)
			if only := os.Getenv("ONLY"); only != "" && only != name {
				continue
			}
			c := largeCase(m, n, share)
			b.Run("suspects/"+name, func(b *testing.B) {
				near := 0
				for b.Loop() {
					own := m.WithContext(context.Background())
					r, _, err := diagnose.Case(own, c, diagnose.Options{Top: 8, Weights: 1})
					if err != nil {
						b.Fatal(err)
					}
					near = len(r.Near)
				}
				b.ReportMetric(float64(near), "near")
			})
			b.Run("next/"+name, func(b *testing.B) {
				near := 0
				for b.Loop() {
					out, err := a.Price(c, Options{Best: 3, Explain: true})
					if err != nil {
						b.Fatal(err)
					}
					near = len(out.Near)
				}
				b.ReportMetric(float64(near), "near")
			})
		}
	}
}

// Reports that are all but impossible together need many digits; on the tree of
// 493 of them that took half a minute. They are answered in float64, some of them
// approximately, and these are named.
func TestUnlikelyReportsAreShared(t *testing.T) {
	t.Parallel()
	m, err := largest()
	if err != nil {
		t.Fatal(err)
	}
	r, _, err := diagnose.Case(m, largeCase(m, 493, 0.06), diagnose.Options{Top: 8, Weights: 1})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Near) == 0 || r.Method.Precision != 53 {
		t.Errorf("%d reports near, %d bits; want some, 53", len(r.Near), r.Method.Precision)
	}
}

// What is reported absent stays at effects while something there is reported
// present: a small budget is still kept, by sharing what is present out.
func TestAbsentReportsFitAnyBudget(t *testing.T) {
	t.Parallel()
	m, err := largest()
	if err != nil {
		t.Fatal(err)
	}
	c := largeCase(m, 100, 0.3)
	pieces, _ := m.Evidence(c)
	all, near, err := m.Within(m.Solver(), pieces, nil, 1<<13, 1<<13)
	if err != nil {
		t.Fatal(err)
	}
	if len(near) == 0 || len(all) != len(pieces) {
		t.Errorf("%d of %d pieces, %d near", len(all), len(pieces), len(near))
	}
}

// asked is a context that counts how often it is asked whether it has ended: once a
// table of a tree.
type asked struct {
	context.Context
	times atomic.Int64
}

func (a *asked) Err() error { a.times.Add(1); return nil }

// Sharing a hundred reports out takes no more than some four passes for each: half of
// them were done twice, which made 195,000 tables of 131,000.
func TestManyReportsAreSharedOutOnce(t *testing.T) {
	t.Parallel()
	m, err := largest()
	if err != nil {
		t.Fatal(err)
	}
	ctx := &asked{Context: t.Context()}
	r, _, err := diagnose.Case(m.WithContext(ctx), largeCase(m, 493, 0.3), diagnose.Options{})
	if err != nil {
		t.Fatal(err)
	}
	tables := ctx.times.Load()
	t.Logf("%d reports shared out, %d tables", len(r.Near), tables)
	if len(r.Near) < 100 || tables > 160000 {
		t.Errorf("%d reports shared out, %d tables: too many", len(r.Near), tables)
	}
}

// A case of every finding there is takes no more than one of some hundred: past so many
// present those that tell least are left out, named, and all others are weighed
// once for the suspects and for the prices. That was a million tables for each; 190,000
// and 80,000 now.
func TestEveryFindingPresent(t *testing.T) {
	t.Parallel()
	m, err := largest()
	if err != nil {
		t.Fatal(err)
	}
	c := largeCase(m, 1<<20, 1)
	ctx := &asked{Context: t.Context()}
	own := m.WithContext(ctx)
	r, _, err := diagnose.Case(own, c, diagnose.Options{Top: 8, Weights: 1})
	if err != nil {
		t.Fatal(err)
	}
	suspects := ctx.times.Load()
	if n := m.Presents(r.Pieces); n > model.MostPresent || n < model.MostPresent-1 || len(r.Left) == 0 {
		t.Errorf("%d findings present count, %d reports are left out; want %d or one less beside the complaint, and some", n, len(r.Left), model.MostPresent)
	}
	if !slices.ContainsFunc(r.Pieces, func(p model.Piece) bool { return p.Ranked && p.Answer == nil }) {
		t.Error("what the vehicle came in for does not count")
	}
	a, err := New(own)
	if err != nil {
		t.Fatal(err)
	}
	out, err := a.Price(c, Options{Best: 3, Explain: true})
	if err != nil {
		t.Fatal(err)
	}
	prices := ctx.times.Load() - suspects
	t.Logf("%d reports shared out, %d left out, %d tables for suspects, %d for prices", len(r.Near), len(r.Left), suspects, prices)
	if suspects > 300_000 || prices > 150_000 {
		t.Errorf("%d tables for suspects, %d for prices: too many", suspects, prices)
	}
	if len(out.Near) != len(r.Near) {
		t.Errorf("%d reports count approximately in prices, %d in suspects", len(out.Near), len(r.Near))
	}
}

// Where reports are so unlikely together that the usual error would take higher
// precision, more is granted; that is told, and nothing is called the best of all.
func TestGrantedErrorIsTold(t *testing.T) {
	t.Parallel()
	m, err := largest()
	if err != nil {
		t.Fatal(err)
	}
	a, err := New(m)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []struct {
		reports int
		more    bool
	}{{8, false}, {493, true}} {
		ad, err := a.Price(largeCase(m, x.reports, 0.03), Options{Best: 1, Stages: []engine.Stage{engine.StagePan}})
		if err != nil {
			t.Fatal(err)
		}
		if more := ad.Granted > PriceError; more != x.more || ad.Granted < PriceError {
			t.Errorf("%d reports: an error of %g is granted, more than usual: want %v", x.reports, ad.Granted, x.more)
		}
		if x.more && ad.Proven > 0 {
			t.Errorf("%d reports: %d checks are the best of all", x.reports, ad.Proven)
		}
	}
}
