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
		p.Error(in.at, fmt.Sprintf("no usual %s %q", typ, clip(name)), hint("in_place_of names what the usual parts call it; `slipcase unit write` prints them.", didYouMean(name, names)))
	}
}

// refuseInPlace reports in_place_of in a unit that has no usual parts.
func (l *loader) refuseInPlace(n *node) {
	for _, c := range n.blocks {
		if c.spec.arg("in_place_of") != nil {
			if a := c.attr("in_place_of"); a != nil {
				l.Error(a.nameAt(), "in_place_of without usual parts", "It names a usual part or step. Add to the unit: parts = usual")
			}
		}
	}
}

// unknownInOrder reports names in front_to_back that the unit has not.
func (l *loader) unknownInOrder(m *maker, n *node) {
	var known []string
	for _, t := range m.things() {
		switch t.what {
		case "clutch", "brake", "band", "one_way", "gearset", "joint":
			known = append(known, t.name)
		}
	}
	for _, x := range m.names(n, "front_to_back") {
		if !slices.Contains(known, x.text) {
			l.Error(x.at, fmt.Sprintf("nothing called %q comes out of the case", clip(x.text)), hint(didYouMean(x.text, known), "front_to_back lists elements, gearsets and joints of the unit."))
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
