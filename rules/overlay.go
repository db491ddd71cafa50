package rules

import (
	"fmt"
	"slices"

	"slipcase/rules/syntax"
)

// merge lays the upper nodes over the lower ones. Both lists hold each key
// once. The order of the lower layer stays; what is new follows.
func merge(p *problems, lower, upper []*node) []*node {
	if len(upper) == 0 {
		return lower
	}
	index := make(map[string]int, len(lower))   // by full key
	loose := make(map[string][]int, len(lower)) // by key without the condition
	replaced := map[*blockSpec]bool{}           // unlabelled blocks replace as a whole
	out := make([]*node, len(lower), len(lower)+len(upper))
	copy(out, lower)
	for i, n := range lower {
		index[n.fullKey()] = i
		loose[n.key()] = append(loose[n.key()], i)
	}
	former := formerNames(lower)
	for _, n := range upper {
		if len(n.spec.labels) == 0 {
			if n.spec.single && !whole(n) {
				if i := indexOf(out, n.spec); i >= 0 {
					out[i] = overlay(p, out[i], n)
					continue
				}
			}
			if !replaced[n.spec] {
				replaced[n.spec] = true
				for i, o := range out {
					if o != nil && o.spec == n.spec && i < len(lower) {
						out[i] = nil
					}
				}
			}
			out = append(out, n)
			continue
		}
		i, ok := index[n.fullKey()]
		if !ok && n.spec.byWhen && n.attr("when") == nil {
			switch same := loose[n.key()]; len(same) {
			case 0:
			case 1:
				i, ok = same[0], true
			default:
				p.Error(n.at(), fmt.Sprintf("which %s?", n.title()), "The layer below has several of this name that differ in their condition. Say which with `when`.")
				continue
			}
		}
		if !ok {
			if now, renamed := former[n.key()]; renamed {
				p.Warn(n.labelAt(0), fmt.Sprintf("%s is now called %q", n.title(), now.label(0)), "The old name still works here. Change it to the new one.")
				i, ok = index[now.fullKey()]
			}
		}
		switch {
		case ok && n.drop:
			out[i] = nil
		case ok && out[i] != nil && out[i].drop:
			out[i] = n // taken up again
		case ok && out[i] != nil && !n.spec.repeat:
			out[i] = overlay(p, out[i], n)
		case n.drop:
			var names []string
			for _, o := range lower {
				if o.spec == n.spec {
					names = append(names, o.label(0))
				}
			}
			p.Error(n.at(), fmt.Sprintf("nothing to drop: no %s below", n.title()), didYouMean(n.label(0), names))
		default:
			out = append(out, n)
		}
	}
	kept := out[:0]
	for _, n := range out {
		if n != nil {
			kept = append(kept, n)
		}
	}
	return kept
}

// whole tells a gear train that is written from scratch, with input and output,
// from changes to the one below.
func whole(n *node) bool { return n.attr("input") != nil && n.attr("output") != nil }

func indexOf(list []*node, spec *blockSpec) int {
	return slices.IndexFunc(list, func(n *node) bool { return n != nil && n.spec == spec })
}

// formerNames maps a key under an old name to the node that has it now.
func formerNames(list []*node) map[string]*node {
	var out map[string]*node
	for _, n := range list {
		if n.spec.name == "formerly" {
			for _, x := range list {
				if now := n.attr("now"); now != nil && x.label(0) == now.Value.Text && x.spec != n.spec {
					if out == nil {
						out = map[string]*node{}
					}
					out[x.spec.name+"\x00"+n.label(0)] = x
				}
			}
		}
		if n.spec.arg("formerly") == nil {
			continue
		}
		a := n.attr("formerly")
		if a == nil {
			continue
		}
		for _, item := range a.Value.Items {
			if item.Kind == syntax.String || item.Kind == syntax.Word {
				if out == nil {
					out = map[string]*node{}
				}
				out[n.spec.name+"\x00"+item.Text] = n
			}
		}
	}
	return out
}

// overlay gives lower with upper's arguments and blocks laid over it; neither
// is changed, for a unit may be the base of several.
func overlay(p *problems, lower, upper *node) *node {
	n := *lower
	n.layer = max(lower.layer, upper.layer)
	// Messages about the block point to where it was last written to: the
	// shop's own file, not the embedded one.
	n.src, n.block, n.made = upper.src, upper.block, upper.made
	n.flawed = lower.flawed || upper.flawed
	n.lost = slices.Concat(lower.lost, upper.lost)
	if upper.basis != nil {
		n.basis = upper.basis
	}
	n.attrs = make([]attr, len(lower.attrs), len(lower.attrs)+len(upper.attrs))
	copy(n.attrs, lower.attrs)
	if upper.attr("between") != nil { // both limits anew
		n.attrs = slices.DeleteFunc(n.attrs, func(a attr) bool { return a.Name == "low" || a.Name == "high" })
	}
	for _, a := range upper.attrs {
		if old := n.attr(a.Name); old != nil {
			*old = a
			old.over = true
		} else {
			n.attrs = append(n.attrs, a)
		}
	}
	n.blocks = merge(p, lower.blocks, upper.blocks)
	return &n
}

// refuseDrops reports blocks of the lowest layer that drop: there is nothing
// below them.
func refuseDrops(p *problems, list []*node) []*node {
	out := list[:0]
	for _, n := range list {
		if n.drop {
			p.Error(n.at(), fmt.Sprintf("nothing to drop: no %s below", n.title()), "drop deletes a block of the layer below this one.")
			continue
		}
		if !n.orphan { // what it drops may be in the unit that could not be found
			n.blocks = refuseDrops(p, n.blocks)
		}
		out = append(out, n)
	}
	return out
}
