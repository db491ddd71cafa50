package rules

import (
	"fmt"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/rules/syntax"
)

// lookKind is what a name is looked up as.
type lookKind uint8

const (
	aKind lookKind = iota
	aStress
	aCause
	aMode
	aFinding
	aReporter
	aCheck
	aCaution
	aWithheld
	aCode
	anElement
	anApplied // an element that is applied: no one-way clutch, no converter clutch
	aOneWay
	aCircuit
	aSolenoid
	aJoint
	aGearset
	aComponent
	aStep
	aLimit
	aRow
	aRange
	aMeasure // a check, a limit, or a plain sentence
	aUnit
	lookKinds
)

// kindTexts says what each kind is called, and what it is, for an author who
// put one where another belongs.
var kindTexts = [lookKinds]struct{ noun, is string }{
	aKind:      {"kind of component", "a kind groups components of any unit that fail alike"},
	aStress:    {"stress", "a stress is what a cause does to parts: heat, dirt, low apply pressure"},
	aCause:     {"root cause", "a root cause lies outside the unit or in its last build"},
	aMode:      {"mode", "a mode is one way in which a part fails"},
	aFinding:   {"finding", "a finding is what somebody sees, feels or measures"},
	aReporter:  {"reporter", "a reporter is who or what observes"},
	aCheck:     {"check", "a check is something done to learn findings"},
	aCaution:   {"caution", "a caution is a warning text"},
	aWithheld:  {"withheld block", "a withheld block says when a check has to wait"},
	aCode:      {"trouble code", "a report of a code is a report of the finding code_…"},
	anElement:  {"element", "an element holds or joins members of the gear train"},
	anApplied:  {"clutch, brake or band", "it is applied by oil; one-way clutches work by themselves, the converter clutch by `lockup`"},
	aOneWay:    {"one-way clutch", "a roller or sprag; it holds by itself and is not applied"},
	aCircuit:   {"circuit", "a circuit is an oil passage"},
	aSolenoid:  {"solenoid", "a solenoid is an electric valve of the unit"},
	aJoint:     {"joint", "a joint is a spline, weld, shell or shaft"},
	aGearset:   {"gearset", "a gearset is one planetary set"},
	aComponent: {"component", "a component is a part that can fail"},
	aStep:      {"teardown step", "a step takes something apart"},
	aLimit:     {"limit", "a limit is a dimension of the unit with its bounds"},
	aRow:       {"row", "a row is a range with a gear: D/2"},
	aRange:     {"range", "a range is a place of the selector"},
	aMeasure:   {"check or limit", "what is measured names a check or a limit, or is a plain sentence"},
	aUnit:      {"unit", "a unit is one transmission"},
}

// table holds the names of one kind.
type table struct {
	names  []string       // in the order of the files
	index  map[string]int // name -> position in names
	former map[string]string
}

func (t *table) add(name string) {
	if t.index == nil {
		t.index = map[string]int{}
	}
	if _, ok := t.index[name]; ok || name == "" {
		return
	}
	t.index[name] = len(t.names)
	t.names = append(t.names, name)
}

func (t *table) was(old, now string) {
	if t.former == nil {
		t.former = map[string]string{}
	}
	if _, ok := t.former[old]; !ok {
		t.former[old] = now
	}
}

func (t *table) has(name string) bool { _, ok := t.index[name]; return ok }

// find gives the name that holds now; renamed when it was found by an old one.
func (t *table) find(name string) (now string, renamed, ok bool) {
	if t.has(name) {
		return name, false, true
	}
	if now, ok := t.former[name]; ok {
		return now, true, true
	}
	return "", false, false
}

// tables holds the names of all kinds.
type tables [lookKinds]table

// resolver looks names up and mends those that were renamed.
type resolver struct {
	*problems
	k       *engine.Knowledge
	rules   tables
	units   []*scope
	byID    map[string]*scope
	whole   bool // every unit is loaded: a name that no unit has is wrong
	known   map[string]*engine.Finding
	element tables // names of all loaded units together
	told    map[onceKey]*onceTold
}

