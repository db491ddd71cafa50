package rules_test

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"slipcase/engine"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// TestFormerlyOfUnit: limits, steps, solenoids, parts and joints go by their old names too, in
// cases, where a shop writes over them, and where rules name them. Every
// renamed thing of the built-in units is tried.
func TestFormerlyOfUnit(t *testing.T) {
	shop := fstest.MapFS{"units/northfork-4.hcl": {Data: []byte(`language = 1
basis "shop record" {
  cases = 3
}
unit "northfork-4" {
  limit "band_travel" { high = "2.5 mm" }
  component "cable" {
    kind   = linkage
    serves = joint.turbine_spline
    at     = "front_bushings_look"
  }
}
`)}}
	k, diags := rules.Load(rules.Options{Unit: "northfork-4", NoExamples: true, Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}, {Name: "shop", FS: shop}}})
	old := 0
	for _, d := range diags {
		if strings.Contains(d.Summary, "is now called") {
			old++
			continue
		}
		if d.Severity == engine.Error {
			t.Error(d)
		}
	}
	if old != 3 {
		t.Errorf("%d warnings of old names, want 3: %v", old, diags)
	}
	u := k.Unit("northfork-4")
	b, ok := u.Bounds("overdrive_servo_travel", "")
	if !ok || b.High == nil || b.High.String() != "2.5 mm" {
		t.Errorf("a shop's limit under the old name: %+v", b)
	}
	for _, id := range []string{"northfork-4", "harrow-3", "od-simpson-4", "ravigneaux-transaxle-4", "lepelletier-6", "four-gearset-8"} {
		k, diags := rules.Load(rules.Options{Unit: id, NoExamples: true, Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}}})
		if diag.HasErrors(diags) {
			t.Fatal(diags)
		}
		u := k.Unit(id)
		for _, f := range u.Formerly {
			c := &engine.CaseFile{Unit: id}
			limit := slices.IndexFunc(u.Limits, func(l engine.Limit) bool { return l.Name == f.Now })
			switch {
			case limit >= 0:
				c.Readings = []engine.Reading{{Name: f.Old, Value: *u.Limits[limit].High}}
			case slices.ContainsFunc(u.Steps, func(s engine.Step) bool { return s.Name == f.Now }):
				c.Done = []string{f.Old}
			case slices.ContainsFunc(u.Solenoids, func(s engine.Solenoid) bool { return s.Name == f.Now }):
				c.Reports = []engine.Report{{Finding: "resistance_off@" + f.Old, State: engine.Present, By: "measuring_tool"}}
			case slices.ContainsFunc(u.Components, func(x engine.Component) bool { return x.Name == f.Now }):
				c.Seen = []engine.Seen{{Component: f.Old, Cleared: true}}
			default:
				continue // a joint: no case names it
			}
			said := rules.ResolveCase(k, c)
			if diag.HasErrors(said) || len(said) != 1 || len(c.Readings) > 0 && c.Readings[0].Name != f.Now || len(c.Done) > 0 && c.Done[0] != f.Now ||
				len(c.Reports) > 0 && c.Reports[0].Finding != "resistance_off@"+f.Now || len(c.Seen) > 0 && c.Seen[0].Component != f.Now {
				t.Errorf("%s: %v, %+v", f.Old, said, c)
			}
		}
	}
	// A name that nothing has now is told, and so is an old name in use.
	for line, want := range map[string]string{
		`formerly "x" { now = "band_travl" }`:                  "called \"band_travl\" now",
		`formerly "stall_r" { now = "stall_d" }`:               "old name \"stall_r\" is in use",
		`formerly "band_travel" { now = "input_end_play" }`:    "",
		`formerly "x" { now = "overdrive_servo_travel" }`:      "",
		`formerly "turbine_spline" { now = "output_shaft" }`:   "",
		`formerly "solenoid_1" { now = "a" }`:                  "",
		`formerly "accumulator_4" { now = "accumulator_2_3" }`: "",
	} {
		shop := fstest.MapFS{"units/northfork-4.hcl": {Data: []byte("language = 1\nunit \"northfork-4\" {\n  " + line + "\n}\n")}}
		_, diags := rules.Load(rules.Options{Unit: "northfork-4", NoExamples: true, Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}, {Name: "shop", FS: shop}}})
		var got []string
		for _, d := range diags {
			got = append(got, d.Summary)
		}
		if s := strings.Join(got, "; "); want == "" && s != "" || !strings.Contains(s, want) {
			t.Errorf("%s: %q, want %q", line, s, want)
		}
	}
}
