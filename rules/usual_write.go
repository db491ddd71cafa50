package rules

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/rules/syntax"
)

// owned is what a unit's file says about made things by their names: which of
// its own parts and steps stand in the place of usual ones, and which limits it
// gives figures for.
type owned struct {
	instead map[string]instead // type and usual name -> what stands in its place
	limits  []ownLimit
}

// ownLimit is a limit of the unit's file, with the step that it names.
type ownLimit struct{ name, step string }

func (o owned) limit(name string) *ownLimit {
	for i := range o.limits {
		if o.limits[i].name == name {
			return &o.limits[i]
		}
	}
	return nil
}

type instead struct {
	name string
	at   engine.Range
}

func ownedBy(n *node, v values) owned {
	o := owned{instead: map[string]instead{}}
	for _, c := range n.blocks {
		if c.spec.name == "limit" {
			o.limits = append(o.limits, ownLimit{c.label(0), v.name(c, "step")})
		}
		if c.spec.arg("in_place_of") == nil || c.broken {
			continue
		}
		for _, x := range v.names(c, "in_place_of") {
			o.instead[c.spec.name+"\x00"+x.text] = instead{c.label(0), x.at}
		}
	}
	return o
}

// untaken reports what is to stand in the place of something that is not made.
func (o owned) untaken(p *problems, made map[string]*made) {
	for key, in := range o.instead {
		if made[key] != nil {
			continue
		}
		typ, name, _ := strings.Cut(key, "\x00")
		var names []string
		for k := range made {
			if t, n, _ := strings.Cut(k, "\x00"); t == typ {
				names = append(names, n)
			}
		}
		slices.Sort(names)
		p.Error(in.at, fmt.Sprintf("no usual %s %q", typ, syntax.Clip(name)), hint("in_place_of names what the usual parts call it; `slipcase unit write` prints them.", didYouMean(name, names)))
	}
}

// needsUsual tells whether a unit writes over parts that it does not have: it
// drops them, puts something in their place, or says of one only what is
// otherwise. That it lacks `parts = usual` is told then, once.
func (l *loader) needsUsual(n *node) bool {
	if n.attr("like") != nil || n.attr("parts") != nil || n.src.torn {
		return false
	}
	for _, c := range n.blocks {
		switch {
		case c.spec.name != "component" && c.spec.name != "step" || c.broken || c.flawed:
		case c.drop, c.attr("in_place_of") != nil, c.spec.name == "component" && c.attr("kind") == nil && c.attr("serves") == nil:
			l.Error(c.at(), fmt.Sprintf("%s changes a usual part, and unit %q has none", c.title(), syntax.Clip(n.label(0))), "Add to the unit: parts = usual. It has the parts and steps then that such units have.")
			return true
		}
	}
	return false
}

// dropping notes what the unit's own file drops. Where one of these is nothing
// that there is, that is told, and what the others leave behind may follow.
func (n *node) dropping(own *node, m *maker) {
	n.dropped = map[string]engine.Range{}
	var all []lostBlock
	missed := false
	for _, c := range own.blocks {
		if c.drop && !c.broken {
			n.dropped[c.label(0)] = c.dropAt
			all = append(all, lostBlock{block: c.block})
			missed = missed || m.byName[c.spec.name+"\x00"+c.label(0)] == nil && (c.spec.name == "component" || c.spec.name == "step")
		}
	}
	if missed {
		n.lost = append(n.lost, all...)
	}
}

// unusual reports components that say but in part what they are, under
// a name that no usual part has.
func (l *loader) unusual(m *maker, n *node) {
	var names []string
	for k := range m.byName {
		if name, ok := strings.CutPrefix(k, "component\x00"); ok {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	taken := slices.ContainsFunc(n.blocks, func(c *node) bool {
		return m.byName["circuit\x00"+c.label(0)] != nil && c.spec.name != "circuit" && slices.Contains([]string{"clutch", "brake", "band", "one_way", "converter_clutch", "joint", "solenoid"}, c.spec.name)
	})
	for _, c := range n.blocks {
		if taken || misnamed(n) {
			c.flawed = true // its name may be gone with the one that is told
			continue
		}
		if c.spec.name == "component" && !c.broken && !c.flawed && !c.drop && (c.attr("kind") == nil || c.attr("serves") == nil) && !slices.Contains(names, c.label(0)) && !n.src.torn {
			l.Error(c.at(), fmt.Sprintf("no usual component %q", syntax.Clip(c.label(0))), hint(didYouMean(c.label(0), names), "A part of the unit's own says its kind and what it serves."))
			c.flawed = true
			n.lost = append(n.lost, lostBlock{block: &syntax.Block{Labels: c.block.Labels}})
		}
	}
}

// now is the name under which a usual part or step stands in the unit.
func (m *maker) now(typ, name string) string {
	if in, ok := m.own.instead[typ+"\x00"+name]; ok {
		return in.name
	}
	return name
}

// made is a block in the making.
type made struct {
	typ, name string
	basis     *engine.Basis
	args      []madeArg
}

type madeArg struct {
	name  string
	value string   // of one value
	items []string // of a list
}

// begin opens the block, or goes on with one that this too goes into: two
// usual steps that the unit's file takes together.
func (m *maker) begin(n *node, typ, usual string) *made {
	name := m.now(typ, usual)
	b := m.byName[typ+"\x00"+name]
	if b == nil {
		b = &made{typ: typ, name: name, basis: n.basis}
		m.blocks = append(m.blocks, b)
	}
	m.byName[typ+"\x00"+name], m.byName[typ+"\x00"+usual] = b, b
	return b
}

// put sets an argument; what is there already stays.
func (b *made) put(name, value string) {
	if b.arg(name) == nil {
		b.args = append(b.args, madeArg{name: name, value: value})
	}
}

// list adds to a list what is not in it.
func (b *made) list(name string, items ...string) {
	if len(items) == 0 {
		return
	}
	a := b.arg(name)
	if a == nil {
		b.args = append(b.args, madeArg{name: name})
		a = &b.args[len(b.args)-1]
	}
	for _, x := range items {
		if !slices.Contains(a.items, x) {
			a.items = append(a.items, x)
		}
	}
}

func (b *made) arg(name string) *madeArg {
	for i := range b.args {
		if b.args[i].name == name {
			return &b.args[i]
		}
	}
	return nil
}

func (b *made) write(out *strings.Builder) {
	fmt.Fprintf(out, "  %s %q {\n", b.typ, b.name)
	if x := b.basis; x != nil {
		fmt.Fprintf(out, "    basis %q {\n", string(x.Kind))
		if x.Note != "" {
			fmt.Fprintf(out, "      note = %s\n", syntax.Quote(x.Note))
		}
		if x.Cite != "" {
			fmt.Fprintf(out, "      cite = %s\n", syntax.Quote(x.Cite))
		}
		out.WriteString("    }\n")
	}
	for _, a := range b.args {
		if a.items != nil {
			fmt.Fprintf(out, "    %s = [%s]\n", a.name, strings.Join(a.items, ", "))
		} else {
			fmt.Fprintf(out, "    %s = %s\n", a.name, a.value)
		}
	}
	out.WriteString("  }\n")
}

func (m *maker) putText(b *made, n *node, name string, t thing) {
	if s := m.values.text(n, name); s != "" {
		b.put(name, syntax.Quote(m.retitle(s, t)))
	}
}

// quotedAll quotes names, without one.
func quotedAll(list []string, without ...string) []string {
	var out []string
	for _, s := range list {
		if !slices.Contains(without, s) {
			out = append(out, syntax.Quote(s))
		}
	}
	return out
}
