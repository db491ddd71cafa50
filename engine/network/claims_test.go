package network

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// chanceOf is P(all of a set | evidence) by enumeration.
func (b *brute) chanceOf(set []Hard) float64 {
	sum := num(0)
next:
	for state, w := range b.joint {
		for _, h := range set {
			if (state>>h.Node&1 == 1) != h.On {
				continue next
			}
		}
		sum.Add(sum, w)
	}
	return b.ratio(sum)
}

// side puts networks side by side, with nothing between them.
func side(nets []*Net, evs [][]Likelihood) (*Net, []Likelihood) {
	n, ev := &Net{}, []Likelihood(nil)
	for i, part := range nets {
		from := len(n.Nodes)
		for _, node := range part.Nodes {
			links := slices.Clone(node.Links)
			for j := range links {
				links[j].Parent += from
			}
			node.Links = links
			n.Nodes = append(n.Nodes, node)
		}
		for _, e := range evs[i] {
			e.Node += from
			e.Tag += 100 * i
			ev = append(ev, e)
		}
	}
	return n, ev
}

// However many digits cancel, the probabilities, the evidence and the chances of
// further states are right, and the error is told at least as large as it is.
func TestDigitsThatCancel(t *testing.T) {
	t.Parallel()
	precisions := map[int]bool{}
	for _, scale := range []float64{1e-2, 1e-4, 1e-7, 1e-12, 1e-16, 1e-21, 1e-28} {
		n, ev := hostile(scale)
		for _, soft := range []float64{0, 0.3} { // reports that may be wrong cancel less
			for i := range ev {
				ev[i].Off = soft * scale
			}
			want := enumerate(n, ev)
			s := mustSolver(t, n)
			got, err := s.Solve(ev)
			if err != nil {
				t.Fatal(err)
			}
			precisions[got.Method.Precision] = true
			worst := 0.0
			for i := range 4 {
				w := want.ratio(want.on[i])
				worst = math.Max(worst, math.Abs(got.P[i]-w)/w)
			}
			if worst > 1e-9 || worst > got.Method.Error+1e-15 {
				t.Errorf("scale %g, %g: off by %g, told %g, %d bits", scale, soft, worst, got.Method.Error, got.Method.Precision)
			}
			if math.Abs(got.LogEvidence-want.logZ()) > 1e-9 {
				t.Errorf("scale %g, %g: log evidence %v, enumeration %v", scale, soft, got.LogEvidence, want.logZ())
			}
			sets := [][]Hard{{}, {{0, true}}, {{0, false}, {1, true}}, {{2, true}, {3, true}}, {{0, false}, {1, false}, {2, false}, {3, false}}, {{4, true}, {0, true}}}
			chances, err := s.Chances(ev, sets)
			if err != nil {
				t.Fatal(err)
			}
			for i, set := range sets {
				if w := want.chanceOf(set); math.Abs(chances[i]-w) > 1e-9 {
					t.Errorf("scale %g, %g: P(%v) = %v, enumeration %v", scale, soft, set, chances[i], w)
				}
			}
		}
	}
	if !precisions[53] || !precisions[106] || len(precisions) < 3 {
		t.Errorf("only these precisions were needed: %v", precisions)
	}
}

// Parts that nothing ties together are answered as each by itself, digits that
// cancel in some of them and all.
func TestPartsByThemselves(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(17, 3))
	for run := range 24 {
		var nets []*Net
		var evs [][]Likelihood
		for i := range 2 + rng.IntN(3) {
			n := randomNet(rng, 7, false)
			ev := randomEvidence(rng, n, 4, false)
			if i == 1 && run%2 == 1 {
				n, ev = hostile([]float64{1e-5, 1e-8, 1e-14, 1e-24}[rng.IntN(4)])
			}
			nets, evs = append(nets, n), append(evs, ev)
		}
		n, ev := side(nets, evs)
		got, err := mustSolver(t, n).SolveSubset(ev, everyNode(n))
		if err != nil {
			t.Fatal(err)
		}
		at, log := 0, 0.0
		for i, part := range nets {
			want := enumerate(part, evs[i])
			log += want.logZ()
			for j := range part.Nodes {
				if w := want.ratio(want.on[j]); !near(got.P[at+j], w, 1e-9) {
					t.Errorf("run %d: P(%d of part %d) = %v, by itself %v", run, j, i, got.P[at+j], w)
				}
			}
			at += len(part.Nodes)
		}
		if math.Abs(got.LogEvidence-log) > 1e-9 {
			t.Errorf("run %d: log evidence %v, of the parts %v", run, got.LogEvidence, log)
		}
	}
}

