package model

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/near"
	"slipcase/engine/network"
)

// Piece is one piece of evidence: a report, reading, look at a part or settled
// cause, with the likelihood pair that stands for it in the network.
type Piece struct {
	Label  string // "slips@D/3", "pump", "blocked_cooler"
	Title  string // in words
	State  engine.State
	By     string // reporter
	Node   int
	On     float64 // P(this report | the node is on)
	Off    float64 // P(this report | the node is off)
	Where  engine.Range
	Group  int  // pieces of one report or look belong together
	Weak   bool // the likelihoods differ by less than a factor of 1.5
	Ranked bool // false for looks at parts: they decide, they are not weighed
	// Shares stand for the report where it would tie too much together, see
	// Model.Within; nil where it counts exactly.
	Shares []Share
}

// Evidence turns a case into likelihoods. Unknown names are diagnostics of
// severity error at the report's place, with the nearest known name; the
// pieces that are known are returned all the same.
func (m *Model) Evidence(c *engine.CaseFile) ([]Piece, []engine.Diagnostic) {
	return m.evidence(c, withoutImplied(m.Spell(c.Reports)))
}

// Hypothetical is Evidence with a piece for every report, also for those that
// others imply: for reports whose state is still open, as of a check that is
// priced.
func (m *Model) Hypothetical(c *engine.CaseFile) ([]Piece, []engine.Diagnostic) {
	return m.evidence(c, latest(m.Spell(c.Reports)))
}

func (m *Model) evidence(c *engine.CaseFile, reports []engine.Report) ([]Piece, []engine.Diagnostic) {
	var out []Piece
	var diags []engine.Diagnostic
	group := 0
	taken := lastTaken(c.Readings)
	split := m.splits(reports, taken)
	silent := m.silent(reports)
	bad := func(at engine.Range, summary, detail string) {
		diags = append(diags, engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail, Subject: at})
	}
	diags = append(diags, m.contested(c.Reports)...)
	for _, r := range reports {
		group++
		node, ok := m.LookupFinding(r.Finding)
		if !ok {
			bad(r.Where, fmt.Sprintf("unknown finding %q", r.Finding), m.hint(r.Finding))
			continue
		}
		if r.State == engine.Unknown {
			continue
		}
		if why := silent(r, node); why != nil {
			diags = append(diags, *why)
			continue
		}
		by := r.By
		if by == "" {
			by = m.DefaultReporter(node)
		}
		hit, fa, err := m.reliability(by, node)
		if err != nil {
			bad(r.Where, err.Error(), "name a reporter of the rules: "+m.reporterNames())
			continue
		}
		p := Piece{Label: r.Finding, Title: m.Nodes[node].Title, State: r.State, By: by, Node: m.part(node, r.Finding, split), Where: r.Where, Group: group, Ranked: true}
		if r.State == engine.Present {
			p.On, p.Off = hit, fa
		} else {
			p.On, p.Off = 1-hit, 1-fa
		}
		p.Weak = p.On < 1.5*p.Off && p.Off < 1.5*p.On
		out = append(out, p)
	}
	for _, r := range taken {
		group++
		pieces, err := m.reading(r, group, split)
		if err != nil {
			bad(r.Where, err.Error(), "readings are named by a finding's reading or by a limit of the unit, with the place where one belongs")
			continue
		}
		out = append(out, pieces...)
	}
	for _, s := range c.Seen {
		group++
		if _, ok := m.modesOf[s.Component]; !ok {
			bad(s.Where, fmt.Sprintf("unknown component %q", s.Component), nearestText(s.Component, m.componentNames()))
			continue
		}
		if s.Cleared {
			for _, node := range m.modesOf[s.Component] {
				out = append(out, Piece{Label: s.Component, Title: m.Nodes[node].Title + " (cleared)", State: engine.Absent, By: "part_in_hand", Node: node, On: 0, Off: 1, Where: s.Where, Group: group})
			}
			continue
		}
		node, ok := m.byName[suspect(s.Component, s.Mode)]
		if !ok {
			var names []string
			for _, n := range m.modesOf[s.Component] {
				names = append(names, m.Nodes[n].Mode.Name)
			}
			bad(s.Where, fmt.Sprintf("%s cannot fail as %q", s.Component, s.Mode), "it can fail as: "+strings.Join(names, ", "))
			continue
		}
		out = append(out, Piece{Label: suspect(s.Component, s.Mode), Title: m.Nodes[node].Title + " (found)", State: engine.Present, By: "part_in_hand", Node: node, On: 1, Off: 0, Where: s.Where, Group: group})
		if s.Cause != "" {
			group++
			diags = append(diags, m.settle(&out, s.Cause, true, s.Where, group)...)
		}
	}
	for _, s := range c.Settled {
		group++
		diags = append(diags, m.settle(&out, s.Cause, s.Present, s.Where, group)...)
	}
	return out, diags
}

