package rules

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"slipcase/engine"
	"slipcase/engine/quantity"
	"slipcase/rules/syntax"
)

// decoder fills the nouns from nodes, and notes every name that has to be
// looked up once all files are there.
type decoder struct {
	problems
	values
	k    *engine.Knowledge
	refs []ref
}

func newDecoder() *decoder {
	d := &decoder{k: &engine.Knowledge{}}
	d.values.p = &d.problems
	return d
}

// rule fills one top-level block.
func (d *decoder) rule(n *node) {
	d.required(n)
	switch n.spec.name {
	case "kind":
		out, _ := d.truth(n, "outside")
		k := engine.Kind{Name: n.label(0), Title: d.text(n, "title"), Outside: out, Bench: d.text(n, "bench"), Renew: d.text(n, "renew"), Clean: d.text(n, "clean"), At: n.at()}
		k.Collects = d.look(aFinding, nil, d.names(n, "collects"))
		for _, w := range d.words(n, "serves") {
			k.Serves = append(k.Serves, engine.TargetKind(w))
		}
		d.k.Kinds = append(d.k.Kinds, k)
	case "stress":
		d.k.Stresses = append(d.k.Stresses, engine.Stress{Name: n.label(0), Title: d.text(n, "title"), At: n.at()})
	case "cause":
		d.cause(n)
	case "mode":
		d.mode(n)
	case "finding":
		d.finding(n)
	case "reporter":
		r := engine.Reporter{Name: n.label(0), Title: d.text(n, "title"), Hit: d.number(n, "hit"), FalseAlarm: d.number(n, "false_alarm"), Unfounded: d.number(n, "unfounded"), At: n.at()}
		r.FalseAlarms, r.Misses = r.FalseAlarm, r.Hit
		r.Misses.Value = math.Round((1-r.Hit.Value)*1e12) / 1e12
		r.Misses.Text = strconv.FormatFloat(r.Misses.Value, 'g', -1, 64)
		for _, c := range n.blocks {
			d.required(c)
			if c.spec.name == "rate" {
				switch x := d.number(c, "is"); c.label(0) {
				case "false_alarm":
					r.FalseAlarms = x
				case "miss":
					r.Misses = x
				default:
					d.Error(c.labelAt(0), fmt.Sprintf("a reporter has no rate %q", c.label(0)), `Write rate "false_alarm" or rate "miss".`)
				}
				continue
			}
			r.On = append(r.On, engine.ReporterOn{Finding: c.label(0), Controls: d.word(c, "controls"), Hit: d.number(c, "hit"), FalseAlarm: d.number(c, "false_alarm"), At: c.labelAt(0)})
		}
		d.k.Reporters = append(d.k.Reporters, r)
	case "check":
		d.check(n)
	case "usual":
		for _, c := range n.blocks {
			d.required(c)
		}
	case "family":
		d.family(n)
	case "caution":
		d.k.Cautions = append(d.k.Cautions, engine.Caution{Name: n.label(0), Text: d.text(n, "text"), At: n.at()})
	case "withheld":
		d.k.Withheld = append(d.k.Withheld, d.withheld(n))
	case "code":
		c := engine.Code{Name: n.label(0), Title: d.text(n, "title"), Leak: d.number(n, "leak"), At: n.at(), Basis: n.basis}
		for _, s := range n.blocks {
			d.required(s)
			c.Signs = append(c.Signs, engine.CodeSign{Of: s.label(0), Strength: d.number(s, "strength"), At: s.labelAt(0)})
		}
		d.k.Codes = append(d.k.Codes, c)
	case "example":
		e := engine.Example{Name: n.label(0), Cite: d.text(n, "cite"), At: n.at()}
		e.Within = int(d.integer(n, "within"))
		if n.attr("within") == nil {
			e.Within = 1
		}
		for _, x := range d.names(n, "expect") {
			e.Expect = append(e.Expect, x.text)
			e.ExpectAt = append(e.ExpectAt, x.at)
		}
		for _, x := range d.names(n, "cause") {
			e.Cause = append(e.Cause, x.text)
			e.CauseAt = append(e.CauseAt, x.at)
		}
		e.Case = d.caseBody(n)
		d.k.Examples = append(d.k.Examples, e)
	}
}

