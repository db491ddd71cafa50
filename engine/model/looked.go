package model

import (
	"slices"

	"slipcase/engine"
)

// Looks knows which checks a case answers. An answer is present or absent, by the
// check's own reporter: a driver who says that the level is right has not looked for
// the shop.
type Looks struct {
	m    *Model
	done []string
	said map[look]bool
}

type look struct{ finding, by string }

// Looks reads the answers of a case.
func (m *Model) Looks(c *engine.CaseFile) *Looks {
	l := &Looks{m: m, done: c.Done, said: map[look]bool{}}
	pieces, _ := m.Hypothetical(c)
	for _, p := range pieces {
		if p.Ranked && p.State != engine.Unknown {
			l.said[look{engine.ParseFindingName(p.Label).Base(), p.By}] = true
		}
	}
	return l
}

// answered tells whether some finding of a check is answered, and whether anything in
// the unit can show one.
func (l *Looks) answered(check *engine.Check) (yes, any bool) {
	for _, pattern := range check.Yields {
		for _, name := range l.m.Match(pattern) {
			if n, ok := l.m.Lookup(name); ok && len(l.m.Net.Nodes[n].Links) > 0 {
				any = true
			}
			if l.said[look{engine.ParseFindingName(name).Base(), check.Reporter}] {
				return true, true
			}
		}
	}
	return false, any
}

// Steps lists the steps that are not done but whose checks are answered, all of them
// (engine.Step.SameAs): level and smell of the fluid are the look at the fluid. A
// check of which nothing in the unit shows a finding is not waited for; also is a check that
// counts as answered, nil for none. In the unit's order.
func (l *Looks) Steps(also *engine.Check) []string {
	var out []string
	for i := range l.m.Unit.Steps {
		s := &l.m.Unit.Steps[i]
		if slices.Contains(l.done, s.Name) {
			continue
		}
		looked, all := false, true
		for _, name := range s.SameAs {
			check := l.m.Knowledge.Check(name)
			if check == nil {
				continue
			}
			yes, any := l.answered(check)
			yes = yes || check == also
			looked, all = looked || yes, all && (yes || !any)
		}
		if looked && all {
			out = append(out, s.Name)
		}
	}
	return out
}
