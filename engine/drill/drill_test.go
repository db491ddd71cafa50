package drill

import (
	"context"
	"errors"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/engine"
	"slipcase/engine/internal/patience"
	"slipcase/engine/model"
	"slipcase/internal/size"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/diag"
)

func unit(t *testing.T, id string) *model.Model {
	t.Helper()
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "built in", FS: knowledge.FS}}, Unit: id, NoExamples: true})
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	m, err := model.Build(k, k.Units[0])
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Each level is what it says, the same seed is the same vehicle, and taking
// everything apart finds what is behind the complaint.
func TestLevels(t *testing.T) {
	m := unit(t, "harrow-3")
	for _, level := range Levels {
		t.Run(string(level), func(t *testing.T) {
			for seed := range uint64(3) {
				d, err := New(m, level, seed)
				if err != nil {
					t.Fatal(err)
				}
				again, err := New(m, level, seed)
				if err != nil {
					t.Fatal(err)
				}
				if diff := cmp.Diff(d.Opening(), again.Opening()); diff != "" || !slices.Equal(d.cul, again.cul) {
					t.Errorf("the same seed gives another vehicle: %s", diff)
				}
				if len(d.Opening()) == 0 || d.Over() {
					t.Error("no complaint, or over before it began")
				}
				for _, a := range d.Opening() {
					if a.State != engine.Present {
						t.Errorf("the complaint %s is %s", a.Finding, a.State)
					}
				}
				for i := range m.Unit.Steps {
					d.take(&m.Unit.Steps[i])
				}
				total := 0.0
				for i := range m.Unit.Steps {
					total += m.Unit.Steps[i].Minutes.Value
				}
				if d.Minutes() != total {
					t.Errorf("all steps took %v minutes, want %v", d.Minutes(), total)
				}
				for _, c := range d.cul {
					if d.outside(c) && !d.found[c] {
						if _, err := d.Do(c); err != nil {
							t.Fatal(err)
						}
					}
				}
				if level == RootCause {
					if d.Over() {
						t.Error("over without the root cause")
					}
					mv, err := d.Do(d.causes[0])
					if err != nil || !mv[0].Right {
						t.Error(mv, err)
					}
				}
				if !d.Over() {
					t.Errorf("everything is in view, and it is not over: %v", d.cul)
				}
			}
		})
	}
}

// Answers are those of the vehicle: a check asked by the student and the same
// by the advised way hear the same; nothing is told twice or for free.
func TestMoves(t *testing.T) {
	m := unit(t, "harrow-3")
	d, err := New(m, OneFault, 5)
	if err != nil {
		t.Fatal(err)
	}
	open, err := d.Checks()
	if err != nil || len(open) == 0 {
		t.Fatal(open, err)
	}
	name := open[0].Check.Name
	mv, err := d.Do(name)
	if err != nil {
		t.Fatal(err)
	}
	if len(mv) != 1 || len(mv[0].Answers) != len(open[0].Findings) || d.Minutes() != open[0].Check.Minutes.Value {
		t.Errorf("%+v, %v minutes", mv, d.Minutes())
	}
	var shut *ShutError
	if _, err := d.Do(name); !errors.As(err, &shut) {
		t.Errorf("asked again: %v", err)
	}
	var unknown *UnknownError
	if _, err := d.Do("pull_unti"); !errors.As(err, &unknown) || !slices.Contains(unknown.Near, "pull_unit") {
		t.Errorf("a slip of the pen: %v", err)
	}
	before := d.Minutes()
	first, err := d.Do("pump_out")
	if err != nil || len(first) < 2 {
		t.Fatalf("the pump without what comes before it: %v %v", first, err)
	}
	if d.Minutes() == before {
		t.Error("taking the pump out costs nothing")
	}
	before = d.Minutes()
	if again, err := d.Do("pump_out"); err != nil || !again[0].Again || d.Minutes() != before {
		t.Errorf("taken out twice: %v %v", again, err)
	}
}

// The advised way ends with the culprit in view, and says what gave it away.
func TestResult(t *testing.T) {
	m := unit(t, "harrow-3")
	levels := size.Of([]Level{OneFault}, []Level{OneFault}, Levels)
	for _, level := range levels {
		// The advised way of vehicle 5 is worked out in a fifth of the time of 3.
		d, err := New(m, level, size.Of[uint64](5, 3, 3))
		if err != nil {
			t.Fatal(err)
		}
		r, err := d.Result()
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d moves, %v minutes", level, len(r.Advised.Moves), r.Advised.Minutes)
		if !r.Advised.Found || r.Advised.Minutes <= 0 || len(r.Advised.Moves) == 0 {
			t.Errorf("%s: advised: %+v", level, r.Advised)
		}
		if r.Found || r.Student.Found || r.Student.Minutes != 0 {
			t.Errorf("%s: nothing was done, and yet: %+v", level, r.Student)
		}
		if len(r.Culprits) == 0 || len(r.Culprits[0].Modes) == 0 || len(r.Culprits[0].Signs) == 0 {
			t.Errorf("%s: %+v", level, r.Culprits)
		}
		// Who does the same is as fast.
		for _, mv := range r.Advised.Moves {
			if s := m.Step(mv.Name); mv.Kind == Step && s != nil {
				d.take(s)
			} else if _, err := d.Do(mv.Name); err != nil {
				t.Fatal(mv.Name, err)
			}
		}
		same, err := d.Result()
		if err != nil {
			t.Fatal(err)
		}
		if !same.Student.Found || same.Student.Minutes != r.Advised.Minutes || same.Student.Idle != 0 {
			t.Errorf("%s: the advised moves take %v and find %v, want %v", level, same.Student.Minutes, same.Student.Found, r.Advised.Minutes)
		}
	}
}

// A drill ends with the context of its model: while the vehicle is drawn, and
// while the advised way is worked out.
func TestEndsWithTheContext(t *testing.T) {
	m := unit(t, "northfork-4")
	if _, err := New(m.WithContext(patience.New(0)), OneFault, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("drawn: %v", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	d, err := New(m.WithContext(ctx), OneFault, 1)
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	if _, err := d.Advised(); !errors.Is(err, context.Canceled) {
		t.Errorf("the advised way: %v", err)
	}
}