func newResolver(p *problems, k *engine.Knowledge, units []*scope, whole bool, ids []string) *resolver {
	r := &resolver{problems: p, k: k, units: units, whole: whole, byID: map[string]*scope{}, known: map[string]*engine.Finding{}}
	t := &r.rules
	for i := range k.Kinds {
		t[aKind].add(k.Kinds[i].Name)
	}
	for i := range k.Stresses {
		t[aStress].add(k.Stresses[i].Name)
	}
	for i := range k.Causes {
		r.named(aCause, k.Causes[i].Name, k.Causes[i].Formerly)
	}
	for i := range k.Modes {
		r.named(aMode, k.Modes[i].Name, k.Modes[i].Formerly)
	}
	for i := range k.Findings {
		f := &k.Findings[i]
		r.named(aFinding, f.Name, f.Formerly)
		r.known[f.Name] = f
	}
	for i := range k.Codes {
		t[aCode].add(k.Codes[i].Name)
		t[aFinding].add("code_" + k.Codes[i].Name)
	}
	for i := range k.Reporters {
		t[aReporter].add(k.Reporters[i].Name)
	}
	for i := range k.Checks {
		t[aCheck].add(k.Checks[i].Name)
	}
	for i := range k.Cautions {
		t[aCaution].add(k.Cautions[i].Name)
	}
	for i := range k.Withheld {
		t[aWithheld].add(k.Withheld[i].Name)
	}
	for _, id := range ids {
		t[aUnit].add(id)
	}
	for _, s := range units {
		s.fill()
		r.byID[s.unit.ID] = s
		for kind := range s.tables {
			for _, name := range s.tables[kind].names {
				r.element[kind].add(name)
			}
			old := make([]string, 0, len(s.tables[kind].former))
			for o := range s.tables[kind].former {
				old = append(old, o)
			}
			sort.Strings(old)
			for _, o := range old {
				r.element[kind].was(o, s.tables[kind].former[o])
			}
		}
	}
	return r
}

func (r *resolver) named(kind lookKind, name string, formerly []string) {
	r.rules[kind].add(name)
	for _, o := range formerly {
		r.rules[kind].was(o, name)
	}
}

// fill lists the unit's names.
func (s *scope) fill() {
	u, t := s.unit, &s.tables
	for i := range u.Elements {
		e := &u.Elements[i]
		t[anElement].add(e.Name)
		switch e.Kind {
		case engine.OneWay:
			t[aOneWay].add(e.Name)
		case engine.ConverterClutch:
		default:
			t[anApplied].add(e.Name)
		}
	}
	for i := range u.Joints {
		t[aJoint].add(u.Joints[i].Name)
	}
	for i := range u.Train.Gearsets {
		t[aGearset].add(u.Train.Gearsets[i].Name)
	}
	for i := range u.Circuits {
		t[aCircuit].add(u.Circuits[i].Name)
	}
	for i := range u.Solenoids {
		t[aSolenoid].add(u.Solenoids[i].Name)
	}
	for i := range u.Rows {
		t[aRow].add(u.Rows[i].Name())
		t[aRange].add(u.Rows[i].Range)
	}
	for i := range u.Components {
		c := &u.Components[i]
		t[aComponent].add(c.Name)
		for _, o := range c.Formerly {
			t[aComponent].was(o, c.Name)
		}
	}
	for i := range u.Steps {
		t[aStep].add(u.Steps[i].Name)
	}
	for i := range u.Limits {
		t[aLimit].add(u.Limits[i].Name)
	}
	for _, f := range u.Formerly {
		for kind := range t {
			if t[kind].has(f.Now) {
				t[kind].was(f.Old, f.Now)
			}
		}
	}
}

// perUnit tells kinds whose names belong to a unit from those of the rules.
func perUnit(kind lookKind) bool {
	switch kind {
	case anElement, anApplied, aOneWay, aCircuit, aSolenoid, aJoint, aGearset, aComponent, aStep, aLimit, aRow, aRange:
		return true
	}
	return false
}

