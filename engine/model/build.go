package model

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/engine/geartrain"
	"slipcase/engine/network"
)

// partMark separates a finding's name from its hidden parts: "slips@D/3§" is
// what shows in any condition, "slips@D/3§hot" what only heat brings out,
// "slips@D/3§any" and "slips@D/3:hot§" the names as ORs of the parts.
const partMark = "§"

// draft is a node while its parents are still names.
type draft struct {
	node  Node
	leak  engine.Number
	duty  float64 // scales leak
	links []draftLink
	seen  map[string]int // parent -> index in links
}

type draftLink struct {
	parent   string
	strength float64
	source   LinkSource
}

// sighted is one rule's contribution to a finding, in one condition.
type sighted struct {
	parent   string
	when     engine.Condition
	strength float64
	source   LinkSource
}

type builder struct {
	k       *engine.Knowledge
	u       *engine.Unit
	m       *Model
	drafts  map[string]*draft
	order   []string // keys in order of creation
	causes  map[string]bool
	stress  map[string]bool
	modes   map[string]*engine.Mode
	find    map[string]*engine.Finding // templates by name
	places  map[engine.Per][]string
	found   map[string][]sighted // plain finding -> contributions
	effects []Effect
	coded   map[string]bool // plain findings that codes name
}

func newBuilder(k *engine.Knowledge, u *engine.Unit, machine *geartrain.Machine) *builder {
	m := &Model{
		Knowledge: k, Unit: u, Machine: machine,
		byName: map[string]int{}, modesOf: map[string][]int{},
		kinds: map[string]*engine.Kind{}, reporters: map[string]*engine.Reporter{},
		sights: map[string][]Sighting{}, gears: stepsOf(machine),
	}
	for i := range k.Kinds {
		m.kinds[k.Kinds[i].Name] = &k.Kinds[i]
	}
	for i := range k.Reporters {
		m.reporters[k.Reporters[i].Name] = &k.Reporters[i]
	}
	b := &builder{
		k: k, u: u, m: m,
		drafts: map[string]*draft{}, causes: map[string]bool{}, stress: map[string]bool{},
		modes: map[string]*engine.Mode{}, find: map[string]*engine.Finding{},
		found: map[string][]sighted{},
	}
	for _, c := range k.Causes {
		b.causes[c.Name] = true
	}
	for _, s := range k.Stresses {
		b.stress[s.Name] = true
	}
	for i := range k.Modes {
		b.modes[k.Modes[i].Name] = &k.Modes[i]
	}
	for i := range k.Findings {
		b.find[k.Findings[i].Name] = &k.Findings[i]
	}
	b.places = placesOf(u, machine)
	return b
}

// placesOf lists the places that findings of each kind are made for.
func placesOf(u *engine.Unit, machine *geartrain.Machine) map[engine.Per][]string {
	p := map[engine.Per][]string{engine.PerUnit: {""}}
	ranges := map[string]bool{}
	for _, r := range u.Rows {
		p[engine.PerRow] = append(p[engine.PerRow], r.Name())
		if !ranges[r.Range] && r.Gear != "N" && r.Gear != "P" {
			ranges[r.Range] = true
			p[engine.PerEngagement] = append(p[engine.PerEngagement], r.Range)
		}
	}
	p[engine.PerRowGear] = p[engine.PerRow]
	for _, s := range slices.Concat(machine.Shifts(), machine.Downshifts(), machine.SkipUps(), machine.LeverShifts()) {
		p[engine.PerShift] = append(p[engine.PerShift], s.Place())
	}
	for _, x := range u.Pressures {
		p[engine.PerPressure] = append(p[engine.PerPressure], x.Place())
	}
	for _, x := range u.Circuits {
		p[engine.PerCircuit] = append(p[engine.PerCircuit], x.Name)
	}
	for _, x := range u.Elements {
		p[engine.PerElement] = append(p[engine.PerElement], x.Name)
	}
	for _, x := range u.Solenoids {
		p[engine.PerSolenoid] = append(p[engine.PerSolenoid], x.Name)
	}
	for _, x := range u.Limits {
		if x.Measures == "" {
			p[engine.PerLimit] = append(p[engine.PerLimit], x.Name)
		}
	}
	return p
}