// What all likelihoods are multiplied by, however small or large, changes only the
// evidence.
func TestScaleOfReportsIsNothing(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(23, 5))
	for run := range 60 {
		n := randomNet(rng, 12, false)
		ev := randomEvidence(rng, n, 10, false)
		s := mustSolver(t, n)
		want, err := s.SolveSubset(ev, everyNode(n))
		if err != nil {
			t.Fatal(err)
		}
		for _, scale := range []float64{1e-120, 1e-280, 1e90} {
			other := slices.Clone(ev)
			for i := range other {
				other[i].On *= scale
				other[i].Off *= scale
			}
			got, err := s.SolveSubset(other, everyNode(n))
			if err != nil {
				t.Fatalf("run %d, scale %g: %v", run, scale, err)
			}
			for i := range n.Nodes {
				if !near(got.P[i], want.P[i], 1e-9) {
					t.Fatalf("run %d, scale %g: P(%d) = %v, %v without", run, scale, i, got.P[i], want.P[i])
				}
			}
			if log := want.LogEvidence + 10*math.Log(scale); math.Abs(got.LogEvidence-log) > 1e-8 {
				t.Fatalf("run %d, scale %g: log evidence %v, want %v", run, scale, got.LogEvidence, log)
			}
			sets := [][]Hard{{{1, true}}, {{0, false}, {2, true}}}
			a, err := s.Chances(ev, sets)
			if err != nil {
				t.Fatal(err)
			}
			b, err := s.Chances(other, sets)
			if err != nil {
				t.Fatal(err)
			}
			for i := range sets {
				if math.Abs(a[i]-b[i]) > 1e-9 {
					t.Fatalf("run %d, scale %g: chance %v, %v without", run, scale, b[i], a[i])
				}
			}
		}
	}
}

// A tree that is cut into cases needs no more digits than the whole one where no
// digits cancel.
func TestCutTreesKeepTheirDigits(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(29, 7))
	cut := 0
	for run := range 40 {
		n := randomNet(rng, 13, false)
		ev := randomEvidence(rng, n, 6, false)
		whole, err := mustSolver(t, n).SolveSubset(ev, everyNode(n))
		if err != nil {
			t.Fatal(err)
		}
		s := mustSolver(t, n)
		s.width = 4
		got, err := s.SolveSubset(ev, everyNode(n))
		if err != nil {
			t.Fatal(err)
		}
		if got.Method.Conditioned > 0 {
			cut++
		}
		if whole.Method.Precision == 53 && got.Method.Precision != 53 {
			t.Errorf("run %d: %d bits with %d nodes cut, 53 for the whole", run, got.Method.Precision, got.Method.Conditioned)
		}
		if got.Method.Width > 4 {
			t.Errorf("run %d: width %d", run, got.Method.Width)
		}
		for i := range n.Nodes {
			if !near(got.P[i], whole.P[i], 1e-9) {
				t.Errorf("run %d: P(%d) = %v, whole %v", run, i, got.P[i], whole.P[i])
			}
		}
	}
	if cut < 20 {
		t.Errorf("only %d trees were cut", cut)
	}
}

// The trees of drawn networks are as large as they were on 2026-11-27. What makes
// them smaller lowers the numbers; what makes them larger is slower.
func TestSizeOfTrees(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		reports int
		was     float64 // entries of all tables, over ten networks
	}{{8, 75_048}, {20, 1_300_856}, {40, 7_501_180}} {
		sum := 0.0
		for seed := range uint64(10) {
			n := layered(seed)
			rng := rand.New(rand.NewPCG(seed, 41))
			var ev []Likelihood
			for i := range c.reports {
				ev = append(ev, Likelihood{Node: len(n.Nodes) - 1 - rng.IntN(findings), On: 0.9, Off: 0.05, Tag: i})
			}
			kept, left, err := mustSolver(t, n).Within(ev, nil, 1<<16, nil)
			if err != nil {
				t.Fatal(err)
			}
			g, err := mustSolver(t, n).Incremental(kept, nil, nil)
			if err != nil {
				t.Fatal(err)
			}
			if g.Entries() > 1<<16 {
				t.Errorf("%d reports, network %d: %v entries", c.reports, seed, g.Entries())
			}
			sum += g.Entries() + 1e5*float64(len(left))
			g.Free()
		}
		if sum != c.was {
			t.Errorf("%d reports: %.0f entries, 100,000 for each report left out; they were %.0f", c.reports, sum, c.was)
		}
	}
}

