package knowledge_test

import (
	"io/fs"
	"path"
	"strings"
	"sync"
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/check"
)

// load is the embedded knowledge, read once: nobody changes it.
func load(t *testing.T) *engine.Knowledge {
	t.Helper()
	x := loaded()
	for _, d := range x.diags {
		t.Error(d.Error())
	}
	if t.Failed() {
		t.FailNow()
	}
	return x.k
}

var loaded = sync.OnceValue(func() (x struct {
	k     *engine.Knowledge
	diags []engine.Diagnostic
}) {
	x.k, x.diags = rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}}})
	return x
})

// modelOf is the model of a unit of it, built once.
func modelOf(t *testing.T, u *engine.Unit) *model.Model {
	t.Helper()
	if models[u.ID] == nil {
		m, err := model.Build(load(t), u)
		if err != nil {
			t.Fatal(err)
		}
		models[u.ID] = m
	}
	return models[u.ID]
}

var models = map[string]*model.Model{}

// The embedded knowledge loads without a word, and nothing in it puzzles the
// lint.
func TestLoadsClean(t *testing.T) {
	k := load(t)
	for _, d := range check.Run(k, check.Options{}) {
		t.Error(d.Error())
	}
}

// What the brief of the demo units asks for at the least.
func TestSize(t *testing.T) {
	k := load(t)
	for _, c := range []struct {
		unit                           string
		components, modes, steps, rows int
	}{
		{"northfork-4", 50, 120, 30, 10},
		{"harrow-3", 35, 80, 22, 9},
	} {
		u := k.Unit(c.unit)
		if u == nil {
			t.Fatalf("unit %s is missing", c.unit)
		}
		m := modelOf(t, u)
		if n := len(u.Components); n < c.components {
			t.Errorf("%s: %d components, want at least %d", c.unit, n, c.components)
		}
		if n := len(m.Modes()); n < c.modes {
			t.Errorf("%s: %d modes, want at least %d", c.unit, n, c.modes)
		}
		if n := len(u.Steps); n < c.steps {
			t.Errorf("%s: %d steps, want at least %d", c.unit, n, c.steps)
		}
		if n := len(u.Rows); n < c.rows {
			t.Errorf("%s: %d rows, want at least %d", c.unit, n, c.rows)
		}
	}
}

// The rates are of the right relative size: a unit that comes in has between
// one and two failed modes, a burnt pack is common and a broken shaft rare
// (common practice).
func TestRates(t *testing.T) {
	k := load(t)
	for _, u := range k.Units {
		m := modelOf(t, u)
		r, diags, err := diagnose.Case(m, &engine.CaseFile{Unit: u.ID}, diagnose.Options{Top: 1})
		if err != nil || len(diags) > 0 {
			t.Fatal(err, diags)
		}
		var sum float64
		byMode := map[string]float64{}
		for _, i := range m.Modes() {
			sum += r.Prior[i]
			byMode[m.Nodes[i].Mode.Name] += r.Prior[i]
		}
		if sum < 1 || sum > 2 {
			t.Errorf("%s: %.2f failed modes expected, want 1 to 2", u.ID, sum)
		}
		for _, p := range [][2]string{{"burnt_friction", "plates_welded"}, {"burnt_friction", "shell_broken"}, {"cut_ring", "spline_stripped"}, {"bushing_worn", "teeth_broken"}, {"bore_worn", "valve_stuck_low"}, {"roller_spent", "roller_reversed"}} {
			if byMode[p[0]] == 0 && byMode[p[1]] == 0 {
				continue // a unit without such a part
			}
			if byMode[p[0]] <= byMode[p[1]] {
				t.Errorf("%s: %s (%.4f) should be commoner than %s (%.4f)", u.ID, p[0], byMode[p[0]], p[1], byMode[p[1]])
			}
		}
	}
}

// Every example comes out as it says, and each mode is the leading one of an
// expected component in some example.
func TestExamples(t *testing.T) {
	k := load(t)
	if len(k.Examples) < 25 {
		t.Fatalf("%d examples, want at least 25", len(k.Examples))
	}
	blamed := map[string]bool{}
	for i := range k.Examples {
		e := &k.Examples[i]
		r, diags, err := diagnose.Case(modelOf(t, k.Unit(e.Case.Unit)), &e.Case, diagnose.Options{Top: e.Within})
		if err != nil || r == nil {
			t.Errorf("%s: %v %v", e.Name, err, diags)
			continue
		}
		for _, want := range e.Expect {
			rank := 0
			for j, s := range r.Suspects {
				if s.Component.Name == want {
					rank = j + 1
					if rank <= e.Within && len(s.Modes) > 0 {
						blamed[s.Modes[0].Mode.Name] = true
					}
				}
			}
			if rank == 0 || rank > e.Within {
				t.Errorf("%s: %s comes out at %d, want within %d (first is %s)", e.Name, want, rank, e.Within, r.Suspects[0].Component.Name)
			}
		}
	}
	for _, m := range k.Modes {
		if !blamed[m.Name] {
			t.Errorf("mode %s is blamed by no example", m.Name)
		}
	}
}

