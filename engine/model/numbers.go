package model

import (
	"math"

	"slipcase/engine"
	"slipcase/engine/network"
)

// WithNumbers is the model with every rule number replaced by what f makes of
// it: rates and strengths, kept within 0..1. Nodes, links and physics stay the
// same, and so do reporters. Numbers that are zero or certain by construction
// are not asked about.
func (m *Model) WithNumbers(f func(engine.Number) float64) (*Model, error) {
	net := &network.Net{Nodes: make([]network.Node, len(m.Net.Nodes))}
	for i, n := range m.Net.Nodes {
		c := network.Node{Name: n.Name, Leak: n.Leak, Links: append([]network.Link(nil), n.Links...)}
		if m.Leaks[i].Text != "" {
			c.Leak = clamp(f(m.Leaks[i]))
		}
		for j := range c.Links {
			if s := m.Sources[i][j]; s.Number.Text != "" {
				c.Links[j].Strength = clamp(f(s.Number) * s.Factor)
			}
		}
		net.Nodes[i] = c
	}
	solver, err := m.solver.WithNumbers(net)
	if err != nil {
		return nil, err
	}
	out := *m
	out.Net, out.solver = net, solver
	return &out, nil
}

func clamp(p float64) float64 { return math.Max(0, math.Min(1, p)) }
