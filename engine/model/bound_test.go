package model_test

import (
	"fmt"
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
)

// What goes past the bound are findings reported present that tell least; the
// complaint, what is absent and looks at parts stay, and a case within it is whole.
func TestForemost(t *testing.T) {
	m := built(t, "four-gearset-8")
	c := &engine.CaseFile{Unit: m.Unit.ID}
	for i, n := range m.FindingNames() {
		if f := engine.ParseFindingName(n); f.Condition != "" {
			continue
		}
		r := engine.Report{Finding: n, By: "driver", State: engine.Present}
		if i%3 == 1 {
			r.State = engine.Absent
		}
		c.Reports = append(c.Reports, r)
	}
	pieces, problems := m.Evidence(c)
	if model.Refused(problems) {
		t.Fatal(problems)
	}
	kept, left := m.Foremost(pieces)
	if len(kept)+len(left) != len(pieces) || m.Presents(kept) != model.MostPresent || m.Presents(left) != m.Presents(pieces)-model.MostPresent {
		t.Fatalf("%d pieces with %d present: %d kept with %d, %d left with %d", len(pieces), m.Presents(pieces), len(kept), m.Presents(kept), len(left), m.Presents(left))
	}
	least := 0.0
	for _, p := range left {
		if p.State != engine.Present || p.Answer == nil {
			t.Errorf("left out: %s %s, an answer: %v", p.Label, p.State, p.Answer != nil)
		}
		least = max(least, m.Weighs(p))
	}
	for _, p := range kept {
		if p.State == engine.Present && p.Answer != nil && m.Weighs(p) < least {
			t.Fatalf("%s is kept and tells %g, less than the %g of one left out", p.Label, m.Weighs(p), least)
		}
	}
	c.Reports = c.Reports[:200]
	pieces, _ = m.Evidence(c)
	if kept, left := m.Foremost(pieces); len(left) != 0 || fmt.Sprint(kept) != fmt.Sprint(pieces) {
		t.Errorf("of %d pieces %d are left out", len(pieces), len(left))
	}
}

// Which reports of a crowd are left out does not hang on which was noted first.
func TestForemostInAnyOrder(t *testing.T) {
	m := build(t, "northfork-4")
	var pieces []model.Piece
	for i, n := range m.Nodes {
		if n.Layer == model.FindingLayer {
			pieces = append(pieces, model.Piece{Node: i, On: 0.9, Off: 0.05, Answer: &model.Answer{}})
		}
	}
	left := func() (nodes []int) {
		_, out := m.Foremost(pieces)
		for _, p := range out {
			nodes = append(nodes, p.Node)
		}
		slices.Sort(nodes)
		return nodes
	}
	one := left()
	slices.Reverse(pieces)
	if other := left(); len(one) == 0 || !slices.Equal(one, other) {
		t.Errorf("%d and %d reports left out, not the same ones", len(one), len(other))
	}
}
