package model

import (
	"slices"
	"strings"

	"slipcase/engine"
)

func (b *builder) addCauseSigns() {
	for i := range b.k.Causes {
		c := &b.k.Causes[i]
		for _, l := range c.Shows {
			for _, name := range b.expand(l.To, nil) {
				b.found[name] = append(b.found[name], sighted{c.Name, l.When, l.Strength.Value, source(l.Strength, "cause "+c.Name)})
			}
		}
	}
}

// expand lists the plain findings that a shows label names: name,
// name@place, name@* (every place, of rows those that drive: nothing shudders in
// park) or name@served (places of what c serves).
func (b *builder) expand(label string, c *engine.Component) []string {
	f := engine.ParseFindingName(label)
	t := b.find[f.Name]
	if t == nil {
		return []string{f.Base()} // row_gear names and codes; dropped later if unknown
	}
	set := engine.IsPlaceSet(t.Per, f.Place)
	if t.Per == engine.PerUnit || !set && f.Place != "served" && f.Place != "" {
		return []string{f.Base()}
	}
	var out []string
	for _, place := range b.placesFor(t) {
		if f.Place == "served" && (c == nil || !b.belongs(t.Per, place, c)) || set && (!b.m.inSet(t.Per, f.Place, place) || t.Per == engine.PerRow && b.neutral(place)) {
			continue
		}
		out = append(out, engine.FindingName{Name: f.Name, Place: place}.Base())
	}
	return out
}

// belongs tells whether a place belongs to what the component serves.
func (b *builder) belongs(per engine.Per, place string, c *engine.Component) bool {
	for _, t := range c.Serves {
		switch per {
		case engine.PerElement:
			if t.Kind == engine.OnElement && t.Name == place || t.Kind == engine.OnCircuit && b.feeds(t.Name, place) {
				return true
			}
		case engine.PerCircuit:
			if t.Kind == engine.OnCircuit && t.Name == place || t.Kind == engine.OnElement && b.feeds(place, t.Name) {
				return true
			}
		case engine.PerSolenoid:
			if t.Kind == engine.OnSolenoid && t.Name == place {
				return true
			}
		case engine.PerEngagement:
			if t.Kind == engine.OnRange && t.Name == place {
				return true
			}
		case engine.PerShift:
			if t.Kind == engine.OnShift && strings.HasSuffix(place, "/"+t.Name) {
				return true
			}
		case engine.PerRow:
			for _, r := range b.u.Rows {
				if r.Name() != place {
					continue
				}
				for _, a := range r.Apply {
					if t.Kind == engine.OnElement && t.Name == a || t.Kind == engine.OnCircuit && b.feeds(t.Name, a) {
						return true
					}
				}
			}
		case engine.PerLimit:
			for _, l := range b.u.Limits {
				if l.Name == place && l.Component == c.Name {
					return true
				}
			}
		}
	}
	return false
}

// addFindings makes the finding nodes: one for each template and place, split
// into parts where some cause shows only in a condition.
func (b *builder) addFindings() {
	b.coded = b.namedByCodes()
	gears := gearLabels(b.u)
	for i := range b.k.Findings {
		f := &b.k.Findings[i]
		for _, place := range b.placesFor(f) {
			if f.Per == engine.PerRowGear {
				for _, g := range gears {
					if !b.neutral(place) && !strings.HasSuffix(place, "/"+g) {
						b.addFinding(f, f.Name+"_"+g, place, g)
					}
				}
				continue
			}
			if f.Per == engine.PerRow && b.neutral(place) && len(b.found[f.Name+"@"+place]) == 0 {
				continue // nothing slips in neutral: no such finding, no such question
			}
			if n := b.m.steps(place); f.Per == engine.PerShift && (n > 1 || n == byLever) && len(b.found[f.Name+"@"+place]) == 0 {
				continue // nothing shows there that single shifts do not show
			}
			b.addFinding(f, f.Name, place, "")
		}
	}
}

