package desk

import (
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/refine"
	"slipcase/engine/refine/rulepath"
)

// Every number of the built-in rules has words of its own, so that a table of
// them can be read without the files.
func TestNumberWordsAreDistinct(t *testing.T) {
	d := New(Options{Home: t.TempDir()})
	x, err := d.load.Load(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	k := x.Knowledge
	n := newNumberWords(k)
	seen := map[string]string{}
	rulepath.Walk(k, func(p rulepath.Path, x *engine.Number) {
		w := n.number(p, *x)
		if w.Words == "" || strings.ContainsAny(w.Words, "{}@_") {
			t.Errorf("%s: %q", p, w.Words)
		}
		if other := seen[w.Words]; other != "" {
			t.Errorf("%q stands for %s and for %s", w.Words, other, p)
		}
		seen[w.Words] = p.String()
		if w.File == "" || w.Line == 0 || w.Basis == "" {
			t.Errorf("%s: no place or basis: %+v", p, w)
		}
	})
	if len(seen) < 500 {
		t.Errorf("only %d numbers", len(seen))
	}
}

// A new value that is written like the old one is no change.
func TestSettled(t *testing.T) {
	d := New(Options{Home: t.TempDir()})
	x, err := d.load.Load(t.Context(), "harrow-3")
	if err != nil {
		t.Fatal(err)
	}
	k := x.Knowledge
	var paths []rulepath.Path
	rulepath.Walk(k, func(p rulepath.Path, _ *engine.Number) { paths = append(paths, p) })
	p := &refine.Proposal{
		Changes: []refine.Change{{Path: paths[1], Old: engine.Number{Value: 0.2}, New: 0.2}, {Path: paths[2], Old: engine.Number{Value: 0.2}, New: 0.21}},
		Kept:    []refine.Kept{{Path: paths[0]}, {Path: paths[3]}},
	}
	settled(p, k)
	if len(p.Changes) != 1 || p.Changes[0].New != 0.21 {
		t.Errorf("changes: %+v", p.Changes)
	}
	if len(p.Kept) != 3 || p.Kept[1].Path.String() != paths[1].String() || p.Kept[1].Why != refine.Confirmed {
		t.Errorf("kept: %+v", p.Kept)
	}
}

func TestLearnSentence(t *testing.T) {
	changes := func(n int) []LearnChange { return make([]LearnChange, n) }
	kept := func(n int) []LearnKept { return make([]LearnKept, n) }
	agree := func(n int) []LearnReason { return []LearnReason{{string(refine.Confirmed), n}} }
	for want, x := range map[string]Learned{
		"No confirmed case in b.db: there is nothing to learn from yet.":                                                        {Book: "b.db"},
		"No confirmed case in b.db of unit u: there is nothing to learn from yet.":                                              {Book: "b.db", Unit: "u"},
		"1 confirmed case; no number would move, the rest stay because the cases cannot tell.":                                  {Cases: 1, Kept: kept(9)},
		"12 confirmed cases; 3 numbers would move, the rest stay because the cases cannot tell.":                                {Cases: 12, Changes: changes(3), Kept: kept(9)},
		"12 confirmed cases; 1 number moved, 1 stays because the cases agree with it, the rest because they cannot tell.":       {State: "applied", Cases: 12, Changes: changes(1), Kept: kept(9), Reasons: agree(1)},
		"12 confirmed cases; 1 number would move, 8 stay because the cases agree with them, the rest because they cannot tell.": {Cases: 12, Changes: changes(1), Kept: kept(9), Reasons: agree(8)},
		"12 confirmed cases; 1 number would move, the rest stay because the cases agree with them.":                             {Cases: 12, Changes: changes(1), Kept: kept(9), Reasons: agree(9)},
	} {
		if got := learnSentence(&x); got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
}
