package advise

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"slipcase/engine"
)

// Before anything is reported, prices need a tree with every mode and cause in it. No
// report can be shared out to make that smaller: where it is past the bound, the first
// question of every case fails. Rules that tie more together come near it, so a
// fifth is to be left.
func TestEmptyCaseFitsItsTree(t *testing.T) {
	files, err := filepath.Glob("../../knowledge/units/*.hcl")
	if err != nil || len(files) < 8 {
		t.Fatalf("%d units, %v", len(files), err)
	}
	for _, file := range files {
		id := strings.TrimSuffix(filepath.Base(file), ".hcl")
		m, err := loadModel(id)
		if err != nil {
			t.Fatal(err)
		}
		a, err := New(m)
		if err != nil {
			t.Fatal(err)
		}
		s, err := a.scope(&engine.CaseFile{Unit: id}, nil)
		if err != nil {
			t.Fatal(err)
		}
		want := append(slices.Clone(s.want), m.Modes()...)
		if _, _, err := s.within(nil, want, 0.8*priceWork); err != nil {
			t.Errorf("%s: %v", id, err)
		}
	}
}
