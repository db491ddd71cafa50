package casework

import (
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/engine"
	"slipcase/engine/quantity"
)

// TestOldNamesInTheCasebook: what an old casebook holds under names that a unit
// has given up since is still used: the reading of the servo's travel counts for
// the band as one under the new name does, and the step is done.
func TestOldNamesInTheCasebook(t *testing.T) {
	d := shopDesk(t)
	worn, err := quantity.Parse("5.5 mm")
	if err != nil {
		t.Fatal(err)
	}
	by := map[string]answer.Num{}
	for _, limit := range []string{"band_travel", "overdrive_servo_travel"} {
		id := openCase(t, d, "northfork-4")
		j, err := d.forWriting(t.Context(), opened.Ref{In: id})
		if err != nil {
			t.Fatal(err)
		}
		_, err = j.Book.Append(t.Context(), id,
			engine.Entry{Body: engine.Reading{Name: limit, Value: worn, By: "measuring_tool"}},
			engine.Entry{Body: engine.StepDone{Step: "rear_bushings_look"}},
			engine.Entry{Body: engine.Report{Finding: "slips@D/4", State: engine.Present, By: "driver"}})
		j.Close()
		if err != nil {
			t.Fatal(err)
		}
		ans, err := d.Suspects(t.Context(), asking.CaseRef{In: id}, 40)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range ans.Data.Suspects {
			if s.Component == "overdrive_band" {
				by[limit] = s.Probability
			}
		}
		w, err := d.open(t.Context(), asking.CaseRef{In: id})
		if err != nil || len(w.Case.Done) != 1 || w.Case.Done[0] != "case_stripped" {
			t.Errorf("done: %v, %v", w.Case.Done, err)
		}
	}
	if by["band_travel"] != by["overdrive_servo_travel"] || by["band_travel"] < 0.2 {
		t.Errorf("the band: %v", by)
	}
}
