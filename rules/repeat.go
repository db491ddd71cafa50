package rules

import (
	"fmt"

	"slipcase/engine"
	"slipcase/rules/syntax"
)

// repeats warns of what a unit's file writes though the same is there without
// it: in the unit that it is like, or in its usual parts. Two places that say
// one thing come apart when one of them is changed. own tells which files are
// the unit's.
func (p *problems) repeats(lower, upper *node, from string, own func(file string) bool) {
	for _, a := range upper.attrs {
		old := lower.attr(a.Name)
		var was *syntax.Value
		switch between := lower.attr("between"); {
		case old != nil:
			was = &old.Value
		case between != nil && len(between.Value.Items) == 2 && a.Name == "low":
			old, was = between, &between.Value.Items[0]
		case between != nil && len(between.Value.Items) == 2 && a.Name == "high":
			old, was = between, &between.Value.Items[1]
		default:
			continue
		}
		if a.over || !own(a.at().File) || !sameValue(&a.Value, was) || hasBasis(upper.spec, a.Name) && !sameBasis(a.basis, old.basis) {
			continue
		}
		p.Warn(a.nameAt(), fmt.Sprintf("%s of %s is already so without this line", a.Name, upper.title()), fmt.Sprintf("%s says the same. Delete the line.", from))
	}
	index := make(map[string]*node, len(lower.blocks))
	for _, c := range lower.blocks {
		index[c.fullKey()] = c
	}
	for _, c := range upper.blocks {
		below := index[c.fullKey()]
		if below == nil || c.broken || c.drop || c.spec.repeat || len(c.labels) == 0 && whole(c) || !own(c.at().File) {
			continue
		}
		if c.spec.name != "limit" && len(c.block.Body.Attrs) == 0 && len(c.block.Body.Blocks) == 0 {
			p.Warn(c.at(), fmt.Sprintf("%s says nothing", c.title()), "A block of this name exists without it. Delete it.")
			continue
		}
		p.repeats(below, c, from, own)
	}
}

// hasBasis tells whether an argument is a number that says where it comes from:
// the same number from elsewhere is another statement.
func hasBasis(spec *blockSpec, name string) bool {
	switch spec.arg(name).form {
	case fNumber, fRate, fStrength, fRatio, fTeeth, fQuantity:
		return true
	}
	return false
}

func sameBasis(a, b *engine.Basis) bool {
	return a != nil && b != nil && a.Kind == b.Kind && a.Cite == b.Cite
}

// sameValue compares what values say: a word is the same bare or in quotes, a
// single item with brackets or without.
func sameValue(a, b *syntax.Value) bool {
	if a.Kind == syntax.List || b.Kind == syntax.List {
		x, y := listOf(a), listOf(b)
		if len(x) != len(y) {
			return false
		}
		for i := range x {
			if !sameValue(&x[i], &y[i]) {
				return false
			}
		}
		return true
	}
	return a.Kind != syntax.Bad && a.Text == b.Text && a.Key == b.Key
}

func listOf(v *syntax.Value) []syntax.Value {
	if v.Kind == syntax.List {
		return v.Items
	}
	return []syntax.Value{*v}
}
