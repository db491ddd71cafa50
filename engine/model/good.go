package model

import (
	"strings"

	"slipcase/engine"
)

// GoodPrefix begins the name that stands for a row being good: good@D/3.
const GoodPrefix = "good@"

// GoodRow lists what a reporter denies who says good@ROW; nil for any other
// name.
func (m *Model) GoodRow(name, reporter string) []string {
	if row, ok := strings.CutPrefix(name, GoodPrefix); ok {
		return m.Good(row, reporter)
	}
	return nil
}

// badOutcomes are what a builder means to rule out when a row is good: it does
// not slip, it drives, in its own gear, tied to nothing, and without noise.
var badOutcomes = map[string]bool{
	"partial": true, "no_drive": true, "lower_gear": true, "higher_gear": true, "reverse": true, "ties_up": true, "noisy": true,
}

// Good lists the findings that are absent when a reporter says that a row
// (D/3) is good: no slip, no loss of drive, the right ratio and no noise in it,
// no flare on the shifts into it; as far as that reporter can tell. What is
// measured is left out unless the reporter is the one who measures it. It is
// empty for an unknown row.
func (m *Model) Good(row, reporter string) []string {
	var out []string
	var at *engine.Row
	for i := range m.Unit.Rows {
		if m.Unit.Rows[i].Name() == row {
			at = &m.Unit.Rows[i]
		}
	}
	if at == nil {
		return nil
	}
	for i := range m.Knowledge.Findings {
		f := &m.Knowledge.Findings[i]
		if f.Reporter != reporter && f.Stage != engine.StageInterview && f.Stage != engine.StageRoad {
			continue
		}
		switch f.Per {
		case engine.PerRow:
			bad := len(f.Signs) > 0
			for _, s := range f.Signs {
				bad = bad && badOutcomes[s.To]
			}
			if name := f.Name + "@" + row; bad && m.plain(name) {
				out = append(out, name)
			}
		case engine.PerShift:
			flares := false
			for _, s := range f.Signs {
				flares = flares || s.To == "flare"
			}
			if !flares {
				continue
			}
			for _, name := range m.Match(f.Name + "@*") {
				if into(engine.ParseFindingName(name).Place, at.Range, at.Gear) {
					out = append(out, name)
				}
			}
		}
	}
	return out
}

// plain tells whether a finding has a node of its own.
func (m *Model) plain(name string) bool {
	_, ok := m.byName[name]
	return ok
}

// into tells whether a shift "D/2-3" ends in a gear of a range.
func into(shift, rng, gear string) bool {
	n, g := len(rng)+1, len(gear)+1
	return len(shift) > n+g && shift[:n] == rng+"/" && shift[len(shift)-g:] == "-"+gear
}

// Tells reports whether the rules tell a conditioned finding ("slips@D/3:hot")
// from the plain one.
func (m *Model) Tells(name string) bool { return m.plain(name) }
