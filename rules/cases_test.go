package rules_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/rules"
	"slipcase/rules/diag"
	"slipcase/rules/internal/told"
)

var update = flag.Bool("update", false, "write what the cases expect from what they give")

func updating(t *testing.T) bool {
	if *update && os.Getenv("CI") == "true" {
		t.Fatal("-update is refused where CI=true")
	}
	return *update
}

// base is the sound knowledge that every case lies over.
var base = rules.Layer{Name: "base", FS: os.DirFS("testdata/base")}

// TestBase shows that the ground of the cases is sound.
func TestBase(t *testing.T) {
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{base}})
	for _, d := range diags {
		t.Error(d)
	}
	if len(k.Units) != 1 || len(k.Modes) != 4 || len(k.Findings) != 5 || len(k.Checks) != 3 {
		t.Errorf("base: %d units, %d modes, %d findings, %d checks", len(k.Units), len(k.Modes), len(k.Findings), len(k.Checks))
	}
}

// TestCases loads each folder of testdata/cases as a layer over the base and
// compares severity and range of every diagnostic with the folder's file
// expect.txt, not their wording. Where there is a file golden.txt, it holds the
// whole text. A folder with a file `alone` has no base below it.
func TestCases(t *testing.T) {
	dirs, err := filepath.Glob("testdata/cases/*")
	if err != nil || len(dirs) < 40 {
		t.Fatalf("%d cases, %v", len(dirs), err)
	}
	for _, dir := range dirs {
		t.Run(filepath.Base(dir), func(t *testing.T) {
			opt := rules.Options{Layers: []rules.Layer{base, {Name: "case", FS: os.DirFS(dir)}}}
			if _, err := os.Stat(filepath.Join(dir, "alone")); err == nil {
				opt.Layers = opt.Layers[1:]
			}
			k, diags := rules.Load(opt)
			if src, err := os.ReadFile(filepath.Join(dir, "case.hcl")); err == nil {
				opt.Extra = []rules.File{{Name: "case.hcl", Src: src}}
				c, more := rules.LoadCase("case.hcl", src)
				diags = append(diags, more...)
				if c != nil {
					diags = append(diags, rules.ResolveCase(k, c)...)
				}
				diags = diag.Sort(diags)
				// case.hcl lies beside the folders on purpose.
				kept := diags[:0]
				for _, d := range diags {
					if d.Summary != "file is not read" {
						kept = append(kept, d)
					}
				}
				diags = kept
			}
			compare(t, filepath.Join(dir, "expect.txt"), lines(diags), true)
			compare(t, filepath.Join(dir, "golden.txt"), renderAll(diags, opt), false)
		})
	}
}

func lines(diags []engine.Diagnostic) string {
	var b strings.Builder
	for _, d := range diags {
		s := d.Subject
		fmt.Fprintf(&b, "%s %s:%d:%d-%d:%d\n", d.Severity, s.File, s.Line, s.Column, s.EndLine, s.EndColumn)
	}
	return b.String()
}

func renderAll(diags []engine.Diagnostic, opt rules.Options) string {
	var b strings.Builder
	for _, d := range diags {
		b.WriteString(told.Render(d, told.Source(opt, d.Subject.File), 80))
	}
	return b.String()
}

func compare(t *testing.T, file, got string, must bool) {
	t.Helper()
	want, err := os.ReadFile(file)
	if err != nil && !must {
		return
	}
	if updating(t) {
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
