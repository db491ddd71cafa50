package network

import (
	"errors"
	"math"
	"math/rand/v2"
	"os"
	"testing"
)

// positive enumerates a small network as a sum of non-negative terms, so that
// no digit cancels: float64 is good to some 1e-13 of each probability.
func positive(n *Net, ev []Likelihood) (z float64, on []float64) {
	on = make([]float64, len(n.Nodes))
	for state := range 1 << len(n.Nodes) {
		w := 1.0
		for i, node := range n.Nodes {
			off, yes := 1-node.Leak, node.Leak
			for _, k := range node.Links {
				if state>>k.Parent&1 == 1 {
					yes += k.Strength * off
					off *= 1 - k.Strength
				}
			}
			if state>>i&1 == 1 {
				w *= yes
			} else {
				w *= off
			}
		}
		for _, e := range ev {
			if state>>e.Node&1 == 1 {
				w *= e.On
			} else {
				w *= e.Off
			}
		}
		z += w
		for i := range on {
			if state>>i&1 == 1 {
				on[i] += w
			}
		}
	}
	return z, on
}

// rareModes draws a network of a few rare modes and findings that are all but
// certainly there: within one clique the terms of the rank-one form cancel to
// a few digits.
func rareModes(rng *rand.Rand) (*Net, []Likelihood) {
	tiny := func(least float64) float64 { return math.Exp(math.Log(least) * (0.4 + 0.6*rng.Float64())) }
	n := &Net{}
	modes := 2 + rng.IntN(4)
	for range modes {
		n.Nodes = append(n.Nodes, Node{Leak: tiny(1e-8)})
	}
	var ev []Likelihood
	for f := range 2 + rng.IntN(4) {
		node := Node{Leak: tiny(1e-6)}
		for m := range modes {
			if rng.IntN(3) > 0 {
				node.Links = append(node.Links, Link{m, []float64{rng.Float64(), 1 - tiny(1e-4), tiny(1e-4)}[rng.IntN(3)]})
			}
		}
		l := Likelihood{Node: len(n.Nodes), On: 0.5 + rng.Float64()/2, Off: tiny(1e-6), Tag: f}
		if rng.IntN(4) == 0 {
			l.Off = 0
		}
		ev = append(ev, l)
		n.Nodes = append(n.Nodes, node)
	}
	return n, ev
}

// granted is what is owed to a probability: 1e-9 of it, or 1e-11 absolutely.
func granted(got, want float64) bool {
	return math.Abs(got-want) <= math.Max(1e-11, 1e-9*math.Min(want, 1))
}

// Rare modes under findings that are all but certain come out right in every
// way that the package answers.
func TestRareModes(t *testing.T) {
	t.Parallel()
	runs := 4000
	if os.Getenv("SLIPCASE_LONG") != "" {
		runs = 100_000
	}
	rng := rand.New(rand.NewPCG(14, 1))
	precise := 0
	for run := range runs {
		n, ev := rareModes(rng)
		z, on := positive(n, ev)
		if z == 0 {
			continue
		}
		s := mustSolver(t, n)
		post, err := s.Solve(ev)
		if err != nil {
			t.Fatalf("run %d: %v", run, err)
		}
		if post.Method.Precision > 53 {
			precise++
		}
		if math.Abs(post.LogEvidence-math.Log(z)) > 1e-9 {
			t.Errorf("run %d: log evidence %v, enumeration %v (%d bits)", run, post.LogEvidence, math.Log(z), post.Method.Precision)
		}
		for i, p := range post.P {
			if p >= 0 && !granted(p, on[i]/z) {
				t.Errorf("run %d: P(%d) = %v, enumeration %v (%d bits)", run, i, p, on[i]/z, post.Method.Precision)
			}
		}
		// Upward passes only.
		a, b := rng.IntN(len(n.Nodes)), rng.IntN(len(n.Nodes))
		sets := [][]Hard{{{a, true}}, {{b, false}}, {{a, true}, {b, true}}}
		got, err := s.Chances(ev, sets)
		if err != nil {
			t.Fatalf("run %d: %v", run, err)
		}
		for i, set := range sets {
			more := ev
			for _, h := range set {
				more = with(more, hardOn(h.Node, h.On))
			}
			w, _ := positive(n, more)
			if math.Abs(got[i]-w/z) > 2*chanceError {
				t.Errorf("run %d: chance %v of %v, enumeration %v", run, got[i], set, w/z)
			}
		}
		// A row of a ground.
		g, err := s.Ground(ev, []int{a}, []int{b})
		if err != nil {
			t.Fatalf("run %d: %v", run, err)
		}
		row := Likelihood{Node: b, On: rng.Float64(), Off: 1e-4 * rng.Float64(), Tag: -1}
		z, on = positive(n, with(ev, row))
		r, err := g.With([]Likelihood{row})
		var never *ImpossibleError
		if errors.As(err, &never) && z == 0 {
			continue
		}
		if err != nil {
			t.Fatalf("run %d: %v", run, err)
		}
		if !granted(r.P[a], on[a]/z) || math.Abs(r.LogEvidence-math.Log(z)) > 1e-9 {
			t.Errorf("run %d: row P(%d) = %v, enumeration %v; log evidence %v, %v (%d bits)", run, a, r.P[a], on[a]/z, r.LogEvidence, math.Log(z), r.Method.Precision)
		}
	}
	t.Logf("%d of %d went beyond 53 bits", precise, runs)
}
