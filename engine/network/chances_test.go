package network

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Chances and Given agree with hard evidence solved on its own.
func TestChancesAndGiven(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 11))
	tried := 0
	for range 200 {
		n := randomNet(rng, 12, true)
		ev := randomEvidence(rng, n, 4, true)
		s, err := NewSolver(n)
		if err != nil {
			t.Fatal(err)
		}
		base, err := s.Solve(ev)
		if err != nil {
			continue
		}
		var sets [][]Hard
		for range 6 {
			var set []Hard
			for i := range n.Nodes {
				if rng.IntN(4) == 0 {
					set = append(set, Hard{i, rng.IntN(2) == 0})
				}
			}
			sets = append(sets, set)
		}
		got, err := s.Chances(ev, sets)
		if err != nil {
			t.Fatal(err)
		}
		given, err := s.Given(ev, sets, nil)
		if err != nil {
			t.Fatal(err)
		}
		some := []int{rng.IntN(len(n.Nodes)), rng.IntN(len(n.Nodes))}
		few, err := s.Given(ev, sets, some)
		if err != nil {
			t.Fatal(err)
		}
		for i, set := range sets {
			more := append([]Likelihood(nil), ev...)
			for _, h := range set {
				more = append(more, hardOn(h.Node, h.On))
			}
			post, err := s.Solve(more)
			want := 0.0
			if err == nil {
				want = math.Exp(post.LogEvidence - base.LogEvidence)
			}
			if math.Abs(got[i]-want) > 1e-9 {
				t.Errorf("P(set | e) = %v, want %v", got[i], want)
			}
			if (given[i] == nil) != (err != nil) {
				t.Fatalf("given is nil: %v, alone: %v", given[i] == nil, err)
			}
			if err != nil {
				continue
			}
			for _, j := range some {
				if p := given[i].P[j]; few[i] == nil || p >= 0 && math.Abs(few[i].P[j]-p) > 1e-9 {
					t.Errorf("node %d: %v, by itself %v", j, p, few[i])
				}
			}
			for j, p := range post.P {
				if p >= 0 && given[i].P[j] >= 0 && math.Abs(given[i].P[j]-p) > 1e-9 {
					t.Errorf("node %d: %v, want %v", j, given[i].P[j], p)
				}
			}
			tried++
		}
	}
	if tried < 100 {
		t.Fatalf("only %d sets could occur", tried)
	}
}

// hardOn is a node seen to be on or off.
func hardOn(node int, on bool) Likelihood {
	l := Likelihood{Node: node, Tag: -1}
	if on {
		l.On = 1
	} else {
		l.Off = 1
	}
	return l
}

// A few nodes are asked for that no evidence is about: they come on trees of
// their own.
func TestPredictOutsideTheTree(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 3))
	for range 80 {
		n := randomNet(rng, 3+rng.IntN(6), false)
		ev := randomEvidence(rng, n, rng.IntN(3), false)
		want := enumerate(n, ev)
		s := mustSolver(t, n)
		s.Always = []int{}
		post, err := s.SolveSubset(ev, everyNode(n))
		if err != nil {
			t.Fatal(err)
		}
		for x, p := range post.P {
			if w := want.ratio(want.on[x]); !near(p, w, 1e-9) {
				t.Fatalf("P(%d) = %v, enumeration %v", x, p, w)
			}
		}
	}
}
