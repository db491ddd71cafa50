package rules_test

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"slipcase/engine"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/check"
)

func relative(t *testing.T, src string) (*engine.Unit, []engine.Diagnostic) {
	t.Helper()
	return unitOf(t, "northfork-4b", src)
}

// unitOf loads a unit of a shop and checks it.
func unitOf(t *testing.T, id, src string) (*engine.Unit, []engine.Diagnostic) {
	t.Helper()
	shop := fstest.MapFS{"units/" + id + ".hcl": {Data: []byte(src)}}
	k, diags := rules.Load(rules.Options{Unit: id, NoExamples: true, Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}, {Name: "shop", FS: shop}}})
	return k.Unit(id), append(diags, check.Run(k, check.Options{Known: diags, Part: true})...)
}

// TestRelative: a relative of a unit is written in under 40 lines: a part of the
// train, ratios, a part dropped, a limit; the rest is the other unit's. What does
// not fit is told at the author's own lines, never in the file of the other unit,
// which is sound.
func TestRelative(t *testing.T) {
	b, err := os.ReadFile("testdata/relative/northfork-4b.hcl")
	if err != nil {
		t.Fatal(err)
	}
	src := string(b)
	if n := strings.Count(src, "\n"); n >= 40 {
		t.Errorf("%d lines", n)
	}
	u, diags := relative(t, src)
	for _, d := range diags {
		t.Error(d)
	}
	if u == nil || len(u.Train.Gearsets) != 2 || u.Train.Gearsets[0].SunTeeth != 38 || u.Train.Gearsets[1].SunTeeth != 28 || u.Train.Input != "turbine" {
		t.Fatalf("%+v", u)
	}
	if len(u.Components) < 60 || component(u, "accumulator_forward") != nil || component(u, "planetary") == nil {
		t.Errorf("%d parts", len(u.Components))
	}
	for _, x := range []struct{ name, from, to, line, want string }{
		{"a ratio forgotten", "  row \"D\" \"2\" { ratio = 1.62 }\n", "", "  train {", "row D/2: ratio 1.56"},
		{"an element dropped", "  row \"D\" \"1\" {", "  clutch \"direct\" { drop = true }\n  row \"D\" \"1\" {", `  clutch "direct" { drop = true }`, `"direct"`},
		{"a gearset renamed", `gearset "short" { teeth`, `gearset "shrt" { teeth`, `    gearset "shrt" { teeth = [28, 84] }`, "gearset \"shrt\" without"},
		{"a whole train of other members", "    gearset \"short\" { teeth = [28, 84] }\n", "    input = \"turbine\"\n    output = \"out\"\n    gearset \"short\" {\n      kind = single\n      sun = \"sun\"\n      carrier = \"out\"\n      ring = \"turbine\"\n      teeth = [28, 84]\n    }\n", "", "is named only here"},
	} {
		now := strings.Replace(src, x.from, x.to, 1)
		_, diags := relative(t, now)
		errs, found := 0, false
		for _, d := range diags {
			if d.Severity != engine.Error {
				continue
			}
			errs++
			if d.Subject.File != "shop/units/northfork-4b.hcl" {
				t.Errorf("%s: told at %s: %s", x.name, d.Subject, d.Summary)
				continue
			}
			line := strings.Split(now, "\n")[d.Subject.Line-1]
			found = found || strings.Contains(d.Summary, x.want) && (x.line == "" || line == x.line)
		}
		if !found || errs > 6 {
			t.Errorf("%s: %d errors: %v", x.name, errs, diags)
		}
	}
}
