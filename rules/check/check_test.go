package check_test

import (
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/rules"
	"slipcase/rules/check"
	"slipcase/rules/internal/told"
)

var update = flag.Bool("update", false, "write what the cases expect from what they give")

var base = rules.Layer{Name: "base", FS: os.DirFS("../testdata/base")}

// read lies over the base in every case: a finding that reads its limits.
var read = rules.Layer{Name: "limits", FS: os.DirFS("../testdata/limits")}

// ranked stands in for the engine: a fixed order of suspects.
func ranked(u *engine.Unit, e engine.Example) (suspects, causes []string, err error) {
	if len(e.Case.Reports) == 0 {
		return nil, nil, errors.New("no reports")
	}
	return []string{"forward_plates/burnt_friction", "direct_plates/burnt_friction", "forward_plates/other", "roller/roller_slips"}, []string{"wrong_fluid", "built_wrong"}, nil
}

// TestBase: the ground of the cases has nothing to mend.
func TestBase(t *testing.T) {
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{base, read}})
	for _, d := range append(diags, check.Run(k, check.Options{RunExample: ranked})...) {
		t.Error(d)
	}
}

// TestCases checks each folder of testdata as a layer over the loader's base.
// expect.txt pins severity and range, golden.txt the whole text where it is.
func TestCases(t *testing.T) {
	dirs, err := filepath.Glob("testdata/*")
	if err != nil || len(dirs) < 25 {
		t.Fatalf("%d cases, %v", len(dirs), err)
	}
	for _, dir := range dirs {
		t.Run(filepath.Base(dir), func(t *testing.T) {
			opt := rules.Options{Layers: []rules.Layer{base, read, {Name: "case", FS: os.DirFS(dir)}}}
			k, diags := rules.Load(opt)
			for _, d := range diags {
				t.Errorf("the loader: %v", d)
			}
			found := check.Run(k, check.Options{RunExample: ranked, Known: diags})
			var short, long strings.Builder
			for _, d := range found {
				s := d.Subject
				fmt.Fprintf(&short, "%s %s:%d:%d-%d:%d\n", d.Severity, s.File, s.Line, s.Column, s.EndLine, s.EndColumn)
				long.WriteString(told.Render(d, told.Source(opt, s.File), 80))
			}
			compare(t, filepath.Join(dir, "expect.txt"), short.String(), true)
			compare(t, filepath.Join(dir, "golden.txt"), long.String(), false)
			for range 5 {
				again := check.Run(k, check.Options{RunExample: ranked, Known: diags})
				if len(again) != len(found) {
					t.Fatal("another run gives another number of diagnostics")
				}
				for i := range again {
					if again[i] != found[i] {
						t.Fatalf("another run gives another order: %v, %v", again[i], found[i])
					}
				}
			}
		})
	}
}

// TestEveryLint: each lint has a case that bears its name.
func TestEveryLint(t *testing.T) {
	dirs, _ := filepath.Glob("testdata/*")
	for _, name := range check.Names() {
		found := false
		for _, d := range dirs {
			b, err := os.ReadFile(filepath.Join(d, "expect.txt"))
			found = found || strings.HasPrefix(filepath.Base(d), name) && err == nil && len(b) > 0
		}
		if !found {
			t.Errorf("no case for %s", name)
		}
	}
}

// TestKnown: what stands at the place of a known error is not told again.
func TestKnown(t *testing.T) {
	opt := rules.Options{Layers: []rules.Layer{base, read, {Name: "case", FS: os.DirFS("testdata/idle-stress")}}}
	k, _ := rules.Load(opt)
	found := check.Run(k, check.Options{})
	if len(found) != 2 {
		t.Fatal(found)
	}
	known := found[0]
	if left := check.Run(k, check.Options{Known: []engine.Diagnostic{known}}); len(left) != 2 {
		t.Error("a warning hides others", left)
	}
	known.Severity = engine.Error
	if left := check.Run(k, check.Options{Known: []engine.Diagnostic{known}}); len(left) != 0 {
		t.Error(left)
	}
}

func compare(t *testing.T, file, got string, must bool) {
	t.Helper()
	want, err := os.ReadFile(file)
	if err != nil && !must {
		return
	}
	if *update {
		if os.Getenv("CI") == "true" {
			t.Fatal("-update is refused where CI=true")
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	if string(want) != got {
		t.Errorf("%s:\n--- want\n%s--- got\n%s", file, want, got)
	}
}
