package refine_test

import (
	"cmp"
	"context"
	"fmt"
	"io/fs"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/refine"
	"slipcase/engine/refine/rulepath"
	"slipcase/internal/size"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/diag"
)

func propose(t testing.TB, m *model.Model, cases []refine.Case, opt refine.Options) *refine.Proposal {
	t.Helper()
	p, err := refine.Propose(context.Background(), []*model.Model{m}, cases, opt)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.Skipped) > 0 {
		t.Fatalf("skipped %v", p.Skipped[0])
	}
	for i := 1; i < len(p.Iterations); i++ {
		if a, b := p.Iterations[i-1], p.Iterations[i]; b.LogPosterior < a.LogPosterior {
			t.Errorf("log-posterior falls from %v to %v in iteration %d", a.LogPosterior, b.LogPosterior, b.Number)
		}
	}
	return p
}

func long() bool { return size.Long() }

// A shop whose truth differs from the rules by a factor of two: what is moved
// lies within its interval nine times in ten, comes closer to the truth, and
// foretells the findings of other cases no worse, from a thousand cases on better.
func TestRecovery(t *testing.T) {
	sizes := []int{size.Of(45, 100, 100)}
	if long() {
		sizes = []int{50, 100, 1000, 10000}
	}
	for _, n := range sizes {
		t.Run(fmt.Sprint(n), func(t *testing.T) {
			rng := rand.New(rand.NewPCG(20, uint64(n)))
			k := knowledgeOf(t, demoUnit())
			m := build(t, k)
			shop, truth := doubled(t, k, rng)
			world := build(t, shop)
			cases, fresh := casebook(t, world, n, rng), casebook(t, world, size.Of(75, 150, 1000), rng)
			start := time.Now()
			p := propose(t, m, cases, refine.Options{Eager: true, NoHeldOut: !long(), Progress: phases(t)})
			took := time.Since(start)
			in, all := covered(p, truth)
			before, after := closer(p, truth)
			judged, err := refine.Judge([]*model.Model{m}, p, fresh)
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%d cases in %v: %d numbers moved, %d within their interval; squared error of log-odds %.3f, was %.3f", n, took.Round(time.Millisecond), all, in, after, before)
			t.Logf("%d iterations; noted: modes %.3f, causes %.3f; on fresh cases %+v", len(p.Iterations), p.Found, p.Settled, *judged)
			if p.HeldOut != nil {
				t.Logf("held out %+v", *p.HeldOut)
			}
			if all < 50 || float64(in) < 0.84*float64(all) {
				t.Errorf("%d of %d within the 90%% interval", in, all)
			}
			if !(after < before) {
				t.Errorf("squared error of the log-odds rises from %v to %v", before, after)
			}
			// What a hundred cases gain is less than so few fresh ones can tell: with 600
			// it was -0.005 ± 0.017 (2026-11-27), so a gain is asked of 1,000 on.
			if judged.Gain < -2*judged.Error || n >= 1000 && judged.Gain <= 0 {
				t.Errorf("log score on fresh cases changes by %.4f ± %.4f", judged.Gain, judged.Error)
			}
			if judged.After.Top3 < judged.Before.Top3-0.05-1/float64(judged.Culprits) {
				t.Errorf("top-3 falls from %v to %v", judged.Before.Top3, judged.After.Top3)
			}
		})
	}
}

// phases logs how long each phase of a long run took, and its iterations.
func phases(t *testing.T) func(refine.Progress) {
	if !long() {
		return nil
	}
	var last refine.Progress
	begun := time.Now()
	return func(p refine.Progress) {
		if p.Phase == last.Phase && p.Iteration == last.Iteration && p.Total == last.Total {
			return
		}
		if last.Phase != "" {
			t.Logf("%-9s %2d: %5d cases in %v, log-posterior before %.3f", last.Phase, last.Iteration, last.Total, time.Since(begun).Round(10*time.Millisecond), last.LogPosterior)
		}
		last, begun = p, time.Now()
	}
}

