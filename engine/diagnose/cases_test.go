package diagnose_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"slipcase/engine"
)

// TestWriteCases writes drawn vehicles as case files, to time whole processes on
// them: SLIPCASE_CASES names the folder, SEEDS how many of each unit, REPORTS how
// many reports each has.
func TestWriteCases(t *testing.T) {
	dir := os.Getenv("SLIPCASE_CASES")
	if dir == "" {
		t.Skip("SLIPCASE_CASES names no folder")
	}
	for _, unit := range allUnits {
		m := modelOf(t, unit)
		for seed := range uint64(number("SEEDS", 13)) {
			c := vehicle(m, seed, number("REPORTS", 45))
			name := fmt.Sprintf("%s-%d", unit, seed)
			var b strings.Builder
			fmt.Fprintf(&b, "language = 1\n\ncase %q {\n  unit = %q\n", name, unit)
			said := map[string]map[engine.State][]string{}
			for _, r := range c.Reports {
				if said[r.By] == nil {
					said[r.By] = map[engine.State][]string{}
				}
				said[r.By][r.State] = append(said[r.By][r.State], fmt.Sprintf("%q", r.Finding))
			}
			for by, states := range said {
				fmt.Fprintf(&b, "  reports %q {\n    present = [%s]\n    absent = [%s]\n  }\n", by, strings.Join(states[engine.Present], ", "), strings.Join(states[engine.Absent], ", "))
			}
			b.WriteString("}\n")
			if err := os.WriteFile(filepath.Join(dir, name+".hcl"), []byte(b.String()), 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
}
