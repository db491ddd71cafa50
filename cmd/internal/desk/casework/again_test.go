package casework

import (
	"encoding/json"
	"reflect"
	"strconv"
	"testing"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
	"slipcase/engine"
)

// An answer holds what it can be worked out from again, to the last bit.
func TestAnswersCanBeWorkedOutAgain(t *testing.T) {
	d := shopDesk(t)
	openCase(t, d, "northfork-4")
	ctx := t.Context()
	if _, err := d.Note(ctx, opened.Ref{}, NoteInput{Items: items("slips@D/3", "slips@R/R=no", "line_pressure@idle/R=62psi")}); err != nil {
		t.Fatal(err)
	}
	for _, ref := range []asking.CaseRef{{}, {Demo: "two-faults"}, {Demo: "slip-one-gear"}} {
		got, err := d.Suspects(ctx, ref, 5)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.Marshal(got.Input)
		if err != nil {
			t.Fatal(err)
		}
		var in answer.Input
		if err := json.Unmarshal(text, &in); err != nil {
			t.Fatal(err)
		}
		c, err := in.Case.File(in.Unit)
		if err != nil {
			t.Fatal(err)
		}
		x, err := d.keeper.Load.Load(ctx, in.Unit)
		if err != nil {
			t.Fatal(err)
		}
		if x.Knowledge.Hash != got.Rules {
			t.Fatalf("rules %s, the answer names %s", x.Knowledge.Hash, got.Rules)
		}
		m, err := x.Model(in.Unit)
		if err != nil {
			t.Fatal(err)
		}
		top, err := strconv.Atoi(in.Options["top"])
		if err != nil {
			t.Fatal(err)
		}
		w := &asking.Work{Knowledge: x.Knowledge, Model: m, Case: c, Status: engine.CaseStatus(in.Case.Status)}
		again, err := w.Suspects(top, in.Options["firm"] == "true", true)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(again.Data, got.Data) || again.Method != got.Method {
			t.Errorf("%+v: worked out again it is\n%+v, not\n%+v", ref, again.Data, got.Data)
		}
	}
}
