package advise

import (
	"sort"

	"slipcase/engine"
	"slipcase/engine/tie"
)

// Belief is a component with P(one of its culprit modes is there | reports).
type Belief struct {
	Component *engine.Component
	Modes     []int   // nodes of the modes that count
	P         float64 // probability
}

// Standing lists the components that can be behind the complaint, most
// probable first; ties within 1e-9 by name. A case that would tie too many
// causes together counts some reports approximately, which are named.
func (a *Adviser) Standing(c *engine.CaseFile) ([]Belief, []Near, error) {
	pieces, err := a.evidence(c)
	if err != nil {
		return nil, nil, err
	}
	s, err := a.scope(c, pieces)
	if err != nil {
		return nil, nil, err
	}
	kept, near, err := s.within(pieces, s.want, standWork)
	if err != nil {
		return nil, nil, err
	}
	post, err := s.solver.SolveSubset(a.Model.Likelihoods(kept), s.want)
	if err != nil {
		return nil, nil, err
	}
	if post.Low != nil {
		return nil, nil, errWide
	}
	var out []Belief
	for _, p := range s.parts {
		out = append(out, Belief{p.component, p.modes, post.P[p.node]})
	}
	sort.SliceStable(out, func(i, j int) bool {
		if d := tie.Compare(out[i].P, out[j].P); d != 0 {
			return d > 0
		}
		return out[i].Component.Name < out[j].Component.Name
	})
	return out, near, nil
}

// Offered is an open check with what is left to report, not priced.
type Offered struct {
	Check    *engine.Check
	Findings []Open // Telling is not set
}

// Offer lists the open checks of a case in the order of the rules, without
// pricing them.
func (a *Adviser) Offer(c *engine.CaseFile, opt Options) ([]Offered, error) {
	opt = opt.filled()
	b, _, pieces, err := a.begin(c, opt)
	if err != nil {
		return nil, err
	}
	open, _, _ := a.offer(c, pieces, opt)
	var out []Offered
	for _, ch := range open {
		o := Offered{Check: ch.Check}
		for i := range ch.items {
			it := &ch.items[i]
			o.Findings = append(o.Findings, Open{Name: it.name, Reporter: it.by, P: it.predict(b.estimate(it)), Tells: b.telling(it)})
		}
		out = append(out, o)
	}
	return out, nil
}
