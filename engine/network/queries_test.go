package network

import (
	"math"
	"math/rand/v2"
	"slices"
	"sort"
	"testing"
)

// jointOf sums the oracle's states that agree with a configuration.
func (b *brute) jointOf(nodes []int, config []bool) float64 {
	sum := num(0)
	for state, w := range b.joint {
		ok := true
		for i, n := range nodes {
			ok = ok && (state>>n&1 == 1) == config[i]
		}
		if ok {
			sum.Add(sum, w)
		}
	}
	return b.ratio(sum)
}

// distinct draws k different nodes.
func distinct(rng *rand.Rand, n *Net, k int) []int {
	return rng.Perm(len(n.Nodes))[:min(k, len(n.Nodes))]
}

func TestScenariosAgainstEnumeration(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(2, 2))
	compared := 0
	for range 150 {
		hard := rng.IntN(3) == 0
		n := randomNet(rng, 2+rng.IntN(7), hard)
		ev := randomEvidence(rng, n, rng.IntN(5), hard)
		want := enumerate(n, ev)
		if want.z.Sign() == 0 {
			continue
		}
		s := mustSolver(t, n)
		s.Always = everyNode(n)
		nodes := distinct(rng, n, 1+rng.IntN(3))
		outs, err := s.Scenario(ev, nodes)
		if err != nil {
			t.Fatal(err)
		}
		for _, o := range outs {
			more := slices.Clone(ev)
			for i, x := range nodes {
				more = append(more, hardOn(x, o.Config[i]))
			}
			w := want.jointOf(nodes, o.Config)
			if !near(o.Prob, w, 1e-9) {
				t.Fatalf("P(%v = %v) = %v, enumeration %v", nodes, o.Config, o.Prob, w)
			}
			given := enumerate(n, more)
			if given.z.Sign() == 0 {
				if o.P != nil {
					t.Fatalf("an outcome that cannot occur has posteriors")
				}
				continue
			}
			for i := range n.Nodes {
				compared++
				if w := given.ratio(given.on[i]); !near(o.P[i], w, 1e-9) {
					t.Fatalf("P(%d | %v = %v) = %v, enumeration %v", i, nodes, o.Config, o.P[i], w)
				}
			}
		}
		pred, err := s.Predict(ev, nodes)
		if err != nil {
			t.Fatal(err)
		}
		splits, err := s.Splits(ev, nodes)
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range nodes {
			w := want.ratio(want.on[x])
			if !near(pred[i], w, 1e-9) || !near(splits[i].Prob, w, 1e-9) {
				t.Fatalf("predicted P(%d) = %v and %v, enumeration %v", x, pred[i], splits[i].Prob, w)
			}
		}
	}
	if compared < 1000 {
		t.Fatalf("only %d probabilities compared", compared)
	}
}

// Predictions and scenarios must not depend on which nodes Solve always
// gives: with none, findings hang on parents outside the tree.
func TestPredictOutsideTheTree(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(3, 3))
	for range 80 {
		n := randomNet(rng, 3+rng.IntN(6), false)
		ev := randomEvidence(rng, n, rng.IntN(3), false)
		want := enumerate(n, ev)
		s := mustSolver(t, n)
		s.Always = []int{}
		all := everyNode(n)
		pred, err := s.Predict(ev, all)
		if err != nil {
			t.Fatal(err)
		}
		splits, err := s.Splits(ev, all)
		if err != nil {
			t.Fatal(err)
		}
		pair, err := s.Pair(ev, 0, len(n.Nodes)-1)
		if err != nil {
			t.Fatal(err)
		}
		for a := range 2 {
			for b := range 2 {
				w := want.jointOf([]int{0, len(n.Nodes) - 1}, []bool{a == 1, b == 1})
				if !near(pair.P[a][b], w, 1e-9) {
					t.Fatalf("pair %v, enumeration %v", pair.P[a][b], w)
				}
			}
		}
		for i, x := range all {
			w := want.ratio(want.on[x])
			if !near(pred[i], w, 1e-9) || !near(splits[i].Prob, w, 1e-9) {
				t.Fatalf("predicted P(%d) = %v and %v, enumeration %v", x, pred[i], splits[i].Prob, w)
			}
		}
	}
}

func TestExplanationsAgainstEnumeration(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 4))
	found := 0
	for range 100 {
		hard := rng.IntN(3) == 0
		n := randomNet(rng, 2+rng.IntN(7), hard)
		ev := randomEvidence(rng, n, rng.IntN(5), hard)
		want := enumerate(n, ev)
		if want.z.Sign() == 0 {
			continue
		}
		nodes := distinct(rng, n, 1+rng.IntN(4))
		var probs []float64
		for c := range 1 << len(nodes) {
			config := make([]bool, len(nodes))
			for i := range nodes {
				config[i] = c>>i&1 == 1
			}
			if p := want.jointOf(nodes, config); p > 0 {
				probs = append(probs, p)
			}
		}
		sort.Sort(sort.Reverse(sort.Float64Slice(probs)))
		s := mustSolver(t, n)
		got, err := s.Explain(ev, 3, nodes)
		if err != nil {
			t.Fatal(err)
		}
		if !got.Proven || len(got.Best) != min(3, len(probs)) {
			t.Fatalf("%d explanations (proven %v), enumeration has %d", len(got.Best), got.Proven, len(probs))
		}
		for i, e := range got.Best {
			found++
			if !near(e.Prob, probs[i], 1e-9) {
				t.Fatalf("explanation %d has probability %v, enumeration %v", i, e.Prob, probs[i])
			}
			config := make([]bool, len(nodes))
			for j, x := range nodes {
				config[j] = slices.Contains(e.On, x)
			}
			if w := want.jointOf(nodes, config); !near(e.Prob, w, 1e-9) {
				t.Fatalf("explanation %v has probability %v, enumeration %v", e.On, e.Prob, w)
			}
			if len(e.Cause) != len(e.On) {
				t.Fatalf("%d causes for %d nodes", len(e.Cause), len(e.On))
			}
			// The named cause against enumeration under the configuration.
			more := slices.Clone(ev)
			for j, x := range nodes {
				more = append(more, hardOn(x, config[j]))
			}
			given := enumerate(n, more)
			for j, x := range e.On {
				best := given.ratio(given.leak[x])
				for l := range n.Nodes[x].Links {
					best = math.Max(best, given.ratio(given.trans[x][l]))
				}
				if !near(e.Share[j], best, 1e-9) {
					t.Fatalf("cause of %d has share %v, enumeration %v", x, e.Share[j], best)
				}
			}
		}
	}
	if found < 100 {
		t.Fatalf("only %d explanations compared", found)
	}
}