func (m *Model) settle(out *[]Piece, cause string, present bool, at engine.Range, group int) []engine.Diagnostic {
	node, ok := m.byName[cause]
	if !ok || m.Nodes[node].Layer != CauseLayer && m.Nodes[node].Layer != ModeLayer {
		var names []string
		for _, c := range m.Knowledge.Causes {
			names = append(names, c.Name)
		}
		return []engine.Diagnostic{{Severity: engine.Error, Summary: fmt.Sprintf("unknown root cause %q", cause), Detail: nearestText(cause, names), Subject: at}}
	}
	p := Piece{Label: cause, Title: m.Nodes[node].Title, State: engine.Present, By: "part_in_hand", Node: node, On: 1, Where: at, Group: group}
	if !present {
		p.State, p.On, p.Off = engine.Absent, 0, 1
	}
	*out = append(*out, p)
	return nil
}

// LookupFinding resolves a reported name; a condition that no rule tells apart
// falls back to what shows in any condition.
func (m *Model) LookupFinding(name string) (int, bool) {
	if i, ok := m.byName[name]; ok && m.Nodes[i].Layer == FindingLayer {
		return i, true
	}
	f := engine.ParseFindingName(name)
	if f.Condition != "" && !knownCondition(f.Condition) {
		return 0, false
	}
	if wider, ok := f.Condition.Within(); ok {
		f.Condition = wider
		return m.LookupFinding(f.String())
	}
	if f.Condition != "" {
		if i, ok := m.byName[f.Base()+partMark]; ok {
			return i, true // no rule tells this condition apart: what shows in any
		}
		if i, ok := m.byName[f.Base()]; ok && m.Nodes[i].Layer == FindingLayer {
			return i, true
		}
	}
	if now := m.current(name); now != name {
		return m.LookupFinding(now)
	}
	if now := m.measured(f); now != "" {
		return m.LookupFinding(now)
	}
	return 0, false
}

// current is the present name of a finding that was renamed.
func (m *Model) current(name string) string {
	f := engine.ParseFindingName(name)
	for _, t := range m.Knowledge.Findings {
		if t.Name != f.Name && contains(t.Formerly, f.Name) {
			f.Name = t.Name
			return f.String()
		}
	}
	return name
}

// splits lists the plain findings that a case reports under several names.
func (m *Model) splits(reports []engine.Report, readings []engine.Reading) map[string]bool {
	first := map[string]engine.Condition{}
	out := map[string]bool{}
	add := func(name string) {
		f := engine.ParseFindingName(name)
		if c, ok := first[f.Base()]; ok && c != f.Condition {
			out[f.Base()] = true
		}
		first[f.Base()] = f.Condition
	}
	for _, r := range reports {
		if r.State != engine.Unknown {
			add(r.Finding)
		}
	}
	for _, r := range readings {
		if b, ok := m.Unit.Bounds(r.Name, r.Place); ok {
			for _, x := range m.read(b, r) {
				add(x.name)
			}
		}
	}
	return out
}

// part is the node that stands for a reported name: its own, or its split form
// where the finding is reported under several names.
func (m *Model) part(node int, name string, split map[string]bool) int {
	f := engine.ParseFindingName(m.current(name))
	if !split[engine.ParseFindingName(name).Base()] {
		return node
	}
	key := f.Base() + partMark + "any"
	if f.Condition != "" {
		key = f.String() + partMark
	}
	if i, ok := m.byName[key]; ok {
		return i
	}
	if wider, ok := f.Condition.Within(); ok {
		f.Condition = wider
		return m.part(node, f.String(), map[string]bool{f.Base(): true})
	}
	return node
}

// HasFinding tells whether a report of this name has a place in the model.
func (m *Model) HasFinding(name string) bool {
	_, ok := m.LookupFinding(name)
	return ok
}