// placesFor are the places of a template. One made per shift is made for
// upshifts, for downshifts or for both, as its signs speak of them.
func (b *builder) placesFor(f *engine.Finding) []string {
	switch {
	case f.Per == engine.PerRow && ofLockup(f):
		// Nothing is wrong with a first gear whose converter clutch is off.
		var out []string
		for _, r := range b.u.Rows {
			if r.Lockup {
				out = append(out, r.Name())
			}
		}
		return out
	case f.Per != engine.PerShift:
		return b.places[f.Per]
	}
	up, down := len(f.Signs) == 0, false
	for _, s := range f.Signs {
		ofDown := strings.HasPrefix(s.To, "down_") || strings.HasPrefix(s.To, "coast_")
		up, down = up || !ofDown, down || ofDown
	}
	var out []string
	for _, place := range b.places[engine.PerShift] {
		if b.m.steps(place) > 0 && up || b.m.steps(place) < 0 && down {
			out = append(out, place)
		}
	}
	return out
}

// ofLockup tells a finding that speaks of a converter clutch which should be on.
func ofLockup(f *engine.Finding) bool {
	for _, s := range f.Signs {
		if s.To != "lockup_dead" && s.To != "lockup_slips" {
			return false
		}
	}
	return len(f.Signs) > 0
}

// neutral tells rows without drive: P/P, N/N.
func (b *builder) neutral(row string) bool {
	for _, r := range b.u.Rows {
		if r.Name() == row {
			return !drives(r)
		}
	}
	return false
}

func gearLabels(u *engine.Unit) []string {
	var out []string
	for _, r := range u.Rows {
		if r.Gear != "N" && r.Gear != "P" && !slices.Contains(out, r.Gear) {
			out = append(out, r.Gear)
		}
	}
	return out
}

// addFinding makes the nodes of one finding. Plain and conditioned names each
// get a node of their own that gathers every contribution directly. Where a
// case reports the same finding under several names (hot present, cold
// absent), those would not know of each other: it then uses the split nodes,
// in which each name is the OR of the parts it covers. Both forms have the
// same marginals; the direct one keeps the network thin.
func (b *builder) addFinding(f *engine.Finding, name, place, like string) {
	plain := engine.FindingName{Name: name, Place: place}.Base()
	node := Node{Layer: FindingLayer, Title: title(f, b.placeTitle(f, place)), Finding: f, Place: place, Like: like}
	var conditions []engine.Condition
	for _, c := range engine.Conditions {
		for _, s := range b.found[plain] {
			if s.when == c {
				conditions = append(conditions, c)
				break
			}
		}
	}
	whole := b.add(plain, node, f.Leak)
	if b.coded[plain] && len(b.found[plain]) > 1 {
		whole.link(b.itself(plain, node), 1, LinkSource{Factor: 1})
	} else {
		for _, s := range b.found[plain] {
			whole.link(s.parent, s.strength, s.source)
		}
	}
	if len(conditions) == 0 {
		return
	}
	part := node
	part.Layer = PartLayer
	or := LinkSource{Factor: 1}
	base := b.add(plain+partMark, part, f.Leak)
	all := b.add(plain+partMark+"any", part, engine.Number{})
	all.link(base.node.Name, 1, or)
	for _, s := range b.found[plain] {
		if s.when == "" {
			base.link(s.parent, s.strength, s.source)
		}
	}
	for _, c := range conditions {
		part.Condition = c
		p := b.add(plain+partMark+string(c), part, engine.Number{})
		own := b.add(plain+":"+string(c)+partMark, part, engine.Number{})
		own.link(base.node.Name, 1, or)
		own.link(p.node.Name, 1, or)
		if wider, ok := c.Within(); ok && slices.Contains(conditions, wider) {
			own.link(plain+partMark+string(wider), 1, or)
		}
		all.link(p.node.Name, 1, or)
		n := node
		n.Condition = c
		direct := b.add(plain+":"+string(c), n, f.Leak)
		for _, s := range b.found[plain] {
			if s.when == c {
				// With what shows of it in any condition it comes to its strength.
				t, src := base.from(s.parent), s.source
				if t < s.strength { // certain in any condition leaves nothing
					rest := (s.strength - t) / (1 - t)
					src.Factor *= rest / s.strength
					p.link(s.parent, rest, src)
				}
			}
			wider, ok := c.Within()
			if s.when == c || s.when == "" || ok && s.when == wider {
				direct.link(s.parent, s.strength, s.source)
			}
		}
	}
}

