package diagnose

import (
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// ComponentBeliefs is P(component failed | reports) of every component, exact.
func ComponentBeliefs(m *model.Model, r *Result) (map[string]float64, error) {
	out := map[string]float64{}
	var lists [][]string
	for _, s := range r.Suspects {
		if s.Bounded {
			lists = append(lists, []string{s.Component.Name})
		}
		out[s.Component.Name] = s.P
	}
	p, err := AnyFailedOf(m, r, lists)
	if err != nil {
		return nil, err
	}
	for i, list := range lists {
		out[list[0]] = p[i]
	}
	return out, nil
}

// AnyFailed is P(at least one of the components has failed | reports), exact:
// one less the probability that all their modes are absent together.
func AnyFailed(m *model.Model, r *Result, components []string) (float64, error) {
	p, err := AnyFailedOf(m, r, [][]string{components})
	if err != nil {
		return 0, err
	}
	return p[0], nil
}

// AnyFailedOf is AnyFailed of several lists at once, on one tree.
func AnyFailedOf(m *model.Model, r *Result, lists [][]string) ([]float64, error) {
	sets := make([][]network.Hard, len(lists))
	for i, list := range lists {
		for _, c := range list {
			for _, n := range m.ModesOf(c) {
				if r.Posterior[n] > 0 {
					sets[i] = append(sets[i], network.Hard{Node: n})
				}
			}
		}
	}
	off, err := m.Solver().Chances(model.Likelihoods(r.Pieces), sets)
	if err != nil {
		return nil, err
	}
	for i, p := range off {
		off[i] = clamp(1 - p)
	}
	return off, nil
}