func (b *builder) add(key string, n Node, leak engine.Number) *draft {
	if d, ok := b.drafts[key]; ok {
		return d
	}
	n.Name = key
	d := &draft{node: n, leak: leak, duty: 1, seen: map[string]int{}}
	b.drafts[key] = d
	b.order = append(b.order, key)
	return d
}

// link adds an arrow; of two arrows between the same nodes the stronger stays.
func (d *draft) link(parent string, strength float64, src LinkSource) {
	if strength <= 0 {
		return
	}
	if strength > 1 {
		strength = 1
	}
	if i, ok := d.seen[parent]; ok {
		if strength > d.links[i].strength {
			d.links[i] = draftLink{parent, strength, src}
		}
		return
	}
	d.seen[parent] = len(d.links)
	d.links = append(d.links, draftLink{parent, strength, src})
}

// from is the strength of the arrow from a parent, 0 without one.
func (d *draft) from(parent string) float64 {
	if i, ok := d.seen[parent]; ok {
		return d.links[i].strength
	}
	return 0
}

func source(n engine.Number, block string) LinkSource {
	return LinkSource{Number: n, Factor: 1, Block: block}
}

func (b *builder) build() error {
	for i := range b.k.Causes {
		c := &b.k.Causes[i]
		b.add(c.Name, Node{Layer: CauseLayer, Title: engine.TitleOr(c.Title, c.Name), Cause: c}, c.Frequency)
	}
	for i := range b.k.Stresses {
		s := &b.k.Stresses[i]
		b.add(s.Name, Node{Layer: StressLayer, Title: engine.TitleOr(s.Title, s.Name), Stress: s}, engine.Number{})
	}
	b.addModes()
	b.addBecause()
	b.addEffects()
	b.addCauseSigns()
	b.addFindings()
	b.addCodes()
	return b.freeze()
}

// suspect is the name of a mode node.
func suspect(component, mode string) string { return component + "/" + mode }

func (b *builder) addModes() {
	duties := b.duties()
	for i := range b.u.Components {
		c := &b.u.Components[i]
		for j := range b.k.Modes {
			mode := &b.k.Modes[j]
			if !slices.Contains(mode.Of, c.Kind) {
				continue
			}
			leak, duty := mode.Frequency, duties(mode, c)
			if own, ok := b.u.Frequency[mode.Name]; ok {
				leak = own
			}
			if own, ok := c.Frequency[mode.Name]; ok {
				leak, duty = own, 1
			}
			d := b.add(suspect(c.Name, mode.Name), Node{Layer: ModeLayer, Title: engine.TitleOr(c.Title, c.Name) + ": " + engine.TitleOr(mode.Title, mode.Name), Component: c, Mode: mode}, leak)
			d.duty = duty
		}
	}
}

// each calls f for every component with a mode.
func (b *builder) each(f func(c *engine.Component, mode *engine.Mode, d *draft)) {
	for _, key := range append([]string(nil), b.order...) {
		if d := b.drafts[key]; d.node.Layer == ModeLayer {
			f(d.node.Component, d.node.Mode, d)
		}
	}
}

func (b *builder) addBecause() {
	for i := range b.k.Causes {
		c := &b.k.Causes[i]
		for _, l := range c.Stresses {
			if b.stress[l.To] {
				b.drafts[l.To].link(c.Name, l.Strength.Value, source(l.Strength, "cause "+c.Name))
			}
		}
	}
	b.each(func(c *engine.Component, mode *engine.Mode, d *draft) {
		for _, l := range mode.Stresses {
			if b.stress[l.To] {
				b.drafts[l.To].link(d.node.Name, l.Strength.Value, source(l.Strength, "mode "+mode.Name))
			}
		}
		for _, because := range mode.Because {
			src := source(because.Strength, "mode "+mode.Name)
			switch {
			case b.stress[because.Of] || b.causes[because.Of]:
				d.link(because.Of, because.Strength.Value, src)
			case b.modes[because.Of] != nil:
				b.each(func(other *engine.Component, m2 *engine.Mode, d2 *draft) {
					if m2.Name != because.Of || d2 == d || !b.inScope(because.Scope, c, other) {
						return
					}
					d.link(d2.node.Name, because.Strength.Value, src)
				})
			}
		}
	})
}

