package rules_test

import (
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"slipcase/engine"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/check"
	"slipcase/rules/diag"
)

// paper is the chart-only unit of the language page.
func paper(t *testing.T) string {
	t.Helper()
	page, err := os.ReadFile("language.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile("(?s)```hcl\n(.*?)```").FindAllStringSubmatch(string(page), -1) {
		if strings.Contains(m[1], `unit "paper-3"`) {
			return m[1]
		}
	}
	t.Fatal("the page shows no unit paper-3")
	return ""
}

func loadPaper(t *testing.T, src string) (*engine.Knowledge, *engine.Unit, []engine.Diagnostic) {
	t.Helper()
	shop := fstest.MapFS{"units/paper-3.hcl": {Data: []byte(src)}}
	k, diags := rules.Load(rules.Options{Unit: "paper-3", Layers: []rules.Layer{
		{Name: "knowledge", FS: fs.FS(knowledge.FS)}, {Name: "shop", FS: shop},
	}})
	return k, k.Unit("paper-3"), diags
}

func component(u *engine.Unit, name string) *engine.Component {
	for i := range u.Components {
		if u.Components[i].Name == name {
			return &u.Components[i]
		}
	}
	return nil
}

func step(u *engine.Unit, name string) *engine.Step {
	for i := range u.Steps {
		if u.Steps[i].Name == name {
			return &u.Steps[i]
		}
	}
	return nil
}

// TestUsual: the chart of the language page alone makes a unit that checks
// without a word: every element has what such an element has, every part is in
// view at one step, the stack comes apart in the order stated.
func TestUsual(t *testing.T) {
	k, u, diags := loadPaper(t, paper(t))
	for _, d := range append(diags, check.Run(k, check.Options{Part: true})...) {
		t.Errorf("%v", d)
	}
	if u == nil {
		t.Fatal("no unit")
	}
	for _, want := range []struct{ name, kind, serves, at string }{
		{"forward_frictions", "friction_pack", "forward", "forward_pack_open"},
		{"forward_piston", "piston", "forward", "forward_piston_out"},
		{"direct_rings", "seal_ring", "direct_feed", "direct_drum_out"},
		{"kickdown_band", "band", "kickdown_band", "kickdown_band_out"},
		{"kickdown_servo", "servo", "kickdown_band", "kickdown_servo_off"},
		{"low_one_way", "one_way_clutch", "low_one_way", "low_one_way_out"},
		{"front_gearset", "gearset", "front", "front_gearset_out"},
		{"shift_valve_2_3", "shift_valve", "2-3", "valve_body_open"},
		{"pump", "pump", "line", "pump_open"},
		{"throttle_valve", "throttle_valve", "1-2", "valve_body_open"},
	} {
		c := component(u, want.name)
		switch {
		case c == nil:
			t.Errorf("no %s", want.name)
		case !c.Made || c.Kind != want.kind || c.Serves[0].Name != want.serves || c.SeenAt != want.at:
			t.Errorf("%s: made %v, kind %s, serves %v, seen at %s", c.Name, c.Made, c.Kind, c.Serves, c.SeenAt)
		}
	}
	// Electronic parts are not made for a hydraulic unit.
	for _, none := range []string{"controller", "inner_harness", "governor"} {
		if component(u, none) != nil {
			t.Errorf("%s is there", none)
		}
	}
	// What the file writes goes over what is made, and keeps the rest of it.
	if c := component(u, "sun_shell"); c == nil || c.Made || c.Kind != "shell" || len(c.Serves) != 1 || c.SeenAt != "sun_shell_out" {
		t.Errorf("sun_shell: %+v", c)
	}
	if st := step(u, "leaks_look"); st == nil || !slices.Equal(st.Exposes, []string{"outer_seals", "vent", "breather"}) {
		t.Errorf("leaks_look: %+v", st)
	}
	if step(u, "governor_look") != nil {
		t.Error("a dropped step is there")
	}
	// The stack: each thing hangs on the one before it, the first on the pump.
	for _, x := range [][2]string{
		{"kickdown_band_out", "pump_out"}, {"direct_drum_out", "kickdown_band_out"}, {"forward_drum_out", "direct_drum_out"},
		{"sun_shell_out", "forward_drum_out"}, {"low_band_out", "sun_shell_out"}, {"low_one_way_out", "low_band_out"}, {"front_gearset_out", "low_one_way_out"},
	} {
		if st := step(u, x[0]); st == nil || !slices.Contains(st.After, x[1]) {
			t.Errorf("%s does not come after %s: %+v", x[0], x[1], st)
		}
	}
	if n := u.MadeParts(); n < 40 || n >= len(u.Components) {
		t.Errorf("%d of %d parts made", n, len(u.Components))
	}
}

