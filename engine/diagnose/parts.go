package diagnose

import (
	"errors"
	"math"

	"slipcase/engine"
	"slipcase/engine/network"
)

// ComponentBeliefs is P(component failed | reports) of every component, exact.
func (m *Model) ComponentBeliefs(r *Result) (map[string]float64, error) {
	out := map[string]float64{}
	for _, s := range r.Suspects {
		if !s.Bounded {
			out[s.Component.Name] = s.P
			continue
		}
		p, err := m.AnyFailed(r, []string{s.Component.Name})
		if err != nil {
			return nil, err
		}
		out[s.Component.Name] = p
	}
	return out, nil
}

// AnyFailed is P(at least one of the components has failed | reports), exact:
// one less the probability that all their modes are absent together.
func (m *Model) AnyFailed(r *Result, components []string) (float64, error) {
	ev := Likelihoods(r.Pieces)
	any := false
	for _, c := range components {
		for _, n := range m.modesOf[c] {
			if r.Posterior[n] > 1-1e-12 {
				return 1, nil
			}
			if r.Posterior[n] > 0 {
				any = true
				ev = append(ev, network.Likelihood{Node: n, Off: 1, Tag: -1})
			}
		}
	}
	if !any {
		return 0, nil
	}
	off, err := m.logEvidence(ev)
	var clash *network.ImpossibleError
	if errors.As(err, &clash) {
		return 1, nil
	}
	if err != nil {
		return 0, err
	}
	return math.Max(0, math.Min(1, -math.Expm1(off-r.LogEvidence))), nil
}

// Share tells whether two components serve one target, or a circuit of one
// feeds an element of the other.
func (m *Model) Share(a, b *engine.Component) bool {
	return a != b && (&builder{u: m.Unit}).share(a, b)
}
