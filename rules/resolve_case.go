package rules

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/quantity"
	"slipcase/rules/syntax"
)

// examples looks up what examples of loaded units name.
func (r *resolver) examples() {
	kept := r.k.Examples[:0]
	for _, e := range r.k.Examples {
		s := r.byID[e.Case.Unit]
		if s == nil {
			if e.Case.Unit != "" && !r.rules[aUnit].has(e.Case.Unit) {
				r.unknown(aUnit, nil, e.Case.Unit, e.Case.UnitAt)
			}
			continue
		}
		r.caseFile(s, &e.Case)
		for i := range e.Expect {
			e.Expect[i], _ = r.lookUp(aComponent, s, e.Expect[i], e.ExpectAt[i])
		}
		for i := range e.Cause {
			e.Cause[i], _ = r.lookUp(aCause, nil, e.Cause[i], e.CauseAt[i])
		}
		kept = append(kept, e)
	}
	r.k.Examples = kept
}

// caseFile looks up every name of a case on its unit.
func (r *resolver) caseFile(s *scope, c *engine.CaseFile) {
	type key struct{ by, finding string }
	said := map[key]engine.Report{}
	for i := range c.Reports {
		p := &c.Reports[i]
		if row, ok := strings.CutPrefix(p.Finding, engine.GoodPrefix); ok {
			r.goodRow(s, p, row)
		} else {
			p.Finding = r.finding(s, p.Finding, p.Where, forCase)
		}
		k := key{p.By, p.Finding}
		if first, ok := said[k]; ok && first.State != p.State && first.At.Equal(p.At) {
			r.Add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("%s says %s both %s and %s", p.By, p.Finding, first.State, p.State),
				Detail: "Delete the wrong one. If it changed between two looks, give both reports a time with `at`.", Subject: p.Where, Also: first.Where})
		}
		said[k] = *p
		if i == 0 || c.Reports[i-1].By != p.By {
			p.By, _ = r.lookUp(aReporter, nil, p.By, p.Where)
		}
	}
	for i := range c.Readings {
		r.reading(s, &c.Readings[i])
	}
	for i := range c.Seen {
		x := &c.Seen[i]
		x.Component, _ = r.lookUp(aComponent, s, x.Component, x.Where)
		if !x.Cleared && x.Mode != "" {
			var ok bool
			if x.Mode, ok = r.lookUp(aMode, s, x.Mode, x.ModeAt); ok {
				r.modeOf(s, x.Component, x.Mode, x.ModeAt)
			}
		}
		if x.Cause != "" {
			x.Cause, _ = r.lookUp(aCause, nil, x.Cause, x.CauseAt)
		}
	}
	for i := range c.Settled {
		c.Settled[i].Cause, _ = r.lookUp(aCause, nil, c.Settled[i].Cause, c.Settled[i].Where)
	}
	for i := range c.Done {
		at := c.At
		if i < len(c.DoneAt) {
			at = c.DoneAt[i]
		}
		c.Done[i], _ = r.lookUp(aStep, s, c.Done[i], at)
	}
}

// goodRow checks the report that a row is good.
func (r *resolver) goodRow(s *scope, p *engine.Report, row string) {
	if p.State != engine.Present {
		r.Error(p.Where, fmt.Sprintf("%s is not said to be good", syntax.Clip(row)), "Say what is wrong in it: slips@"+syntax.Clip(row)+", or leave it out where nobody can tell.")
		return
	}
	row, ok := r.lookUp(aRow, s, row, p.Where)
	if !ok {
		return
	}
	p.Finding = engine.GoodPrefix + row
	if g := row[strings.LastIndexByte(row, '/')+1:]; g == "N" || g == "P" {
		r.Error(p.Where, fmt.Sprintf("%s does not drive", row), "Only a row that drives is good. Say what is not there in it as absent.")
	}
}

// modeOf checks that a component's kind can have the mode.
func (r *resolver) modeOf(s *scope, component, mode string, at engine.Range) {
	kind := ""
	for i := range s.unit.Components {
		if s.unit.Components[i].Name == component {
			kind = s.unit.Components[i].Kind
		}
	}
	if kind == "" {
		return
	}
	var own []string
	for i := range r.k.Modes {
		if !slices.Contains(r.k.Modes[i].Of, kind) {
			continue
		}
		if r.k.Modes[i].Name == mode {
			return
		}
		own = append(own, r.k.Modes[i].Name)
	}
	r.Error(at, fmt.Sprintf("%s cannot fail by %q", component, mode), fmt.Sprintf("It is a %s; the modes of that kind are %s.", kind, orList(own)))
}

// reading checks a measured value's name, place and dimension.
func (r *resolver) reading(s *scope, m *engine.Reading) {
	if now, renamed, ok := s.tables[aLimit].find(m.Name); ok && renamed {
		r.Warn(m.Where, fmt.Sprintf("limit %q is now called %q", m.Name, now), "The old name still works. Change it to the new one.")
		m.Name = now
	}
	vacuum := m.Value.IsVacuum()
	defer func() {
		if why := m.Value.Impossible(vacuum); why != "" {
			r.Error(m.Where, fmt.Sprintf("reading %s: %s cannot be right: it is %s", syntax.Clip(m.Name), m.Value, why), "Read it again, and check the unit of measure.")
		}
	}()
	for i := range s.unit.Limits {
		l := &s.unit.Limits[i]
		if l.Name != m.Name {
			continue
		}
		limit := l.Low
		if limit == nil {
			limit = l.High
		}
		vacuum = vacuum || limit != nil && limit.IsVacuum()
		if limit != nil && limit.Dim != m.Value.Dim {
			r.Error(m.Where, fmt.Sprintf("%s is a %s, not a %s", m.Value, m.Value.Dim, limit.Dim), fmt.Sprintf("The limit %s is stated in %s.", l.Name, limit.Unit))
		}
		return
	}
	known := append([]string{}, s.tables[aLimit].names...)
	found := false
	for i := range r.k.Findings {
		f := &r.k.Findings[i]
		if f.Reading == "" {
			continue
		}
		known = append(known, f.Reading)
		if f.Reading != m.Name || found {
			continue
		}
		found = true
		is := r.readingIs(m.Name)
		if f.Per == engine.PerPressure {
			is = quantity.Pressure
		}
		if is != "" && m.Value.Dim != is {
			r.Error(m.Where, fmt.Sprintf("%s is a %s, not a %s", m.Value, m.Value.Dim, is), fmt.Sprintf("Units of %s are %s.", is, orList(quantity.Units(is))))
		}
		if f.Per != engine.PerUnit && m.Place == "" {
			r.Error(m.Where, fmt.Sprintf("reading %q without its place", m.Name), fmt.Sprintf("It is taken per %s: reading %q %q {", f.Per, m.Name, placeExample(f.Per)))
		} else if m.Place != "" {
			r.place(s, f, f.Name, m.Place, m.Where)
		}
	}
	if !found {
		r.Error(m.Where, fmt.Sprintf("unknown reading %q", syntax.Clip(m.Name)), hint(didYouMean(m.Name, distinct(known)), "A reading is named by a finding's `reading` or by a limit of the unit."))
	}
}
