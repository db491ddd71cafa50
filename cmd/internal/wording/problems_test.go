package wording_test

import (
	"errors"
	"strings"
	"testing"

	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/model"
)

// Every kind of problem has words of its own, with its names in them and its
// place kept.
func TestProblems(t *testing.T) {
	at, also := engine.Range{File: "case.hcl", Line: 7, Column: 3}, engine.Range{File: "case.hcl", Line: 9, Column: 3}
	seen := map[string]model.ProblemKind{}
	for kind, want := range map[model.ProblemKind]string{
		model.UnknownFinding: `"name"`, model.NotObserved: "name is an effect, not something", model.UnknownCondition: "the conditions are near, far",
		model.UnknownReporter: "near, far", model.BadReading: "no limits", model.UnknownComponent: `"name"`, model.UnknownMode: `"effect"`,
		model.UnknownCause: `"name"`, model.Contested: "gauge says that effect is good, and name present", model.HiddenBy: "slips in D/3 is left out: with no drive in D/3", model.OneCondition: "slips in D/3: not with a light foot",
	} {
		other := "effect"
		if kind == model.OneCondition {
			other = string(engine.LightFoot)
		}
		d := wording.Problem(model.Problem{Severity: engine.Warning, Kind: kind, Name: "name", Other: other, About: &model.Node{Title: "slips in D/3"}, Beside: &model.Node{Title: "no drive in D/3"}, By: "gauge", Names: []string{"near", "far"}, Err: errors.New("no limits"), Where: at, Also: also})
		text := d.Summary + ": " + d.Detail
		if !strings.Contains(text, want) || strings.Contains(text, string(kind)) || d.Subject != at || d.Also != also || d.Severity != engine.Warning {
			t.Errorf("%s: %+v", kind, d)
		}
		if other, ok := seen[text]; ok {
			t.Errorf("%s and %s say the same: %s", kind, other, text)
		}
		seen[text] = kind
	}
}
