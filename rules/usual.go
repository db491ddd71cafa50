package rules

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"slipcase/engine"
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
		if n.spec != unitSpec || n.broken || n.orphan || !asksForUsual(n) {
			continue
		}
		text := newMaker(n, usuals).text()
		in := readOne(input{layer: n.src.layer, show: "usual parts of " + n.label(0), src: []byte(text), unit: n.label(0), free: true})
		for _, d := range in.diags.list {
			l.add(d)
		}
		for _, made := range in.nodes {
			if made.spec == unitSpec {
				markMade(made)
				o := overlay(&l.problems, made, n)
				o.labels, o.orphan = n.labels, n.orphan
				list[i] = o
			}
		}
	}
	return list
}

func asksForUsual(n *node) bool {
	a := n.attr("parts")
	return a != nil && a.Value.Text == "usual"
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
	steps  []string          // names of steps made so far
	out    strings.Builder
}

// newMaker reads as much of a unit as the usual parts depend on.
func newMaker(n *node, usuals []*node) *maker {
	d := newDecoder() // its diagnostics are told when the whole unit is read
	s := d.unit(n)
	m := &maker{u: s.unit, usuals: usuals, values: d.values, feed: map[string]string{}}
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
}

func (m *maker) text() string {
	fmt.Fprintf(&m.out, "language = %d\nunit %q {\n", LanguageVersion, m.u.ID)
	m.circuits()
	things := m.things()
	for _, t := range things {
		for _, n := range m.of(t) {
			for _, c := range n.blocks {
				if c.spec.name == "component" {
					m.component(c, t)
				}
			}
		}
	}
	m.teardown(things)
	m.out.WriteString("}\n")
	return m.out.String()
}

// of lists the usual blocks for a thing that hold on this unit.
func (m *maker) of(t thing) []*node {
	var out []*node
	for _, n := range m.usuals {
		if n.label(0) == t.what && m.holds(plain(m.names(n, "only"))) {
			out = append(out, n)
		}
	}
	return out
}

// holds compares `only` with the unit: of the words for which wheels, which
// controls and which solenoids, where any of a group is named, one must fit.
func (m *maker) holds(only []string) bool {
	drive, controls := m.u.Drive, m.u.Controls
	if drive == "" {
		drive = "rear"
	}
	if controls == "" {
		controls = "hydraulic"
		if len(m.u.Solenoids) > 0 {
			controls = "electronic"
		}
	}
	has := map[string]bool{drive: true, controls: true}
	for _, s := range m.u.Solenoids {
		has[s.Kind+"_solenoids"] = true
	}
	if !has["shift_solenoids"] && !has["clutch_solenoids"] {
		has["no_solenoids"] = true
	}
	for _, group := range [][]string{{"rear", "front", "all"}, controlsWords, {"shift_solenoids", "clutch_solenoids", "no_solenoids"}} {
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
		return strings.ReplaceAll(name, "_", " ")
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
		out = append(out, thing{what: string(e.Kind), name: e.Name, stem: m.stems[e.Name], title: title(e.Title, e.Name), target: m.ref("element", e.Name)})
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
	return kind + "[" + quoted(name) + "]"
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
				m.begin(n, "circuit", name)
				m.put("title", quoted(m.retitle(m.values.text(c, "title"), t)))
				if isMain {
					m.put("main", "true")
				} else {
					m.put("feeds", "["+quoted(t.name)+"]")
					m.feed[t.name] = name
				}
				m.putText(c, "tap", t)
				m.end()
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
		case "feeds", "clutch_feeds":
			for _, e := range m.u.Elements {
				if f := m.feed[e.Name]; f != "" && e.Kind != engine.ConverterClutch && (w == "feeds" || e.Kind == engine.Clutch) {
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
	m.begin(c, "component", m.fill(c.label(0), t))
	m.put("title", quoted(m.retitle(m.values.text(c, "title"), t)))
	m.put("kind", m.name(c, "kind"))
	m.put("serves", "["+strings.Join(serves, ", ")+"]")
	m.put("at", quoted(m.fill(m.name(c, "at"), t)))
	m.putText(c, "bench", t)
	m.end()
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
		name := m.fill(c.label(0), t)
		var after []string
		for _, a := range plain(m.names(c, "after")) {
			if a == "previous" {
				after = append(after, previous...)
				continue
			}
			after = append(after, m.fill(a, t))
		}
		if slices.Contains(m.steps, name) {
			continue
		}
		m.steps = append(m.steps, name)
		takes = append(takes, name)
		m.begin(c, "step", name)
		m.put("title", quoted(m.retitle(m.values.text(c, "title"), t)))
		if st := m.word(c, "stage"); st != "" {
			m.put("stage", st)
		}
		if pulls, _ := m.truth(c, "pulls"); pulls {
			m.put("pulls", "true")
		}
		m.putList("after", after)
		for _, a := range []string{"minutes", "refit", "repair"} {
			if c.attr(a) != nil {
				m.put(a, c.attr(a).Value.Text)
			}
		}
		var measure []string
		for _, x := range plain(m.texts(c, "measure")) {
			measure = append(measure, m.retitle(x, t))
		}
		m.putList("measure", measure)
		m.putList("look", plain(m.texts(c, "look")))
		m.putList("cautions", plain(m.names(c, "cautions")))
		m.end()
	}
	return takes
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

func (m *maker) begin(n *node, typ, name string) {
	fmt.Fprintf(&m.out, "  %s %q {\n", typ, name)
	if b := n.basis; b != nil {
		fmt.Fprintf(&m.out, "    basis %q {\n", string(b.Kind))
		if b.Note != "" {
			fmt.Fprintf(&m.out, "      note = %s\n", quoted(b.Note))
		}
		if b.Cite != "" {
			fmt.Fprintf(&m.out, "      cite = %s\n", quoted(b.Cite))
		}
		m.out.WriteString("    }\n")
	}
}

func (m *maker) put(name, value string) { fmt.Fprintf(&m.out, "    %s = %s\n", name, value) }

func (m *maker) putText(n *node, name string, t thing) {
	if s := m.values.text(n, name); s != "" {
		m.put(name, quoted(m.retitle(s, t)))
	}
}

func (m *maker) putList(name string, list []string) {
	if len(list) == 0 {
		return
	}
	items := make([]string, len(list))
	for i, s := range list {
		items[i] = quoted(s)
	}
	m.put(name, "["+strings.Join(items, ", ")+"]")
}

func (m *maker) end() { m.out.WriteString("  }\n") }

// quoted is a text as the language writes it. Titles are read from files that
// the reader has passed, so they hold no template and no control character.
func quoted(s string) string {
	return strconv.Quote(s)
}
