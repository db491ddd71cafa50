package wording_test

import (
	"testing"

	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/complaint"
	"slipcase/engine/model"
)

func TestNodes(t *testing.T) {
	on := func(kind engine.TargetKind, name string) model.Effect {
		return model.Effect{Target: engine.Target{Kind: kind, Name: name}, Word: "slow_to_apply"}
	}
	for want, n := range map[string]model.Node{
		"forward clutch: burnt":                   {Layer: model.ModeLayer, Title: "forward clutch: burnt"},
		"slips in D/3":                            {Layer: model.FindingLayer, Title: "slips in D/3"},
		"slips in D/3, with a light foot":         {Layer: model.FindingLayer, Title: "slips in D/3", Condition: engine.LightFoot},
		"wrong gear in D/3 like gear 2, hot":      {Layer: model.FindingLayer, Title: "wrong gear in D/3", Like: "2", Condition: engine.Hot},
		"code P0741: converter clutch":            {Layer: model.FindingLayer, Title: "converter clutch", Code: &engine.Code{Name: "P0741"}},
		"forward clutch slow to apply":            {Layer: model.EffectLayer, Title: "forward clutch", Effect: on(engine.OnElement, "forward")},
		"shift 1-2 slow to apply, after standing": {Layer: model.EffectLayer, Title: "1-2", Effect: on(engine.OnShift, "1-2"), Condition: engine.AfterStanding},
	} {
		if got := wording.Node(&n); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	for _, c := range engine.Conditions {
		if c != engine.Cold && c != engine.Hot && wording.Condition(c) == string(c) {
			t.Errorf("%s has no words", c)
		}
	}
	about := &model.Node{Title: "pump: worn"}
	for want, p := range map[string]model.Piece{
		"pump: worn":           {About: about, State: engine.Absent},
		"pump: worn (62 psi)":  {About: about, Value: "62 psi"},
		"pump: worn (cleared)": {About: about, Looked: true, State: engine.Absent},
		"pump: worn (found)":   {About: about, Looked: true, State: engine.Present},
	} {
		if got := wording.Piece(p); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

func TestProposed(t *testing.T) {
	m := &model.Model{Knowledge: &engine.Knowledge{Findings: []engine.Finding{{Name: "slips", Title: "slips in {place} under load"}}}}
	for name, want := range map[string]string{"good@D/3": "D/3 is good", "slips@*:hot": "slips in under load", "unknown": "unknown"} {
		if got := wording.Proposed(m, complaint.Proposal{Finding: name}); got != want {
			t.Errorf("%s: %q, want %q", name, got, want)
		}
	}
}

// What a driver denies is no double no.
func TestDenied(t *testing.T) {
	for title, want := range map[string]string{
		"slips in D/3":                      "no slips in D/3",
		"no drive in L/1":                   "drive in L/1",
		"no start in P, or starts in gear":  "not so: no start in P, or starts in gear",
		"no engine braking in 2/2, cold":    "engine braking in 2/2, cold",
		"no shift felt at D/1-2, when cold": "shift felt at D/1-2, when cold",
	} {
		if got := wording.Denied(title); got != want {
			t.Errorf("%q: %q, want %q", title, got, want)
		}
	}
}
