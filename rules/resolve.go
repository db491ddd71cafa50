package rules

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/engine/quantity"
	"slipcase/rules/syntax"
)

// ref is a name that has to be known, with the place where it stands and the
// place in the nouns that holds it.
type ref struct {
	kind  lookKind
	scope *scope // nil in rules
	at    engine.Range
	to    *string
	set   func(string)
}

// all looks up every name of the knowledge.
func (r *resolver) all(refs []ref) {
	r.oneNameSpace()
	for _, f := range refs {
		r.problems.keepForeign(f.scope, func() {
			if f.kind == aFinding {
				*f.to = r.finding(f.scope, *f.to, f.at, forCheck)
				return
			}
			now, ok := r.lookUp(f.kind, f.scope, *f.to, f.at)
			if ok && f.set != nil {
				f.set(now)
			}
			*f.to = now
		})
	}
	r.causes()
	r.modes()
	r.causalOrder()
	r.findings()
	for i := range r.k.Reporters {
		on := r.k.Reporters[i].On
		for j := range on {
			on[j].Finding, _ = r.lookUp(aFinding, nil, on[j].Finding, on[j].At)
		}
	}
	r.withheld(r.k.Withheld)
	for i := range r.k.Checks {
		c := &r.k.Checks[i]
		r.withheld(c.Withheld)
		for _, name := range c.Unless {
			if j := slices.IndexFunc(r.k.Withheld, func(w engine.Withheld) bool { return w.Name == name }); j >= 0 {
				c.Withheld = append(c.Withheld, r.k.Withheld[j])
			}
		}
	}
	r.codes()
	for _, s := range r.units {
		r.problems.keepForeign(s, func() { r.unit(s) })
	}
	r.tellOnce()
	for _, s := range r.units {
		for _, d := range AtOwnLines(s.unit, s.foreign) {
			r.Add(d)
		}
	}
	r.examples()
}

// withheld looks up the findings that checks wait for.
func (r *resolver) withheld(list []engine.Withheld) {
	for i := range list {
		if w := &list[i]; w.If != "" {
			w.If = r.finding(nil, w.If, w.At, forCheck)
		}
	}
}

// oneNameSpace refuses one name for a stress, a cause and a mode, or a mode
// and its former self: `because` could mean either.
func (r *resolver) oneNameSpace() {
	type place struct {
		kind lookKind
		at   engine.Range
	}
	seen := map[string]place{}
	note := func(kind lookKind, name string, at engine.Range) {
		first, ok := seen[name]
		if !ok {
			seen[name] = place{kind, at}
			return
		}
		if first.kind != kind {
			r.Add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("%q is both %s and %s", name, article(kindTexts[first.kind].noun), article(kindTexts[kind].noun)),
				Detail: fmt.Sprintf("The other is at %s. Stresses, causes and modes share one name space, since `because` can name any of them.", first.at), Subject: at, Also: first.at})
		}
	}
	for i := range r.k.Stresses {
		note(aStress, r.k.Stresses[i].Name, r.k.Stresses[i].At)
	}
	for i := range r.k.Causes {
		note(aCause, r.k.Causes[i].Name, r.k.Causes[i].At)
	}
	for i := range r.k.Modes {
		note(aMode, r.k.Modes[i].Name, r.k.Modes[i].At)
	}
	// An old name must not be a name in use, nor the old name of two things.
	former := func(kind lookKind, now string, old []string, at engine.Range, t *table) {
		for _, o := range old {
			if t.has(o) {
				r.Error(at, fmt.Sprintf("old name %q is in use", o), fmt.Sprintf("%q was formerly %q, but a %s of that name exists. Remove it from formerly.", now, o, kindTexts[kind].noun))
			} else if t.former[o] != now {
				r.Error(at, fmt.Sprintf("old name %q belongs to two", o), fmt.Sprintf("Both %q and %q were formerly %q. Keep it with one of them.", t.former[o], now, o))
			}
		}
	}
	for i := range r.k.Causes {
		former(aCause, r.k.Causes[i].Name, r.k.Causes[i].Formerly, r.k.Causes[i].At, &r.rules[aCause])
	}
	for i := range r.k.Modes {
		former(aMode, r.k.Modes[i].Name, r.k.Modes[i].Formerly, r.k.Modes[i].At, &r.rules[aMode])
	}
	for i := range r.k.Findings {
		former(aFinding, r.k.Findings[i].Name, r.k.Findings[i].Formerly, r.k.Findings[i].At, &r.rules[aFinding])
	}
	for _, s := range r.units {
		for i := range s.unit.Components {
			c := &s.unit.Components[i]
			former(aComponent, c.Name, c.Formerly, c.At, &s.tables[aComponent])
		}
		for _, f := range s.unit.Formerly {
			r.renamed(s, f, former)
		}
	}
}

