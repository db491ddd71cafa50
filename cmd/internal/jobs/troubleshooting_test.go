package jobs

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/internal/size"
)

// row is a published row, told to one of our units.
type row struct {
	ID      string   `json:"id"`
	Unit    string   `json:"unit"`
	Reports []string `json:"reports"` // patterns of findings, present unless "=no" follows
	Named   []string `json:"named"`   // the published causes, as patterns of component[/mode]
	Note    string   `json:"note"`
}

// preparation is what a maker's procedure has checked before a test, so that a
// row which tells the test's outcome tells it, too.
type preparation struct {
	Tests  []string `json:"tests"`  // how the findings of such tests begin
	Report string   `json:"report"` // what was seen before
	Unless string   `json:"unless"` // a row that names this part is told without
}

// of is what was seen before the tests of a row.
func (p preparation) of(r row) []string {
	tested := slices.ContainsFunc(r.Reports, func(report string) bool {
		return slices.ContainsFunc(p.Tests, func(test string) bool { return strings.HasPrefix(report, test) })
	})
	if !tested || slices.Contains(r.Named, p.Unless) {
		return nil
	}
	return []string{p.Report}
}

// published finds id and class of a row in the text.
var published = regexp.MustCompile(`(?m)^\| (P\d+) \| ([ELB]) \|`)

// elements are the components that make an element hold, of both units.
var elements = []string{
	"lockup_clutch", "forward_*", "direct_*", "reverse_*", "intermediate_*", "low_reverse_*", "low_roller", "overdrive_band", "overdrive_servo",
	"front_clutch*", "rear_clutch*", "front_band", "rear_band", "front_servo*", "rear_servo", "overrunning_clutch",
}

func anyOf(patterns []string, s suspect) bool {
	return slices.ContainsFunc(patterns, func(p string) bool { return glob(p, s.component) || glob(p, s.component+"/"+s.mode) })
}

// sees is who reports a finding of a chart in a workshop.
func sees(finding string) string {
	for _, p := range []string{"stall_", "line_pressure", "circuit_pressure", "exhaust_", "engine_weak"} {
		if strings.HasPrefix(finding, p) {
			return "gauge"
		}
	}
	for _, p := range []string{"fluid_", "lining_", "steel_", "prop_shaft", "pushes_oil"} {
		if strings.HasPrefix(finding, p) {
			return "eye"
		}
	}
	if strings.HasPrefix(finding, "P0") || strings.HasPrefix(finding, "ratio_off") {
		return "scan_tool"
	}
	return "road_test"
}

// judge says whether a ranking is what a row of its class may fairly demand:
// E, a named cause first; L, a listed cause in the first three and no element
// that is not listed above the first that is; B, the confirmed cause in the
// first three.
func judge(class string, named []string, ranked []suspect) bool {
	first := slices.IndexFunc(ranked, func(s suspect) bool { return anyOf(named, s) })
	switch {
	case first < 0:
		return false
	case class == "E":
		return first == 0
	case first > 2:
		return false
	case class == "L":
		return !slices.ContainsFunc(ranked[:first], func(s suspect) bool { return anyOf(elements, s) })
	}
	return true
}

func TestJudge(t *testing.T) {
	list := []suspect{{"forward_frictions", "burnt_friction", 0.5}, {"pump", "pump_worn", 0.3}, {"fluid", "level_low", 0.1}}
	for _, x := range []struct {
		class string
		named []string
		want  bool
	}{
		{"E", []string{"forward_*"}, true}, {"E", []string{"pump"}, false}, {"B", []string{"pump"}, true}, {"L", []string{"pump"}, false},
		{"L", []string{"pump", "forward_*"}, true}, {"B", []string{"fluid/cooked"}, false}, {"B", []string{"fluid/level_low"}, true},
	} {
		if got := judge(x.class, x.named, list); got != x.want {
			t.Errorf("%s %v: %v", x.class, x.named, got)
		}
	}
}

// TestPublished ranks each published row that our units can express; every
// third without SLIPCASE_LONG=1.
func TestPublished(t *testing.T) {
	dir := filepath.Join("..", "..", "..", "testdata", "troubleshooting")
	text, err := os.ReadFile(filepath.Join(dir, "published-troubleshooting.md"))
	if err != nil {
		t.Fatal(err)
	}
	class := map[string]string{}
	for _, m := range published.FindAllStringSubmatch(string(text), -1) {
		class[m[1]] = m[2]
	}
	var table struct {
		Rows     []row             `json:"rows"`
		Prepared preparation       `json:"prepared"`
		LeftOut  map[string]string `json:"left_out"`
	}
	b, err := os.ReadFile(filepath.Join(dir, "rows.json"))
	if err == nil {
		err = json.Unmarshal(b, &table)
	}
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]bool{}
	for _, r := range table.Rows {
		told[r.ID] = true
	}
	for id := range class {
		if told[id] == (table.LeftOut[id] != "") {
			t.Errorf("%s has to be told or left out with a reason", id)
		}
	}
	right, of := map[string]int{}, map[string]int{}
	names := map[string][]string{}
	d, every := shop(t), size.Of(6, 3, 1)
	for i, r := range table.Rows {
		if i%every != 0 {
			continue
		}
		c := class[r.ID]
		if c == "" {
			t.Errorf("%s is no published row", r.ID)
		}
		p := open(t, d, r.Unit, "")
		if names[r.Unit] == nil {
			names[r.Unit] = p.findings()
		}
		said := map[string]map[string]engine.State{}
		for _, one := range append(table.Prepared.of(r), r.Reports...) {
			pattern, no, _ := strings.Cut(one, "=")
			state := engine.Present
			if no != "" {
				state = engine.Absent
			}
			hits := 0
			for _, e := range either(pattern) {
				if strings.Contains(e, ":") { // a condition is told by its full name
					by := sees(e)
					if said[by] == nil {
						said[by] = map[string]engine.State{}
					}
					said[by][e] = state
					hits++
				}
				for _, f := range names[r.Unit] {
					if f = strings.TrimPrefix(f, "code_"); glob(e, f) {
						by := sees(f)
						if said[by] == nil {
							said[by] = map[string]engine.State{}
						}
						said[by][f] = state
						hits++
					}
				}
			}
			if hits == 0 {
				t.Errorf("%s: the unit has no finding %s", r.ID, pattern)
			}
		}
		for _, by := range slices.Sorted(maps.Keys(said)) {
			if err := p.note(by, said[by]); err != nil {
				t.Errorf("%s: %v", r.ID, err)
			}
		}
		ranked, _, err := p.suspects()
		if err != nil {
			t.Errorf("%s: %v", r.ID, err)
			continue
		}
		ok := judge(c, r.Named, ranked)
		of[c]++
		mark := "wrong"
		if ok {
			right[c]++
			mark = "right"
		}
		var top []string
		for _, s := range ranked[:min(3, len(ranked))] {
			top = append(top, fmt.Sprintf("%s/%s %.0f", s.component, s.mode, 100*s.p))
		}
		t.Logf("%s %s %s %s: %s", r.ID, c, mark, strings.Join(r.Reports, " "), strings.Join(top, ", "))
	}
	t.Logf("right: E %d of %d, L %d of %d, B %d of %d; %d of %d rows left out", right["E"], of["E"], right["L"], of["L"], right["B"], of["B"], len(table.LeftOut), len(class))
	for c, n := range publishedFloors[every] {
		if right[c] < n {
			t.Errorf("class %s: %d right; it was %d", c, right[c], n)
		}
	}
}