// TestUsualLayouts: what follows from the wheels that it drives, its controls
// and its solenoids.
func TestUsualLayouts(t *testing.T) {
	src := paper(t)
	minutes := map[string]string{}
	for _, drive := range []string{"rear", "all", "front"} {
		_, u, diags := loadPaper(t, strings.Replace(src, "drive         = rear", "drive         = "+drive, 1))
		if diag.HasErrors(diags) {
			t.Fatal(diags)
		}
		minutes[drive] = step(u, "pull_unit").Minutes.Text
		if (component(u, "final_drive") != nil) != (drive == "front") {
			t.Errorf("%s: final drive", drive)
		}
	}
	if minutes["rear"] != "150" || minutes["all"] != "210" || minutes["front"] != "330" {
		t.Errorf("minutes to pull: %v", minutes)
	}
	electronic := strings.Replace(src, "controls      = hydraulic", "controls      = electronic", 1)
	electronic = strings.Replace(electronic, `  row "P" "P" {`, "  solenoid \"f\" {\n    kind     = clutch\n    controls = [\"forward\"]\n  }\n  row \"P\" \"P\" {", 1)
	electronic = electronic[:strings.Index(electronic, "  component \"governor\"")] + "}\n"
	_, u, diags := loadPaper(t, electronic)
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	if c := component(u, "valve_f"); c == nil || c.Serves[0].Name != "forward_feed" {
		t.Errorf("valve behind the solenoid: %+v", c)
	}
	for _, none := range []string{"governor", "shift_valve_1_2", "accumulator_1_2"} {
		if component(u, none) != nil {
			t.Errorf("%s on a unit with a solenoid per clutch", none)
		}
	}
	if component(u, "controller") == nil || component(u, "solenoid_f") == nil {
		t.Error("electronic parts missing")
	}
}

// TestUsualOwnCircuit: an element that a circuit of the unit feeds gets no
// second feed, and its parts serve the unit's own.
func TestUsualOwnCircuit(t *testing.T) {
	src := strings.Replace(paper(t), `  row "P" "P" {`, "  circuit \"servo_oil\" {\n    feeds = [\"kickdown_band\"]\n  }\n  row \"P\" \"P\" {", 1)
	_, u, diags := loadPaper(t, src)
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	var feeds []string
	for _, c := range u.Circuits {
		if slices.Contains(c.Feeds, "kickdown_band") {
			feeds = append(feeds, c.Name)
		}
	}
	if !slices.Equal(feeds, []string{"servo_oil"}) {
		t.Errorf("fed by %v", feeds)
	}
	if c := component(u, "kickdown_servo"); len(c.Serves) != 2 || c.Serves[1].Name != "servo_oil" {
		t.Errorf("%+v", c)
	}
}

// TestUsualDropAndUnknown: what is not made cannot be dropped, and the message
// points to the author's own line.
func TestUsualDropAndUnknown(t *testing.T) {
	src := strings.Replace(paper(t), `component "governor" {`, `component "governer" {`, 1)
	src = strings.Replace(src, "  step \"governor_look\" {\n    drop = true\n  }\n", "", 1)
	_, _, diags := loadPaper(t, src)
	if len(diags) != 1 || diags[0].Subject.File != "shop/units/paper-3.hcl" || !strings.Contains(diags[0].Detail, "governor") {
		t.Errorf("%v", diags)
	}
}

// TestWriteUnit: a unit written out whole reads back as the same unit, with
// nothing made.
func TestWriteUnit(t *testing.T) {
	layers := []rules.Layer{{Name: "knowledge", FS: fs.FS(knowledge.FS)}}
	for _, id := range []string{"od-simpson-4", "northfork-4", "lepelletier-6"} {
		k, _ := rules.Load(rules.Options{Layers: layers, Unit: id, NoExamples: true})
		text, diags := rules.WriteUnit(rules.Options{Layers: layers, Unit: id, NoExamples: true})
		if text == nil {
			t.Fatal(id, diags)
		}
		again, u, diags := rules.LoadUnitFile(rules.Options{Layers: layers, NoExamples: true}, rules.File{Name: id + ".hcl", Src: text})
		if diag.HasErrors(diags) {
			t.Fatalf("%s: %v", id, diags)
		}
		v := k.Unit(id)
		if u.MadeParts() != 0 || len(u.Components) != len(v.Components) || len(u.Steps) != len(v.Steps) || len(u.Circuits) != len(v.Circuits) || len(u.Limits) != len(v.Limits) {
			t.Errorf("%s: %d made; %d, %d, %d, %d against %d, %d, %d, %d", id, u.MadeParts(), len(u.Components), len(u.Steps), len(u.Circuits), len(u.Limits), len(v.Components), len(v.Steps), len(v.Circuits), len(v.Limits))
		}
		for i := range v.Steps {
			if !slices.Equal(u.Steps[i].After, v.Steps[i].After) || len(u.Steps[i].Exposes) != len(v.Steps[i].Exposes) || u.Steps[i].Minutes.Value != v.Steps[i].Minutes.Value {
				t.Errorf("%s: step %s is another", id, v.Steps[i].Name)
			}
		}
		for _, d := range check.Run(again, check.Options{Part: true}) {
			t.Errorf("%s: %v", id, d)
		}
	}
}

