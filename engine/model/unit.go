package model

import "slipcase/engine"

// RowSign says what a mode does to a row of the chart.
type RowSign struct {
	Row     string
	Effect  string
	Outcome string
	ActsAs  string
	Factor  float64 // scales the strength, 0 to 1
}

// BasesOf lists where the numbers around a mode come from.
func (m *Model) BasesOf(node int) []engine.BasisKind {
	var out []engine.BasisKind
	add := func(n engine.Number) {
		if n.Basis != nil && n.Value > 0 {
			for _, k := range out {
				if k == n.Basis.Kind {
					return
				}
			}
			out = append(out, n.Basis.Kind)
		}
	}
	add(m.Leaks[node])
	for _, s := range m.Sources[node] {
		add(s.Number)
	}
	return out
}

// MinutesTo is the minutes of a step and of every step that must come before
// it, less those done.
func (m *Model) MinutesTo(step string, done []string) float64 {
	steps := map[string]*engine.Step{}
	for i := range m.Unit.Steps {
		steps[m.Unit.Steps[i].Name] = &m.Unit.Steps[i]
	}
	seen := map[string]bool{}
	for _, d := range done {
		seen[d] = true
	}
	var total float64
	var visit func(string)
	visit = func(name string) {
		s := steps[name]
		if s == nil || seen[name] {
			return
		}
		seen[name] = true
		for _, a := range s.After {
			visit(a)
		}
		total += s.Minutes.Value
	}
	visit(step)
	return total
}

// RowsOf lists what a mode does to the rows of the chart, through its effects.
func (m *Model) RowsOf(node int) []RowSign {
	n := m.Nodes[node]
	if n.Mode == nil {
		return nil
	}
	var out []RowSign
	gear := func(sights []Sighting, place string) string {
		for _, s := range sights {
			if s.Per == engine.PerRowGear && s.Place == place {
				return s.Gear
			}
		}
		return ""
	}
	for _, l := range n.Mode.Effects {
		for _, t := range n.Component.Serves {
			key := Effect{Target: t, Word: l.To}.String()
			for _, s := range m.sights[key] {
				if s.Per == engine.PerRow {
					out = append(out, RowSign{Row: s.Place, Effect: key, Outcome: s.Outcome, ActsAs: gear(m.sights[key], s.Place), Factor: s.Factor})
				}
			}
		}
	}
	return out
}

// Step is the step of the unit with this name, or nil.
func (m *Model) Step(name string) *engine.Step {
	for i := range m.Unit.Steps {
		if m.Unit.Steps[i].Name == name {
			return &m.Unit.Steps[i]
		}
	}
	return nil
}

// Share tells whether two components serve one target, or a circuit of one
// feeds an element of the other.
func (m *Model) Share(a, b *engine.Component) bool {
	return a != b && (&builder{u: m.Unit}).share(a, b)
}
