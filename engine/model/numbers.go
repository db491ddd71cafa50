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
			c.Leak = clamp(f(m.Leaks[i]) * m.Duties[i])
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
	out.Net, out.solver, out.held = net, solver, &holdings{}
	return &out, nil
}

// Over is the model with the numbers of a network of the same nodes and links, for
// Likelihoods; its own answers stay those of the numbers that it was made with.
func (m *Model) Over(net *network.Net) *Model {
	out := *m
	out.Net, out.held = net, &holdings{}
	return &out
}

// Forget lets go of what was worked out for the patterns of reports asked about so
// far: vehicles that have nothing in common would fill the memory with it.
func (m *Model) Forget() { m.solver.Forget() }

func clamp(p float64) float64 { return math.Max(0, math.Min(1, p)) }

// Without is the model with links taken out, those for which cut is true, and
// with other leaks where leak is not nil: what the rules are worth without a part
// of them. Nodes stay the same.
func (m *Model) Without(cut func(node int, s LinkSource) bool, leak func(node int) float64) (*Model, error) {
	out := *m
	out.priors, out.held = &priors{}, &holdings{}
	out.Net = &network.Net{Nodes: make([]network.Node, len(m.Net.Nodes))}
	out.Sources = make([][]LinkSource, len(m.Net.Nodes))
	for i, n := range m.Net.Nodes {
		c := network.Node{Name: n.Name, Leak: n.Leak}
		if leak != nil && m.Nodes[i].Layer <= ModeLayer {
			c.Leak = leak(i)
		}
		for j, l := range n.Links {
			if s := m.Sources[i][j]; !cut(i, s) {
				c.Links = append(c.Links, l)
				out.Sources[i] = append(out.Sources[i], s)
			}
		}
		out.Net.Nodes[i] = c
	}
	var err error
	if out.solver, err = network.NewSolver(out.Net); err != nil {
		return nil, err
	}
	out.solver = out.solver.Rough(shown).WithContext(m.solver.Context())
	out.solver.Always = m.solver.Always
	return &out, nil
}