// TestInPlaceOf: a part and a step that stand for usual ones take what those
// have, and what hung on the usual ones hangs on them.
func TestInPlaceOf(t *testing.T) {
	own := `
  component "planetary" {
    in_place_of = ["front_gearset", "rear_gearset"]
  }
  step "gears_out" {
    in_place_of = ["front_gearset_out", "rear_gearset_out"]
  }
  step "drums_out" {
    in_place_of = ["direct_drum_out", "forward_drum_out"]
  }
  frequency "burnt_friction" { rate = 0.03 }
  component "direct_frictions" {
    frequency "burnt_friction" { rate = 0.04 }
  }
  frequency "burnt_friction" "forward_frictions" { rate = 0.05 }
  frequency "burnt_friction" "direct_frictions" { rate = 0.06 }
  limit "forward_clearance" { between = ["1.2 mm", "1.9 mm"] }
  limit "direct_clearance" {
    step = "pump_out"
    high = "1.8 mm"
  }
`
	src := strings.Replace(paper(t), "\n  # Where this unit differs", own+"\n  # Where this unit differs", 1)
	k, u, diags := loadPaper(t, src)
	for _, d := range append(diags, check.Run(k, check.Options{Part: true})...) {
		t.Fatal(d)
	}
	c := component(u, "planetary")
	if c == nil || c.Kind != "gearset" || len(c.Serves) != 2 || c.SeenAt != "gears_out" || component(u, "front_gearset") != nil {
		t.Errorf("planetary: %+v", c)
	}
	st := step(u, "gears_out")
	if st == nil || !slices.Equal(st.Exposes, []string{"planetary"}) || slices.Contains(st.After, "gears_out") || step(u, "rear_gearset_out") != nil {
		t.Errorf("gears_out: %+v", st)
	}
	if st := step(u, "forward_pack_open"); !slices.Equal(st.After, []string{"drums_out"}) {
		t.Errorf("forward_pack_open after %v", st.After)
	}
	if st := step(u, "drums_out"); !slices.Equal(st.After, []string{"kickdown_band_out"}) {
		t.Errorf("drums_out after %v", st.After)
	}
	// The rate of a unit holds for its parts, that of a named part goes over it, and
	// what stands inside the part over both.
	if u.Frequency["burnt_friction"].Value != 0.03 || component(u, "forward_frictions").Frequency["burnt_friction"].Value != 0.05 || component(u, "direct_frictions").Frequency["burnt_friction"].Value != 0.04 {
		t.Error("rates")
	}
	for _, l := range u.Limits {
		switch l.Name {
		case "forward_clearance":
			if l.Made || l.Component != "forward_frictions" || l.Step != "forward_pack_open" || l.Measures != "clearance@forward" || l.Low.Text != "1.2 mm" || l.High.Text != "1.9 mm" {
				t.Errorf("%+v", l)
			}
		case "engagement_d":
			if !l.Made {
				t.Error("a usual limit is not marked")
			}
		}
	}
	// A limit is asked for at its step, its own or the usual one.
	if !slices.Contains(step(u, "forward_pack_open").Measure, "forward_clearance") || !slices.Contains(step(u, "pump_out").Measure, "direct_clearance") || slices.Contains(step(u, "direct_pack_open").Measure, "direct_clearance") {
		t.Error("limits stand at the wrong steps")
	}
	for _, bad := range [][3]string{
		{`["front_gearset", "rear_gearset"]`, `["front_gears", "rear_gearset"]`, `no usual component "front_gears"`},
		{`parts         = usual`, `note          = "own parts"`, "changes a usual part, and unit"},
		{`["1.2 mm", "1.9 mm"]`, `["1.2 mm"]`, "between is two limits"},
		{"    high = \"1.8 mm\"\n", "    high = \"1.8 mm\"\n    between = [\"1.0 mm\", \"1.8 mm\"]\n", "high beside between"},
	} {
		_, _, diags := loadPaper(t, strings.Replace(src, bad[0], bad[1], 1))
		if !slices.ContainsFunc(diags, func(d engine.Diagnostic) bool {
			return strings.Contains(d.Summary, bad[2]) && d.Subject.File == "shop/units/paper-3.hcl"
		}) {
			t.Errorf("%s: %v", bad[2], diags)
		}
	}
}
