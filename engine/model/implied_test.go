package model_test

import (
	"strings"
	"testing"

	"slipcase/engine"
)

// What one reporter says twice, once more exactly, is one report; what two say
// is two, and what the other half of an answer adds counts.
func TestImpliedReportsCountOnce(t *testing.T) {
	m := build(t, "northfork-4")
	rep := func(finding string, state engine.State, by string) engine.Report {
		return engine.Report{Finding: finding, State: state, By: by}
	}
	yes, no := engine.Present, engine.Absent
	for _, c := range []struct {
		name    string
		reports []engine.Report
		want    string
	}{
		{"plain alone", []engine.Report{rep("slips@D/4", yes, "driver")}, "slips@D/4"},
		{"hot besides", []engine.Report{rep("slips@D/4", yes, "driver"), rep("slips@D/4:hot", yes, "driver")}, "slips@D/4:hot"},
		{"always", []engine.Report{rep("slips@D/4", yes, "driver"), rep("slips@D/4:hot", yes, "driver"), rep("slips@D/4:cold", yes, "driver")}, "slips@D/4:hot slips@D/4:cold"},
		{"not when cold", []engine.Report{rep("slips@D/4", yes, "driver"), rep("slips@D/4:cold", no, "driver")}, "slips@D/4 slips@D/4:cold"},
		{"never, nor hot", []engine.Report{rep("slips@D/4", no, "driver"), rep("slips@D/4:hot", no, "driver")}, "slips@D/4"},
		{"another reporter", []engine.Report{rep("slips@D/4", yes, "driver"), rep("slips@D/4:hot", yes, "road_test")}, "slips@D/4 slips@D/4:hot"},
		{"another row", []engine.Report{rep("slips@D/4", yes, "driver"), rep("slips@D/3:hot", yes, "driver")}, "slips@D/4 slips@D/3:hot"},
		{"taken back to unknown", []engine.Report{rep("slips@D/4", yes, "driver"), rep("slips@D/4:hot", yes, "driver"), rep("slips@D/4:hot", engine.Unknown, "driver")}, "slips@D/4"},
	} {
		pieces, diags := m.Evidence(&engine.CaseFile{Reports: c.reports})
		if len(diags) > 0 {
			t.Errorf("%s: %v", c.name, diags)
		}
		var got []string
		for _, p := range pieces {
			got = append(got, p.Label)
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s: %s, want %s", c.name, s, c.want)
		}
	}
}
