package edit

import (
	"fmt"
	"strings"

	"slipcase/engine/refine/rulepath"
	"slipcase/rules/syntax"
)

// entry is one argument of a file, with the basis that holds for it.
type entry struct {
	key   string
	path  []*syntax.Block
	attr  *syntax.Attr
	basis *syntax.Block
}

// entries lists the arguments of a file in order, those of basis blocks apart.
func entries(f *syntax.File) []entry {
	var out []entry
	var walk func(body *syntax.Body, path []*syntax.Block, key string, basis *syntax.Block)
	walk = func(body *syntax.Body, path []*syntax.Block, key string, basis *syntax.Block) {
		if own := basisIn(body); own != nil {
			basis = own
		}
		for i := range body.Attrs {
			a := &body.Attrs[i]
			out = append(out, entry{key + "\x00" + a.Name, path, a, basis})
		}
		seen := map[string]int{}
		for _, b := range body.Blocks {
			if b.Type == "basis" {
				continue
			}
			k := b.Type
			for _, l := range b.Labels {
				k += "\x02" + l.Text
			}
			if a := attr(&b.Body, "when"); a != nil {
				k += "\x03" + a.Value.Text
			}
			seen[k]++
			k = fmt.Sprintf("%s\x01%s\x04%d", key, k, seen[k])
			out = append(out, entry{key: k}) // the block itself
			walk(&b.Body, append(path[:len(path):len(path)], b), k, basis)
		}
	}
	walk(&f.Body, nil, "", nil)
	return out
}

// compare tells what else than the changes differs between two texts of a
// file: nothing may.
func compare(name string, before, after []byte, changes []Change) error {
	a, badA := syntax.Parse(name, string(before))
	b, badB := syntax.Parse(name, string(after))
	if len(badA.List) > 0 || len(badB.List) > 0 {
		return fmt.Errorf("the edit would damage the file")
	}
	old := map[string]entry{}
	for _, e := range entries(a) {
		old[e.key] = e
	}
	set := map[int]bool{}
	for _, e := range entries(b) {
		was, known := old[e.key]
		delete(old, e.key)
		if e.attr == nil {
			if !known && !onTheWay(e.key, changes) {
				return fmt.Errorf("the edit would add a block of its own")
			}
			continue
		}
		if i := target(e, changes); i >= 0 {
			set[i] = true
			if e.attr.Value.Kind != syntax.Number || e.attr.Value.Text != changes[i].Text {
				return fmt.Errorf("the edit would not set the number")
			}
			if !isRecord(e.basis, changes[i]) {
				return fmt.Errorf("the edit would not give the number its basis")
			}
			continue
		}
		switch {
		case !known && e.attr.Name == "when" && underTarget(e, changes):
		case !known:
			return fmt.Errorf("the edit would add %s", e.attr.Name)
		case !syntax.SameValue(&was.attr.Value, &e.attr.Value):
			return fmt.Errorf("the edit would change %s", e.attr.Name)
		case needsBasis(e.attr) && !sameBasis(was.basis, e.basis):
			return fmt.Errorf("the edit would change the basis of %s", e.attr.Name)
		}
	}
	for _, e := range old {
		if e.attr == nil || target(e, changes) < 0 {
			return fmt.Errorf("the edit would take something away")
		}
	}
	for i, c := range changes {
		if !set[i] {
			return fmt.Errorf("the edit would not set %s", c.Path)
		}
	}
	return nil
}

func matches(blocks []*syntax.Block, path []rulepath.Block) bool {
	if len(blocks) != len(path) {
		return false
	}
	for i, b := range blocks {
		if !is(b, path[i]) {
			return false
		}
	}
	return true
}

// target is the change whose number an argument is, or -1.
func target(e entry, changes []Change) int {
	for i, c := range changes {
		if e.attr.Name == c.Path.Argument && matches(e.path, c.Path.Blocks) {
			return i
		}
	}
	return -1
}

func underTarget(e entry, changes []Change) bool {
	for _, c := range changes {
		if matches(e.path, c.Path.Blocks) {
			return true
		}
	}
	return false
}

// onTheWay tells whether a new block lies on the path of a change.
func onTheWay(key string, changes []Change) bool {
	for _, c := range changes {
		k := ""
		for _, b := range c.Path.Blocks {
			k += "\x01" + b.Type
			for _, l := range b.Labels {
				k += "\x02" + l
			}
			if b.When != "" {
				k += "\x03" + string(b.When)
			}
			k += "\x041"
			if k == key {
				return true
			}
		}
	}
	return false
}

func isRecord(b *syntax.Block, c Change) bool {
	if b == nil || len(b.Labels) != 1 || b.Labels[0].Text != "shop record" || attr(&b.Body, "cite") != nil {
		return false
	}
	n := attr(&b.Body, "cases")
	if n == nil || n.Value.Text != fmt.Sprint(c.Cases) {
		return false
	}
	note := attr(&b.Body, "note")
	return c.Note == "" || note != nil && note.Value.Text == c.Note
}

func sameBasis(a, b *syntax.Block) bool {
	if a == nil || b == nil {
		return a == b
	}
	if len(a.Labels) != len(b.Labels) || len(a.Body.Attrs) != len(b.Body.Attrs) {
		return false
	}
	for i := range a.Labels {
		if a.Labels[i].Text != b.Labels[i].Text {
			return false
		}
	}
	for i := range a.Body.Attrs {
		x := &a.Body.Attrs[i]
		y := attr(&b.Body, x.Name)
		if y == nil || !syntax.SameValue(&x.Value, &y.Value) {
			return false
		}
	}
	return true
}

// clean is a note as one line of text that the rule language takes.
func clean(s string) string {
	s = strings.ToValidUTF8(s, "?")
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0x2028 || r == 0x2029 || r == 0xfeff {
			return ' '
		}
		return r
	}, s)
	return strings.NewReplacer("${", "$ {", "%{", "% {").Replace(s)
}
