package rules

import (
	"slipcase/engine"
)

// caseBody fills what a case and an example share. Names are looked up later,
// against the unit that the case names.
func (d *decoder) caseBody(n *node) engine.CaseFile {
	c := engine.CaseFile{ID: n.label(0), Title: d.text(n, "title"), Vehicle: d.text(n, "vehicle"), At: n.at()}
	u := d.nameAt(n, "unit")
	c.Unit, c.UnitAt = u.text, u.at
	for _, s := range d.names(n, "done") {
		c.Done = append(c.Done, s.text)
		c.DoneAt = append(c.DoneAt, s.at)
	}
	for _, b := range n.blocks {
		d.required(b)
		if b.broken {
			continue
		}
		switch b.spec.name {
		case "reports":
			at := d.moment(b, "at")
			note := d.text(b, "note")
			any := false
			for _, state := range []engine.State{engine.Present, engine.Absent, engine.Unknown} {
				for _, f := range d.names(b, string(state)) {
					any = true
					c.Reports = append(c.Reports, engine.Report{Finding: f.text, State: state, By: b.label(0), Note: note, At: at, Where: f.at})
				}
			}
			for _, f := range d.names(b, "good") {
				any = true
				c.Reports = append(c.Reports, engine.Report{Finding: engine.GoodPrefix + f.text, State: engine.Present, By: b.label(0), Note: note, At: at, Where: f.at})
			}
			if !any && b.attr("present") == nil && b.attr("absent") == nil && b.attr("unknown") == nil && b.attr("good") == nil {
				d.Warn(b.at(), "reports without findings", "Say what is present, absent or unknown, or which rows are good: present = [\"slips@D/3\"]")
			}
		case "reading":
			r := engine.Reading{Name: b.label(0), Place: b.label(1), By: d.name(b, "by"), At: d.moment(b, "at"), Where: b.at()}
			if q := d.quantity(b, "value", ""); q != nil {
				r.Value = *q
				c.Readings = append(c.Readings, r)
			}
		case "found":
			s := engine.Seen{Component: b.label(0), Note: d.text(b, "note"), Photo: d.text(b, "photo"), Where: b.labelAt(0)}
			m, cause := d.nameAt(b, "mode"), d.nameAt(b, "cause")
			s.Mode, s.ModeAt, s.Cause, s.CauseAt = m.text, m.at, cause.text, cause.at
			if s.Mode != "" {
				c.Seen = append(c.Seen, s)
			}
		case "cleared":
			c.Seen = append(c.Seen, engine.Seen{Component: b.label(0), Cleared: true, Note: d.text(b, "note"), Where: b.labelAt(0)})
		case "settled":
			present, stated := d.truth(b, "present")
			if stated {
				c.Settled = append(c.Settled, engine.SettledCause{Cause: b.label(0), Present: present, Where: b.labelAt(0)})
			}
		}
	}
	return c
}
