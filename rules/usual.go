package rules

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/rules/syntax"
)

// usual lays the usual parts under every unit that asks for them: circuits,
// components and steps that its elements, solenoids, joints, gearsets, shifts
// and its layout usually have. They are written as the text of a unit file and
// read like one, so that they are overridden and dropped like anything else of
// a lower layer, and can be printed for editing.
func (l *loader) usual(list []*node) []*node {
	var usuals []*node
	for _, n := range list {
		if n.spec == usualSpec && !n.broken {
			usuals = append(usuals, n)
		}
	}
	for i, n := range list {
		if n.spec != unitSpec || n.broken || n.orphan {
			continue
		}
		if !asksForUsual(n) && !l.needsUsual(n) {
			continue
		}
		m := newMaker(n, usuals)
		before := len(l.problems.List)
		text := m.text()
		m.own.untaken(&l.problems, m.byName)
		l.unusual(m, n)
		foreign := l.problems.take(&engine.Unit{Like: n.likes}, before)
		in := readOne(input{layer: n.src.layer, show: MadeFile(n.label(0)), src: []byte(text), unit: n.label(0), free: true})
		for _, d := range in.diags.List {
			l.Add(d)
		}
		for _, made := range in.nodes {
			if made.spec == unitSpec {
				markMade(made)
				o := overlay(&l.problems, made, n)
				l.repeats(made, n, "What the usual parts make", func(file string) bool { return n.likes == nil || ownFile(n.likes, file) })
				o.labels, o.orphan, o.likes, o.foreign = n.labels, n.orphan, n.likes, foreign
				o.dropping(n, m)
				list[i] = o
			}
		}
	}
	return list
}

func asksForUsual(n *node) bool {
	return n.attr("parts") != nil // another word than usual is told, and meant so
}

func markMade(n *node) {
	n.made = true
	for _, c := range n.blocks {
		markMade(c)
	}
}

// maker writes the usual parts of one unit.
type maker struct {
	u      *engine.Unit
	usuals []*node
	values                   // reads the templates; what is wrong in them is told where they stand
	front  []string          // in which order things come out
	stems  map[string]string // element -> its name in made names
	feed   map[string]string // element -> the circuit that feeds it
	own    owned             // what the unit's file says of made things by name
	blocks []*made           // what is made, in the order of the file
	byName map[string]*made  // by type and name
}

// newMaker reads as much of a unit as the usual parts depend on.
func newMaker(n *node, usuals []*node) *maker {
	d := newDecoder() // its diagnostics are told when the whole unit is read
	s := d.unit(n)
	m := &maker{u: s.unit, usuals: usuals, values: d.values, feed: map[string]string{}, own: ownedBy(n, d.values), byName: map[string]*made{}}
	m.stem()
	m.order(plain(d.names(n, "front_to_back")))
	for i := range m.u.Circuits {
		c := &m.u.Circuits[i]
		for _, e := range c.Feeds {
			if m.feed[e] == "" && !c.Main {
				m.feed[e] = c.Name
			}
		}
	}
	return m
}

// stem finds short names: front_clutch_plates, but overdrive_servo of the
// overdrive_band, where no other element has that stem.
func (m *maker) stem() {
	m.stems = map[string]string{}
	count := map[string]int{}
	cut := func(name string) string {
		for _, tail := range []string{"_band", "_brake"} {
			if s, ok := strings.CutSuffix(name, tail); ok && s != "" {
				return s
			}
		}
		return name
	}
	for _, e := range m.u.Elements {
		count[cut(e.Name)]++
	}
	for _, e := range m.u.Elements {
		s := cut(e.Name)
		if count[s] > 1 {
			s = e.Name
		}
		m.stems[e.Name] = s
	}
}

// order is front_to_back with what it leaves out behind it.
func (m *maker) order(stated []string) {
	m.front = stated
	add := func(name string) {
		if !slices.Contains(m.front, name) {
			m.front = append(m.front, name)
		}
	}
	for _, e := range m.u.Elements {
		if e.Kind != engine.ConverterClutch {
			add(e.Name)
		}
	}
	for _, g := range m.u.Train.Gearsets {
		add(g.Name)
	}
	for _, j := range m.u.Joints {
		add(j.Name)
	}
}

// thing is what a usual block is made for.
type thing struct {
	what, name, title string
	stem              string
	target            string   // as `serves` writes it; "" for the whole unit
	controls          []string // of a solenoid: the elements that it feeds
	screw             bool     // of a band: set in the vehicle
}

