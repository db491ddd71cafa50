package rules

import (
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/quantity"
	"slipcase/rules/syntax"
)

// scope is a unit with the names that only it knows.
type scope struct {
	unit *engine.Unit
	tables
	foreign []engine.Diagnostic // of a unit like another one: what stands in the other's file
	members map[string]int      // how often each member of the gear train is named
	places  []memberPlace
	byPer   map[engine.Per][]string // places of finding templates, once asked for
	order   []named                 // front_to_back
	dropped map[string]engine.Range // what the unit's file drops, by name
	excused excuses
	orphan  bool // like a unit that could not be found: what it names may be that one's
}

// memberPlace is one place where a member of the gear train is named.
type memberPlace struct {
	name string
	at   engine.Range
}

// member notes a member of the gear train; members are declared by being
// named, so a name that stands only once is most likely a slip of the pen.
func (d *decoder) member(s *scope, n *node, name string) string {
	m := d.nameAt(n, name)
	s.noteMember(m)
	return m.text
}

func (s *scope) noteMember(m named) {
	if m.text == "" || m.text == engine.CaseMember {
		return
	}
	s.members[m.text]++
	s.places = append(s.places, memberPlace{m.text, m.at})
}

// two are the two members that a clutch or joint joins.
func (d *decoder) two(s *scope, n *node) (a, b string) {
	list := d.names(n, "joins")
	if len(list) != 2 {
		if at := n.attr("joins"); at != nil && at.Value.Kind == syntax.List && len(at.Value.Items) != 2 {
			d.Error(at.at(), n.spec.name+" joins two members", "Write: joins = [\"turbine\", \"small_sun\"]")
		}
		return "", ""
	}
	for _, m := range list {
		s.noteMember(m)
	}
	return list[0].text, list[1].text
}