// Within keeps a tree below its bound, leaves out nothing where all fits, and first
// what weighs least.
func TestWithin(t *testing.T) {
	t.Parallel()
	n := layered(3)
	rng := rand.New(rand.NewPCG(3, 41))
	var ev []Likelihood
	for i := range 40 {
		ev = append(ev, Likelihood{Node: len(n.Nodes) - 1 - rng.IntN(findings), On: 0.9, Off: 0.05, Tag: i})
	}
	s := mustSolver(t, n)
	kept, left, err := s.Within(ev, nil, 1e18, nil)
	if err != nil || left != nil || len(kept) != len(ev) {
		t.Errorf("all fits, and %v are left out, %v", left, err)
	}
	if _, _, err := s.Within([]Likelihood{{Node: len(n.Nodes), On: 1, Off: 1}}, nil, 1e18, nil); err == nil {
		t.Error("a report on no node is taken")
	}
	if _, _, err := s.Within(ev, []int{-1}, 1e18, nil); err == nil {
		t.Error("no node is asked for, and nobody says so")
	}
	last := -1
	for _, entries := range []float64{1 << 14, 1 << 12, 1 << 10} {
		kept, left, err := s.Within(ev, nil, entries, nil)
		if err != nil {
			t.Fatal(err)
		}
		if len(left) < last || len(left) == 0 {
			t.Errorf("%v entries: %d are left out, %d of a larger tree", entries, len(left), last)
		}
		last = len(left)
		for _, e := range kept {
			if slices.Contains(left, e.Tag) {
				t.Errorf("%d is kept and left out", e.Tag)
			}
		}
		for _, e := range ev {
			if !slices.Contains(left, e.Tag) && !slices.ContainsFunc(kept, func(k Likelihood) bool { return k.Tag == e.Tag }) {
				t.Errorf("%d is neither kept nor left out", e.Tag)
			}
		}
		g, err := s.Incremental(kept, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		if g.Entries() > entries {
			t.Errorf("%v entries asked for, %v", entries, g.Entries())
		}
		g.Free()
		first := left[0]
		_, other, err := s.Within(ev, nil, entries, func(tag int) float64 {
			if tag == first {
				return 1e9
			}
			return 1
		})
		if err != nil || slices.Contains(other, first) {
			t.Errorf("%v entries: report %d weighs most and is left out: %v, %v", entries, first, other, err)
		}
	}
}

// Questions about nodes that are not there are refused by number; what cannot be
// has no chance; where digits may not be had nothing is answered.
func TestChancesOfOddSets(t *testing.T) {
	t.Parallel()
	n := &Net{Nodes: []Node{{Leak: 0.3}, {Leak: 0.2, Links: []Link{{0, 1}}}, {Leak: 0.5}}}
	s := mustSolver(t, n)
	for _, node := range []int{-1, 3} {
		if _, err := s.Chances(nil, [][]Hard{{{node, true}}}); err == nil || !strings.Contains(err.Error(), fmt.Sprintf("node %d", node)) || !strings.Contains(err.Error(), "0..2") {
			t.Errorf("node %d: %v", node, err)
		}
	}
	got, err := s.Chances([]Likelihood{hardOn(0, true)}, [][]Hard{{{1, false}}, {{1, true}}, {{0, false}}, {{2, true}}, {{2, true}, {2, false}}, nil})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 1, 0, 0.5, 0, 1} {
		if math.Abs(got[i]-want) > 1e-12 {
			t.Errorf("set %d: %v, want %v", i, got[i], want)
		}
	}
	hard, sure := hostile(1e-25)
	if got, err := mustSolver(t, hard).Shallow(1).Chances(sure, [][]Hard{{{0, true}}}); !errors.Is(err, ErrDeep) {
		t.Errorf("many digits: %v, %v, want ErrDeep", got, err)
	}
	// The evidence takes few digits, a set of it many.
	easy, reports := hostile(1e-25)
	for i := range reports {
		reports[i].Off = 1
	}
	set := []Hard{}
	for i := range reports {
		set = append(set, Hard{4 + i, true})
	}
	want, _ := new(big.Float).SetFloat64(enumerate(easy, reports).chanceOf(set)).Float64()
	if got, err := mustSolver(t, easy).Chances(reports, [][]Hard{set}); err != nil || math.Abs(got[0]-want) > 1e-10 {
		t.Errorf("a set that takes many digits: %v, %v, enumeration %v", got, err, want)
	}
}

// What the evidence settles may be reported on again: against it that cannot be,
// otherwise it counts as what it is.
func TestReportOnWhatIsSettled(t *testing.T) {
	t.Parallel()
	n := &Net{Nodes: []Node{{Leak: 0.3}, {Links: []Link{{0, 1}}}, {Leak: 0.4, Links: []Link{{0, 0.5}}}}}
	for _, on := range []bool{false, true} {
		g, err := mustSolver(t, n).Incremental([]Likelihood{hardOn(0, on), {Node: 2, On: 0.9, Off: 0.2}}, everyNode(n), everyNode(n))
		if err != nil {
			t.Fatal(err)
		}
		whole, err := g.Posterior()
		if err != nil {
			t.Fatal(err)
		}
		for node := range 2 {
			var never *ImpossibleError
			if _, err := g.With([]Likelihood{hardOn(node, !on)}); !errors.As(err, &never) {
				t.Errorf("node %d settled %v, reported otherwise: %v", node, on, err)
			}
			if p, err := g.Chance([]Likelihood{hardOn(node, !on)}); err != nil || p != 0 {
				t.Errorf("node %d settled %v: otherwise with %v, %v", node, on, p, err)
			}
			soft := Likelihood{Node: node, On: 0.25, Off: 0.75}
			want := math.Log(0.75)
			if on {
				want = math.Log(0.25)
			}
			more, err := g.With([]Likelihood{soft})
			if err != nil || math.Abs(more.LogEvidence-whole.LogEvidence-want) > 1e-12 || math.Abs(more.P[2]-whole.P[2]) > 1e-12 {
				t.Errorf("node %d settled %v, reported softly: %+v, %v; without it %+v", node, on, more, err, whole)
			}
		}
		g.Free()
	}
}
