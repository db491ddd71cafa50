// Package grown makes units of growing size for benchmarks: a real unit with every
// part there several times over, and every finding too.
package grown

import (
	"fmt"
	"slices"

	"slipcase/engine"
)

// Unit is knowledge with one unit, u, whose parts and whose findings each stand
// there so many times: the copies serve the same, come into view at the same step,
// and fail as seldom as all of them together did. Copies of a finding follow from
// the same outcomes, and no check asks for them. Neither k nor u is changed.
func Unit(k *engine.Knowledge, u *engine.Unit, times int) (*engine.Knowledge, *engine.Unit) {
	out, unit := *k, *u
	out.Units = []*engine.Unit{&unit}
	unit.Components, unit.Steps = nil, slices.Clone(u.Steps)
	for i := range unit.Steps {
		unit.Steps[i].Exposes = nil
	}
	for c := range times {
		for _, part := range u.Components {
			part.Name = copyName(part.Name, c)
			rates := map[string]engine.Number{}
			for name, n := range part.Frequency {
				rates[name] = elsewhere(share(n, times), c)
			}
			part.Frequency = rates
			unit.Components = append(unit.Components, part)
		}
		for i := range u.Steps {
			for _, name := range u.Steps[i].Exposes {
				unit.Steps[i].Exposes = append(unit.Steps[i].Exposes, copyName(name, c))
			}
		}
	}
	out.Modes = slices.Clone(k.Modes)
	for i := range out.Modes {
		out.Modes[i].Frequency = share(out.Modes[i].Frequency, times)
	}
	out.Findings = nil
	for c := range times {
		for _, f := range k.Findings {
			if c > 0 {
				f.Name, f.Formerly, f.Phrases, f.Reading = copyName(f.Name, c), nil, nil, ""
				f.Leak, f.Signs = elsewhere(f.Leak, c), slices.Clone(f.Signs)
				for i := range f.Signs {
					f.Signs[i].Strength = elsewhere(f.Signs[i].Strength, c)
				}
			}
			out.Findings = append(out.Findings, f)
		}
	}
	return &out, &unit
}

func share(n engine.Number, times int) engine.Number {
	n.Value /= float64(times)
	n.Text = fmt.Sprint(n.Value)
	return n
}

// elsewhere gives the number of a copy a place of its own: learning knows numbers
// by where they stand.
func elsewhere(n engine.Number, c int) engine.Number {
	if c > 0 {
		n.At.File = copyName(n.At.File, c)
	}
	return n
}

// copyName is the name of a copy; the first keeps its own.
func copyName(name string, c int) string {
	if c == 0 {
		return name
	}
	return fmt.Sprintf("%s_%d", name, c+1)
}