// renamed checks an old name of something of a unit, of whatever kind that is.
func (r *resolver) renamed(s *scope, f engine.Renamed, former func(lookKind, string, []string, engine.Range, *table)) {
	var names []string
	found := false
	for kind := lookKind(0); kind < lookKinds; kind++ {
		t := &s.tables[kind]
		names = append(names, t.names...)
		if t.has(f.Now) {
			found = true
			former(kind, f.Now, []string{f.Old}, f.At, t)
		}
	}
	if !found && !s.excuse(f.Now) && !r.again(s, f.Now, f.At) {
		r.Error(f.At, fmt.Sprintf("nothing of unit %s is called %q now", s.unit.ID, syntax.Clip(f.Now)), didYouMean(f.Now, distinct(names)))
	}
}

func (r *resolver) stressLinks(list []engine.Link) {
	for i := range list {
		list[i].To, _ = r.lookUp(aStress, nil, list[i].To, list[i].At)
	}
}

func (r *resolver) causes() {
	for i := range r.k.Causes {
		c := &r.k.Causes[i]
		r.stressLinks(c.Stresses)
		for j := range c.Shows {
			c.Shows[j].To = r.finding(nil, c.Shows[j].To, c.Shows[j].At, forCause)
		}
	}
}

func (r *resolver) modes() {
	kinds := map[string]*engine.Kind{}
	for i := range r.k.Kinds {
		kinds[r.k.Kinds[i].Name] = &r.k.Kinds[i]
	}
	for i := range r.k.Modes {
		m := &r.k.Modes[i]
		r.stressLinks(m.Stresses)
		for j := range m.Shows {
			m.Shows[j].To = r.finding(nil, m.Shows[j].To, m.Shows[j].At, forMode)
		}
		for j := range m.Effects {
			r.effect(m, &m.Effects[j], kinds)
		}
		for j := range m.Because {
			b := &m.Because[j]
			r.because(b)
		}
	}
}

// because looks a name up among stresses, causes and modes.
func (r *resolver) because(b *engine.Because) {
	for _, kind := range []lookKind{aStress, aCause, aMode} {
		now, renamed, ok := r.rules[kind].find(b.Of)
		if !ok {
			continue
		}
		if renamed {
			r.Warn(b.At, fmt.Sprintf("%s %q is now called %q", kindTexts[kind].noun, b.Of, now), "The old name still works. Change it to the new one.")
		}
		b.Of = now
		return
	}
	if r.Full() {
		r.More++
		return
	}
	var all []string
	for _, kind := range []lookKind{aStress, aCause, aMode} {
		all = append(all, r.rules[kind].names...)
	}
	detail := ""
	if near := nearest(b.Of, all); near != "" {
		detail = fmt.Sprintf("Did you mean %q?", near)
	}
	if other, ok := r.elsewhere(aMode, nil, b.Of); ok {
		detail = hint(fmt.Sprintf("%q is %s; `because` names a stress, a root cause or another mode.", b.Of, article(kindTexts[other].noun)), detail)
	}
	if detail == "" {
		detail = "`because` names a stress, a root cause or another mode; none is called so."
	}
	r.Error(b.At, fmt.Sprintf("unknown stress, cause or mode %q", syntax.Clip(b.Of)), detail)
}