// The held-out score of a proposal whose shop's truth differs from the rules
// by a factor of two: never worse beyond noise. Over many shops it should be better
// on average from some fifty cases on, which long runs ask for; a single shop
// tells nothing of that: six of them gained -0.08 to 0.01 with an error of 0.02
// each. So few cases as in an ordinary run move nothing unless it is eager.
func TestHeldOutGains(t *testing.T) {
	sizes := map[int]int{size.Of(20, 50, 50): 1} // shops by cases
	if long() {
		sizes = map[int]int{12: 6, 25: 6, 50: 6, 100: 6, 200: 6}
	}
	k := knowledgeOf(t, demoUnit())
	m := build(t, k)
	for _, n := range slices.Sorted(maps.Keys(sizes)) {
		shops := sizes[n]
		sum, better := 0.0, 0
		for seed := range shops {
			rng := rand.New(rand.NewPCG(25, uint64(1000*n+seed)))
			shop, _ := doubled(t, k, rng)
			h := propose(t, m, casebook(t, build(t, shop), n, rng), refine.Options{Eager: size.Of(true, false, false)}).HeldOut
			t.Logf("%d cases, seed %d: %+v", n, seed, *h)
			if h.Cases < n*9/10 {
				t.Errorf("%d of %d cases were scored", h.Cases, n)
			}
			if h.Gain < -2*h.Error {
				t.Errorf("%d cases, seed %d: the held-out score falls by %.4f ± %.4f", n, seed, -h.Gain, h.Error)
			}
			sum += h.Gain
			if h.Gain > 0 {
				better++
			}
		}
		t.Logf("%d cases: better in %d of %d shops, by %.4f on average", n, better, shops, sum/float64(shops))
		if long() && n >= 50 && (sum <= 0 || 2*better < shops) {
			t.Errorf("%d cases: the held-out score is better in %d of %d shops, by %.4f on average", n, better, shops, sum/float64(shops))
		}
	}
}

// How often a shop notes what failed is learned: a shop that notes six in ten
// is neither taken to note eight nor its rates to be lower.
func TestDetectionsAreLearned(t *testing.T) {
	m := build(t, knowledgeOf(t, demoUnit()))
	// At 200 cases eight seeds gave 0.52 to 0.69, a spread of 0.055 (2026-11-27): the
	// mean of two is held to twice what that leaves.
	n, seeds, shops, answers, off := 200, 2, []float64{0.6}, asks, 0.09
	switch {
	case size.Of(true, false, false):
		// Farther off from eight; of three answers. Five seeds gave 0.34 to 0.50, 0.43 on
		// average, a spread of 0.06 (2026-11-27).
		n, seeds, shops, answers, off = 100, 1, []float64{0.4}, 3, 0.2
	case long():
		n, seeds, shops = 2000, 1, []float64{0.4, 0.6, 0.95}
	}
	for _, noted := range shops {
		found := 0.0
		for seed := range uint64(seeds) {
			cases := casesOf(t, m, n, noted, false, answers, rand.New(rand.NewPCG(27+seed, uint64(100*noted))))
			p := propose(t, m, cases, refine.Options{AnyVehicle: true, Eager: true, NoHeldOut: true})
			sum := 0.0
			for _, c := range p.Changes {
				if strings.HasPrefix(c.Path.String(), "mode") && strings.HasSuffix(c.Path.String(), "frequency") {
					sum += math.Log(c.New / c.Old.Value)
				}
			}
			t.Logf("noted %.2f: learned %.3f; root causes, of which half were settled, %.3f; rates change by a sum of %.2f logarithms in %d numbers", noted, p.Found, p.Settled, sum, len(p.Changes))
			found += p.Found / float64(seeds)
		}
		if math.Abs(found-noted) > off {
			t.Errorf("a shop that notes %.2f is taken to note %.3f", noted, found)
		}
	}
}