// text is the unit file of what is made.
func (m *maker) text() string {
	m.circuits()
	things := m.things()
	for _, t := range things {
		for _, n := range m.of(t) {
			for _, c := range n.blocks {
				switch c.spec.name {
				case "component":
					m.component(c, t)
				case "limit":
					m.limit(c, t)
				}
			}
		}
	}
	m.teardown(things)
	var out strings.Builder
	fmt.Fprintf(&out, "language = %d\nunit %q {\n", LanguageVersion, m.u.ID)
	for _, b := range m.blocks {
		b.write(&out)
	}
	out.WriteString("}\n")
	return out.String()
}

// of lists the usual blocks for a thing that hold on this unit.
func (m *maker) of(t thing) []*node {
	var out []*node
	for _, n := range m.usuals {
		if n.label(0) == t.what && m.holds(plain(m.names(n, "only")), t) {
			out = append(out, n)
		}
	}
	return out
}

// holds compares `only` with the unit and the thing: of the words for which wheels,
// which controls, which solenoids and which bands, where any of a group is named, one
// must fit.
func (m *maker) holds(only []string, t thing) bool {
	drive := m.u.Drive
	if drive == "" {
		drive = "rear"
	}
	has := map[string]bool{drive: true, m.u.ControlledBy(): true}
	for _, s := range m.u.Solenoids {
		has[s.Kind+"_solenoids"], has["some_solenoids"] = true, true
	}
	if !has["shift_solenoids"] && !has["clutch_solenoids"] {
		has["no_solenoids"] = true
	}
	has["screw"] = t.screw
	for _, group := range [][]string{{"rear", "front", "all"}, controlsWords, {"shift_solenoids", "clutch_solenoids", "no_solenoids", "some_solenoids"}, {"screw"}} {
		named, fits := false, false
		for _, w := range group {
			if slices.Contains(only, w) {
				named = true
				fits = fits || has[w]
			}
		}
		if named && !fits {
			return false
		}
	}
	return true
}

// things lists what usual blocks are for, in the order in which parts are
// written: the unit, then what it is made of.
func (m *maker) things() []thing {
	title := func(t, name string) string {
		if t != "" {
			return t
		}
		return engine.Spaced(name)
	}
	out := []thing{{what: "unit", name: m.u.ID, title: title(m.u.Title, m.u.ID)}}
	for _, s := range m.u.Solenoids {
		out = append(out, thing{what: s.Kind + "_solenoid", name: s.Name, stem: s.Name, title: title(s.Title, s.Name), target: m.ref("solenoid", s.Name), controls: s.Controls})
	}
	for _, s := range m.upshifts() {
		out = append(out, thing{what: "shift", name: s, stem: strings.ReplaceAll(s, "-", "_"), title: s, target: m.ref("shift", s)})
	}
	for _, r := range m.ranges() {
		out = append(out, thing{what: "range", name: r, stem: strings.ToLower(r), title: r, target: m.ref("range", r)})
	}
	for _, e := range m.u.Elements {
		out = append(out, thing{what: string(e.Kind), name: e.Name, stem: m.stems[e.Name], title: title(e.Title, e.Name), target: m.ref("element", e.Name), screw: e.Screw})
	}
	for _, g := range m.u.Train.Gearsets {
		t := title(g.Title, g.Name)
		if g.Title == "" {
			t += " gear set"
		}
		out = append(out, thing{what: "gearset", name: g.Name, stem: g.Name, title: t, target: m.ref("gearset", g.Name)})
	}
	for _, j := range m.u.Joints {
		out = append(out, thing{what: "joint", name: j.Name, stem: j.Name, title: title(j.Title, j.Name), target: m.ref("joint", j.Name)})
	}
	return out
}

func (m *maker) ref(kind, name string) string {
	if plainName.fits(name) {
		return kind + "." + name
	}
	return kind + "[" + syntax.Quote(name) + "]"
}

