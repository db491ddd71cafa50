// Package trial tries the rules on simulated cases: units drawn from the
// model, with reports drawn through the reliability of those who make them.
// Everything is drawn from fixed seeds; the same seed gives the same cases
// whatever the number of goroutines.
//
// A simulated case tells how well the engine finds what the rules say there
// is. It tells nothing about whether the rules are true; only confirmed cases
// do (package refine).
package trial

import (
	"math/rand/v2"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// Truth is one drawn unit: what is on in every node of the model.
type Truth struct {
	On     []bool
	Failed []string // components with at least one mode, in unit order
}

// Has tells whether a component has failed.
func (t *Truth) Has(component string) bool {
	for _, f := range t.Failed {
		if f == component {
			return true
		}
	}
	return false
}

// Draw draws a unit with a complaint: at least one failed component, and at
// least one symptom of a row, shift or engagement that is really there. Draws
// without are thrown away, as a unit without complaint does not come in.
func Draw(m *model.Model, rng *rand.Rand) *Truth {
	for {
		t := DrawAny(m, rng)
		if len(t.Failed) == 0 {
			continue
		}
		for i, on := range t.On {
			if on && m.Nodes[i].Layer == model.FindingLayer && complaint(m.Nodes[i].Finding) {
				return t
			}
		}
	}
}

// DrawAny draws a unit as the rules have it, complaint or none.
func DrawAny(m *model.Model, rng *rand.Rand) *Truth {
	t := &Truth{On: make([]bool, len(m.Nodes))}
	t.sample(m.Net, rng)
	for i := range m.Unit.Components {
		name := m.Unit.Components[i].Name
		for _, n := range m.ModesOf(name) {
			if t.On[n] {
				t.Failed = append(t.Failed, name)
				break
			}
		}
	}
	return t
}

// sample draws the state of every node, parents before children.
func (t *Truth) sample(net *network.Net, rng *rand.Rand) {
	for i := range net.Nodes {
		n := &net.Nodes[i]
		off := 1 - n.Leak
		for _, l := range n.Links {
			if t.On[l.Parent] {
				off *= 1 - l.Strength
			}
		}
		t.On[i] = rng.Float64() >= off
	}
}

// complaint tells what brings a driver in: a symptom of a row, a shift or an
// engagement.
func complaint(f *engine.Finding) bool {
	if f == nil {
		return false
	}
	switch f.Per {
	case engine.PerRow, engine.PerShift, engine.PerEngagement:
		return f.Stage == engine.StageRoad || f.Stage == engine.StageInterview
	}
	return false
}

// Report is what a reporter says of a finding of this unit: present or absent,
// by hit and false-alarm rate. It is false when the unit has no such finding.
func (t *Truth) Report(m *model.Model, finding, by string, rng *rand.Rand) (engine.Report, bool) {
	node, ok := m.Lookup(finding)
	if !ok {
		return engine.Report{}, false
	}
	hit, falseAlarm, err := m.Reliability(by, finding)
	if err != nil {
		return engine.Report{}, false
	}
	p := falseAlarm
	if t.On[node] {
		p = hit
	}
	r := engine.Report{Finding: finding, State: engine.Absent, By: by}
	if rng.Float64() < p {
		r.State = engine.Present
	}
	return r, true
}