// placeTitle is what a place is called in a title: a limit by its own.
func (b *builder) placeTitle(f *engine.Finding, place string) string {
	if f.Per != engine.PerLimit {
		return place
	}
	for i := range b.u.Limits {
		if l := &b.u.Limits[i]; l.Name == place {
			return engine.TitleOr(l.Title, l.Name)
		}
	}
	return place
}

// addCodes makes a finding code_P0741 for each trouble code. A code is a
// consequence of what its signs name, not of each fault behind them: the
// controller sees that the ratio of third gear is off, and sets P0733. Codes
// that watch the same thing have one node of it in common.
func (b *builder) addCodes() {
	for i := range b.k.Codes {
		c := &b.k.Codes[i]
		d := b.add("code_"+c.Name, Node{Layer: FindingLayer, Title: c.Title, Code: c}, c.Leak)
		for _, s := range c.Signs {
			for _, w := range b.watches(s.Of) {
				src := source(s.Strength, "code "+c.Name)
				src.Factor = w.factor
				d.link(w.key, s.Strength.Value*w.factor, src)
			}
		}
		for _, s := range b.found["code_"+c.Name] {
			d.link(s.parent, s.strength, s.source)
		}
	}
}

// watched is a node that sets a code, with the factor by which the sign's
// strength is scaled.
type watched struct {
	key    string
	factor float64
}

// watches lists what a code's sign names: an effect "lockup.dead", a word on
// every target "*.stuck_off", a kind of solenoid "shift.stuck_off", or a
// finding "wrong_gear@D/3", "wrong_gear@*". Where several effects fit, it is one
// node that is on with any of them. A finding stands for the thing itself: the
// controller measures, it does not wait until someone notices.
func (b *builder) watches(of string) []watched {
	i := strings.IndexByte(of, '.')
	if i < 0 || strings.Contains(of, "@") {
		var out []watched
		for _, name := range b.expand(of, nil) {
			switch found := b.found[name]; len(found) {
			case 0:
			case 1:
				out = append(out, watched{found[0].parent, found[0].strength})
			default:
				out = append(out, watched{b.itself(name, Node{Title: name}), 1})
			}
		}
		return out
	}
	who, word := of[:i], of[i+1:]
	var fit []string
	for _, e := range b.effects {
		if e.Word == word && (who == "*" || e.Target.Name == who || string(e.Target.Kind) == who || b.alias(e.Target) == who) {
			fit = append(fit, e.String())
		}
	}
	switch len(fit) {
	case 0:
		return nil
	case 1:
		return []watched{{fit[0], 1}}
	}
	any := b.add(of+partMark, Node{Layer: PartLayer, Title: of}, engine.Number{})
	for _, key := range fit {
		any.link(key, 1, LinkSource{Factor: 1})
	}
	return []watched{{any.node.Name, 1}}
}

// namedByCodes are the plain findings that signs of codes name.
func (b *builder) namedByCodes() map[string]bool {
	out := map[string]bool{}
	for i := range b.k.Codes {
		for _, s := range b.k.Codes[i].Signs {
			if strings.Contains(s.Of, "@") || !strings.Contains(s.Of, ".") {
				for _, name := range b.expand(s.Of, nil) {
					out[name] = true
				}
			}
		}
	}
	return out
}

// itself is the node of what a finding is about, whether or not someone notices
// and without false alarms: its name.
func (b *builder) itself(plain string, like Node) string {
	key := plain + partMark + "itself"
	like.Layer = PartLayer
	d := b.add(key, like, engine.Number{})
	for _, s := range b.found[plain] {
		d.link(s.parent, s.strength, s.source)
	}
	return key
}

// alias is the generic name of a target: a solenoid's kind, "lockup" for a
// converter clutch.
func (b *builder) alias(t engine.Target) string {
	for _, s := range b.u.Solenoids {
		if t.Kind == engine.OnSolenoid && s.Name == t.Name {
			return s.Kind
		}
	}
	for _, e := range b.u.Elements {
		if t.Kind == engine.OnElement && e.Name == t.Name && e.Kind == engine.ConverterClutch {
			return "lockup"
		}
	}
	return ""
}
