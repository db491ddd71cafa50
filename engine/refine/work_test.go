package refine

import (
	"errors"
	"reflect"
	"testing"

	"slipcase/engine/model"
)

// Past its work learning ends with an error, wherever that is, in the comparison on
// held-out cases too, and proposes nothing; within it the work counted changes nothing.
func TestWorkIsBounded(t *testing.T) {
	m, cases := small(t), rCases(t)
	ctx := t.Context()
	free, err := Propose(ctx, []*model.Model{m}, cases, Options{})
	if err != nil {
		t.Fatal(err)
	}
	ends := map[string]int{}
	for work := 500.0; ; work *= 1.5 {
		phase := ""
		p, err := Propose(ctx, []*model.Model{m}, cases, Options{Work: work, Progress: func(p Progress) { phase = p.Phase }})
		if err == nil {
			if !reflect.DeepEqual(p.Changes, free.Changes) || !reflect.DeepEqual(p.HeldOut, free.HeldOut) {
				t.Errorf("with work of %g entries another proposal", work)
			}
			t.Logf("%g entries are enough; ended in %v", work, ends)
			break
		}
		if ends[phase]++; !errors.Is(err, ErrWork) || p != nil || work > 1e12 {
			t.Fatalf("work of %g entries: %v, %v", work, p, err)
		}
	}
	for _, phase := range []string{"reading", "estimate", "held-out"} {
		if ends[phase] == 0 {
			t.Errorf("never ended in the part %q: %v", phase, ends)
		}
	}
}