// links are the blocks of one type that name a consequence.
func (d *decoder) links(n *node, typ string) []engine.Link {
	var out []engine.Link
	for _, c := range n.blocks {
		if c.spec.name != typ {
			continue
		}
		d.required(c)
		if c.broken {
			continue
		}
		out = append(out, engine.Link{To: c.label(0), Strength: d.number(c, "strength"), When: engine.Condition(d.word(c, "when")), At: c.labelAt(0)})
	}
	return out
}

// look notes that every name of the list has to be known.
func (d *decoder) look(kind lookKind, scope *scope, list []named) []string {
	out := plain(list)
	for i := range list {
		d.refs = append(d.refs, ref{kind: kind, scope: scope, at: list[i].at, to: &out[i]})
	}
	return out
}

// lookOne notes one name; set is called with the name that holds now.
func (d *decoder) lookOne(kind lookKind, scope *scope, n named, set func(string)) {
	if n.text != "" {
		d.refs = append(d.refs, ref{kind: kind, scope: scope, at: n.at, to: &n.text, set: set})
	}
}

func (d *decoder) cause(n *node) {
	c := engine.Cause{Name: n.label(0), Title: d.text(n, "title"), Formerly: plain(d.names(n, "formerly")), Frequency: d.number(n, "frequency"),
		Stresses: d.links(n, "stresses"), Shows: d.links(n, "shows"), Advice: d.text(n, "advice"), At: n.at(), Basis: n.basis}
	c.SettledBy = d.look(aCheck, nil, d.names(n, "settled_by"))
	c.Context, _ = d.truth(n, "context")
	d.k.Causes = append(d.k.Causes, c)
}

func (d *decoder) mode(n *node) {
	m := engine.Mode{Name: n.label(0), Title: d.text(n, "title"), Formerly: plain(d.names(n, "formerly")), Frequency: d.number(n, "frequency"),
		Effects: d.links(n, "effect"), Shows: d.links(n, "shows"), Stresses: d.links(n, "stresses"), Look: d.text(n, "look"), At: n.at(), Basis: n.basis}
	m.Duty, _ = d.truth(n, "duty")
	m.Of = d.look(aKind, nil, d.names(n, "of"))
	m.SettledBy = d.look(aCheck, nil, d.names(n, "settled_by"))
	for _, c := range n.blocks {
		if c.spec.name != "because" {
			continue
		}
		d.required(c)
		if c.broken {
			continue
		}
		b := engine.Because{Of: c.label(0), Strength: d.number(c, "strength"), Scope: d.word(c, "scope"), At: c.labelAt(0)}
		if b.Scope == "" {
			b.Scope = "shares"
		}
		m.Because = append(m.Because, b)
	}
	d.k.Modes = append(d.k.Modes, m)
}

func (d *decoder) finding(n *node) {
	f := engine.Finding{Name: n.label(0), Title: d.text(n, "title"), Per: engine.Per(d.word(n, "per")), Stage: engine.Stage(d.word(n, "stage")),
		Formerly: plain(d.names(n, "formerly")), Phrases: plain(d.texts(n, "phrases")), Leak: d.number(n, "leak"), Signs: d.links(n, "sign"),
		Reading: d.name(n, "reading"), ReadingSide: d.word(n, "reading_side"), ReadingIs: quantity.Dimension(d.word(n, "reading_is")), Note: d.text(n, "note"), At: n.at(), Basis: n.basis}
	f.Reporter = d.name(n, "reporter")
	i := len(d.k.Findings)
	d.lookOne(aReporter, nil, d.nameAt(n, "reporter"), func(s string) { d.k.Findings[i].Reporter = s })
	if a := n.attr("reading_side"); a != nil && f.Reading == "" {
		d.Error(a.nameAt(), "reading_side without reading", "Say under which name the value is noted: reading = \"line_pressure\"")
	}
	if a := n.attr("reading"); a != nil && n.attr("reading_side") == nil && f.Reading != "" {
		d.Error(a.nameAt(), "reading without reading_side", "Say beyond which limit the finding is there: reading_side = low, high or either")
	}
	if a := n.attr("reading_is"); a != nil && f.Reading == "" {
		d.Error(a.nameAt(), "reading_is without reading", "Say under which name the value is noted: reading = \"clearance\"")
	}
	f.Hides = d.look(aFinding, nil, d.names(n, "hides"))
	f.Clears, f.Cleared = d.look(aFinding, nil, d.names(n, "clears")), d.number(n, "cleared")
	if a := n.attr("clears"); a != nil && n.attr("cleared") == nil {
		d.Error(a.nameAt(), "clears without cleared", "Say which share of them it takes away: cleared = 0.7")
	}
	if a := n.attr("cleared"); a != nil && len(f.Clears) == 0 {
		d.Error(a.nameAt(), "cleared without clears", "Say which findings it takes away: clears = [\"lining_in_pan\"]")
	}
	d.k.Findings = append(d.k.Findings, f)
}

