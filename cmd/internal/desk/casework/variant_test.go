package casework

import (
	"strings"
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/cmd/internal/notation"
	"slipcase/engine"
	"slipcase/engine/quantity"
)

// TestVariantTakesTheCaseAlong: the case of the variant's unit holds, in the same
// order and with their times, the entries in force that its unit knows; one that
// it does not is told; the old case is closed and says where it went. Nothing is
// written where it is not settled, or for another family.
func TestVariantTakesTheCaseAlong(t *testing.T) {
	d := shopDesk(t)
	id := openCase(t, d, "northfork-4-late")
	j, err := d.forWriting(t.Context(), opened.Ref{In: id})
	if err != nil {
		t.Fatal(err)
	}
	seventy, err := quantity.Parse("70 psi")
	if err != nil {
		t.Fatal(err)
	}
	_, err = j.Append(
		engine.Report{Finding: "slips@D/4", State: engine.Present, By: "driver"},
		engine.Report{Finding: "slips@D/2", State: engine.Present, By: "driver"},
		engine.Retraction{Of: 2},
		engine.Reading{Name: "line_pressure", Place: "idle/R", Value: seventy, By: "gauge"},
		engine.Seen{Component: "plug_seal", Mode: "seal_leaks"}, // a part of the late one alone
		engine.StepDone{Step: "pan_off"},
		engine.Note{Text: "smells burnt"},
	)
	j.Close()
	if err != nil {
		t.Fatal(err)
	}
	tag := func(s string) []notation.FeatureAnswer { return []notation.FeatureAnswer{{Feature: "tag", Text: s}} }
	for name, seen := range map[string][]notation.FeatureAnswer{"northfork-4": nil, "harrow-3": {{Feature: "output_shaft", Text: "37.5 mm"}}} {
		if _, err := d.RecordVariant(t.Context(), opened.Ref{In: id}, name, seen); err == nil || answer.AsFailure(err).Code != answer.WrongUse {
			t.Errorf("%s: %v", name, err)
		}
	}
	ans, err := d.RecordVariant(t.Context(), opened.Ref{In: id}, "", tag("NF4-12"))
	if err != nil {
		t.Fatal(err)
	}
	r := ans.Data
	if r.Unit != "northfork-4" || r.GoesOn == id || r.Carried != 4 || len(r.LeftOut) != 1 || !strings.Contains(r.LeftOut[0], "plug_seal") {
		t.Fatalf("%+v", r)
	}
	now, old := standing(t, d, r.GoesOn), standing(t, d, id)
	if now.Unit != "northfork-4" || now.Status != engine.CaseOpen || len(now.Reports) != 1 || now.Reports[0].Finding != "slips@D/4" || len(now.Readings) != 1 || len(now.Done) != 1 {
		t.Errorf("goes on as %+v", now)
	}
	if old.Status != engine.CaseAbandoned || old.Unit != "northfork-4-late" {
		t.Errorf("the old case: %s, %s", old.Status, old.Unit)
	}
	j, err = d.job(t.Context(), opened.Ref{})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	if j.Rec.ID != r.GoesOn {
		t.Errorf("the current case is %s", j.Rec.ID)
	}
	for _, e := range j.Rec.Entries {
		if e.At.IsZero() {
			t.Errorf("entry %d without its time", e.Seq)
		}
	}
	// A variant that is the same unit only adds its note.
	ans, err = d.RecordVariant(t.Context(), opened.Ref{}, "northfork-4-heavy", []notation.FeatureAnswer{{Feature: "yoke", Text: "1.600 in"}, {Feature: "bushing", Text: "1.606 in"}})
	if err != nil || ans.Data.GoesOn != r.GoesOn {
		t.Fatalf("%v, %+v", err, ans.Data)
	}
}
