package check_test

import (
	"os"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"slipcase/engine"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/check"
)

// TestToldOnce: one slip of the pen in a unit file is one error, at its own
// line: what follows from it is not told as well.
func TestToldOnce(t *testing.T) {
	page, err := os.ReadFile("../language.md")
	if err != nil {
		t.Fatal(err)
	}
	src := ""
	for _, m := range regexp.MustCompile("(?s)```hcl\n(.*?)```").FindAllStringSubmatch(string(page), -1) {
		if strings.Contains(m[1], `unit "paper-3"`) {
			src = m[1]
		}
	}
	for _, x := range []struct{ name, from, to, want string }{
		{"clutch misspelt", `["forward", "kickdown_band"]`, `["forward", "kickdwn_band"]`, "unknown clutch, brake or band"},
		{"one-way clutch applied", `apply = ["forward"]`, `apply = ["forward", "low_one_way"]`, "unknown clutch, brake or band"},
		{"member misspelt", `holds = "rear_carrier"`, `holds = "rear_carier"`, "is named only here"},
		{"teeth in the wrong order", `[28, 62]`, `[62, 28]`, "ring with no more teeth than its sun"},
		{"kind misspelt", `= single`, `= singel`, "unknown word"},
		{"solenoid unknown", `apply = ["forward"]`, "apply = [\"forward\"]\n    solenoids = [\"a\"]", "unknown solenoid"},
		{"order misspelt", `"sun_shell", "low_band"`, `"sunshell", "low_band"`, `nothing called "sunshell"`},
		{"limit of no part", "  # What this", "  limit \"x\" {\n    component = \"forward_fricton\"\n    high = \"1 mm\"\n  }\n  # What this", "unknown component"},
	} {
		shop := fstest.MapFS{"units/paper-3.hcl": {Data: []byte(strings.Replace(src, x.from, x.to, 1))}}
		k, diags := rules.Load(rules.Options{Unit: "paper-3", Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}, {Name: "shop", FS: shop}}})
		diags = append(diags, check.Run(k, check.Options{Known: diags, Part: true})...)
		var told []engine.Diagnostic
		for _, d := range diags {
			if d.Severity == engine.Error {
				told = append(told, d)
			}
		}
		if len(told) != 1 || !strings.Contains(told[0].Summary, x.want) {
			t.Errorf("%s: %v", x.name, told)
		}
	}
}
