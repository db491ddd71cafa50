package model

import (
	"fmt"
	"slices"

	"slipcase/engine"
	"slipcase/engine/network"
)

// Piece is one piece of virtual evidence: a report, reading, look at a part or settled
// cause, with the likelihood pair that stands for it in the network.
type Piece struct {
	Label  string // "slips@D/3", "pump", "blocked_cooler"
	About  *Node  // what it speaks of; Node is where it counts
	Value  string // of a reading, as written
	Looked bool   // a look at the part itself
	State  engine.State
	By     string // reporter
	Node   int
	On     float64 // P(this report | the node is on)
	Off    float64 // P(this report | the node is off)
	Where  engine.Range
	Group  int  // pieces of one report or look belong together
	Weak   bool // the likelihoods differ by less than a factor of 1.5
	Ranked bool // false for looks at parts: they decide, they are not weighed
	// Answer is set where the piece is an answer to what was asked, which a
	// reporter gives rightly or wrongly; nil for readings, looks, and what was
	// complained of first: who brings a vehicle in was not asked.
	Answer *Answer
	// Shares stand for the report where it would tie too much together, see
	// Model.Within; nil where it counts exactly.
	Shares []Share
}

// Answer is what a reporter says of a finding, with the numbers that tell how
// often it errs.
type Answer struct {
	FalseAlarms engine.Number // of this reporter in general, P(says present | absent)
	Misses      engine.Number // of this reporter in general, P(says absent | present)
	FalseAlarm  float64       // of this finding, in proportion to FalseAlarms
	Miss        float64       // of this finding, in proportion to Misses
	Left        float64       // share of what is there that can still be seen; 1 where nothing took it away
}

// Evidence turns a case into likelihoods. Unknown names are diagnostics of
// severity error at the report's place, with the nearest known name; the
// pieces that are known are returned all the same.
func (m *Model) Evidence(c *engine.CaseFile) ([]Piece, []Problem) {
	return m.evidence(c, withoutImplied(m.Spell(c.Reports)))
}

// Hypothetical is Evidence with a piece for every report, also for those that
// others imply: for reports whose state is still open, as of a check that is
// priced.
func (m *Model) Hypothetical(c *engine.CaseFile) ([]Piece, []Problem) {
	return m.evidence(c, latest(m.Spell(c.Reports)))
}