func (d *decoder) check(n *node) {
	c := engine.Check{Name: n.label(0), Title: d.text(n, "title"), Stage: engine.Stage(d.word(n, "stage")), Minutes: d.number(n, "minutes"),
		Asks: d.text(n, "asks"), Why: d.text(n, "why"), At: n.at(), Basis: n.basis}
	c.Reporter = d.name(n, "reporter")
	i := len(d.k.Checks)
	d.lookOne(aReporter, nil, d.nameAt(n, "reporter"), func(s string) { d.k.Checks[i].Reporter = s })
	c.Yields = d.look(aFinding, nil, d.names(n, "yields"))
	c.Cautions = d.look(aCaution, nil, d.names(n, "cautions"))
	c.Unless = d.look(aWithheld, nil, d.names(n, "unless"))
	c.Needs = d.look(aStep, nil, d.names(n, "needs"))
	c.Before = d.look(aStep, nil, d.names(n, "before"))
	c.Opens, _ = d.truth(n, "opens")
	c.Repairs, _ = d.truth(n, "repairs")
	for _, x := range d.names(n, "only") {
		if !slices.Contains(controlsWords, x.text) {
			d.Error(x.at, fmt.Sprintf("no controls %q", syntax.Clip(x.text)), "only of a check says on which units it is: hydraulic, electronic or adaptive.")
		}
		c.Only = append(c.Only, x.text)
	}
	c.Follows = d.look(aFinding, nil, d.names(n, "follows"))
	for _, w := range n.blocks {
		d.required(w)
		switch w.spec.name {
		case "withheld":
			c.Withheld = append(c.Withheld, d.withheld(w))
		case "choice":
			x := engine.Choice{Name: w.label(0), Title: d.text(w, "title"), At: w.labelAt(0)}
			x.Present = d.look(aFinding, nil, d.names(w, "present"))
			x.Absent = d.look(aFinding, nil, d.names(w, "absent"))
			x.Unknown = d.look(aFinding, nil, d.names(w, "unknown"))
			x.Asks = d.look(aCheck, nil, d.names(w, "asks"))
			c.Choices = append(c.Choices, x)
		case "counts":
			shifts, _ := d.truth(w, "shifts")
			c.Counts = &engine.Counts{Unit: w.label(0), From: d.number(w, "from"), Shifts: shifts, At: w.labelAt(0)}
		}
	}
	d.k.Checks = append(d.k.Checks, c)
}

// withheld reads one of a check's own, or one with a name.
func (d *decoder) withheld(n *node) engine.Withheld {
	w := engine.Withheld{If: d.name(n, "if"), Reason: d.text(n, "reason"), At: placeOf(n, "if")}
	w.Until = d.look(aFinding, nil, d.names(n, "until"))
	if (w.If == "") == (len(w.Until) == 0) {
		d.Error(n.at(), "withheld needs if or until, and not both", "if names a finding that rules the check out; until lists findings, one of which must be looked for first.")
	}
	if len(n.labels) > 0 {
		w.Name = n.label(0)
	}
	return w
}

// placeOf is the place of an argument's value, or of the block without it.
func placeOf(n *node, name string) engine.Range {
	if a := n.attr(name); a != nil {
		return a.at()
	}
	return n.at()
}