// A shop that never settles a root cause says nothing by its silence about
// them: that is learned, and their rates hardly fall.
func TestCausesNeverSettled(t *testing.T) {
	m := build(t, knowledgeOf(t, demoUnit()))
	cases := casebook(t, m, size.Of(30, 100, 100), rand.New(rand.NewPCG(28, 28)))
	for i := range cases {
		cases[i].File.Settled = nil
	}
	p := propose(t, m, cases, refine.Options{Eager: true, NoHeldOut: true})
	sum := 0.0
	for _, c := range p.Changes {
		if strings.HasPrefix(c.Path.String(), "cause") && strings.HasSuffix(c.Path.String(), "frequency") {
			sum += math.Log(c.New / c.Old.Value)
		}
	}
	mean := sum / float64(len(m.Knowledge.Causes))
	t.Logf("root causes noted: learned %.3f; their rates change by %.1f%% in the mean", p.Settled, 100*math.Expm1(mean))
	if p.Settled > 0.1 {
		t.Errorf("a shop that settles no root cause is taken to note %.3f of them", p.Settled)
	}
	if mean < math.Log(0.9) {
		t.Errorf("their rates fall by %.1f%% in the mean", -100*math.Expm1(mean))
	}
}

// The estimate ends as near to the optimum as it is said to.
func TestDistance(t *testing.T) {
	k := knowledgeOf(t, demoUnit())
	m := build(t, k)
	sizes := []int{size.Of(25, 100, 100)}
	if long() {
		sizes = []int{100, 1000}
	}
	for _, n := range sizes {
		rng := rand.New(rand.NewPCG(26, uint64(n)))
		shop, _ := doubled(t, k, rng)
		far, mean, err := refine.Distance([]*model.Model{m}, casebook(t, build(t, shop), n, rng), refine.Options{})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d cases: the farthest number is %.4f of its standard deviations from the optimum, in the mean %.4f", n, far, mean)
		if far > 0.1 || mean > 0.01 {
			t.Errorf("%d cases: %.4f standard deviations from the optimum, in the mean %.4f", n, far, mean)
		}
	}
}

// A shop that is as the rules say has nothing to learn: from the vehicles that
// come in, each with a complaint, no number moves but by chance, and cases that
// are still to come are foretold no worse.
func TestNothingToLearn(t *testing.T) {
	sizes := []int{size.Of(40, 100, 100)}
	if long() {
		sizes = []int{100, 300, 1000}
	}
	m := build(t, knowledgeOf(t, demoUnit()))
	for _, n := range sizes {
		rng := rand.New(rand.NewPCG(21, uint64(n)))
		cases, fresh := customers(t, m, n, rng), customers(t, m, size.Of(30, 60, 60), rng)
		p := propose(t, m, cases, refine.Options{NoHeldOut: true})
		judged, err := refine.Judge([]*model.Model{m}, p, fresh)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%d cases: %d of %d numbers moved; %+v", n, len(p.Changes), len(p.Changes)+len(p.Kept), *judged)
		for _, c := range p.Changes {
			t.Logf("  %s: %v to %v (%.4f to %.4f)", c.Path, c.Old.Value, c.New, c.Low, c.High)
		}
		if len(p.Changes) > 6 {
			t.Errorf("%d cases: %d numbers moved", n, len(p.Changes))
		}
		if judged.Gain < -2*judged.Error {
			t.Errorf("%d cases: log score on fresh cases changes by %.4f ± %.4f", n, judged.Gain, judged.Error)
		}
		// All vehicles taken for what the shop saw of them, rates rise.
		rise := func(opt refine.Options) float64 {
			opt.Eager, opt.NoHeldOut = true, true
			was, now := 0.0, 0.0
			p := propose(t, m, cases, opt)
			for _, c := range p.Changes {
				if strings.HasPrefix(c.Path.String(), "mode") && strings.HasSuffix(c.Path.String(), "frequency") {
					was, now = was+c.Old.Value, now+c.New
				}
			}
			for _, k := range p.Kept {
				if strings.HasPrefix(k.Path.String(), "mode") && strings.HasSuffix(k.Path.String(), "frequency") {
					was, now = was+k.Number.Value, now+k.Number.Value
				}
			}
			return now/was - 1
		}
		with, without := rise(refine.Options{}), rise(refine.Options{AnyVehicle: true})
		t.Logf("rates change by %+.3f of their sum, by %+.3f where every vehicle is taken to come in", with, without)
		if with >= without {
			t.Errorf("rates change by %+.3f of their sum, by %+.3f where every vehicle is taken to come in", with, without)
		}
	}
}