// effect checks that something the kinds may serve can have this effect.
func (r *resolver) effect(m *engine.Mode, l *engine.Link, kinds map[string]*engine.Kind) {
	targets := map[engine.TargetKind]bool{}
	for _, name := range m.Of {
		k := kinds[name]
		if k == nil {
			return // told already
		}
		if len(k.Serves) == 0 {
			for _, t := range targetWords {
				targets[engine.TargetKind(t)] = true
			}
		}
		for _, t := range k.Serves {
			targets[t] = true
		}
	}
	var words []string
	for _, t := range targetWords {
		kind := engine.TargetKind(t)
		if !targets[kind] {
			continue
		}
		words = append(words, engine.EffectWords(kind, false)...)
		if kind == engine.OnElement {
			words = append(words, engine.EffectWords(kind, true)...)
		}
	}
	if len(words) == 0 || slices.Contains(words, l.To) || r.Full() {
		return
	}
	words = distinct(words)
	detail := ""
	if near := nearest(l.To, words); near != "" {
		detail = fmt.Sprintf("Did you mean %q?", near)
	} else {
		detail = fmt.Sprintf("Components of kind %s can have: %s.", orList(m.Of), strings.Join(words, ", "))
	}
	if other, ok := r.elsewhere(lookKinds, nil, l.To); ok {
		detail = hint(fmt.Sprintf("%q is %s; an effect is what the mode does to the machine.", l.To, article(kindTexts[other].noun)), detail)
	}
	var owner []string
	for _, t := range targetWords {
		if slices.Contains(engine.EffectWords(engine.TargetKind(t), false), l.To) || t == "element" && slices.Contains(engine.EffectWords(engine.OnElement, true), l.To) {
			owner = append(owner, t)
		}
	}
	if len(owner) > 0 {
		detail = hint(fmt.Sprintf("It is an effect of what serves %s, which these kinds do not.", orList(owner)), detail)
	}
	r.Error(l.At, fmt.Sprintf("unknown effect %q", syntax.Clip(l.To)), detail)
}

func distinct(list []string) []string {
	sort.Strings(list)
	out := list[:0]
	for i, s := range list {
		if i == 0 || s != list[i-1] {
			out = append(out, s)
		}
	}
	return out
}

func (r *resolver) findings() {
	for i := range r.k.Findings {
		f := &r.k.Findings[i]
		if is := r.readingIs(f.Reading); f.Reading != "" && f.ReadingIs != "" && f.ReadingIs != is {
			r.Error(f.At, fmt.Sprintf("%s reads %s as a %s", f.Name, f.Reading, f.ReadingIs), fmt.Sprintf("Another finding reads it as a %s. What is noted under one name is one measure: give this one a name of its own.", is))
		}
		known := engine.Outcomes[f.Per]
		for _, l := range f.Signs {
			if slices.Contains(known, l.To) || r.Full() {
				continue
			}
			detail := ""
			switch {
			case len(known) == 0 && f.Per == engine.PerUnit:
				detail = "A finding without `per` is not a template: physics does not make it. Modes and causes show it."
			case len(known) == 0:
				detail = fmt.Sprintf("Physics says nothing per %s. Modes and causes show it.", f.Per)
			default:
				detail = didYouMean(l.To, known)
				if nearest(l.To, known) == "" {
					detail = fmt.Sprintf("Per %s there are: %s.", f.Per, strings.Join(known, ", "))
				}
				var also []string
				for _, p := range perWords {
					if slices.Contains(engine.Outcomes[engine.Per(p)], l.To) {
						also = append(also, p)
					}
				}
				if len(also) > 0 {
					detail = hint(fmt.Sprintf("It is an outcome per %s, and this finding is per %s.", orList(also), f.Per), detail)
				}
			}
			r.Error(l.At, fmt.Sprintf("unknown outcome %q", syntax.Clip(l.To)), detail)
		}
	}
}

// codes looks up what sets each code.
func (r *resolver) codes() {
	for i := range r.k.Codes {
		c := &r.k.Codes[i]
		for j := range c.Signs {
			s := &c.Signs[j]
			target, effect, dotted := strings.Cut(s.Of, ".")
			if !dotted {
				s.Of = r.finding(nil, s.Of, s.At, forCause)
				continue
			}
			r.codeEffect(s, target, effect)
		}
	}
}

