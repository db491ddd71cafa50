package trial

import (
	"slipcase/engine"
	"slipcase/engine/model"
)

// Vehicles draws simulated vehicles of a unit that can be asked anything.
type Vehicles struct{ s *sources }

// NewVehicles makes a source of vehicles.
func NewVehicles(m *model.Model) *Vehicles { return &Vehicles{newSources(m)} }

// Draw makes the vehicle of a seed and a number; nil when the rules hardly
// ever lead to a complaint. The same numbers give the same vehicle.
func (v *Vehicles) Draw(seed, index uint64) (*Vehicle, error) {
	w, err := v.s.draw(1, seed, index)
	if w == nil || err != nil {
		return nil, err
	}
	return &Vehicle{w}, nil
}

// Vehicle is a simulated vehicle that came in with a complaint.
type Vehicle struct{ w *world }

// Opening is the complaint, as the driver states it and as the first short
// drive confirms it.
func (v *Vehicle) Opening() []engine.Report { return v.w.opening }

// Say is what a reporter says of a finding, the same each time; Unknown where
// the reporter cannot tell.
func (v *Vehicle) Say(finding, by string) engine.State { return v.w.say(finding, by) }

// On tells what is really so: whether a node of the model is on.
func (v *Vehicle) On(node int) bool { return v.w.truth.On[node] }

// Behind lists the nodes that are on and lead to the complaint, each with its
// first cause last: modes and root causes.
func (v *Vehicle) Behind() []int {
	m := v.w.s.m
	seen := map[int]bool{}
	var queue, out []int
	for _, r := range v.w.opening {
		if n, ok := v.w.s.node[r.Finding]; ok && !seen[n] {
			seen[n] = true
			queue = append(queue, n)
		}
	}
	for i := 0; i < len(queue); i++ {
		for _, l := range m.Net.Nodes[queue[i]].Links {
			if seen[l.Parent] || !v.On(l.Parent) {
				continue
			}
			seen[l.Parent] = true
			queue = append(queue, l.Parent)
			if layer := m.Nodes[l.Parent].Layer; layer == model.ModeLayer || layer == model.CauseLayer {
				out = append(out, l.Parent)
			}
		}
	}
	return out
}
