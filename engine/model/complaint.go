package model

import (
	"sync"

	"slipcase/engine"
)

// What a driver answers to a question is often wrong: asked whether it shudders,
// some say yes of a vehicle that does not. What he brings the vehicle in for is
// seldom so. With the rate of false answers, nine of ten shudders that came in
// would have no fault behind them, for the faults are rarer than the answers.
// The first complaint is therefore weighed by its own rate: Reporter.Unfounded is
// the share of vehicles brought in for a complaint that no fault is behind, and
// from it and from how often the fault shows follows how often a driver comes
// with a complaint and nothing there. Every later report is weighed as an answer.

// priors are P(node is on) before any report, worked out once.
type priors struct {
	once sync.Once
	p    []float64
}

// before is P(node is on) before any report, as if its parents were independent:
// a little too high where one stress is behind several, which is well within what
// is known of the share that it is used with, and never too much work.
func (m *Model) before(node int) float64 {
	m.priors.once.Do(func() {
		m.priors.p = make([]float64, len(m.Net.Nodes))
		for i := range m.Net.Nodes { // parents stand before children
			n := &m.Net.Nodes[i]
			off := 1 - n.Leak
			for _, l := range n.Links {
				off *= 1 - l.Strength*m.priors.p[l.Parent]
			}
			m.priors.p[i] = 1 - off
		}
	})
	return m.priors.p[node]
}

// AsAsked is the same model, which takes every report for an answer to a
// question: for the rates of single reports, and for vehicles that are drawn.
func (m *Model) AsAsked() *Model {
	out := *m
	out.asAsked = true
	return &out
}

// complaint is the index of the first complaint among the reports, -1 for none:
// what is noticed on the road by one whose complaints are told from answers.
func (m *Model) complaint(reports []engine.Report) int {
	for i, r := range reports {
		if r.State != engine.Present {
			continue
		}
		node, ok := m.LookupFinding(r.Finding)
		if !ok || !m.complainedOf(node) {
			continue
		}
		by := r.By
		if by == "" {
			by = m.DefaultReporter(node)
		}
		if x := m.reporters[by]; x != nil && x.Unfounded.Value > 0 {
			return i
		}
	}
	return -1
}

// complainedOf tells whether a node is a finding that brings a vehicle in,
// whatever its condition.
func (m *Model) complainedOf(node int) bool {
	f := m.Nodes[node].Finding
	return f != nil && f.Stage == engine.StageRoad && f.Reporter == engine.Driver
}

// unfounded is P(the complaint | the finding is not there): so small that of the
// vehicles that come with it the share Unfounded has nothing there, and never
// more than the rate of false answers.
func (m *Model) unfounded(by string, node int, hit, falseAlarm float64) float64 {
	p, u := min(m.before(node), 0.5), m.reporters[by].Unfounded.Value // beyond, the rate of false answers is less anyway
	return min(falseAlarm, hit*p/(1-p)*u/(1-u))
}
