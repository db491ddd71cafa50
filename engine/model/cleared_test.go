package model_test

import (
	"math"
	"testing"

	"slipcase/engine"
)

// A clean pan clears the plates while the fluid is the old one; after a change it
// says a good deal less, whoever told of the change and in whatever order, and a
// change that is denied takes nothing away. (Share taken away: 0.7, as the rules
// have it, recalled.)
func TestChangedFluid(t *testing.T) {
	m := build(t, "northfork-4")
	plates := func(list ...engine.Report) float64 {
		c := engine.CaseFile{Reports: append([]engine.Report{{Finding: "slips@D/3", State: engine.Present, By: "driver"}}, list...)}
		pieces, _ := m.Evidence(&c)
		post, err := m.Solve(pieces)
		if err != nil {
			t.Fatal(err)
		}
		n, _ := m.Lookup("direct_frictions/burnt_friction")
		return post.P[n]
	}
	clean := engine.Report{Finding: "lining_in_pan", State: engine.Absent, By: "eye"}
	changed := engine.Report{Finding: "history_fluid_changed", State: engine.Present, By: "driver"}
	denied := changed
	denied.State = engine.Absent
	plain, old, said := plates(), plates(clean), plates(changed)
	after, before := plates(changed, clean), plates(clean, changed)
	if math.Abs(after-before) > 1e-9 {
		t.Errorf("the order of the reports matters: %v and %v", after, before)
	}
	if !(old < 0.8*plain) {
		t.Fatalf("a clean pan says nothing of the plates: %v, %v", plain, old)
	}
	if lost, kept := said-after, plain-old; !(lost > 0.02*kept && lost < 0.5*kept) {
		t.Errorf("a clean pan takes %v off the plates, of a changed fluid %v", kept, lost)
	}
	if was, is := plates(denied), plates(denied, clean); !(is < 0.8*was) {
		t.Errorf("of a fluid that was not changed a clean pan takes %v to %v", was, is)
	}
	lining := clean
	lining.State = engine.Present
	if is := plates(changed, lining); is < 1.7*plain {
		t.Errorf("lining in the pan of a changed fluid says %v of the plates, %v before", is, plain)
	}
}