// withoutImplied leaves out what the same reporter says more exactly besides:
// "it slips" beside "it slips when hot", and "not when hot" beside "it does not
// slip". The reporter errs once in the two, so that they are no independent
// evidence. Of several reports of one finding the last counts.
func withoutImplied(reports []engine.Report) []engine.Report {
	type said struct {
		base, by string
		state    engine.State
	}
	plain, narrow := map[said]bool{}, map[said]bool{}
	reports = latest(reports)
	for _, r := range reports {
		f := engine.ParseFindingName(r.Finding)
		x := said{f.Base(), r.By, r.State}
		if f.Condition == "" {
			plain[x] = true
		} else {
			narrow[x] = true
		}
	}
	return slices.DeleteFunc(reports, func(r engine.Report) bool {
		f := engine.ParseFindingName(r.Finding)
		x := said{f.Base(), r.By, r.State}
		switch r.State {
		case engine.Present:
			return f.Condition == "" && narrow[x]
		case engine.Absent:
			return f.Condition != "" && plain[x]
		}
		return false
	})
}

// latest keeps, of the reports by one reporter of one finding, the last.
func latest(reports []engine.Report) []engine.Report {
	last := map[[2]string]int{}
	for i, r := range reports {
		last[[2]string{r.Finding, r.By}] = i
	}
	var out []engine.Report
	for i, r := range reports {
		if last[[2]string{r.Finding, r.By}] == i {
			out = append(out, r)
		}
	}
	return out
}

// DefaultReporter is who reports a finding or code where nobody is named.
func (m *Model) DefaultReporter(node int) string {
	n := m.Nodes[node]
	if n.Finding != nil && n.Finding.Reporter != "" {
		return n.Finding.Reporter
	}
	if n.Code != nil {
		return "scan_tool"
	}
	return "driver"
}

// reliability is hit and false-alarm rate of a reporter for a finding.
func (m *Model) reliability(by string, node int) (hit, falseAlarm float64, err error) {
	r := m.reporters[by]
	if r == nil {
		return 0, 0, fmt.Errorf("unknown reporter %q", by)
	}
	hit, falseAlarm = r.Hit.Value, r.FalseAlarm.Value
	name := ""
	if f := m.Nodes[node].Finding; f != nil {
		name = f.Name
	} else if c := m.Nodes[node].Code; c != nil {
		name = "code_" + c.Name
	}
	// An override for these controls beats one for all.
	for _, controls := range []string{"", m.Unit.Controls} {
		for _, o := range r.On {
			if o.Finding == name && o.Controls == controls {
				hit, falseAlarm = o.Hit.Value, o.FalseAlarm.Value
			}
		}
	}
	return hit, falseAlarm, nil
}

// Reliability is the hit and false-alarm rate of a reporter for a finding
// given by name.
func (m *Model) Reliability(by, finding string) (hit, falseAlarm float64, err error) {
	node, ok := m.LookupFinding(finding)
	if !ok {
		return 0, 0, fmt.Errorf("unknown finding %q", finding)
	}
	if by == "" {
		by = m.DefaultReporter(node)
	}
	return m.reliability(by, node)
}

func (m *Model) reporterNames() string {
	var names []string
	for _, r := range m.Knowledge.Reporters {
		names = append(names, r.Name)
	}
	return strings.Join(names, ", ")
}

// Plain is the evidence with one likelihood for each piece, on the finding
// itself; tags are the indexes of the pieces. Learning needs it so, for it counts
// how often a finding shows and is noticed; Model.Likelihoods answers quicker.
func Plain(pieces []Piece) []network.Likelihood {
	out := make([]network.Likelihood, len(pieces))
	for i, p := range pieces {
		out[i] = network.Likelihood{Node: p.Node, On: p.On, Off: p.Off, Tag: i}
	}
	return out
}

func (m *Model) componentNames() []string {
	var out []string
	for _, c := range m.Unit.Components {
		out = append(out, c.Name)
	}
	return out
}

// hint names the nearest finding, or says that the name is a fault and not a
// symptom.
func (m *Model) hint(name string) string {
	if i, ok := m.byName[name]; ok {
		return fmt.Sprintf("%s is a %s, not something that is observed; report what it looks like instead", name, m.Nodes[i].Layer)
	}
	f := engine.ParseFindingName(name)
	if f.Condition != "" && !knownCondition(f.Condition) {
		return "the conditions are " + joinConditions()
	}
	return nearestText(f.Base(), m.FindingNames())
}

func joinConditions() string {
	var s []string
	for _, c := range engine.Conditions {
		s = append(s, string(c))
	}
	return strings.Join(s, ", ")
}

func nearestText(name string, known []string) string {
	names := near.Names(name, known, 3)
	if len(names) == 0 {
		return "no known name is near"
	}
	return "did you mean " + strings.Join(names, ", ") + "?"
}
