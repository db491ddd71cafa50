package model

import (
	"slices"
	"strings"

	"slipcase/engine"
)

// Hidden tells of a finding whether it can be observed beside what is reported:
// by is the name of the report that hides it, "" for none. What does not drive
// in a row does not slip there.
func (m *Model) Hidden(reports []engine.Report) func(finding string) (by string) {
	type hides struct {
		engine.FindingName
		full  string
		per   engine.Per
		names []string // of the findings that it hides
	}
	var hiding []hides
	denied := map[string]bool{} // plain finding: not there in some condition
	for _, r := range latest(reports) {
		node, ok := m.LookupFinding(r.Finding)
		if !ok || m.Nodes[node].Finding == nil || len(m.Nodes[node].Finding.Hides) == 0 {
			continue
		}
		f := engine.ParseFindingName(m.current(r.Finding))
		switch {
		case r.State == engine.Present:
			h := hides{FindingName: f, full: f.String()}
			at, _ := m.LookupFinding(h.full)
			h.per = m.Nodes[at].Finding.Per
			for _, name := range m.Nodes[at].Finding.Hides {
				h.names = append(h.names, engine.ParseFindingName(name).Name)
			}
			hiding = append(hiding, h)
		case r.State == engine.Absent && f.Condition != "":
			denied[f.Base()] = true
		}
	}
	return func(finding string) string {
		node, ok := m.LookupFinding(finding)
		if !ok || len(hiding) == 0 || m.Nodes[node].Finding == nil {
			return ""
		}
		t := m.Nodes[node].Finding
		g := engine.ParseFindingName(m.current(finding))
		for _, f := range hiding {
			if f.Condition != g.Condition && (f.Condition != "" || denied[f.Base()]) {
				continue // it may show while the other does not
			}
			if slices.Contains(f.names, t.Name) && m.covers(f.per, f.Place, t.Per, g.Place) {
				return f.full
			}
		}
		return ""
	}
}

// covers tells whether a finding at one place hides one at another: in the
// same row or shift; at a shift, by either of its rows; at an engagement, by
// the row that the range starts in.
func (m *Model) covers(per engine.Per, place string, other engine.Per, at string) bool {
	if per == engine.PerUnit || place == at {
		return true
	}
	if per != engine.PerRow {
		return false
	}
	rng, gear, _ := strings.Cut(place, "/")
	switch other {
	case engine.PerShift:
		from, to := engine.ShiftRows(at)
		return from == place || to == place
	case engine.PerEngagement:
		for i := range m.Unit.Rows {
			if m.Unit.Rows[i].Range == at {
				return rng == at && m.Unit.Rows[i].Gear == gear
			}
		}
	}
	return false
}

// silent tells why a report is no evidence, nil when it is: the finding cannot
// be observed beside another that is reported, or it says in which condition a
// finding is not there and no rule tells that condition apart.
func (m *Model) silent(reports []engine.Report) func(r engine.Report, node int) *Problem {
	hidden := m.Hidden(reports)
	who := map[string]map[string]bool{} // finding reported present -> by whom
	for _, r := range latest(reports) {
		if node, ok := m.LookupFinding(r.Finding); ok && r.State == engine.Present {
			f := engine.ParseFindingName(m.current(r.Finding))
			if who[f.String()] == nil {
				who[f.String()] = map[string]bool{}
			}
			who[f.String()][m.reporterOf(r, node)] = true
		}
	}
	return func(r engine.Report, node int) *Problem {
		by := hidden(r.Finding)
		// Another observer who does see it contradicts the one who cannot.
		if by != "" && (r.State == engine.Absent || who[by][m.reporterOf(r, node)]) {
			other, _ := m.LookupFinding(by)
			return &Problem{Severity: engine.Warning, Kind: HiddenBy, About: &m.Nodes[node], Beside: &m.Nodes[other], Where: r.Where}
		}
		f := engine.ParseFindingName(m.current(r.Finding))
		if f.Condition != "" && r.State == engine.Absent && who[f.Base()] != nil {
			if plain, ok := m.LookupFinding(f.Base()); ok && plain == node {
				return &Problem{Severity: engine.Warning, Kind: OneCondition, About: &m.Nodes[node], Other: string(f.Condition), Where: r.Where}
			}
		}
		return nil
	}
}

func (m *Model) reporterOf(r engine.Report, node int) string {
	if r.By == "" {
		return m.DefaultReporter(node)
	}
	return r.By
}
