package asking

import (
	"bytes"
	"encoding/json"
	"log/slog"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/load"
	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/internal/size"
)

// twice holds all that a case file can say. A row that is good at one time and
// slips at another is printed as what was noticed there.
const twice = `language = 1
case "twice" {
  unit    = "northfork-4"
  title   = "slips since the fluid was changed"
  vehicle = "van"
  done    = ["pan_off"]
  reports "driver" {
    present = ["slips@D/3"]
    at      = "2026-03-01T09:00"
  }
  reports "road_test" {
    good = ["D/3"]
    at   = "2026-03-01"
  }
  reports "road_test" {
    present = ["slips@D/3"]
    at      = "2026-03-02T10:30"
  }
  reports "eye" {
    present = ["lining_in_pan"]
    unknown = ["bronze_in_pan"]
  }
  reading "line_pressure" "idle/R" {
    value = "62 psi"
    at    = "2026-03-02"
  }
  settled "high_mileage" {
    present = true
  }
}
`

// What an answer prints as its input is enough to work it out again, by a
// program that has nothing else but the rules: the same bytes for every use case.
func TestEveryAnswerCanBeWorkedOutAgain(t *testing.T) {
	file := filepath.Join(t.TempDir(), "twice.hcl")
	if err := os.WriteFile(file, []byte(twice), 0o600); err != nil {
		t.Fatal(err)
	}
	log := slog.New(slog.DiscardHandler)
	ctx := t.Context()
	a := New(load.New(t.TempDir(), false, log), log, nil)
	refs := []CaseRef{{File: file}, {Demo: "two-faults"}}
	for _, ref := range size.Of(refs[:1], refs, refs) {
		var suspect string
		whole, ends := map[string]outcome{}, map[string]bool{}
		x, err := a.Suspects(ctx, ref, 7)
		whole["suspects"] = printed(t, x, err)
		suspect = x.Data.Suspects[0].Component
		x, err = a.SuspectsTried(ctx, ref, 3)
		whole["suspects tried"] = printed(t, x, err)
		n, err := a.Next(ctx, ref, 4, []string{"gauges", "pan"})
		whole["next"] = printed(t, n, err)
		p, err := a.Plan(ctx, ref, PlanInput{Steps: 4})
		whole["plan"] = printed(t, p, err)
		y, err := a.Why(ctx, ref, suspect)
		whole["why"] = printed(t, y, err)

		for name, was := range whole {
			// Anew from the bytes, with a loader that has answered nothing yet.
			var in answer.Input
			if err := json.Unmarshal(was.input, &in); err != nil {
				t.Fatal(err)
			}
			w := from(t, load.New(t.TempDir(), false, log), in)
			var again outcome
			number := func(option string) int {
				n, err := strconv.Atoi(in.Options[option])
				if err != nil {
					t.Fatalf("%s, option %s: %v", name, option, err)
				}
				return n
			}
			switch strings.Fields(name)[0] {
			case "suspects":
				x, err := w.Suspects(number("top"), in.Options["firm"] == "true", true)
				again = printed(t, x, err)
			case "next":
				var stages []engine.Stage
				for _, s := range strings.Split(in.Options["stages"], ",") {
					st, err := stage(s)
					if err != nil {
						t.Fatal(err)
					}
					stages = append(stages, st)
				}
				x, err := w.next(number("top"), stages)
				again = printed(t, x, err)
			case "plan":
				x, err := w.Planned(PlanInput{Steps: number("steps"), Full: in.Options["full"] == "true"})
				again = printed(t, x, err)
			case "why":
				x, err := w.Why(in.Options["suspect"])
				again = printed(t, x, err)
			}
			for part, pair := range map[string][2][]byte{"rules": {was.rules, again.rules}, "input": {was.input, again.input}, "data": {was.data, again.data}} {
				if !bytes.Equal(pair[0], pair[1]) {
					t.Errorf("%+v, %s: %s worked out again is\n%s\nnot\n%s", ref, name, part, pair[1], pair[0])
				}
			}
			ends[string(was.data)] = true
		}
		if len(ends) != len(whole) {
			t.Errorf("%+v: some of %d answers are the same", ref, len(whole))
		}
	}
}

// outcome is what an answer prints.
type outcome struct{ rules, input, data []byte }

func printed[T any](t *testing.T, a answer.Answer[T], err error) outcome {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	text := func(x any) []byte {
		b, err := json.Marshal(x)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	return outcome{[]byte(a.Rules + " " + a.Method), text(a.Input), text(a.Data)}
}

// from is a case as an answer prints it.
func from(t *testing.T, l *load.Loader, in answer.Input) *Work {
	t.Helper()
	c, err := in.Case.File(in.Unit)
	if err != nil {
		t.Fatal(err)
	}
	x, err := l.Load(t.Context(), in.Unit)
	if err != nil {
		t.Fatal(err)
	}
	m, err := x.Model(in.Unit)
	if err != nil {
		t.Fatal(err)
	}
	if _, said := m.Evidence(c); model.Refused(said) {
		t.Fatalf("the printed case is refused: %v", said)
	}
	return &Work{Knowledge: x.Knowledge, Model: m, Case: c, Status: engine.CaseStatus(in.Case.Status)}
}