// unit fills a unit from its merged node.
func (d *decoder) unit(n *node) *scope {
	d.required(n)
	u := &engine.Unit{ID: n.label(0), Like: n.likes, Title: d.text(n, "title"), Note: d.text(n, "note"), Drive: d.word(n, "drive"),
		Controls: d.word(n, "controls"), At: n.at(), Basis: n.basis}
	s := &scope{unit: u, members: map[string]int{}, order: d.names(n, "front_to_back"), dropped: n.dropped, excused: excusedBy(n), orphan: n.orphan}
	d.word(n, "parts")
	train := false
	for _, c := range n.blocks {
		if c.broken {
			continue
		}
		d.required(c)
		switch c.spec.name {
		case "train":
			if train {
				d.Error(c.at(), "train given twice", "A unit has one gear train; put all gearsets into one block.")
				continue
			}
			train = true
			d.train(s, c)
		case "clutch", "brake", "band", "one_way", "converter_clutch":
			d.element(s, c)
		case "joint":
			j := engine.Joint{Name: c.label(0), Title: d.text(c, "title"), At: c.at()}
			j.A, j.B = d.two(s, c)
			u.Joints = append(u.Joints, j)
		case "circuit":
			main, _ := d.truth(c, "main")
			u.Circuits = append(u.Circuits, engine.Circuit{Name: c.label(0), Title: d.text(c, "title"), Main: main,
				Feeds: d.look(anElement, s, d.names(c, "feeds")), Releases: d.look(anElement, s, d.names(c, "releases")), Tap: d.text(c, "tap"), Made: c.made, At: c.at()})
		case "solenoid":
			kind := d.word(c, "kind")
			switch {
			case kind != "":
			case c.attr("kind") == nil && c.attr("controls") != nil:
				kind = "clutch"
			default:
				kind = "shift"
			}
			sol := engine.Solenoid{Name: c.label(0), Title: d.text(c, "title"), Kind: kind, At: c.at(),
				Controls: d.look(anApplied, s, d.names(c, "controls")), Applied: d.word(c, "rest") == "applied"}
			switch controls, rest := c.attr("controls"), c.attr("rest"); {
			case d.word(c, "kind") == "" && c.attr("kind") != nil: // told; the others may be right
			case kind != "clutch" && controls == nil && rest != nil:
				d.Error(rest.nameAt(), c.title()+": rest is said of a clutch solenoid", "It tells whether the clutch that a solenoid feeds is on without current: controls = [\"forward\"]. Of any other kind it changes nothing.")
			case (kind == "clutch") != (controls != nil):
				d.Error(c.at(), c.title()+": kind and controls do not go together", "A solenoid that feeds one clutch or brake by itself names it, and its kind is clutch: controls = [\"forward\"]. Any other kind has no controls.")
			}
			if sol.Title == "" {
				sol.Title = kindTitle(sol.Name, "solenoid")
			}
			u.Solenoids = append(u.Solenoids, sol)
		case "row":
			d.row(s, c)
		case "failsafe":
			if u.Failsafe == nil {
				u.Failsafe = map[string]engine.Failsafe{}
			}
			gear := d.nameAt(c, "gear")
			powered, _ := d.truth(c, "powered")
			u.Failsafe[c.label(0)] = engine.Failsafe{Gear: gear.text, ByValve: d.look(anElement, s, d.names(c, "by_valve")), Powered: powered, At: c.at()}
			if gear.text != "" {
				row := c.label(0) + "/" + gear.text
				d.lookOne(aRow, s, named{row, gear.at}, func(string) {})
			}
		case "pressure":
			p := engine.PressurePoint{State: c.label(0), Range: c.label(1), At: c.at(), Basis: c.basis}
			if p.State != "idle" && p.State != "load" {
				d.Error(c.labelAt(0), "unknown state "+p.State, "Line pressure is taken at idle or under load: pressure \"idle\" \"R\" {")
			}
			d.lookOne(aRange, s, named{p.Range, c.labelAt(1)}, func(string) {})
			p.Low, p.High, _, _ = d.limits(c, quantity.Pressure)
			u.Pressures = append(u.Pressures, p)
		case "frequency":
			if c.label(1) == "" {
				d.rate(s, c, &u.Frequency)
			} else {
				d.rateOf(s, c)
			}
		case "formerly":
			u.Formerly = append(u.Formerly, engine.Renamed{Old: c.label(0), Now: d.name(c, "now"), At: c.at()})
		case "component":
			d.component(s, c)
		case "step":
			d.step(s, c)
		case "limit":
			l := engine.Limit{Name: c.label(0), Title: d.text(c, "title"), Component: d.name(c, "component"), Step: d.name(c, "step"), Check: d.name(c, "check"), Measures: d.text(c, "measures"), Made: c.made, At: c.at(), Basis: c.basis}
			l.Low, l.High, l.LowAt, l.HighAt = d.limits(c, "")
			i := len(u.Limits)
			d.lookOne(aComponent, s, d.nameAt(c, "component"), func(x string) { u.Limits[i].Component = x })
			d.lookOne(aStep, s, d.nameAt(c, "step"), func(x string) { u.Limits[i].Step = x })
			d.lookOne(aCheck, nil, d.nameAt(c, "check"), func(x string) { u.Limits[i].Check = x })
			u.Limits = append(u.Limits, l)
		}
	}
	if !train && !n.orphan && !s.excused.block {
		d.Error(n.at(), n.title()+" without a train", "Its gear train says what the rows do: train { input = \"turbine\" … }")
	}
	seenAt(u)
	usualPressures(u)
	d.k.Units = append(d.k.Units, u)
	return s
}

// usualPressures gives a unit without a pressure table one without limits: low
// in reverse is a finding all the same.
func usualPressures(u *engine.Unit) {
	if len(u.Pressures) > 0 {
		return
	}
	for _, state := range []string{"idle", "load"} {
		seen := map[string]bool{}
		for _, r := range u.Rows {
			standing := r.Gear == "P" || r.Gear == "N"
			if seen[r.Range] || standing && state == "load" {
				continue
			}
			seen[r.Range] = true
			u.Pressures = append(u.Pressures, engine.PressurePoint{State: state, Range: r.Range, At: u.At})
		}
	}
}