func (m *Model) evidence(c *engine.CaseFile, reports []engine.Report) ([]Piece, []Problem) {
	var out []Piece
	var diags []Problem
	group := 0
	taken := lastTaken(c.Readings)
	split := m.splits(reports, taken)
	silent := m.silent(reports)
	volunteered := m.complaint(reports)
	first := volunteered
	if m.asAsked {
		first = -1
	}
	cleared := m.Cleared(reports)
	bad := func(p Problem) {
		p.Severity = engine.Error
		diags = append(diags, p)
	}
	diags = append(diags, m.contested(c.Reports)...)
	for i, r := range reports {
		group++
		node, ok := m.LookupFinding(r.Finding)
		if !ok {
			bad(m.notFinding(r))
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
		hit, fa, ok := m.reliability(by, node)
		if !ok {
			bad(Problem{Kind: UnknownReporter, Name: by, Names: m.reporterNames(), Where: r.Where})
			continue
		}
		left := 1 - cleared[m.Nodes[node].Finding]
		miss := 1 - hit
		hit *= left
		p := Piece{Label: r.Finding, About: &m.Nodes[node], State: r.State, By: by, Node: m.part(node, r.Finding, split), Where: r.Where, Group: group, Ranked: true}
		if r.State == engine.Present {
			p.On, p.Off = hit, fa
			if i == first {
				p.Off = m.unfounded(by, node, hit, fa)
			}
		} else {
			p.On, p.Off = 1-hit, 1-fa
		}
		if i != volunteered {
			p.Answer = &Answer{m.reporters[by].FalseAlarms, m.reporters[by].Misses, fa, miss, left}
		}
		p.Weak = p.On < 1.5*p.Off && p.Off < 1.5*p.On
		out = append(out, p)
	}
	for _, r := range taken {
		group++
		pieces, err := m.reading(r, group, split)
		if err != nil {
			bad(Problem{Kind: BadReading, Name: r.Name, Other: r.Place, Err: err, Where: r.Where})
			continue
		}
		out = append(out, pieces...)
	}
	for _, s := range c.Seen {
		group++
		if _, ok := m.modesOf[s.Component]; !ok {
			bad(Problem{Kind: UnknownComponent, Name: s.Component, Names: nearest(s.Component, m.componentNames()), Where: s.Where})
			continue
		}
		if s.Cleared {
			for _, node := range m.modesOf[s.Component] {
				out = append(out, Piece{Label: s.Component, About: &m.Nodes[node], Looked: true, State: engine.Absent, By: "part_in_hand", Node: node, On: 0, Off: 1, Where: s.Where, Group: group})
			}
			continue
		}
		node, ok := m.byName[suspect(s.Component, s.Mode)]
		if !ok {
			var names []string
			for _, n := range m.modesOf[s.Component] {
				names = append(names, m.Nodes[n].Mode.Name)
			}
			bad(Problem{Kind: UnknownMode, Name: s.Component, Other: s.Mode, Names: names, Where: s.Where})
			continue
		}
		out = append(out, Piece{Label: suspect(s.Component, s.Mode), About: &m.Nodes[node], Looked: true, State: engine.Present, By: "part_in_hand", Node: node, On: 1, Off: 0, Where: s.Where, Group: group})
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

func (m *Model) settle(out *[]Piece, cause string, present bool, at engine.Range, group int) []Problem {
	node, ok := m.byName[cause]
	if !ok || m.Nodes[node].Layer != CauseLayer && m.Nodes[node].Layer != ModeLayer {
		var names []string
		for _, c := range m.Knowledge.Causes {
			names = append(names, c.Name)
		}
		return []Problem{{Severity: engine.Error, Kind: UnknownCause, Name: cause, Names: nearest(cause, names), Where: at}}
	}
	p := Piece{Label: cause, About: &m.Nodes[node], State: engine.Present, By: "part_in_hand", Node: node, On: 1, Where: at, Group: group}
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
	now, ok := m.renamed[f.Name]
	if !ok {
		return name
	}
	f.Name = now
	return f.String()
}

// renamed are the present names of findings by their former ones.
func renamed(k *engine.Knowledge) map[string]string {
	out := map[string]string{}
	for _, t := range k.Findings {
		for _, old := range t.Formerly {
			if _, twice := out[old]; !twice && old != t.Name {
				out[old] = t.Name
			}
		}
	}
	return out
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
	return engine.Driver
}

// reliability is hit and false-alarm rate of a reporter for a finding.
func (m *Model) reliability(by string, node int) (hit, falseAlarm float64, ok bool) {
	r := m.reporters[by]
	if r == nil {
		return 0, 0, false
	}
	name := ""
	if f := m.Nodes[node].Finding; f != nil {
		name = f.Name
	} else if c := m.Nodes[node].Code; c != nil {
		name = "code_" + c.Name
	}
	// An override for these controls beats one for all.
	var on *engine.ReporterOn
	for _, controls := range []string{"", m.Unit.Controls} {
		for i, o := range r.On {
			if o.Finding == name && o.Controls == controls {
				on = &r.On[i]
			}
		}
	}
	falseAlarm, miss := r.Errs(on)
	return 1 - miss, falseAlarm, true
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
	if hit, falseAlarm, ok = m.reliability(by, node); !ok {
		return 0, 0, fmt.Errorf("unknown reporter %q", by)
	}
	return hit, falseAlarm, nil
}

func (m *Model) reporterNames() []string {
	var names []string
	for _, r := range m.Knowledge.Reporters {
		names = append(names, r.Name)
	}
	return names
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

// notFinding is the problem of a report whose finding the unit does not have:
// a name that is near, or that it is a fault and not a symptom.
func (m *Model) notFinding(r engine.Report) Problem {
	p := Problem{Kind: UnknownFinding, Name: r.Finding, Where: r.Where}
	f := engine.ParseFindingName(r.Finding)
	i, ok := m.byName[r.Finding]
	switch {
	case ok:
		p.Kind, p.Other = NotObserved, m.Nodes[i].Layer.String()
	case f.Condition != "" && !knownCondition(f.Condition):
		p.Kind = UnknownCondition
		for _, c := range engine.Conditions {
			p.Names = append(p.Names, string(c))
		}
	default:
		p.Names = nearest(f.Base(), m.FindingNames())
	}
	return p
}
