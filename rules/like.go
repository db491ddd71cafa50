package rules

import (
	"fmt"
	"regexp"
	"strings"

	"slipcase/engine"
	"slipcase/rules/diag"
)

// likeness notes what a unit's own files write over the unit that it is like.
func likeness(like *attr, n *node) *engine.Likeness {
	l := &engine.Likeness{Of: like.Value.Text, At: like.at(), Own: map[string]engine.Range{}}
	note := func(name string, at engine.Range) {
		if _, ok := l.Own[name]; !ok {
			l.Own[name] = at
		}
	}
	var walk func(*node)
	walk = func(n *node) {
		for _, c := range n.blocks {
			if len(c.labels) == 0 {
				note(c.spec.name, c.at())
			}
			for i, label := range c.labels {
				note(label, c.labelAt(i))
			}
			if c.spec.name == "row" {
				note(strings.Join(c.labels, "/"), c.at())
			}
			walk(c)
		}
	}
	walk(n)
	note("", n.at())
	return l
}

// inUnit fills a unit; what is wrong in the file of the unit that it is like
// waits until all of it is known.
func (d *decoder) inUnit(n *node) *scope {
	before := len(d.problems.List)
	s := d.unit(n)
	s.foreign = append(n.foreign, d.problems.take(s.unit, before)...)
	return s
}

// keepForeign runs what may report something, and keeps back of a unit that is
// like another one what does not stand in its own files.
func (p *problems) keepForeign(s *scope, f func()) {
	if s == nil || s.unit.Like == nil {
		f()
		return
	}
	before := len(p.List)
	f()
	s.foreign = append(s.foreign, p.take(s.unit, before)...)
}

// take removes from the list, from a place on, what does not stand in a unit's
// own files, and gives it.
func (p *problems) take(u *engine.Unit, from int) []engine.Diagnostic {
	if u.Like == nil {
		return nil
	}
	var out []engine.Diagnostic
	kept := p.List[:from]
	for _, d := range p.List[from:] {
		if ownFile(u.Like, d.Subject.File) {
			kept = append(kept, d)
		} else {
			out = append(out, d)
		}
	}
	p.List = kept
	return out
}

func ownFile(l *engine.Likeness, file string) bool {
	if file == l.At.File {
		return true
	}
	for _, at := range l.Own {
		if at.File == file {
			return true
		}
	}
	return false
}

var quotedWord = regexp.MustCompile(`"([^"]*)"|\b([A-Za-z0-9]+/[A-Za-z0-9]+)\b`)

// AtOwnLines turns problems that come up in the file of the unit that a unit is
// like, though that file is sound by itself, into problems of the unit's own
// lines: where it names what the problem names, else at its train, else at its
// like. One problem for each such line.
func AtOwnLines(u *engine.Unit, foreign []engine.Diagnostic) []engine.Diagnostic {
	if u.Like == nil {
		return foreign
	}
	var out []engine.Diagnostic
	index := map[engine.Range]int{}
	more := map[engine.Range]int{}
	for _, d := range diag.Sort(foreign) {
		if ownFile(u.Like, d.Subject.File) {
			out = append(out, d)
			continue
		}
		at := ownPlace(u.Like, d)
		if i, ok := index[at]; ok && out[i].Severity == d.Severity {
			more[at]++
			continue
		}
		index[at] = len(out)
		was := d.Subject
		d.Subject, d.Context = at, engine.Range{}
		if was.File != "" {
			d.Also = was
			if d.Detail != "" && !strings.HasSuffix(d.Detail, ".") && !strings.HasSuffix(d.Detail, "?") {
				d.Detail += "."
			}
			d.Detail = hint(d.Detail, fmt.Sprintf("It comes from %s, which %q is like (%s), together with what is written here.", u.Like.Of, u.ID, was))
		}
		out = append(out, d)
	}
	for at, n := range more {
		d := &out[index[at]]
		d.Detail = hint(d.Detail, fmt.Sprintf("%d more of the kind follow from it.", n))
	}
	return out
}

// ownPlace finds the line of a unit that a problem elsewhere comes from.
func ownPlace(l *engine.Likeness, d engine.Diagnostic) engine.Range {
	for _, text := range []string{d.Summary, d.Detail} {
		for _, m := range quotedWord.FindAllStringSubmatch(text, -1) {
			if at, ok := l.Own[m[1]+m[2]]; ok && m[1]+m[2] != "" {
				return at
			}
		}
	}
	if at, ok := l.Own["train"]; ok {
		return at
	}
	return l.At
}
