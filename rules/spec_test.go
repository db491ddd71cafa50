package rules

import (
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"slipcase/engine"
)

// TestSpecAndPage: every block and argument that the loader knows is on the
// language's page, in a snippet or as a word marked as code; every word that
// the page shows within a block of a snippet is known (TestPage loads them).
func TestSpecAndPage(t *testing.T) {
	b, err := os.ReadFile("language.md")
	if err != nil {
		t.Fatal(err)
	}
	page := string(b)
	marked := map[string]bool{}
	for _, m := range regexp.MustCompile("`[^`\n]+`").FindAllString(page, -1) {
		for _, w := range regexp.MustCompile(`[a-z_]+`).FindAllString(m, -1) {
			marked[w] = true
		}
	}
	for _, m := range regexp.MustCompile("(?s)```hcl\n(.*?)```").FindAllStringSubmatch(page, -1) {
		for _, w := range regexp.MustCompile(`(?m)^\s*([a-z_]+)`).FindAllStringSubmatch(m[1], -1) {
			marked[w[1]] = true
		}
	}
	blocks, arguments := 0, 0
	var walk func(*blockSpec)
	walk = func(s *blockSpec) {
		for _, a := range s.args {
			arguments++
			if !marked[a.name] {
				t.Errorf("argument %s of %s is not on the page", a.name, s.name)
			}
			for _, w := range a.words {
				if !regexp.MustCompile(`\b` + w + `\b`).MatchString(page) {
					t.Errorf("word %s for %s of %s is not on the page", w, a.name, s.name)
				}
			}
		}
		for _, c := range s.blocks {
			blocks++
			if !marked[c.name] {
				t.Errorf("block %s of %s is not on the page", c.name, s.name)
			}
			walk(c)
		}
	}
	walk(language)
	walk(basisSpec)
	if blocks < 45 || arguments < 120 {
		t.Errorf("only %d blocks and %d arguments", blocks, arguments)
	}
	// Words of the engine's vocabulary that the page lists.
	for _, kind := range targetWords {
		for _, one := range []bool{false, true} {
			for _, w := range engine.EffectWords(engine.TargetKind(kind), one) {
				if !strings.Contains(page, w) {
					t.Errorf("effect %s of %s is not on the page", w, kind)
				}
			}
		}
	}
	for per, words := range engine.Outcomes {
		if per != "" && !slices.Contains(perWords, string(per)) {
			t.Errorf("per %s is unknown to the loader", per)
		}
		if per == engine.PerElement {
			continue // "the effect words and leak_fed"
		}
		for _, w := range words {
			where := "per " + string(per)
			if per == engine.PerUnit {
				where = "without `per`"
			}
			if !regexp.MustCompile(where + `:[^;.]*\b` + w + `\b`).MatchString(page) {
				t.Errorf("outcome %s per %s is not on the page", w, per)
			}
		}
	}
	for _, w := range engine.Words {
		if !strings.Contains(page, "`"+w.Word+"`") {
			t.Errorf("strength %s is not on the page", w.Word)
		}
	}
	for _, k := range engine.BasisKinds {
		if !strings.Contains(page, "`"+string(k)+"`") {
			t.Errorf("basis %s is not on the page", k)
		}
	}
}

// TestSpecForms: names in the spec are sound, and stand once.
func TestSpecForms(t *testing.T) {
	var walk func(*blockSpec)
	walk = func(s *blockSpec) {
		seen := map[string]bool{}
		for _, a := range s.args {
			if seen[a.name] || !plainName.fits(a.name) {
				t.Errorf("argument %s of %s", a.name, s.name)
			}
			seen[a.name] = true
			if (a.form == fWord || a.form == fWords) != (len(a.words) > 0) {
				t.Errorf("words of %s in %s", a.name, s.name)
			}
		}
		for _, c := range s.blocks {
			if seen[c.name] {
				t.Errorf("block %s of %s is an argument too", c.name, s.name)
			}
			seen[c.name] = true
			walk(c)
		}
	}
	walk(unitSpec)
	for _, c := range language.blocks {
		walk(c)
	}
}

// A name is not meant to be itself.
func TestNearest(t *testing.T) {
	if got := nearest("slips", []string{"slips", "slips_hot"}); got != "slips_hot" {
		t.Errorf("%q", got)
	}
	if got := nearest("slips", []string{"slips"}); got != "" {
		t.Errorf("%q", got)
	}
}

// A name that does not fit is told what it lacks.
func TestNameWants(t *testing.T) {
	for s, want := range map[string]string{
		"":                       "It is empty.",
		strings.Repeat("x", 121): "It has 121 bytes; 120 is the most.",
		"For ward":               "It takes lowercase letters, digits and underscores, a letter first.",
	} {
		if got := plainName.wants(s); got != want || plainName.fits(s) {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
	if anyText.fits(strings.Repeat("x", 121)) || !anyText.fits(strings.Repeat("x", 120)) {
		t.Error("the limit is not 120")
	}
}
