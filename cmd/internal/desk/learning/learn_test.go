package learning

import (
	"log/slog"
	"strings"
	"testing"

	"slipcase/cmd/internal/load"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/refine"
	"slipcase/engine/refine/rulepath"
)

// Every number of the built-in rules has words of its own, so that a table of
// them can be read without the files.
func TestNumberWordsAreDistinct(t *testing.T) {
	l := load.New(t.TempDir(), false, slog.New(slog.DiscardHandler))
	x, err := l.Load(t.Context(), "")
	if err != nil {
		t.Fatal(err)
	}
	k := x.Knowledge
	n := wording.NewNumbers(k)
	seen := map[string]string{}
	rulepath.Walk(k, func(p rulepath.Path, x *engine.Number) {
		w := learnNumber(n, p, *x)
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
	l := load.New(t.TempDir(), false, slog.New(slog.DiscardHandler))
	x, err := l.Load(t.Context(), "harrow-3")
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