func (r *resolver) table(kind lookKind, s *scope) *table {
	if !perUnit(kind) {
		return &r.rules[kind]
	}
	if s == nil {
		return &r.element[kind]
	}
	return &s.tables[kind]
}

// lookUp finds a name, tells about it when it is not there or has a new one,
// and gives the name that holds now.
func (r *resolver) lookUp(kind lookKind, s *scope, name string, at engine.Range) (string, bool) {
	if kind == aMeasure {
		return r.measure(s, name, at)
	}
	t := r.table(kind, s)
	now, renamed, ok := t.find(name)
	if renamed {
		r.Warn(at, fmt.Sprintf("%s %q is now called %q", kindTexts[kind].noun, name, now), "The old name still works. Change it to the new one.")
	}
	if ok {
		return now, true
	}
	if perUnit(kind) && s == nil && !r.whole {
		return name, true // some unit that is not loaded may have it
	}
	r.unknown(kind, s, name, at)
	return name, false
}

// measure accepts a check, a limit or a sentence; one word that is neither
// was most likely meant as a name.
func (r *resolver) measure(s *scope, name string, at engine.Range) (string, bool) {
	if r.rules[aCheck].has(name) || s != nil && s.tables[aLimit].has(name) {
		return name, true
	}
	if s != nil {
		if now, renamed, _ := s.tables[aLimit].find(name); renamed {
			return now, true
		}
	}
	for i := 0; i < len(name); i++ {
		if name[i] == ' ' {
			return name, true
		}
	}
	known := append(append([]string{}, r.rules[aCheck].names...), r.table(aLimit, s).names...)
	r.Error(at, fmt.Sprintf("unknown check or limit %q", syntax.Clip(name)), hint(didYouMean(name, known), "A sentence of several words is taken literally."))
	return name, false
}

func (r *resolver) unknown(kind lookKind, s *scope, name string, at engine.Range) {
	if r.Full() {
		r.More++
		return
	}
	if perUnit(kind) && s.excuse(name) {
		return
	}
	if rng, _, ok := strings.Cut(name, "/"); ok && kind == aRow && s != nil && !s.tables[aRange].has(rng) {
		kind, name = aRange, rng
	}
	if perUnit(kind) && r.again(s, name, at) {
		return
	}
	noun := kindTexts[kind].noun
	detail := ""
	if near := nearest(name, r.table(kind, s).names); near != "" {
		detail = fmt.Sprintf("Did you mean %q?", near)
	}
	if other, ok := r.elsewhere(kind, s, name); ok {
		detail = hint(fmt.Sprintf("%q is %s, but here %s belongs: %s.", name, article(kindTexts[other].noun), article(noun), kindTexts[kind].is), detail)
	} else if detail == "" {
		detail = didYouMean(name, r.table(kind, s).names)
		if detail == "" {
			detail = fmt.Sprintf("No %s of this name is in the files that were read.", noun)
		}
	}
	r.Error(at, fmt.Sprintf("unknown %s %q", noun, syntax.Clip(name)), detail)
}

// elsewhere finds the kind that does have this name.
func (r *resolver) elsewhere(kind lookKind, s *scope, name string) (lookKind, bool) {
	base := engine.ParseFindingName(name).Name
	for k := lookKind(0); k < lookKinds; k++ {
		if k == kind || k == anApplied || k == aMeasure {
			continue
		}
		try := name
		if k == aFinding {
			try = base
		}
		if kind == anApplied && k == anElement && !r.table(aOneWay, s).has(name) {
			// The converter clutch: an element, but of no row's apply list.
			if r.table(anElement, s).has(name) {
				return anElement, true
			}
			continue
		}
		if r.table(k, s).has(try) {
			if k == anElement && r.table(aOneWay, s).has(name) {
				return aOneWay, true
			}
			return k, true
		}
	}
	return 0, false
}

// article puts "a" or "an" before a noun.
func article(noun string) string {
	if strings.IndexByte("aei", noun[0]) >= 0 {
		return "an " + noun
	}
	return "a " + noun
}

func hint(a, b string) string {
	switch {
	case a == "":
		return b
	case b == "":
		return a
	}
	return a + " " + b
}