// letter tells the letter that trouble codes call a solenoid by: whether a unit
// has one of that name is for the unit.
func letter(name string) bool { return len(name) == 1 && 'a' <= name[0] && name[0] <= 'h' }

func (r *resolver) codeEffect(s *engine.CodeSign, target, effect string) {
	var all []string
	for _, t := range targetWords {
		all = append(all, engine.EffectWords(engine.TargetKind(t), false)...)
	}
	all = append(all, engine.EffectWords(engine.OnElement, true)...)
	if !slices.Contains(all, effect) {
		if !r.Full() {
			r.Error(s.At, fmt.Sprintf("unknown effect %q", syntax.Clip(effect)), hint("After the dot comes an effect.", didYouMean(effect, distinct(all))))
		}
		return
	}
	switch target {
	case "*", "shift", "pressure", "converter", "clutch", "unit", "range":
		return
	}
	if letter(target) {
		return
	}
	if !r.whole {
		return
	}
	var names []string
	for _, kind := range []lookKind{anElement, aSolenoid, aCircuit, aJoint, aGearset} {
		if r.element[kind].has(target) {
			return
		}
		names = append(names, r.element[kind].names...)
	}
	if !r.Full() {
		r.Error(s.At, fmt.Sprintf("no unit has anything called %q", syntax.Clip(target)), hint("Before the dot comes an element, circuit or solenoid, a kind of solenoid, or * for every one.", didYouMean(target, distinct(names))))
	}
}

// unit looks up what components serve and counts the members of the train.
func (r *resolver) unit(s *scope) {
	u := s.unit
	// Effects are named target.word: targets of a unit share one name space.
	seen := map[string]engine.Range{}
	note := func(kind, name string, at engine.Range) {
		if first, ok := seen[name]; ok {
			r.Add(engine.Diagnostic{Severity: engine.Error, Summary: fmt.Sprintf("%s %q: the name is taken", kind, name),
				Detail: fmt.Sprintf("The first is at %s. Elements, circuits, solenoids, joints and gearsets of a unit share one name space: an effect is written name.word.", first), Subject: at, Also: first})
			return
		}
		seen[name] = at
		if slices.Contains(reserved, name) {
			r.Error(at, fmt.Sprintf("%s %q: the name is reserved", kind, name), "The language uses this word itself. Choose another.")
		}
	}
	if s.orphan {
		return
	}
	for i := range u.Elements {
		note("element", u.Elements[i].Name, u.Elements[i].At)
	}
	for i := range u.Circuits {
		note("circuit", u.Circuits[i].Name, u.Circuits[i].At)
	}
	for i := range u.Solenoids {
		note("solenoid", u.Solenoids[i].Name, u.Solenoids[i].At)
	}
	for i := range u.Joints {
		note("joint", u.Joints[i].Name, u.Joints[i].At)
	}
	for i := range u.Train.Gearsets {
		note("gearset", u.Train.Gearsets[i].Name, u.Train.Gearsets[i].At)
	}
	for i := range u.Components {
		c := &u.Components[i]
		for j := range c.Serves {
			r.target(s, &c.Serves[j])
		}
	}
	var members []string
	for _, p := range s.places {
		if s.members[p.name] > 1 {
			members = append(members, p.name)
		}
	}
	members = distinct(members)
	r.limits(s)
	r.inOrder(s)
	alone := map[string]bool{}
	for _, p := range s.places {
		if s.members[p.name] == 1 {
			alone[p.name] = true
		}
	}
	for _, p := range s.places {
		if alone[p.name] && !s.excuse(p.name) && !r.Full() {
			if r.uncovered(p.at, p.name) {
				continue
			}
			// Two that stand alone and are nearly the same are one, misspelled.
			delete(alone, p.name)
			if other := nearest(p.name, sortedKeys(alone)); other != "" {
				delete(alone, other)
				r.Error(p.at, fmt.Sprintf("members %q and %q are each named only once", syntax.Clip(p.name), syntax.Clip(other)), "A member is known by being named where it takes part. If they are one, give them one name.")
				continue
			}
			detail := "A member is known by being named where it takes part; what is named once is joined to nothing."
			if near := nearest(p.name, members); near != "" {
				detail = fmt.Sprintf("Did you mean %q? ", near) + detail
			}
			r.Error(p.at, fmt.Sprintf("member %q is named only here", syntax.Clip(p.name)), detail)
		}
	}
}