// demos are the demo cases of the embedded knowledge.
func demos(t *testing.T) []*engine.CaseFile {
	t.Helper()
	names, err := fs.Glob(knowledge.FS, "cases/*.hcl")
	if err != nil || len(names) == 0 {
		t.Fatal("no demo cases", err)
	}
	var out []*engine.CaseFile
	for _, name := range names {
		src, err := fs.ReadFile(knowledge.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		c, diags := rules.LoadCase(name, src)
		if diag.HasErrors(diags) {
			t.Fatal(diags)
		}
		out = append(out, c)
	}
	return out
}

// leaders are the first suspects of the demo cases under new numbers.
func leaders(t *testing.T, values map[string]float64) map[string]string {
	t.Helper()
	out := map[string]string{}
	for unit, cases := range byUnit(demos(t)) {
		if size.Of(unit != smallUnit, false, false) {
			continue // four numbers in five are of no unit: one shows what becomes of a leader
		}
		own := map[string]float64{}
		k := wholeKnowledgeOf(t, unit)
		rulepath.Walk(k, func(p rulepath.Path, _ *engine.Number) {
			if v, ok := values[p.String()]; ok {
				own[p.String()] = v
			}
		})
		changed, err := with(k, own)
		if err != nil {
			t.Fatal(err)
		}
		m, err := model.Build(changed, changed.Unit(unit))
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range cases {
			r, diags, err := diagnose.Case(m, c, diagnose.Options{Top: 2})
			if err != nil || r == nil {
				t.Fatal(c.ID, err, diags)
			}
			out[c.ID] = r.Suspects[0].Component.Name
		}
	}
	return out
}

func byUnit(cases []*engine.CaseFile) map[string][]*engine.CaseFile {
	out := map[string][]*engine.CaseFile{}
	for _, c := range cases {
		out[c.Unit] = append(out[c.Unit], c)
	}
	return out
}

// One odd case, alone or on top of a shop's first cases, changes no leader of
// a demo case: the symptoms of each demo case in turn, but another part found
// failed, the leader cleared and a far-fetched cause settled.
func TestOneOddCase(t *testing.T) {
	want := leaders(t, nil)
	rng := rand.New(rand.NewPCG(22, 22))
	m := build(t, knowledgeOf(t, demoUnit()))
	shop := casebook(t, m, 15, rng)
	usual := leaders(t, propose(t, m, shop, refine.Options{Eager: true, NoHeldOut: true}).Values())
	moved, own := 0, 0
	for i, c := range demos(t) {
		if c.Unit != m.Unit.ID {
			continue
		}
		if own++; !long() && own%4 != 1 || size.Of(own > 1, false, false) {
			continue
		}
		file := *c
		file.Seen = []engine.Seen{
			{Component: want[c.ID], Cleared: true},
			// The rarest of the modes that another component can have.
			rarest(m, want[c.ID], i),
		}
		file.Settled = []engine.SettledCause{{Cause: m.Knowledge.Causes[(7*i)%len(m.Knowledge.Causes)].Name, Present: true}}
		odd := refine.Case{ID: "odd", File: file, Outcome: engine.CaseFixed}
		for name, now := range map[string][]refine.Case{"alone": {odd}, "with others": append(shop[:len(shop):len(shop)], odd)} {
			p, err := refine.Propose(context.Background(), []*model.Model{m}, now, refine.Options{Eager: true, NoHeldOut: true})
			if err != nil {
				t.Fatal(err)
			}
			if len(p.Skipped) > 0 {
				t.Fatalf("%s: the odd case was not taken: %v", c.ID, p.Skipped)
			}
			moved += len(p.Changes)
			before := want
			if len(now) > 1 {
				before = usual
			}
			for id, leader := range leaders(t, p.Values()) {
				if leader != before[id] {
					t.Errorf("%s odd, %s: the leader of %s was %s and is now %s", c.ID, name, id, before[id], leader)
				}
			}
		}
	}
	if moved == 0 {
		t.Error("nothing moved at all: the test shows nothing")
	}
}

// rarest is a rare mode of the n-th component that is not the given one.
func rarest(m *model.Model, not string, n int) engine.Seen {
	var out engine.Seen
	best := 1.0
	for i, c := range m.Unit.Components {
		if c.Name == not || i%7 != n%7 {
			continue
		}
		for _, node := range m.ModesOf(c.Name) {
			if leak := m.Net.Nodes[node].Leak; leak > 0 && leak < best {
				best, out = leak, engine.Seen{Component: c.Name, Mode: m.Nodes[node].Mode.Name}
			}
		}
	}
	return out
}

// A literal prior of ten cases for a rate of 0.005 rests on 0.05 events: one
// case would multiply the rate by nineteen. The prior in use does not.
func TestOneCaseOfARareMode(t *testing.T) {
	p := refine.PriorOf(0.005, engine.Recalled, 0)
	if after := (p.A + 1) / (p.Size() + 1); after > 1.5*0.005 {
		t.Errorf("one case moves a recalled rate from 0.005 to %v", after)
	}
	if after := (p.A + 6) / (p.Size() + 6); after < 3*0.005 {
		t.Errorf("six cases move a recalled rate from 0.005 to %v only", after)
	}
}

// Time per hundred cases, which should stay as it is where the casebook is
// larger: less while the number of iterations does, with all trees kept.
func BenchmarkPropose(b *testing.B) {
	m := build(b, knowledgeOf(b, demoUnit()))
	cases := casebook(b, m, 2000, rand.New(rand.NewPCG(23, 23)))
	for _, n := range []int{100, 500, 2000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			for range b.N {
				p := propose(b, m, cases[:n], refine.Options{Eager: true, NoHeldOut: true})
				b.ReportMetric(float64(len(p.Iterations)), "iterations")
			}
			b.ReportMetric(b.Elapsed().Seconds()*1000/float64(b.N)/float64(n)*100, "ms/100cases")
		})
	}
}

