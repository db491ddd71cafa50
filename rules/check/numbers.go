package check

import "slipcase/engine"

// Numbers counts the numbers of a unit by where they come from: tooth counts,
// printed ratios, factors of rows, pressures, rates, minutes of steps, limits;
// those of its usual parts too.
func Numbers(u *engine.Unit) map[engine.BasisKind]int {
	out := map[engine.BasisKind]int{}
	add := func(b *engine.Basis, n int) {
		if b != nil {
			out[b.Kind] += n
		}
	}
	number := func(list ...engine.Number) {
		for _, n := range list {
			if n.Text != "" {
				add(n.Basis, 1)
			}
		}
	}
	bounds := func(b *engine.Basis, low, high bool) {
		for _, there := range []bool{low, high} {
			if there {
				add(b, 1)
			}
		}
	}
	for _, g := range u.Train.Gearsets {
		add(g.Basis, 2)
	}
	for _, r := range u.Rows {
		if r.RatioText != "" {
			add(r.Basis, 1)
		}
		number(r.ConverterFactor, r.PressureFactor)
	}
	for _, p := range u.Pressures {
		bounds(p.Basis, p.Low != nil, p.High != nil)
	}
	for _, n := range u.Frequency {
		number(n)
	}
	for i := range u.Components {
		for _, n := range u.Components[i].Frequency {
			number(n)
		}
	}
	for i := range u.Steps {
		s := &u.Steps[i]
		number(s.Minutes, s.Refit, s.Repair)
	}
	for i := range u.Limits {
		l := &u.Limits[i]
		bounds(l.Basis, l.Low != nil, l.High != nil)
	}
	return out
}
