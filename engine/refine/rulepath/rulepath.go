// Package rulepath names the numbers of the rules: the rate of a mode or
// cause, the strength of an arrow, the leak of a finding. A name is the path
// of blocks that leads to the number and the argument that holds it, so that
// what is learned from cases and what is edited in a file speak of the same
// thing.
package rulepath

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"slipcase/engine"
)

// Block is one block on the way to a number.
type Block struct {
	Type   string           `json:"type"`
	Labels []string         `json:"labels"`
	When   engine.Condition `json:"when,omitempty"` // where it is part of the block's key
}

// String is the block as a message names it: effect "slips" when hot.
func (b Block) String() string {
	s := b.Type
	for _, l := range b.Labels {
		s += fmt.Sprintf(" %q", l)
	}
	if b.When != "" {
		s += " when " + string(b.When)
	}
	return s
}

// Path names one number of the rules.
type Path struct {
	Blocks   []Block `json:"blocks"`
	Argument string  `json:"argument"` // frequency, strength, leak, rate, is
}

// String is the path on one line; different numbers have different ones:
// mode "burnt_friction" / effect "slips" when hot / strength.
func (p Path) String() string {
	parts := make([]string, 0, len(p.Blocks)+1)
	for _, b := range p.Blocks {
		parts = append(parts, b.String())
	}
	return strings.Join(append(parts, p.Argument), " / ")
}

// Unit is the id of the unit that the number belongs to, "" for one that holds
// for any unit.
func (p Path) Unit() string {
	if len(p.Blocks) > 0 && p.Blocks[0].Type == "unit" {
		return p.Blocks[0].Labels[0]
	}
	return ""
}

// IsRate tells a rate or leak (per case) from a strength (per occurrence of
// its cause).
func (p Path) IsRate() bool { return p.Argument != "strength" }

func at(argument string, blocks ...Block) Path { return Path{Blocks: blocks, Argument: argument} }

func block(typ string, labels ...string) Block { return Block{Type: typ, Labels: labels} }

// Labels of the block that holds how often a reporter errs:
// rate "false_alarm" { is = 0.06 }.
const (
	FalseAlarm = "false_alarm"
	Miss       = "miss"
)

// OfReporter is the path of how often a reporter errs, whether or not the rules
// have a block for it; what the rules say of single findings goes with it.
func OfReporter(name, which string) Path {
	return at("is", block("reporter", name), block("rate", which))
}

// OfComponent is the path of the rate of one mode in one component of a unit,
// whether or not the rules have it.
func OfComponent(unit, component, mode string) Path {
	return at("rate", block("unit", unit), block("component", component), block("frequency", mode))
}

// Walk calls f for every number that cases can teach, with a pointer to it,
// always in the same order: causes, modes, findings and codes of the rules,
// then the rates of units and of their components, then reporters.
func Walk(k *engine.Knowledge, f func(Path, *engine.Number)) {
	links := func(outer Block, typ string, list []engine.Link) {
		for i := range list {
			l := &list[i]
			f(at("strength", outer, Block{Type: typ, Labels: []string{l.To}, When: l.When}), &l.Strength)
		}
	}
	for i := range k.Causes {
		c := &k.Causes[i]
		b := block("cause", c.Name)
		f(at("frequency", b), &c.Frequency)
		links(b, "stresses", c.Stresses)
		links(b, "shows", c.Shows)
	}
	for i := range k.Modes {
		m := &k.Modes[i]
		b := block("mode", m.Name)
		f(at("frequency", b), &m.Frequency)
		links(b, "effect", m.Effects)
		links(b, "shows", m.Shows)
		for j := range m.Because {
			f(at("strength", b, block("because", m.Because[j].Of)), &m.Because[j].Strength)
		}
		links(b, "stresses", m.Stresses)
	}
	for i := range k.Findings {
		x := &k.Findings[i]
		b := block("finding", x.Name)
		f(at("leak", b), &x.Leak)
		links(b, "sign", x.Signs)
	}
	for i := range k.Codes {
		c := &k.Codes[i]
		b := block("code", c.Name)
		f(at("leak", b), &c.Leak)
		for j := range c.Signs {
			f(at("strength", b, block("sign", c.Signs[j].Of)), &c.Signs[j].Strength)
		}
	}
	for _, u := range k.Units {
		for _, mode := range slices.Sorted(maps.Keys(u.Frequency)) {
			n := u.Frequency[mode]
			f(at("rate", block("unit", u.ID), block("frequency", mode)), &n)
			u.Frequency[mode] = n
		}
		for i := range u.Components {
			c := &u.Components[i]
			for _, mode := range slices.Sorted(maps.Keys(c.Frequency)) {
				n := c.Frequency[mode]
				f(OfComponent(u.ID, c.Name, mode), &n)
				c.Frequency[mode] = n
			}
		}
	}
	for i := range k.Reporters {
		r := &k.Reporters[i]
		f(OfReporter(r.Name, FalseAlarm), &r.FalseAlarms)
		f(OfReporter(r.Name, Miss), &r.Misses)
	}
}
