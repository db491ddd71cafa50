package network

import (
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

// Predict returns P(on | evidence) for each of the wanted nodes, in their
// order. Nodes without evidence below are spread over a few trees.
func (s *Solver) Predict(ev []Likelihood, want []int) ([]float64, error) {
	p, err := s.SolveSubset(ev, want)
	if err != nil {
		return nil, err
	}
	if p.Low != nil {
		return nil, errWide(p.Method.TableSize)
	}
	out := make([]float64, len(want))
	for i, n := range want {
		out[i] = p.P[n]
	}
	return out, nil
}

// valid checks that nodes are in the network.
func (s *Solver) valid(nodes []int) error {
	for _, n := range nodes {
		if n < 0 || n >= len(s.net.Nodes) {
			return errNoNode(n, len(s.net.Nodes))
		}
	}
	return nil
}
