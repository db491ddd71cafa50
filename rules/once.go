package rules

import (
	"fmt"
	"slices"

	"slipcase/engine"
	"slipcase/rules/diag"
	"slipcase/rules/syntax"
)

// excuses are what of a unit is not told as unknown or missing, because an
// error of form that is told already may be behind it.
type excuses struct {
	words    map[string]bool // what lost blocks name
	nameless bool            // a block's own name is lost: any name may be it
	block    bool            // a block is lost
}

func excusedBy(n *node) excuses {
	x := excuses{words: map[string]bool{}, nameless: n.src.torn, block: n.src.torn}
	var value func(v *syntax.Value)
	value = func(v *syntax.Value) {
		x.words[v.Text], x.words[v.Key] = true, true
		for i := range v.Items {
			value(&v.Items[i])
		}
	}
	var body func(b *syntax.Body)
	body = func(b *syntax.Body) {
		for i := range b.Attrs {
			value(&b.Attrs[i].Value)
		}
		for _, c := range b.Blocks {
			for _, l := range c.Labels {
				x.words[l.Text] = true
			}
			body(&c.Body)
		}
	}
	x.nameless = x.nameless || misnamed(n)
	for _, l := range n.lost {
		x.block = true
		x.nameless = x.nameless || l.nameless
		body(&syntax.Body{Blocks: []*syntax.Block{l.block}})
	}
	return x
}

// misnamed tells whether something of the unit has a name that it cannot have,
// because it is taken or a word of the language.
func misnamed(n *node) bool {
	seen := map[string]bool{}
	for _, c := range n.blocks {
		for _, x := range append([]*node{c}, c.blocks...) {
			switch x.spec.name {
			case "clutch", "brake", "band", "one_way", "converter_clutch", "joint", "solenoid", "circuit", "gearset":
				if seen[x.label(0)] || slices.Contains(reserved, x.label(0)) {
					return true
				}
				seen[x.label(0)] = true
			}
		}
	}
	return false
}

// excuse tells whether a name of a unit is not to be told as unknown.
func (s *scope) excuse(name string) bool {
	return s != nil && (s.orphan || s.excused.nameless || s.excused.words[name])
}

// onceKey is a name that a unit, or the rules, do not have.
type onceKey struct {
	scope *scope
	name  string
}

// onceTold is where an unknown name was told, and where else it stands.
type onceTold struct {
	at   engine.Range
	more []engine.Range
}

// reserved are words that the language itself uses where names of a unit stand.
var reserved = []string{"converter", "unit", "shift", "pressure", "range", "case"}

// again tells whether an unknown name was told of this unit before: one slip of
// the pen in a name is one error, however often the name stands.
func (r *resolver) again(s *scope, name string, at engine.Range) bool {
	if s == nil {
		return false
	}
	if r.told == nil {
		r.told = map[onceKey]*onceTold{}
	}
	k := onceKey{s, name}
	if t := r.told[k]; t != nil {
		t.more = append(t.more, at)
		return true
	}
	r.told[k] = &onceTold{at: at}
	return false
}

// tellOnce adds to each unknown name where else it stands, and puts the error
// where the author can mend it: in the unit's own file, and for a name that only
// made parts use, where the file drops it.
func (r *resolver) tellOnce() {
	for k, t := range r.told {
		all := append([]engine.Range{t.at}, t.more...)
		own := slices.IndexFunc(all, func(at engine.Range) bool { return at.File != MadeFile(k.scope.unit.ID) })
		best := t.at
		if own >= 0 {
			best = all[own]
		}
		drop, dropped := k.scope.dropped[k.name]
		if like := k.scope.unit.Like; like != nil && !ownFile(like, drop.File) {
			dropped = false // in the file of the unit that it is like, which is sound
		}
		lists := [][]engine.Diagnostic{r.problems.List, k.scope.foreign}
		for _, list := range lists {
			for i := range list {
				d := &list[i]
				if d.Subject != t.at {
					continue
				}
				d.Subject = best
				switch {
				case dropped:
					d.Subject = drop
					d.Summary = fmt.Sprintf("%q is dropped here but still used", syntax.Clip(k.name))
					d.Detail = fmt.Sprintf("It is named at %s. Drop what names it too, or name its replacement there.", firstOf(all, drop.File))
				case len(t.more) == 1:
					d.Detail = hint(d.Detail, "It is used once more.")
				case len(t.more) > 1:
					d.Detail = hint(d.Detail, fmt.Sprintf("It is used %d more times.", len(t.more)))
				}
			}
		}
	}
}

func firstOf(all []engine.Range, file string) engine.Range {
	for _, at := range all {
		if at.File == file {
			return at
		}
	}
	return all[0]
}

// MadeFile is what the text of a unit's usual parts is called in diagnostics.
func MadeFile(unit string) string { return "usual parts of " + unit }

// foundedOnce leaves of the numbers of a file that have no basis the first, and
// counts the others: one line at the head of the file mends them all.
func foundedOnce(list []engine.Diagnostic) []engine.Diagnostic {
	first := map[string]int{}
	count := map[string]int{}
	out := list[:0]
	for _, d := range diag.Sort(list) {
		if d.Summary == noBasis {
			if count[d.Subject.File]++; count[d.Subject.File] > 1 {
				continue
			}
			first[d.Subject.File] = len(out)
		}
		out = append(out, d)
	}
	for file, n := range count {
		if n > 1 {
			d := &out[first[file]]
			d.Detail += fmt.Sprintf(" %d more numbers of this file have none.", n-1)
		}
	}
	return out
}

const noBasis = "number without basis"
