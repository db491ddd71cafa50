package model

import (
	"slices"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// duties tells what the duty of a part makes of the rate of a mode: 1 where the mode
// does not go by duty, or the part serves no element of the train. The parts of the
// unit that fail so are compared with each other, those with a rate of their own
// among them: a part's factor does not hang on what is written of others.
func (b *builder) duties() func(*engine.Mode, *engine.Component) float64 {
	known := map[[2]string]float64{}
	for i := range b.k.Modes {
		mode := &b.k.Modes[i]
		if !mode.Duty {
			continue
		}
		var parts []string
		var asked []geartrain.Duty
		for j := range b.u.Components {
			c := &b.u.Components[j]
			if !slices.Contains(mode.Of, c.Kind) {
				continue
			}
			if d, ok := dutyOf(b.m.Machine, c); ok {
				parts = append(parts, c.Name)
				asked = append(asked, d)
			}
		}
		for j, f := range geartrain.DutyFactors(asked) {
			known[[2]string{mode.Name, parts[j]}] = f
		}
	}
	return func(mode *engine.Mode, c *engine.Component) float64 {
		if f, ok := known[[2]string{mode.Name, c.Name}]; ok {
			return f
		}
		return 1
	}
}

// dutyOf is what is asked of the elements that a part serves, together; ok is false
// where it serves none of the train.
func dutyOf(m *geartrain.Machine, c *engine.Component) (sum geartrain.Duty, ok bool) {
	for _, t := range c.Serves {
		if t.Kind != engine.OnElement {
			continue
		}
		if d, of := m.Duty(t.Name); of {
			sum, ok = sum.Plus(d), true
		}
	}
	return sum, ok
}

// DutyOf is what driving asks of the elements that the part of a node of the mode
// layer serves; ok is false where its rate does not go by that.
func (m *Model) DutyOf(node int) (d geartrain.Duty, ok bool) {
	if m.Duties[node] == 1 {
		return d, false
	}
	return dutyOf(m.Machine, m.Nodes[node].Component)
}