// upshifts are the shifts between neighboring forward gears, each once.
func (m *maker) upshifts() []string {
	var out []string
	for i := 1; i < len(m.u.Rows); i++ {
		a, b := m.u.Rows[i-1], m.u.Rows[i]
		s := a.Gear + "-" + b.Gear
		if a.Range == b.Range && a.Gear != b.Gear && driven(a) && driven(b) && !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// comesOn lists the elements that a shift applies.
func (m *maker) comesOn(shift string) []string {
	for i := 1; i < len(m.u.Rows); i++ {
		a, b := m.u.Rows[i-1], m.u.Rows[i]
		if a.Range == b.Range && a.Gear+"-"+b.Gear == shift {
			return slices.DeleteFunc(slices.Clone(b.Apply), func(e string) bool { return slices.Contains(a.Apply, e) })
		}
	}
	return nil
}

func driven(r engine.Row) bool { return r.Gear != "N" && r.Gear != "P" }

func (m *maker) ranges() []string {
	var out []string
	for _, r := range m.u.Rows {
		if driven(r) && !slices.Contains(out, r.Range) {
			out = append(out, r.Range)
		}
	}
	return out
}

// circuits are those that the unit does not have yet: line pressure, and a
// feed for each element that none feeds.
func (m *maker) circuits() {
	main := slices.ContainsFunc(m.u.Circuits, func(c engine.Circuit) bool { return c.Main })
	for _, t := range m.things() {
		for _, n := range m.of(t) {
			for _, c := range n.blocks {
				if c.spec.name != "circuit" {
					continue
				}
				isMain, _ := m.truth(c, "main")
				name := m.fill(c.label(0), t)
				if isMain && main || !isMain && m.feed[t.name] != "" {
					continue
				}
				b := m.begin(c, "circuit", name)
				b.put("title", syntax.Quote(m.retitle(m.values.text(c, "title"), t)))
				if isMain {
					b.put("main", "true")
				} else {
					b.list("feeds", syntax.Quote(t.name))
					m.feed[t.name] = name
				}
				m.putText(b, c, "tap", t)
			}
		}
	}
}

func (m *maker) component(c *node, t thing) {
	var serves []string
	add := func(list ...string) {
		for _, s := range list {
			if s != "" && !slices.Contains(serves, s) {
				serves = append(serves, s)
			}
		}
	}
	for _, w := range plain(m.names(c, "serves")) {
		switch w {
		case "self":
			add(t.target)
		case "feed":
			for _, e := range append([]string{t.name}, t.controls...) {
				if f := m.feed[e]; f != "" {
					add(m.ref("circuit", f))
				}
			}
		case "feeds", "clutch_feeds", "case_feeds":
			for _, e := range m.u.Elements {
				clutch := e.Kind == engine.Clutch
				if f := m.feed[e.Name]; f != "" && e.Kind != engine.ConverterClutch && (w == "feeds" || (w == "clutch_feeds") == clutch) {
					add(m.ref("circuit", f))
				}
			}
		case "on_feed":
			for _, e := range m.comesOn(t.name) {
				if f := m.feed[e]; f != "" {
					add(m.ref("circuit", f))
				}
			}
		case "line":
			add("circuit." + m.line())
		case "solenoids":
			for _, s := range m.u.Solenoids {
				add(m.ref("solenoid", s.Name))
			}
		case "shifts":
			for _, s := range m.upshifts() {
				add(m.ref("shift", s))
			}
		case "top_shift":
			if up := m.upshifts(); len(up) > 0 {
				add(m.ref("shift", up[len(up)-1]))
			}
		case "ranges":
			for _, r := range m.ranges() {
				add(m.ref("range", r))
			}
		case "converter", "unit":
			add(w)
		default:
			add(w) // an error where it is read
		}
	}
	if len(serves) == 0 {
		return // a part of something that this unit does not have
	}
	b := m.begin(c, "component", m.fill(c.label(0), t))
	b.put("title", syntax.Quote(m.retitle(m.values.text(c, "title"), t)))
	b.put("kind", m.name(c, "kind"))
	b.list("serves", serves...)
	b.put("at", syntax.Quote(m.now("step", m.fill(m.name(c, "at"), t))))
	m.putText(b, c, "bench", t)
}

// limit is one with figures of the trade, or a frame: what a limit of this name
// measures and where, for a unit that gives its figures.
func (m *maker) limit(c *node, t thing) {
	name := m.fill(c.label(0), t)
	figures := c.attr("low") != nil || c.attr("high") != nil || c.attr("between") != nil
	if !figures && m.own.limit(name) == nil {
		return
	}
	at, ok := m.place(m.values.text(c, "measures"), t)
	if !ok {
		return
	}
	b := m.begin(c, "limit", name)
	b.put("title", syntax.Quote(m.retitle(m.values.text(c, "title"), t)))
	for _, a := range []string{"component", "step", "check"} {
		if x := m.name(c, a); x != "" {
			b.put(a, syntax.Quote(m.now(a, m.fill(x, t))))
		}
	}
	if at != "" {
		b.put("measures", syntax.Quote(at))
	}
	for _, a := range []string{"low", "high", "between"} {
		if v := c.attr(a); v != nil {
			b.put(a, v.src.file.Src[v.Value.At.Start.Byte:v.Value.At.End.Byte])
		}
	}
}

// place fills in what a limit measures: a star is the thing's own name, D/launch
// the row that range D starts in. False where the unit has no such range.
func (m *maker) place(measures string, t thing) (string, bool) {
	finding, at, found := strings.Cut(measures, "@")
	if !found || t.what != "unit" {
		return strings.ReplaceAll(measures, "*", t.name), true
	}
	rng, launch := strings.CutSuffix(at, "/launch")
	for _, r := range m.u.Rows {
		switch {
		case r.Range != rng || !driven(r):
		case launch:
			return finding + "@" + r.Name(), true
		default:
			return measures, true
		}
	}
	return "", false
}

func (m *maker) line() string {
	for _, c := range m.u.Circuits {
		if c.Main {
			return c.Name
		}
	}
	return "line"
}

// teardown writes the steps: those of the layout, then for each thing in the
// order in which it comes out. "previous" in `after` is what has to be out
// before: the step that took out the thing in front of it.
func (m *maker) teardown(things []thing) {
	byName := map[string]thing{}
	previous := []string{}
	for _, t := range things {
		switch t.what {
		case "clutch", "brake", "band", "one_way", "gearset", "joint":
			byName[t.name] = t
			continue
		}
		for _, n := range m.of(t) {
			if f := m.name(n, "front"); f != "" {
				previous = []string{f}
			}
			m.stepsOf(n, t, false, nil)
		}
	}
	for _, name := range m.front {
		t, ok := byName[name]
		if !ok {
			continue
		}
		var now []string
		for _, n := range m.of(t) {
			m.stepsOf(n, t, false, nil)
			now = append(now, m.stepsOf(n, t, true, previous)...)
		}
		if len(now) > 0 {
			previous = now
		}
	}
	// What comes after everything in the stack.
	for _, t := range things {
		if _, stacked := byName[t.name]; !stacked {
			for _, n := range m.of(t) {
				m.stepsOf(n, t, true, previous)
			}
		}
	}
}

// stepsOf writes the steps of a block that hang on the thing in front, or those
// that do not, and gives their names.
func (m *maker) stepsOf(n *node, t thing, stacked bool, previous []string) []string {
	var takes []string
	for _, c := range n.blocks {
		if c.spec.name != "step" || slices.Contains(plain(m.names(c, "after")), "previous") != stacked {
			continue
		}
		var after []string
		for _, a := range plain(m.names(c, "after")) {
			if a == "previous" {
				after = append(after, previous...)
				continue
			}
			after = append(after, m.now("step", m.fill(a, t)))
		}
		name := m.fill(c.label(0), t)
		b := m.begin(c, "step", name)
		takes = append(takes, b.name)
		b.put("title", syntax.Quote(m.retitle(m.values.text(c, "title"), t)))
		if st := m.word(c, "stage"); st != "" {
			b.put("stage", st)
		}
		if pulls, _ := m.truth(c, "pulls"); pulls {
			b.put("pulls", "true")
		}
		b.list("after", quotedAll(after, b.name)...)
		for _, a := range []string{"minutes", "refit", "repair"} {
			if c.attr(a) != nil {
				b.put(a, c.attr(a).Value.Text)
			}
		}
		var measure []string
		for _, x := range plain(m.texts(c, "measure")) {
			if x = m.measured(n, x, t, b.name); x != "" {
				measure = append(measure, x)
			}
		}
		for _, l := range m.own.limits {
			if l.step == b.name {
				measure = append(measure, l.name)
			}
		}
		b.list("measure", quotedAll(measure)...)
		b.list("look", quotedAll(plain(m.texts(c, "look")))...)
		b.list("cautions", quotedAll(plain(m.names(c, "cautions")))...)
		b.list("same_as", quotedAll(plain(m.names(c, "same_as")))...)
	}
	return takes
}

// measured is what a step measures: a limit of the unit, if that is not measured
// at another step, or what the limit would be, its check or its title, where the
// unit gives no figures for it.
func (m *maker) measured(n *node, x string, t thing, step string) string {
	for _, c := range n.blocks {
		if c.spec.name != "limit" || c.label(0) != x {
			continue
		}
		name := m.fill(x, t)
		if l := m.own.limit(name); l != nil {
			if l.step == "" || l.step == step {
				return name
			}
			return ""
		}
		if x = m.name(c, "check"); x == "" {
			x = m.values.text(c, "title")
		}
	}
	return m.retitle(x, t)
}

// fill puts the thing's name in the place of the star: its own name where the
// star stands alone, its short one else.
func (m *maker) fill(pattern string, t thing) string {
	if pattern == "*" {
		return t.name
	}
	return strings.ReplaceAll(pattern, "*", t.stem)
}

func (m *maker) retitle(pattern string, t thing) string {
	return strings.ReplaceAll(pattern, "*", t.title)
}