// culprits are the true culprits of the demo cases, as the comment in each
// file says.
var culprits = map[string][]string{
	"flare-into-overdrive":         {"od_one_way"},
	"no-hold-back-in-second":       {"second_coast_servo"},
	"no-reverse-no-coasting":       {"od_direct_frictions"},
	"third-again":                  {"solenoid_od_control"},
	"first-only-in-low":            {"low_one_way"},
	"starts-in-second":             {"solenoid_b"},
	"second-and-fourth":            {"two_four_frictions"},
	"binds-in-first":               {"solenoid_od_control"},
	"from-fourth-up":               {"four_to_six_frictions"},
	"odd-gears-and-reverse":        {"three_five_reverse_frictions"},
	"sun-brake-gears":              {"sun_frictions"},
	"even-gears":                   {"lock_clutch_frictions"},
	"slip-one-gear":                {"overdrive_servo"},
	"no-reverse":                   {"reverse_piston"},
	"harsh-shift":                  {"accumulator_1_2"},
	"burnt-clutch-cause-elsewhere": {"forward_frictions", "regulator_valve"},
	"two-faults":                   {"low_roller", "lockup_clutch"},
	"not-the-transmission":         {"wiring"},
	"third-and-reverse":            {"front_clutch_plates"},
	"late-into-second":             {"front_band"},
	"third-and-fourth-only":        {"solenoid_a"},
	"second-slips-in-drive":        {"intermediate_frictions"},
	"slips-pulling-away":           {"rear_clutch_plates"},
	"reverse-slips-low-coasts":     {"rear_servo"},
}

// Each demo case loads, knows its names, and has its culprits among the first
// three.
func TestCases(t *testing.T) {
	k := load(t)
	files, err := fs.Glob(knowledge.FS, "cases/*.hcl")
	if err != nil {
		t.Fatal(err)
	}
	if len(files) != len(culprits) {
		t.Errorf("%d case files, %d with known culprits", len(files), len(culprits))
	}
	for _, file := range files {
		src, err := fs.ReadFile(knowledge.FS, file)
		if err != nil {
			t.Fatal(err)
		}
		c, diags := rules.LoadCase(file, src)
		if c == nil {
			t.Fatal(file, diags)
		}
		for _, d := range append(diags, rules.ResolveCase(k, c)...) {
			t.Error(d.Error())
		}
		if want := strings.TrimSuffix(path.Base(file), ".hcl"); c.ID != want {
			t.Errorf("%s holds case %q", file, c.ID)
		}
		r, ds, err := diagnose.Case(modelOf(t, k.Unit(c.Unit)), c, diagnose.Options{Top: 3})
		if err != nil || r == nil {
			t.Fatal(file, err, ds)
		}
		for _, want := range culprits[c.ID] {
			found := false
			var first []string
			for i := 0; i < 3; i++ {
				first = append(first, r.Suspects[i].Component.Name)
				found = found || r.Suspects[i].Component.Name == want
			}
			if !found {
				t.Errorf("%s: %s is not among the first three: %v", c.ID, want, first)
			}
			if !strings.Contains(string(src), want) {
				t.Errorf("%s: the comment does not name %s", file, want)
			}
		}
	}
}

// TestEveryUnitIsShown: each unit, variants too, has two demo cases of our own
// and five examples.
func TestEveryUnitIsShown(t *testing.T) {
	k := load(t)
	cases, examples := map[string]int{}, map[string]int{}
	for _, e := range k.Examples {
		examples[e.Case.Unit]++
	}
	files, err := fs.Glob(knowledge.FS, "cases/*.hcl")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		src, err := fs.ReadFile(knowledge.FS, file)
		if err != nil {
			t.Fatal(err)
		}
		c, diags := rules.LoadCase(file, src)
		if c == nil {
			t.Fatal(file, diags)
		}
		cases[c.Unit]++
	}
	for _, u := range k.Units {
		if cases[u.ID] < 2 || examples[u.ID] < 5 {
			t.Errorf("%s: %d demo cases, %d examples; wanted are two and five", u.ID, cases[u.ID], examples[u.ID])
		}
	}
}

// TestUnitsAreShort: a unit file is a chart, its own parts and its limits, in at
// most 250 lines; a relative needs under 40.
func TestUnitsAreShort(t *testing.T) {
	names, err := fs.Glob(knowledge.FS, "units/*.hcl")
	if err != nil || len(names) < 10 {
		t.Fatalf("%d units: %v", len(names), err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(knowledge.FS, name)
		if err != nil {
			t.Fatal(err)
		}
		most := 250
		if strings.Contains(string(text), "\n  like ") {
			most = 39
		}
		if n := strings.Count(string(text), "\n"); n > most {
			t.Errorf("%s has %d lines, at most %d", name, n, most)
		}
	}
}
