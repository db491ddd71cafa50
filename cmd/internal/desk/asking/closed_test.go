package asking

import (
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/advise"
)

// Checks that are not open any more are named for each reason while they are
// few; those that wait for a step are counted.
func TestClosedChecks(t *testing.T) {
	check := func(n int, why advise.Obstacle) (out []advise.Refusal) {
		for i := range n {
			out = append(out, advise.Refusal{Check: &engine.Check{Name: string(rune('a' + i))}, Why: why, Step: &engine.Step{Name: "pull"}})
		}
		return out
	}
	list, waiting := closed(slices.Concat(check(4, advise.UnitOut), check(3, advise.NeedsStep), check(5, advise.TooLate)))
	if waiting != 3 || len(list) != 2 {
		t.Fatalf("%d wait, %+v", waiting, list)
	}
	if len(list[0].Checks) != 4 || list[0].More != 0 || len(list[1].Checks) != 0 || list[1].More != 5 {
		t.Errorf("%+v", list)
	}
}