// The rank of the found component in a score is that of a diagnosis by
// probability.
func TestRankIsThatOfDiagnosis(t *testing.T) {
	m := build(t, knowledgeOf(t, demoUnit()))
	top1, top3, n := 0.0, 0.0, 0.0
	cases := casebook(t, m, 14, rand.New(rand.NewPCG(24, 24)))
	for _, c := range cases {
		found := map[string]bool{}
		for _, s := range c.File.Seen {
			if !s.Cleared {
				found[s.Component] = true
			}
		}
		if len(found) == 0 {
			continue
		}
		n++
		file := c.File
		file.Seen, file.Settled = nil, nil
		r, _, err := diagnose.Case(m, &file, diagnose.Options{Top: len(m.Unit.Components)})
		if err != nil {
			t.Fatal(err)
		}
		slices.SortStableFunc(r.Suspects, func(a, b diagnose.Suspect) int { return cmp.Compare(b.P, a.P) })
		for i := range 3 {
			if found[r.Suspects[i].Component.Name] {
				top3++
				if i == 0 {
					top1++
				}
				break
			}
		}
	}
	judged, err := refine.Judge([]*model.Model{m}, &refine.Proposal{}, cases)
	if err != nil {
		t.Fatal(err)
	}
	if s := judged.Before; float64(judged.Culprits) != n || s.Top1 != top1/n || s.Top3 != top3/n || judged.After != s {
		t.Errorf("scores %+v, the diagnosis has top-1 %v and top-3 %v of %v", *judged, top1/n, top3/n, n)
	}
}
