package network

import (
	"math"
	"slices"
)

// Conditional is the posterior with node additionally known to be on or off.
func (s *Solver) Conditional(ev []Likelihood, node int, on bool) (*Posterior, error) {
	return s.Solve(with(ev, hardOn(node, on)))
}

// Pair holds the joint distribution of two nodes given the evidence:
// P[a][b] with index 1 for on.
type Pair struct {
	P      [2][2]float64
	Method Method
}

// Pair returns the exact joint posterior of two nodes.
func (s *Solver) Pair(ev []Likelihood, a, b int) (*Pair, error) {
	outs, err := s.Scenario(ev, []int{a, b})
	if err != nil {
		return nil, err
	}
	out := &Pair{}
	for _, o := range outs {
		out.P[bit(o.Config[0])][bit(o.Config[1])] += o.Prob
		if o.Method.Cliques > 0 {
			out.Method = o.Method
		}
	}
	return out, nil
}

func bit(b bool) int {
	if b {
		return 1
	}
	return 0
}

func hardOn(node int, on bool) Likelihood {
	l := Likelihood{Node: node, Tag: -1}
	if on {
		l.On = 1
	} else {
		l.Off = 1
	}
	return l
}

func with(ev []Likelihood, more ...Likelihood) []Likelihood {
	return append(slices.Clone(ev), more...)
}

// Outcome is one joint state of the asked nodes: its probability given the
// evidence, and all posteriors given both. P follows the order of Net.Nodes
// with -1 where not computed; it is nil for an outcome that cannot occur.
type Outcome struct {
	Config []bool
	Prob   float64
	P      []float64
	Method Method
}

// Scenario returns the joint distribution of a few nodes (at most 12) given
// the evidence, each configuration with the posteriors that it would leave.
// Configurations count up with nodes[0] as the lowest bit.
func (s *Solver) Scenario(ev []Likelihood, nodes []int) ([]Outcome, error) {
	if err := s.few(nodes, 12); err != nil {
		return nil, err
	}
	base, err := s.logEvidence(ev)
	if err != nil {
		return nil, err
	}
	out := make([]Outcome, 1<<len(nodes))
	for c := range out {
		o := &out[c]
		more := slices.Clone(ev)
		for i, n := range nodes {
			o.Config = append(o.Config, c>>i&1 == 1)
			more = append(more, hardOn(n, c>>i&1 == 1))
		}
		p, err := s.Solve(more)
		if _, never := err.(*ImpossibleError); never {
			continue
		}
		if err != nil {
			return nil, err
		}
		o.Prob, o.P, o.Method = math.Exp(p.LogEvidence-base), p.P, p.Method
	}
	return out, nil
}

// few checks a list of distinct nodes.
func (s *Solver) few(nodes []int, limit int) error {
	if len(nodes) > limit {
		return errTooMany(len(nodes), limit)
	}
	for i, n := range nodes {
		if n < 0 || n >= len(s.net.Nodes) {
			return errNoNode(n, len(s.net.Nodes))
		}
		if slices.Contains(nodes[:i], n) {
			return errTwice(n, s.net.Nodes[n].Name)
		}
	}
	return nil
}

// logEvidence is the natural logarithm of P(evidence).
func (s *Solver) logEvidence(ev []Likelihood) (float64, error) {
	b, err := s.prepare(ev, nil)
	if err != nil {
		return 0, err
	}
	r, _, err := b.solve(nil, request{}, nil)
	if err != nil {
		return 0, err
	}
	return r.logZ + b.m.logScale, nil
}

// Predict returns P(on | evidence) for each of the wanted nodes, in their
// order.
func (s *Solver) Predict(ev []Likelihood, want []int) ([]float64, error) {
	for _, n := range want {
		if n < 0 || n >= len(s.net.Nodes) {
			return nil, errNoNode(n, len(s.net.Nodes))
		}
	}
	p, err := s.SolveSubset(ev, s.always())
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(want))
	for i, n := range want {
		if p.Known(n) {
			out[i] = p.P[n]
			continue
		}
		q, err := s.SolveSubset(ev, []int{n})
		if err != nil {
			return nil, err
		}
		out[i] = q.P[n]
	}
	return out, nil
}

// Split is one finding as a question: P(present | evidence) and the posteriors
// with it present and with it absent. A side that cannot occur has nil
// posteriors.
type Split struct {
	Node            int
	Prob            float64
	Present, Absent []float64
}

// Splits prices findings: for each wanted node its predicted probability and
// all posteriors for both answers.
func (s *Solver) Splits(ev []Likelihood, want []int) ([]Split, error) {
	out := make([]Split, len(want))
	for i, n := range want {
		o, err := s.Scenario(ev, []int{n})
		if err != nil {
			return nil, err
		}
		out[i] = Split{Node: n, Prob: o[1].Prob, Present: o[1].P, Absent: o[0].P}
	}
	return out, nil
}
