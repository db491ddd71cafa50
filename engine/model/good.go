package model

import (
	"slices"
	"strings"

	"slipcase/engine"
)

// GoodRow lists what a reporter denies who says good@ROW; nil for any other
// name.
func (m *Model) GoodRow(name, reporter string) []string {
	if row, ok := strings.CutPrefix(name, engine.GoodPrefix); ok {
		return m.Good(row, reporter)
	}
	return nil
}

// Spell puts what a reporter denies in the place of each report that a row is
// good; the other reports stay as they are. It is safe to call twice.
func (m *Model) Spell(reports []engine.Report) []engine.Report {
	first := slices.IndexFunc(reports, isGood)
	if first < 0 {
		return reports
	}
	out := slices.Clone(reports[:first])
	for _, r := range reports[first:] {
		denied := m.GoodRow(r.Finding, r.By)
		if !isGood(r) || len(denied) == 0 {
			out = append(out, r) // an unknown row is told as an unknown finding
			continue
		}
		for _, name := range denied {
			d := r
			d.Finding, d.State = name, engine.Absent
			out = append(out, d)
		}
	}
	return out
}

func isGood(r engine.Report) bool {
	return r.State == engine.Present && strings.HasPrefix(r.Finding, engine.GoodPrefix)
}

// contested lists reports of a bad thing in a row that the same reporter calls
// good at the same time: one of the two is wrong.
func (m *Model) contested(reports []engine.Report) []Problem {
	var out []Problem
	for _, g := range reports {
		if !isGood(g) {
			continue
		}
		row := strings.TrimPrefix(g.Finding, engine.GoodPrefix)
		for _, name := range m.Good(row, g.By) {
			for _, r := range reports {
				if r.Finding == name && r.State == engine.Present && r.By == g.By && r.At.Equal(g.At) {
					out = append(out, Problem{Severity: engine.Error, Kind: Contested, Name: name, Other: row, By: g.By, Where: g.Where, Also: r.Where})
				}
			}
		}
	}
	return out
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
				if m.Upshift(engine.ParseFindingName(name).Place) && into(engine.ParseFindingName(name).Place, at.Range, at.Gear) {
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
