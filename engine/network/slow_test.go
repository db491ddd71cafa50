package network

import (
	"context"
	"errors"
	"math"
	"math/big"
	"math/rand/v2"
	"slices"
	"testing"
)

// A kept tree whose float64 pass has lost its digits answers all the same.
func TestIncrementalWithoutDigits(t *testing.T) {
	t.Parallel()
	for _, scale := range []float64{1e-12, 1e-6, 0.15} {
		n, ev := hostile(scale)
		g, err := mustSolver(t, n).Incremental(ev[:6], []int{0, 1, 2, 3, 10}, []int{0, 3, 10})
		if err != nil {
			t.Fatal(err)
		}
		if quick := scale > 0.1; g.Quick() != quick {
			t.Errorf("%g: quick %v, want %v", scale, g.Quick(), quick)
		}
		case0 := enumerate(n, ev[:6])
		for _, more := range [][]Likelihood{
			nil,
			{{Node: 0, On: 0.3, Off: 0.8}},
			{{Node: 3, On: 0.5, Off: 0.5}, {Node: 0, On: 1, Off: 0.5}},
			{{Node: 3, On: 0, Off: 1}, {Node: 10, On: 1, Off: 0}},
		} {
			all := enumerate(n, slices.Concat(ev[:6], more))
			want, _ := new(big.Float).Quo(all.z, case0.z).Float64()
			p, joint, err := g.Joint(more, []int{0, 1, 2, 3, 10})
			if err != nil {
				t.Fatal(err)
			}
			chance, err := g.Chance(more)
			if err != nil || math.Abs(p-want) > 1e-9 || math.Abs(chance-want) > 1e-9 {
				t.Errorf("%g: %v: %v and %v, %v; want %v", scale, more, p, chance, err, want)
			}
			for k, i := range []int{0, 1, 2, 3, 10} {
				on, _ := new(big.Float).Quo(all.on[i], case0.z).Float64()
				if math.Abs(joint[k]-on) > 1e-9 {
					t.Errorf("%g: %v: with node %d %v, want %v", scale, more, i, joint[k], on)
				}
			}
		}
		never := []Likelihood{{Node: 0, On: 0, Off: 1}, {Node: 0, On: 1, Off: 0}}
		if p, joint, err := g.Joint(never, []int{1}); p != 0 || joint[0] != 0 || err != nil {
			t.Errorf("%g: what cannot be has a chance of %v, %v, %v", scale, p, joint, err)
		}
		if p, err := g.Chance(never); p != 0 || err != nil {
			t.Errorf("%g: what cannot be has a chance of %v, %v", scale, p, err)
		}
		if _, _, err := g.Joint([]Likelihood{{Node: 5 + len(n.Nodes), On: 1}}, nil); err == nil {
			t.Error("a node that is not there has a chance")
		}
	}
}

// Chances of sets whose terms cancel, and of sets that cannot be, need higher
// precision.
func TestChancesWithoutDigits(t *testing.T) {
	t.Parallel()
	n, ev := hostile(1e-12)
	ev = ev[:5]
	all := enumerate(n, ev)
	sets := [][]Hard{{{0, true}}, {{0, true}, {1, false}, {2, true}}, {{9, true}}, {{9, true}, {10, true}}, {{4, false}}, {{0, false}, {1, false}, {2, false}, {3, false}}}
	got, err := mustSolver(t, n).Chances(ev, sets)
	if err != nil {
		t.Fatal(err)
	}
	for i, set := range sets {
		if want := all.chanceOf(set); math.Abs(got[i]-want) > 1e-9 {
			t.Errorf("%v: %v, want %v", set, got[i], want)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := mustSolver(t, n).WithContext(ctx).Chances(ev, sets); !errors.Is(err, context.Canceled) {
		t.Errorf("%v; want that nobody waits", err)
	}
}

// Nobody waits for posteriors any more, and higher precision is not granted: both
// are errors.
func TestGivenFails(t *testing.T) {
	t.Parallel()
	n, ev := hostile(1e-12)
	sets := [][]Hard{{{0, true}}, {{1, true}}}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := mustSolver(t, n).WithContext(ctx).Given(ev, sets, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("%v; want that nobody waits", err)
	}
	if _, err := mustSolver(t, n).Shallow(1).Given(ev, sets, nil); !errors.Is(err, ErrDeep) {
		t.Errorf("%v; want that it is too deep", err)
	}
}

// Posteriors with sets of states that cannot be: nil for the set, exactly zero
// for a node.
func TestGivenWhatCannotBe(t *testing.T) {
	t.Parallel()
	n, ev := hostile(1e-12)
	for i := range 3 { // nodes that force what follows them
		n.Nodes = append(n.Nodes, Node{Leak: 1e-3, Links: []Link{{Parent: i, Strength: 1}}})
	}
	s := mustSolver(t, n)
	sets := [][]Hard{{{11, false}}, {{11, false}, {12, false}}, {{11, false}, {0, true}}, {{13, true}}}
	got, err := s.Given(ev, sets, everyNode(n))
	if err != nil {
		t.Fatal(err)
	}
	for k, set := range sets {
		more := slices.Clone(ev)
		for _, h := range set {
			more = append(more, hardOn(h.Node, h.On))
		}
		all := enumerate(n, more)
		if all.z.Sign() == 0 {
			if got[k] != nil {
				t.Errorf("%v cannot be and has a posterior", set)
			}
			continue
		}
		for i, p := range got[k].P {
			if want := all.ratio(all.on[i]); !granted(p, want) || want == 0 && p != 0 {
				t.Errorf("%v: P(%d) = %v, want %v", set, i, p, want)
			}
		}
	}
}

// Wanted nodes that are too many for one tree are shared out over several, and
// each is what it is in a tree of its own.
func TestSubsetOfSeveralTrees(t *testing.T) {
	t.Parallel()
	n := layered(3)
	ev := reports(rand.New(rand.NewPCG(3, 9)), n, 12)
	s := mustSolver(t, n)
	some, err := s.SolveSubset(ev, nil)
	if err != nil {
		t.Fatal(err)
	}
	all, err := s.SolveSubset(ev, everyNode(n))
	if err != nil {
		t.Fatal(err)
	}
	if all.Method.Trees < 2 {
		t.Fatalf("%d tree; want several", all.Method.Trees)
	}
	if math.Abs(all.LogEvidence-some.LogEvidence) > 1e-9 || all.Method.TableSize <= some.Method.TableSize || all.Method.Width < some.Method.Width {
		t.Errorf("%v and %v", all.Method, some.Method)
	}
	for i := 0; i < len(n.Nodes); i += 1 + len(n.Nodes)/25 {
		one, err := s.SolveSubset(ev, []int{i})
		if err != nil {
			t.Fatal(err)
		}
		if !granted(all.P[i], one.P[i]) {
			t.Errorf("P(%d) = %v, by itself %v", i, all.P[i], one.P[i])
		}
	}
	if i := slices.IndexFunc(all.P, func(p float64) bool { return !(p >= 0 && p <= 1) }); i >= 0 {
		t.Errorf("P(%d) = %v", i, all.P[i])
	}
}
