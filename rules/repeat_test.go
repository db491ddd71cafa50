package rules_test

import (
	"os"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// TestSaidTwice: what a unit's file says though its usual parts, or the unit
// that it is like, say the same is a warning at that line; the same figure from
// elsewhere is not, nor what a relative sets back to usual.
func TestSaidTwice(t *testing.T) {
	const head = "language = 1\nbasis \"invented\" {}\nunit \"northfork-4b\" {\n  title = \"x\"\n  like = \"northfork-4\"\n"
	for _, x := range []struct {
		what, src string
		lines     []int
	}{
		{"the other unit's note", "  note = \"invented for demonstration; every limit is an example, no maker's figure\"\n", []int{6}},
		{"a limit that the other has between", "  limit \"direct_clearance\" {\n    low  = \"1.1 mm\"\n    high = \"2.0 mm\"\n  }\n", []int{7}},
		{"a limit in one line", "  limit \"direct_clearance\" { between = [\"1.1 mm\", \"1.9 mm\"] }\n", []int{6}},
		{"the same from a manual", "  limit \"direct_clearance\" {\n    between = [\"1.1 mm\", \"1.9 mm\"]\n    basis \"published\" { cite = \"a manual\" }\n  }\n", nil},
		{"another figure", "  limit \"direct_clearance\" { between = [\"1.2 mm\", \"1.9 mm\"] }\n", nil},
		{"what is applied", "  row \"D\" \"1\" { apply = [\"forward\"] }\n", []int{6}},
		{"a gear set's members", "  train {\n    gearset \"short\" {\n      sun   = \"small_sun\"\n      teeth = [30, 84]\n    }\n  }\n", []int{8, 9}},
		{"a usual title of a usual part", "  component \"pump\" { title = \"oil pump\" }\n", []int{6}},
		{"a usual step set back", "  component \"intermediate_piston\" { at = \"intermediate_piston_out\" }\n  step \"intermediate_piston_out\" {\n    minutes = 10\n    after = [\"pump_out\"]\n  }\n", nil},
		{"nothing", "  component \"pump\" {}\n", []int{6}},
	} {
		_, diags := relative(t, head+x.src+"}\n")
		var got []int
		for _, d := range diags {
			if d.Severity == engine.Error {
				t.Errorf("%s: %s: %s", x.what, d.Subject, d.Summary)
			} else if strings.Contains(d.Summary, "without this line") || strings.Contains(d.Summary, "says nothing") {
				got = append(got, d.Subject.Line)
			}
		}
		if len(got) != len(x.lines) || len(got) > 0 && got[0] != x.lines[0] {
			t.Errorf("%s: told at lines %v, want %v (%v)", x.what, got, x.lines, diags)
		}
	}
}

// TestRealRelative: the later series of the eight-speed whose pilot series is
// four-gearset-8. Its nine ratios are recalled from its maker's data; with one
// gear set changed the train gives each of them, the chart being the same, so
// that the relative is written in under 40 lines, without a word from check.
func TestRealRelative(t *testing.T) {
	b, err := os.ReadFile("testdata/relative/four-gearset-8b.hcl")
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(b), "\n"); n >= 40 {
		t.Errorf("%d lines", n)
	}
	u, diags := unitOf(t, "four-gearset-8b", string(b))
	for _, d := range diags {
		t.Error(d)
	}
	if u == nil {
		t.Fatal("no unit")
	}
	m, err := geartrain.New(u)
	if err != nil {
		t.Fatal(err)
	}
	rows := 0
	for i, r := range u.Rows {
		if r.Ratio == nil {
			continue
		}
		rows++
		if ok, got := m.RatioMatches(i); !ok {
			t.Errorf("%s: %s, the train gives %s", r.Name(), r.RatioText, got)
		}
	}
	if rows != 9 || len(u.Components) < 60 {
		t.Errorf("%d rows with a ratio, %d parts", rows, len(u.Components))
	}
}
