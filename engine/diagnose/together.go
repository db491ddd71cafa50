package diagnose

import (
	"slices"
	"sort"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/engine/tie"
)

// Together is an element with all that holds it or feeds it alone: plates,
// piston, rings, drum. A builder who opens it sees them all, and where none of
// them stands out the element still may.
type Together struct {
	Element    *engine.Element
	Components []*engine.Component // likeliest first, those that matter
	P          float64             // P(at least one of them is behind what is reported)
	modes      []int
}

// Our own choice, as what is shown of an answer is.
const (
	// Parts of less than this share are not named of an element.
	leastTogether = 0.02
	// So much likelier than its likeliest part an element is told of.
	moreTogether = 0.05
	// Elements that are worked out.
	mostTogether = 2
)

// elements lists the elements whose parts together may stand out, by an upper
// bound, with their modes among those that the reports speak of.
func elements(m *model.Model, p []float64, about map[int]bool) []Together {
	alone := map[string]string{} // circuit that feeds one element -> that element
	for _, c := range m.Unit.Circuits {
		if len(c.Feeds) == 1 {
			alone[c.Name] = c.Feeds[0]
		}
	}
	type sum struct {
		Together
		bound float64
		each  map[string]float64
	}
	var all []sum
	for i := range m.Unit.Elements {
		x := sum{Together: Together{Element: &m.Unit.Elements[i]}, each: map[string]float64{}}
		name := x.Element.Name
		for k := range m.Unit.Components {
			c := &m.Unit.Components[k]
			if !slices.ContainsFunc(c.Serves, func(t engine.Target) bool {
				return t.Kind == engine.OnElement && t.Name == name || t.Kind == engine.OnCircuit && alone[t.Name] == name
			}) {
				continue
			}
			for _, n := range m.ModesOf(c.Name) {
				if about[n] {
					x.modes = append(x.modes, n)
					x.bound += p[n]
					x.each[c.Name] += p[n]
				}
			}
			if x.each[c.Name] >= leastTogether {
				x.Components = append(x.Components, c)
			}
		}
		if len(x.Components) > 1 {
			sort.SliceStable(x.Components, func(i, j int) bool {
				return tie.More(x.each[x.Components[i].Name], x.each[x.Components[j].Name])
			})
			all = append(all, x)
		}
	}
	sort.SliceStable(all, func(i, j int) bool { return tie.More(all[i].bound, all[j].bound) })
	var out []Together
	for _, x := range all[:min(mostTogether, len(all))] {
		out = append(out, x.Together)
	}
	return out
}

// off is the set in which no mode of the element is there.
func (x *Together) off() []network.Hard {
	var set []network.Hard
	for _, n := range x.modes {
		set = append(set, network.Hard{Node: n})
	}
	return set
}

// standOut is the likeliest of the elements, where it is told of.
func standOut(r *Result, all []Together) *Together {
	best := -1
	for i := range all {
		if best < 0 || tie.More(all[i].P, all[best].P) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	x := &all[best]
	for _, s := range r.Suspects {
		if slices.Contains(x.Components, s.Component) && s.P > x.P-moreTogether {
			return nil
		}
	}
	return x
}