func (r *resolver) target(s *scope, t *engine.Target) {
	kind := lookKind(lookKinds)
	switch t.Kind {
	case engine.OnElement:
		kind = anElement
	case engine.OnCircuit:
		kind = aCircuit
	case engine.OnSolenoid:
		kind = aSolenoid
	case engine.OnJoint:
		kind = aJoint
	case engine.OnGearset:
		kind = aGearset
	case engine.OnRange:
		kind = aRange
	case engine.OnShift:
		from, to, ok := strings.Cut(t.Name, "-")
		if bad := !ok || !s.gear(from) || !s.gear(to) || from == to; bad && !s.excuse(t.Name) && !r.again(s, t.Name, t.At) {
			r.Error(t.At, fmt.Sprintf("unknown shift %q", syntax.Clip(t.Name)), fmt.Sprintf("A shift is two gears of the unit: shift[\"1-2\"]. Its gears are %s.", strings.Join(s.gears(), ", ")))
		}
		return
	default:
		return
	}
	t.Name, _ = r.lookUp(kind, s, t.Name, t.At)
}

// gears lists the unit's gears that drive, in the order of the rows.
func (s *scope) gears() []string {
	var out []string
	for i := range s.unit.Rows {
		if g := s.unit.Rows[i].Gear; g != "N" && g != "P" && !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	return out
}

func (s *scope) gear(g string) bool { return slices.Contains(s.gears(), g) }

func sortedKeys(m map[string]bool) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// inOrder reports names in front_to_back that the unit has not.
func (r *resolver) inOrder(s *scope) {
	var known []string
	for _, kind := range []lookKind{anElement, aGearset, aJoint} {
		known = append(known, s.tables[kind].names...)
	}
	for _, e := range s.unit.Elements {
		if e.Kind == engine.ConverterClutch {
			known = slices.DeleteFunc(known, func(n string) bool { return n == e.Name })
		}
	}
	for _, x := range s.order {
		if !slices.Contains(known, x.text) && !s.excuse(x.text) && !r.again(s, x.text, x.at) {
			r.Error(x.at, fmt.Sprintf("nothing called %q comes out of the case", syntax.Clip(x.text)), hint(didYouMean(x.text, known), "front_to_back lists elements, gearsets and joints of the unit."))
		}
	}
}

// limits refuses a limit in units of something else than findings read there: a
// clearance in psi.
func (r *resolver) limits(s *scope) {
	for i := range s.unit.Limits {
		l := &s.unit.Limits[i]
		name := engine.ParseFindingName(l.Measures).Name
		is := r.readingIs(name)
		written := func(at engine.Range) bool { return at != engine.Range{} }
		if name == "" || is == "" || l.Low == nil && written(l.LowAt) || l.High == nil && written(l.HighAt) {
			continue // nothing to compare, or what is wrong with it is told
		}
		for _, x := range []struct {
			q  *quantity.Quantity
			at engine.Range
		}{{l.Low, l.LowAt}, {l.High, l.HighAt}} {
			if x.q != nil && x.q.Dim != is {
				r.Error(x.at, fmt.Sprintf("%s is a %s, and %s is a %s", x.q, x.q.Dim, name, is), fmt.Sprintf("Units of %s are %s.", is, orList(quantity.Units(is))))
				break // the other is most likely written the same way
			}
		}
	}
}

// readingIs is what findings say that a value noted under a name measures, ""
// where none says it.
func (r *resolver) readingIs(name string) quantity.Dimension {
	for i := range r.k.Findings {
		if f := &r.k.Findings[i]; f.Reading == name && f.ReadingIs != "" {
			return f.ReadingIs
		}
	}
	return ""
}