// inScope tells whether a mode of other may cause one of c.
func (b *builder) inScope(scope string, c, other *engine.Component) bool {
	switch scope {
	case "any":
		return true
	case "same":
		return c == other
	case "against":
		return c != other && b.against(c, other)
	}
	return c == other || b.share(c, other)
}

// against: some row applies an element of c that is held together with one of
// other, if that stays on.
func (b *builder) against(c, other *engine.Component) bool {
	for _, o := range other.Serves {
		if o.Kind != engine.OnElement {
			continue
		}
		held := b.m.Machine.Against(o.Name)
		for _, t := range c.Serves {
			if t.Kind == engine.OnElement && slices.Contains(held, t.Name) {
				return true
			}
		}
	}
	return false
}

// share: both serve one target, or a circuit of one feeds an element of the
// other.
func (b *builder) share(c, other *engine.Component) bool {
	for _, t := range c.Serves {
		for _, o := range other.Serves {
			if t.Kind == o.Kind && t.Name == o.Name && t.Kind != engine.OnUnit {
				return true
			}
			if t.Kind == engine.OnCircuit && o.Kind == engine.OnElement && b.feeds(t.Name, o.Name) ||
				o.Kind == engine.OnCircuit && t.Kind == engine.OnElement && b.feeds(o.Name, t.Name) {
				return true
			}
		}
	}
	return false
}

func (b *builder) feeds(circuit, element string) bool {
	for _, c := range b.u.Circuits {
		if c.Name == circuit {
			return slices.Contains(c.Feeds, element)
		}
	}
	return false
}

func (b *builder) addEffects() {
	b.each(func(c *engine.Component, mode *engine.Mode, d *draft) {
		for _, l := range mode.Effects {
			for _, t := range c.Serves {
				if !slices.Contains(engine.EffectWords(t.Kind, b.isOneWay(t)), l.To) {
					continue
				}
				e := Effect{Target: engine.Target{Kind: t.Kind, Name: t.Name}, Word: l.To, When: l.When}
				key := e.String()
				if _, ok := b.drafts[key]; !ok {
					b.effects = append(b.effects, e)
				}
				ed := b.add(key, Node{Layer: EffectLayer, Title: targetTitle(b.u, e.Target), Effect: e, Condition: e.When}, engine.Number{})
				ed.link(d.node.Name, l.Strength.Value, source(l.Strength, "mode "+mode.Name))
			}
		}
		for _, l := range mode.Shows {
			for _, name := range b.expand(l.To, c) {
				b.found[name] = append(b.found[name], sighted{d.node.Name, l.When, l.Strength.Value, source(l.Strength, "mode "+mode.Name)})
			}
		}
	})
	for _, e := range b.effects {
		b.addSightings(e)
	}
}

func (b *builder) isOneWay(t engine.Target) bool {
	if t.Kind != engine.OnElement {
		return false
	}
	for _, e := range b.u.Elements {
		if e.Name == t.Name {
			return e.Kind == engine.OneWay
		}
	}
	return false
}

