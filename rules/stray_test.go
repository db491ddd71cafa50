package rules_test

import (
	"fmt"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"slipcase/engine"
	"slipcase/rules"
)

// A file that nobody reads is told, with where it belongs; what lies right, or
// is no rule file, is not.
func TestStrayFiles(t *testing.T) {
	mode := `language = 1` + "\n" + `mode "odd" {` + "\n}\n"
	files := map[string]string{
		"van.hcl":            mode,
		"pan.hcl":            "language = 1\nbasis \"invented\" {\n}\ncheck \"pan_again\" {\n}\ncheck \"pan_twice\" {\n}\n",
		"hot.hcl":            "caution \"hot\" {\n}\n",
		"mixed.hcl":          "check \"pan_again\" {\n}\nmode \"odd\" {\n}\n",
		"new.hcl":            "unit \"elmwood-5\" {\n}\n",
		"spelled.hcl":        "unit \"../../elmwood\" {\n}\n",
		"today.hcl":          "case \"today\" {\n}\n",
		"broken.hcl":         "{{{",
		"empty.hcl":          "",
		"units/old/two.hcl":  mode,
		"rules/sub/a.hcl":    mode,
		"rules/sub/x.txt":    "",
		"rules/LOUD.HCL":     mode,
		"Rules/b.hcl":        mode,
		"caution/c.hcl":      mode,
		"photos/d.hcl":       mode,
		"cases/today.hcl":    mode,
		".old/rules/e.hcl":   mode,
		"rules/.hidden.hcl":  mode,
		"rules/.old/f.hcl":   mode,
		"notes.txt":          "",
		"checks/readme.text": "",
	}
	m := fstest.MapFS{}
	for name, text := range files {
		m[name] = &fstest.MapFile{Data: []byte(text)}
	}
	_, diags := rules.Load(rules.Options{Layers: []rules.Layer{base, {Name: "shop", FS: m, Root: "C:/my shop/"}}, NoUnits: true})
	const lie = "Rule files go in the folders units, rules, checks or cautions. "
	want := []string{
		"Rules/b.hcl: The folder Rules is not read; did you mean \"rules\"? Move it to C:/my shop/rules/b.hcl.",
		"broken.hcl: " + lie + "Move it to C:/my shop/rules/broken.hcl.",
		"caution/c.hcl: The folder caution is not read; did you mean \"cautions\"? Move it to C:/my shop/cautions/c.hcl.",
		"empty.hcl: " + lie + "Move it to C:/my shop/rules/empty.hcl.",
		"hot.hcl: " + lie + "Move it to C:/my shop/cautions/hot.hcl.",
		"mixed.hcl: " + lie + "Move it to C:/my shop/rules/mixed.hcl.",
		"new.hcl: " + lie + "Move it to C:/my shop/units/elmwood-5.hcl.",
		"pan.hcl: " + lie + "Move it to C:/my shop/checks/pan.hcl.",
		"rules/LOUD.HCL: The names of rule files end in .hcl. Rename it to LOUD.hcl.",
		"rules/sub/a.hcl: Folders within rules are not read. Move it to C:/my shop/rules/a.hcl.",
		"spelled.hcl: " + lie + "Move it to C:/my shop/rules/spelled.hcl.",
		"today.hcl: " + lie + "It holds a case, which is not part of the rules. Keep it outside this folder.",
		"units/old/two.hcl: Folders within units are not read. Move it to C:/my shop/units/two.hcl.",
		"van.hcl: " + lie + "Move it to C:/my shop/rules/van.hcl.",
	}
	var got []string
	for _, d := range diags {
		if d.Severity != engine.Warning || d.Summary != "file is not read" {
			t.Error(d)
		}
		got = append(got, fmt.Sprintf("%s: %s", strings.TrimPrefix(d.Subject.File, "C:/my shop/"), d.Detail))
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}
