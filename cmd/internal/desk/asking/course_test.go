package asking

import (
	"context"
	"log/slog"
	"slices"
	"testing"

	"slipcase/cmd/internal/desk/shown"
	"slipcase/cmd/internal/load"
	"slipcase/engine"
	"slipcase/internal/size"
)

// Next and plan are one decision: the same thing to do now and the same minutes,
// as a case stands and after checks that show nothing: on a few demos, on all with
// SLIPCASE_LONG.
func TestNextIsTheFirstMoveOfThePlan(t *testing.T) {
	l := load.New(t.TempDir(), false, slog.New(slog.DiscardHandler))
	a := New(l, slog.New(slog.DiscardHandler), nil)
	kinds := map[string]int{}
	demos := size.Of([]string{"binds-in-first", "third-and-fourth-only"}, // the soonest answered
		[]string{"slip-one-gear", "not-the-transmission", "late-into-second"}, load.Demos())
	for _, name := range demos {
		w, err := a.Open(context.Background(), CaseRef{Demo: name})
		if err != nil {
			t.Fatal(err)
		}
		for range 3 {
			now := same(t, name, w)
			kinds[now.Kind]++
			if now.Kind != "check" {
				break
			}
			check := w.Knowledge.Check(now.Name)
			c := *w.Case
			c.Reports = slices.Clone(c.Reports)
			for _, pattern := range check.Yields {
				for _, f := range w.Model.Match(pattern) {
					c.Reports = append(c.Reports, engine.Report{Finding: f, State: engine.Absent, By: check.Reporter})
				}
			}
			c.Put = append(slices.Clone(c.Put), check.Name)
			w.Case = &c
		}
	}
	t.Logf("what comes first: %v", kinds)
	if kinds["check"] == 0 || kinds["step"] == 0 {
		t.Error("no demo asks for a check, or none for a step")
	}
}

func same(t *testing.T, name string, w *Work) Move {
	t.Helper()
	next, err := w.next(shown.NextChecks, nil)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	plan, err := w.Planned(PlanInput{})
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	n, p := next.Data, plan.Data
	if n.Now != p.Now || n.Minutes != p.Minutes {
		t.Errorf("%s: next %+v after %v minutes, plan %+v after %v", name, n.Now, n.Minutes, p.Now, p.Minutes)
	}
	switch n.Now.Kind {
	case "check":
		if n.Checks[0].Check != n.Now.Name || !n.Checks[0].Worth || p.First[0].Check != n.Now.Name {
			t.Errorf("%s: %+v, checks %s, first %+v", name, n.Now, n.Checks[0].Check, p.First)
		}
	case "step":
		if n.Step != n.Now.Name || p.Steps[0].Step != n.Now.Name || len(p.First) > 0 {
			t.Errorf("%s: %+v, step %s of next, %s of the plan", name, n.Now, n.Step, p.Steps[0].Step)
		}
	}
	return n.Now
}
