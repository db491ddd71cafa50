package teardown

import (
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/teardown/order"
)

// A sequence that shows no culprit is left out whole.
func TestTrimLeavesOutWhatShowsNothing(t *testing.T) {
	steps := []*engine.Step{{Name: "a", Exposes: []string{"x"}}, {Name: "b", Exposes: []string{"y"}}, {Name: "c"}}
	for _, c := range []struct {
		weight map[string]float64
		want   int
	}{{nil, 0}, {map[string]float64{"x": 0.1}, 1}, {map[string]float64{"y": 0.1}, 2}, {map[string]float64{"x": 0, "y": 0}, 0}} {
		if got := trim(steps, c.weight); len(got) != c.want {
			t.Errorf("%v: %d steps, want %d", c.weight, len(got), c.want)
		}
	}
}

// A limit that names a step belongs to that step alone, whatever part it is of.
func TestLimitsBelongToOneStep(t *testing.T) {
	u := &engine.Unit{Limits: []engine.Limit{{Name: "own", Step: "b", Component: "x"}, {Name: "of_part", Component: "x"}}}
	for step, want := range map[string]int{"a": 1, "b": 2} {
		s := &engine.Step{Name: step, Exposes: []string{"x"}}
		if got := limits(u, &engine.CaseFile{}, s, nil); len(got) != want {
			t.Errorf("step %s: %d limits, want %d", step, len(got), want)
		}
	}
}

// What a plan saves before the pull and after it is all that it saves.
func TestSavingsAddUp(t *testing.T) {
	minutes := func(n float64) engine.Number { return engine.Number{Value: n} }
	left := []*engine.Step{{Name: "look", Minutes: minutes(10)}, {Name: "pull", Minutes: minutes(90), Pulls: true}, {Name: "open", Minutes: minutes(20)}}
	jobs := []order.Job{{Weight: 0.3}, {Weight: 0}, {Weight: 0.5}}
	// The culprits come into view after 10 and 120 minutes, or after 120 and 110.
	b := against(&model.Model{Unit: &engine.Unit{}}, jobs, left, []int{0, 1, 2}, []int{1, 2, 0})
	if want := 0.3*120 + 0.5*110; !near9(b.Expected, want) {
		t.Errorf("expected %v, want %v", b.Expected, want)
	}
	saved := b.Expected - (0.3*10 + 0.5*120)
	if !near9(b.BeforePull+b.AfterPull, saved) || near9(saved, 0) {
		t.Errorf("saved %v and %v, want %v in all", b.BeforePull, b.AfterPull, saved)
	}
	if !near9(b.SavedPercent, 100*saved/b.Expected) {
		t.Errorf("%v percent", b.SavedPercent)
	}
}
