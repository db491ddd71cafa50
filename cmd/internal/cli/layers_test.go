package cli

import (
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// The packages of cmd import only what the contributor guide's table lets
// them, and nothing below imports them.
func TestImportsPointOneWay(t *testing.T) {
	may := map[string]string{ // package -> what of ours it may import
		"cmd/internal/answer":        `engine|engine/quantity`,
		"cmd/internal/draft":         `engine|engine/geartrain|rules/syntax`,
		"cmd/internal/wording":       `cmd/internal/draft|engine(/.*)?|rules/check`,
		"cmd/internal/notation":      `cmd/internal/(answer|fault|wording)|engine|engine/quantity`,
		"cmd/internal/load":          `cmd/internal/(answer|fault|wording)|engine|engine/model|knowledge|rules|rules/diag`,
		"cmd/internal/drawing":       `engine|engine/geartrain`,
		"cmd/internal/fault":         `cmd/internal/(answer|wording)|engine|engine/network`,
		"cmd/internal/desk":          `cmd/internal/(answer|fault|load|wording|desk/(archive|asking|books|casework|learning|library|opened|outfile|paper|practice|talk))|rules`,
		"cmd/internal/desk/shown":    `cmd/internal/answer`,
		"cmd/internal/desk/outfile":  `cmd/internal/(answer|fault|wording)|knowledge/wholefile`,
		"cmd/internal/desk/library":  `cmd/internal/(answer|draft|drawing|fault|load|notation|wording|desk/outfile)|engine(/.*)?|knowledge/wholefile|rules(/.*)?`,
		"cmd/internal/desk/practice": `cmd/internal/(answer|fault|load|wording|desk/shown)|engine|engine/(drill|trial)`,
		"cmd/internal/desk/books":    `cmd/internal/(answer|fault|wording)|engine|knowledge/(casebook/(postgres|sqlite)|wholefile)`,
		"cmd/internal/desk/asking":   `cmd/internal/(answer|fault|load|wording|desk/(library|shown))|engine(/.*)?|rules(/diag)?`,
		"cmd/internal/desk/opened":   `cmd/internal/(answer|fault|load|wording|desk/(asking|books))|engine(/.*)?|rules(/diag)?`,
		"cmd/internal/desk/casework": `cmd/internal/(answer|fault|notation|wording|desk/(asking|books|library|opened))|engine(/.*)?|rules`,
		"cmd/internal/desk/archive":  `cmd/internal/(answer|fault|wording|desk/(asking|books|opened|outfile))|engine`,
		"cmd/internal/desk/talk":     `cmd/internal/(answer|fault|wording|desk/(asking|books|opened))|engine(/.*)?`,
		"cmd/internal/desk/paper":    `cmd/internal/(answer|drawing|wording|desk/(asking|library|opened|shown))|engine(/.*)?`,
		"cmd/internal/desk/learning": `cmd/internal/(answer|fault|load|wording|desk/(asking|books|shown))|engine(/.*)?|knowledge|rules(/diag|/edit)?`,
		"cmd/internal/chrome":        `nothing`,
		"cmd/internal/jobs":          `cmd/internal/(answer|desk|desk/[a-z]*|notation)|engine(/.*)?`,
		"cmd/internal/sheet":         `cmd/internal/(answer|desk|desk/[a-z]*|wording)`,
		"cmd/internal/table":         `nothing`,
		"cmd/internal/bench":         `cmd/internal/(answer|wording|notation|desk|desk/[a-z]*|sheet)|engine|engine/quantity`,
		"cmd/internal/cli":           `cmd/internal/(answer|bench|draft|wording|notation|desk|desk/[a-z]*|sheet|table)|engine|rules/diag`,
		"cmd/internal/release":       `cmd/internal/cli`,
		"cmd/slipcase":               `cmd/internal/cli`,
	}
	out, err := exec.Command("go", "list", "-f", "{{.ImportPath}}{{range .Imports}} {{.}}{{end}}", "slipcase/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	var seen []string
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		words := strings.Fields(line)
		name := strings.TrimPrefix(words[0], "slipcase/")
		if allowed := may[name]; allowed != "" {
			seen = append(seen, name)
			ok := regexp.MustCompile("^(" + allowed + ")$")
			for _, imp := range words[1:] {
				if own, is := strings.CutPrefix(imp, "slipcase/"); is && !ok.MatchString(own) {
					t.Errorf("%s must not import %s", name, own)
				}
			}
			continue
		}
		if strings.HasPrefix(name, "cmd/") {
			t.Errorf("%s stands in no row of the table", name)
		}
		if slices.ContainsFunc(words[1:], func(imp string) bool { return strings.HasPrefix(imp, "slipcase/cmd/") }) {
			t.Errorf("%s imports a package of cmd", name)
		}
	}
	guide, err := os.ReadFile("../../../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		name := strings.TrimPrefix(strings.Fields(line)[0], "slipcase/")
		if name != "cmd/slipcase" && !strings.Contains(string(guide), "`"+name+"`") {
			t.Errorf("%s stands in no row of the contributor guide's table", name)
		}
	}
	if len(seen) != len(may) {
		t.Errorf("looked at %v", seen)
	}
}