func (d *decoder) train(s *scope, n *node) {
	t := &s.unit.Train
	if d.oneInput(n) {
		t.Input = d.member(s, n, "input")
	}
	t.Output, t.At = d.member(s, n, "output"), n.at()
	for _, c := range n.blocks {
		if c.broken {
			continue
		}
		d.required(c)
		g := engine.Gearset{Name: c.label(0), Title: d.text(c, "title"), Kind: engine.GearsetKind(d.word(c, "kind")),
			Sun: d.member(s, c, "sun"), Carrier: d.member(s, c, "carrier"), Ring: d.member(s, c, "ring"), At: c.at(), Basis: c.basis}
		d.teeth(c, &g)
		if g.SunTeeth > 0 && g.RingTeeth > 0 && g.RingTeeth <= g.SunTeeth && g.Carrier != engine.CaseMember {
			d.Error(c.attr("teeth").at(), "ring with no more teeth than its sun", "The ring goes around the sun and has more teeth. Order: teeth = [sun, ring]")
		}
		t.Gearsets = append(t.Gearsets, g)
	}
}

func (d *decoder) element(s *scope, n *node) {
	e := engine.Element{Name: n.label(0), Title: d.text(n, "title"), At: n.at(), Basis: n.basis,
		MovedWith: d.look(anApplied, s, d.names(n, "moved_with"))}
	switch n.spec.name {
	case "clutch":
		e.Kind = engine.Clutch
		e.A, e.B = d.two(s, n)
		if e.A == engine.CaseMember || e.B == engine.CaseMember {
			d.Error(n.attr("joins").at(), n.title()+" joins the case", "What holds a member to the case is a brake, which has other parts: brake \"name\" { holds = \"member\" }")
		}
	case "brake":
		e.Kind, e.A, e.B = engine.Brake, d.member(s, n, "holds"), engine.CaseMember
	case "band":
		e.Kind, e.A, e.B = engine.Band, d.member(s, n, "holds"), engine.CaseMember
		e.Screw, _ = d.truth(n, "screw")
		if w := d.integer(n, "wraps"); w > 1 {
			d.Error(n.attr("wraps").at(), "wraps is 1 or -1", "It is the direction of drum torque that tightens the band by itself: 1 with the engine, -1 against it.")
		} else {
			e.Wraps = int(w)
		}
	case "one_way":
		e.Kind, e.A, e.B = engine.OneWay, d.member(s, n, "stops"), d.member(s, n, "against")
		if n.attr("against") == nil {
			e.B = engine.CaseMember
		}
	case "converter_clutch":
		e.Kind = engine.ConverterClutch
	}
	if e.Title == "" && e.Kind != engine.ConverterClutch {
		e.Title = kindTitle(e.Name, n.spec.name)
	}
	s.unit.Elements = append(s.unit.Elements, e)
}

// kindTitle is what is called by its name and kind where it has no title:
// clutch "forward" is the forward clutch, band "rear_band" the rear band,
// one_way "low_roller" the low roller clutch. Charts print elements as a letter
// or one with a digit: clutch "c1" is the C1 clutch, one_way "f2" the F2 one-way clutch.
func kindTitle(name, kind string) string {
	title := engine.Spaced(name)
	symbol := len(name) == 1 || len(name) == 2 && name[1] >= '0' && name[1] <= '9'
	if symbol {
		title = strings.ToUpper(title)
	}
	if kind == "one_way" {
		title, kind = strings.ReplaceAll(title, "one way", "one-way"), "clutch"
		if symbol {
			kind = "one-way clutch"
		}
	}
	if strings.HasSuffix(title, kind) {
		return title
	}
	return title + " " + kind
}

func (d *decoder) row(s *scope, n *node) {
	r := engine.Row{Range: n.label(0), Gear: n.label(1), At: n.at(), Basis: n.basis,
		Apply:           d.look(anApplied, s, d.names(n, "apply")),
		Holding:         d.look(aOneWay, s, d.names(n, "holding")),
		HoldingStated:   n.attr("holding") != nil,
		Solenoids:       d.look(aSolenoid, s, d.names(n, "solenoids")),
		SolenoidsStated: n.attr("solenoids") != nil,
		ConverterFactor: d.factor(n, "converter"), PressureFactor: d.factor(n, "pressure")}
	r.Ratio, r.RatioText, r.RatioAt = d.ratio(n, "ratio")
	r.Lockup, _ = d.truth(n, "lockup")
	if eb, stated := d.truth(n, "engine_braking"); stated {
		r.EngineBraking = &eb
	}
	s.unit.Rows = append(s.unit.Rows, r)
}