// addSightings turns what physics says of an effect into contributions to
// findings, through the signs of their templates.
func (b *builder) addSightings(e Effect) {
	plain := Effect{Target: e.Target, Word: e.Word}
	sights, ok := b.m.sights[plain.String()]
	if !ok {
		sights = sightings(b.u, b.m.Machine, plain)
		b.m.sights[plain.String()] = sights
	}
	for i := range b.k.Findings {
		f := &b.k.Findings[i]
		for _, s := range sights {
			if s.Per != f.Per {
				continue
			}
			for _, sign := range f.Signs {
				if sign.To != s.Outcome {
					continue
				}
				name := f.Name
				if s.Per == engine.PerRowGear {
					name += "_" + s.Gear
				}
				name = engine.FindingName{Name: name, Place: s.Place}.Base()
				when := e.When
				if when == "" {
					when = sign.When
				}
				if when == engine.HeavyFoot {
					if standing(s) {
						continue
					}
					if s.Per == engine.PerPressure {
						when = "" // pressure under load is pressure with the pedal down
					}
				}
				see := func(when engine.Condition, factor float64) {
					b.found[name] = append(b.found[name], sighted{e.String(), when, sign.Strength.Value * factor,
						LinkSource{Number: sign.Strength, Outcome: s.Outcome, Factor: factor, Block: "finding " + f.Name}})
				}
				see(when, s.Factor)
				if when == engine.Hot && (e.Word == "leaks" || e.Word == "low") {
					see("", s.Factor*thick)
				}
			}
		}
	}
}

// thick is how much of a leak, or of a lack of pressure, that shows hot shows with
// thick oil, too: a ring that leaks hot leaks a little cold (recalled).
const thick = 0.2

// standing tells places where nobody has the pedal down: engagements, and pressure
// at idle.
func standing(s Sighting) bool {
	return s.Per == engine.PerEngagement || s.Per == engine.PerPressure && strings.HasPrefix(s.Place, "idle/")
}

// freeze orders the drafts so that parents stand before children and makes
// the network.
func (b *builder) freeze() error {
	const (
		fresh = iota
		open
		done
	)
	state := map[string]int{}
	var sorted []string
	var path []string
	var visit func(key string) error
	visit = func(key string) error {
		switch state[key] {
		case done:
			return nil
		case open:
			return fmt.Errorf("causes run in a circle: %s", strings.Join(append(cut(path, key), key), " <- "))
		}
		state[key] = open
		path = append(path, key)
		for _, l := range b.drafts[key].links {
			if err := visit(l.parent); err != nil {
				return err
			}
		}
		path = path[:len(path)-1]
		state[key] = done
		sorted = append(sorted, key)
		return nil
	}
	keys := append([]string(nil), b.order...)
	sort.SliceStable(keys, func(i, j int) bool { return b.drafts[keys[i]].node.Layer < b.drafts[keys[j]].node.Layer })
	for _, key := range keys {
		if err := visit(key); err != nil {
			return err
		}
	}
	m := b.m
	m.Net = &network.Net{}
	for i, key := range sorted {
		m.byName[key] = i
		d := b.drafts[key]
		n := network.Node{Name: key, Leak: min(1, d.leak.Value*d.duty)}
		var src []LinkSource
		for _, l := range d.links {
			n.Links = append(n.Links, network.Link{Parent: m.byName[l.parent], Strength: l.strength})
			src = append(src, l.source)
		}
		m.Net.Nodes = append(m.Net.Nodes, n)
		m.Nodes = append(m.Nodes, d.node)
		m.Sources = append(m.Sources, src)
		m.Leaks = append(m.Leaks, d.leak)
		m.Duties = append(m.Duties, d.duty)
	}
	for i := range b.u.Components {
		name := b.u.Components[i].Name
		for j := range b.k.Modes {
			if at, ok := m.byName[suspect(name, b.k.Modes[j].Name)]; ok && m.Nodes[at].Layer == ModeLayer {
				m.modes = append(m.modes, at)
				m.modesOf[name] = append(m.modesOf[name], at)
			}
		}
	}
	// Sightings of unknown places ("slips@D/9") have no node: nothing to do,
	// the checker reports them.
	return nil
}

func cut(path []string, key string) []string {
	for i, p := range path {
		if p == key {
			return append([]string(nil), path[i:]...)
		}
	}
	return path
}
