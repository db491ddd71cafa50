package model_test

import (
	"slices"
	"testing"

	"slipcase/engine"
)

// A step is done by its checks once the shop has answered all of them.
func TestStepsDoneByTheirChecks(t *testing.T) {
	m := build(t, "northfork-4")
	report := func(finding string, s engine.State, by string) engine.Report {
		return engine.Report{Finding: finding, State: s, By: by}
	}
	level, smell := report("fluid_low", engine.Absent, "eye"), report("fluid_burnt_smell", engine.Present, "eye")
	for _, x := range []struct {
		what    string
		reports []engine.Report
		done    []string
		also    string
		want    bool
	}{
		{"nothing", nil, nil, "", false},
		{"the level alone", []engine.Report{level}, nil, "", false},
		{"both", []engine.Report{level, smell}, nil, "", true},
		{"one of them by the driver", []engine.Report{report("fluid_low", engine.Absent, "driver"), smell}, nil, "", false},
		{"one of them looked for and not known", []engine.Report{report("fluid_low", engine.Unknown, "eye"), smell}, nil, "", false},
		{"both, and the step is done", []engine.Report{level, smell}, []string{"fluid_look"}, "", false},
		{"the level, with the smell about to be answered", []engine.Report{level}, nil, "fluid_look", true},
		{"the smell about to be answered", nil, nil, "fluid_look", false},
	} {
		c := &engine.CaseFile{Unit: m.Unit.ID, Reports: x.reports, Done: x.done}
		if got := slices.Contains(m.Looks(c).Steps(m.Knowledge.Check(x.also)), "fluid_look"); got != x.want {
			t.Errorf("%s: looked at %v", x.what, got)
		}
	}
	// A check of which nothing in the unit shows a finding is not waited for: there is
	// no modulator.
	for i := range m.Unit.Steps {
		if s := &m.Unit.Steps[i]; s.Name == "linkage_look" {
			s.SameAs = append(slices.Clone(s.SameAs), "modulator_look")
		}
	}
	c := &engine.CaseFile{Unit: m.Unit.ID, Reports: []engine.Report{report("selector_off", engine.Absent, "eye")}}
	if !slices.Contains(m.Looks(c).Steps(nil), "linkage_look") {
		t.Error("a check without a finding of the unit is waited for")
	}
}