// factor is a number above 0; the zero Number when it is not stated.
func (d *decoder) factor(n *node, name string) engine.Number {
	if n.attr(name) == nil {
		return engine.Number{}
	}
	f := d.number(n, name)
	if f.Value == 0 {
		if n.attr(name).Value.Text == "0" {
			d.Error(f.At, name+" 0", "It is a factor; 1 is ordinary.")
		}
		f.Value = 1
	}
	return f
}

func (d *decoder) component(s *scope, n *node) {
	c := engine.Component{Name: n.label(0), Title: d.text(n, "title"), Kind: d.name(n, "kind"), Serves: d.targets(n),
		Formerly: plain(d.names(n, "formerly")), Bench: d.text(n, "bench"), At: n.at(), Basis: n.basis}
	c.Made = n.made
	i, u := len(s.unit.Components), s.unit
	c.SeenAt = d.name(n, "at")
	d.lookOne(aStep, s, d.nameAt(n, "at"), func(string) {})
	d.lookOne(aKind, s, d.nameAt(n, "kind"), func(x string) { u.Components[i].Kind = x })
	for _, f := range n.blocks {
		d.required(f)
		if f.broken {
			continue
		}
		d.rate(s, f, &c.Frequency)
	}
	s.unit.Components = append(s.unit.Components, c)
}

// rate reads a frequency block into a table of rates by mode.
func (d *decoder) rate(s *scope, n *node, into *map[string]engine.Number) {
	if *into == nil {
		*into = map[string]engine.Number{}
	}
	m, old := *into, n.label(0)
	m[old] = d.number(n, "rate")
	d.lookOne(aMode, s, named{old, n.labelAt(0)}, func(x string) {
		if x != old {
			m[x] = m[old]
			delete(m, old)
		}
	})
}

// rateOf reads a frequency block of a unit that names a component. What the
// component says itself stands.
func (d *decoder) rateOf(s *scope, n *node) {
	mode, rate := n.label(0), d.number(n, "rate")
	d.lookOne(aMode, s, named{mode, n.labelAt(0)}, func(x string) { mode = x })
	d.lookOne(aComponent, s, named{n.label(1), n.labelAt(1)}, func(x string) {
		for i := range s.unit.Components {
			c := &s.unit.Components[i]
			if _, own := c.Frequency[mode]; c.Name != x || own {
				continue
			}
			if c.Frequency == nil {
				c.Frequency = map[string]engine.Number{}
			}
			c.Frequency[mode] = rate
		}
	})
}

func (d *decoder) step(s *scope, n *node) {
	pulls, _ := d.truth(n, "pulls")
	st := engine.Step{Name: n.label(0), Title: d.text(n, "title"), Stage: engine.Stage(d.word(n, "stage")),
		After: d.look(aStep, s, d.names(n, "after")), Minutes: d.number(n, "minutes"),
		Exposes: d.look(aComponent, s, d.names(n, "exposes")), Measure: d.look(aMeasure, s, d.texts(n, "measure")), Look: plain(d.texts(n, "look")),
		Cautions: d.look(aCaution, s, d.names(n, "cautions")), SameAs: d.look(aCheck, nil, d.names(n, "same_as")), Pulls: pulls,
		Repair: d.number(n, "repair"), Refit: d.number(n, "refit"), At: n.at(), Basis: n.basis}
	if st.Stage == "" {
		st.Stage = engine.StageTeardown
		if pulls {
			st.Stage = engine.StagePulled
		}
	}
	st.Made = n.made
	s.unit.Steps = append(s.unit.Steps, st)
}

// seenAt adds each component that says where it comes into view to its step.
func seenAt(u *engine.Unit) {
	step := map[string]*engine.Step{}
	for i := range u.Steps {
		step[u.Steps[i].Name] = &u.Steps[i]
	}
	for i := range u.Components {
		c := &u.Components[i]
		if st := step[c.SeenAt]; st != nil && !slices.Contains(st.Exposes, c.Name) {
			st.Exposes = append(st.Exposes, c.Name)
		}
	}
}
