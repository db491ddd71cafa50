package diagnose

import (
	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// doubt asks whether the first n suspects keep their place when weak rates are
// off by a factor of two: their own invented or recalled rates halved and
// those of the suspect after them doubled.
func doubt(m *model.Model, r *Result, pieces []model.Piece, n int) error {
	for i := 0; i < len(r.Suspects) && i < n; i++ {
		stands := true
		if i+1 < len(r.Suspects) {
			factors := map[int]float64{}
			shift(m, factors, r.Suspects[i], 0.5)
			shift(m, factors, r.Suspects[i+1], 2)
			if len(factors) > 0 {
				post, err := withLeaks(m, factors, pieces)
				if err != nil {
					return err
				}
				stands = sum(post, r.Suspects[i]) >= sum(post, r.Suspects[i+1])
			}
		}
		r.Suspects[i].Stands = &stands
	}
	return nil
}

func shift(m *model.Model, factors map[int]float64, s Suspect, by float64) {
	for _, b := range s.Modes {
		n := m.Leaks[b.Node]
		if n.Basis == nil || n.Basis.Kind == engine.Invented || n.Basis.Kind == engine.Recalled {
			factors[b.Node] = by
		}
	}
}

// sum bounds P(any mode of s) from above, for a comparison.
func sum(post *network.Posterior, s Suspect) float64 {
	var t float64
	for _, b := range s.Modes {
		t += post.P[b.Node]
	}
	return t
}

// withLeaks solves the case with some rates multiplied, on the tree of the case.
func withLeaks(m *model.Model, factors map[int]float64, pieces []model.Piece) (*network.Posterior, error) {
	leaks := make(map[int]float64, len(factors))
	for node, f := range factors {
		leaks[node] = min(1, m.Net.Nodes[node].Leak*f)
	}
	solver, err := m.Solver().WithLeaks(leaks)
	if err != nil {
		return nil, err
	}
	return solver.Solve(model.Likelihoods(pieces))
}
