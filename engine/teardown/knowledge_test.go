package teardown

import (
	"bufio"
	"os"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
	"slipcase/engine/quantity"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// demo loads a built-in case with the model of its unit.
func demo(t testing.TB, name string) (*model.Model, *engine.CaseFile) {
	t.Helper()
	file := "../../knowledge/cases/" + name + ".hcl"
	src, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	c, diags := rules.LoadCase(file, src)
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	m := unitModel(t, c.Unit)
	if diags := rules.ResolveCase(m.Knowledge, c); diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	return m, c
}

func unitModel(t testing.TB, unit string) *model.Model {
	t.Helper()
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: unit})
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	m, err := model.Build(k, k.Unit(unit))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// The decision on pulling, for every demo; what is looked at first.
func TestDemoDecisions(t *testing.T) {
	for _, x := range []struct {
		demo  string
		pull  bool
		first string // the first step of the plan
		early string // a step that must come within the first three
	}{
		{"not-the-transmission", false, "wiring_look", "wiring_look"},
		{"slip-one-gear", false, "servo_cover_off", "servo_cover_off"},
		{"harsh-shift", false, "pan_off", "accumulators_out"},
		{"burnt-clutch-cause-elsewhere", true, "pull_unit", "pull_unit"}, // the fluid was looked at
		{"third-and-reverse", true, "pull_unit", "pull_unit"},            // the fluid was looked at
		{"no-reverse", true, "pull_unit", "pull_unit"},
		{"two-faults", true, "pull_unit", "converter_off"}, // the fluid was looked at
	} {
		t.Run(x.demo, func(t *testing.T) {
			m, c := demo(t, x.demo)
			p, _ := planned(t, m, c)
			if p.Pull.Justified != x.pull {
				t.Errorf("pull %v, want %v: %+v", p.Pull.Justified, x.pull, p.Pull)
			}
			if got := p.Steps[0].Step.Name; got != x.first {
				t.Errorf("first step %s, want %s", got, x.first)
			}
			early := false
			for _, s := range p.Steps[:3] {
				early = early || s.Step.Name == x.early
			}
			if !early {
				t.Errorf("%s is not among the first three", x.early)
			}
			if !p.Exact {
				t.Errorf("the order is not proven: %+v", p.Method)
			}
		})
	}
}

// Every row of the table of evidence that a step destroys stands before the
// steps that destroy it.
func TestEvidenceBeforeItsStep(t *testing.T) {
	m := unitModel(t, "northfork-4")
	c := &engine.CaseFile{Unit: "northfork-4"}
	f, err := os.Open("testdata/evidence.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, steps, row := 0, 0, ""
	lines := bufio.NewScanner(f)
	for lines.Scan() {
		line := strings.TrimSpace(lines.Text())
		rest, isStep := strings.CutPrefix(line, "> ")
		switch {
		case line == "" || strings.HasPrefix(line, "#"):
		case !isStep:
			if row != "" && steps == 0 {
				t.Errorf("%s: no step", row)
			}
			row, steps = line, 0
			rows++
		default:
			steps++
			name, want, ok := strings.Cut(rest, " | ")
			if !ok {
				t.Fatalf("%s: no bar", line)
			}
			name, at := strings.CutSuffix(name, " at")
			s := m.Step(name)
			if s == nil {
				t.Fatalf("no step %s", name)
			}
			found := false
			for _, x := range measures(m, c, s) {
				if strings.Contains(x.Text, want) && (x.When == AtStep) == at {
					found = true
				}
			}
			if !found {
				t.Errorf("%s: %s does not ask for %q; it asks for:", row, name, want)
				for _, x := range measures(m, c, s) {
					t.Logf("   %v %s", x.When, x.Text)
				}
			}
		}
	}
	if rows != 23 {
		t.Errorf("%d rows, want 23", rows)
	}
}

// Every step that opens a pack, takes out a piston, parts a one-way clutch or
// takes out a thrust washer is among those of the table.
func TestEvidenceTableNamesAllSteps(t *testing.T) {
	table, err := os.ReadFile("testdata/evidence.txt")
	if err != nil {
		t.Fatal(err)
	}
	m := unitModel(t, "northfork-4")
	for _, s := range m.Unit.Steps {
		for _, name := range s.Exposes {
			kind := find(m.Unit, name).Kind
			switch kind {
			case "friction_pack", "piston", "one_way_clutch", "thrust_washer", "seal_ring", "band":
				// The intermediate piston sits in the pump: its lip is seen as
				// the pump comes out.
				if !strings.Contains(string(table), "> "+s.Name) {
					t.Errorf("%s takes out %s and is not in the table", s.Name, name)
				}
			}
		}
	}
}

// A measured value, in whatever unit, is compared with its limit, stands in the
// plan and changes it.
func TestReadingsChangeThePlan(t *testing.T) {
	m, c := demo(t, "two-faults")
	weight := func(c *engine.CaseFile, component string) float64 {
		p, _ := planned(t, m, c)
		for _, s := range p.Steps {
			for _, v := range s.Views {
				if v.Component.Name == component {
					return v.P
				}
			}
		}
		t.Fatalf("%s is in no step", component)
		return 0
	}
	read := func(name, text string) *engine.CaseFile {
		q, err := quantity.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		x := *c
		x.Readings = append(append([]engine.Reading(nil), c.Readings...), engine.Reading{Name: name, Value: q})
		return &x
	}
	// 0.060 in = 1.524 mm, above 0.90 mm; 0.020 in = 0.508 mm is within.
	high, good := read("input_end_play", "0.060 in"), read("input_end_play", "0.020 in")
	if a, b := weight(high, "front_washers"), weight(good, "front_washers"); a < 5*b {
		t.Errorf("front washers: %v with the end play high, %v with it good", a, b)
	}
	for _, x := range []struct {
		c    *engine.CaseFile
		want string
	}{{high, "above"}, {good, ""}, {read("input_end_play", "0.1 mm"), "below"}} {
		p, _ := planned(t, m, x.c)
		found := false
		for _, s := range p.Steps {
			for _, y := range s.Measure {
				if y.Limit != nil && y.Limit.Limit.Name == "input_end_play" {
					found = true
					if y.Check == nil || y.Check.Name != "end_play" {
						t.Errorf("the limit does not stand with the check that it is measured in: %+v", y)
					}
					if y.Limit.Outside != x.want || y.Limit.Value == nil || !y.Taken || s.Step.Name != "pump_out" {
						t.Errorf("%s: %+v", s.Step.Name, y.Limit)
					}
				}
			}
		}
		if !found {
			t.Error("the end play is asked for nowhere")
		}
		asked := 0
		for _, s := range p.Steps {
			for _, y := range s.Measure {
				if y.Check != nil && y.Check.Name == "end_play" {
					asked++
				}
			}
		}
		if asked != 1 {
			t.Errorf("the end play is asked for %d times", asked)
		}
	}
}

// Clearing the leader reorders the rest; finding it turns to the question why.
func TestPlanTurnsToWhy(t *testing.T) {
	m, c := demo(t, "burnt-clutch-cause-elsewhere")
	before, _ := planned(t, m, c)
	if before.After != nil {
		t.Fatal("nothing is confirmed yet")
	}
	c.Done = []string{"pull_unit", "converter_off", "pump_out", "intermediate_pack_out", "servo_cover_off", "band_out", "front_drums_out", "forward_pack_open"}
	c.Seen = []engine.Seen{{Component: "forward_frictions", Mode: "burnt_friction"}}
	p, _ := planned(t, m, c)
	w := p.After
	if w == nil || len(w.Confirmed) != 1 || !w.Confirmed[0].Open() || len(Unsettled(w.Confirmed)) != 1 {
		t.Fatalf("%+v", w)
	}
	has := func(name string) bool {
		for _, o := range w.Causes {
			if strings.HasPrefix(o.Name, name) && (len(o.SettledBy) > 0 || o.Step != nil) {
				return true
			}
		}
		return false
	}
	if !has("regulator_valve/") || !has("pressure_solenoid/") {
		t.Errorf("the valves that starve the clutch are not among the open causes: %+v", w.Causes)
	}
	// The valve body behind it comes before the rest of the unit now.
	place := map[string]int{}
	for i, s := range p.Steps {
		place[s.Step.Name] = i
	}
	was := map[string]int{}
	for i, s := range before.Steps {
		was[s.Step.Name] = i
	}
	if was["valve_body_open"] < was["sun_shell_out"] || place["valve_body_open"] > place["sun_shell_out"] {
		t.Errorf("the valve body is opened at %d, the sun shell comes out at %d", place["valve_body_open"], place["sun_shell_out"])
	}
	related := map[string]bool{}
	for _, x := range w.Look {
		related[x.Component.Name] = true
	}
	for _, name := range []string{"forward_piston", "forward_rings", "filter"} {
		if !related[name] {
			t.Errorf("%s is not among the parts to look at as well", name)
		}
	}
	if len(w.Second) == 0 || w.Second[0].Step == nil || len(w.Second[0].Signs) == 0 {
		t.Errorf("no second fault is described: %+v", w.Second)
	}
	// A root cause named with it, a settled one, and a fault found behind it
	// each settle the question; one that does not lead to it does not.
	for _, x := range []struct {
		name   string
		change func(*engine.CaseFile)
		open   bool
	}{
		{"named", func(c *engine.CaseFile) { c.Seen[0].Cause = "regulator_valve/bore_worn" }, false},
		{"settled", func(c *engine.CaseFile) {
			c.Settled = []engine.SettledCause{{Cause: "overloaded", Present: true}}
		}, false},
		{"a circumstance", func(c *engine.CaseFile) {
			c.Settled = []engine.SettledCause{{Cause: "high_mileage", Present: true}}
		}, true},
		{"ruled out", func(c *engine.CaseFile) {
			c.Settled = []engine.SettledCause{{Cause: "overloaded", Present: false}}
		}, true},
		{"all ruled out", func(c *engine.CaseFile) {
			for _, o := range OpenCauses(m, c, mustRead(t, m, c), Found(m, c)) {
				if part, _, mode := strings.Cut(o.Name, "/"); mode {
					c.Seen = append(c.Seen, engine.Seen{Component: part, Cleared: true})
				} else {
					c.Settled = append(c.Settled, engine.SettledCause{Cause: o.Name})
				}
			}
		}, false},
		{"named with another part", func(c *engine.CaseFile) {
			c.Seen = append(c.Seen, engine.Seen{Component: "low_roller", Mode: "roller_spent", Cause: "high_mileage"})
		}, false},
		{"found behind it", func(c *engine.CaseFile) {
			c.Seen = append(c.Seen, engine.Seen{Component: "regulator_valve", Mode: m.Nodes[m.ModesOf("regulator_valve")[0]].Mode.Name})
		}, false},
	} {
		t.Run(x.name, func(t *testing.T) {
			y := *c
			y.Seen = append([]engine.Seen(nil), c.Seen...)
			x.change(&y)
			f := Found(m, &y)
			if f[0].Open() != x.open {
				t.Errorf("open %v, want %v: %+v", f[0].Open(), x.open, f[0])
			}
			if n := len(OpenCauses(m, &y, mustRead(t, m, &y), f[:1])); x.open && n == 0 {
				t.Error("nothing is left to settle it by")
			}
			if n := len(Unsettled(f[:1])); (n == 1) != x.open {
				t.Errorf("%d unsettled", n)
			}
		})
	}
}

func mustRead(t *testing.T, m *model.Model, c *engine.CaseFile) *diagnose.Result {
	t.Helper()
	r, diags, err := diagnose.Read(m, c)
	if err != nil || r == nil {
		t.Fatal(diags, err)
	}
	return r
}

// A find that explains every report is enough; one that leaves a complaint open
// is not.
func TestFindIsEnough(t *testing.T) {
	for _, x := range []struct {
		demo, component, mode string
		enough                bool
	}{
		{"slip-one-gear", "overdrive_servo", "servo_seal_cut", true},
		{"harsh-shift", "accumulator_1_2", "accumulator_stuck", true},
		{"two-faults", "lockup_clutch", "lockup_glazed", false},
		{"two-faults", "low_roller", "roller_spent", false},
	} {
		m, c := demo(t, x.demo)
		if _, ok := m.Lookup(x.component + "/" + x.mode); !ok {
			t.Fatalf("no fault %s/%s", x.component, x.mode)
		}
		c.Seen = []engine.Seen{{Component: x.component, Mode: x.mode}}
		c.Done = Implied(m.Unit, c) // who holds it has been there
		p, _ := planned(t, m, c)
		if p.Pull.Enough != x.enough || !p.Pull.Pulled && x.enough != (p.Pull.Another < 0.5) {
			t.Errorf("%s, %s found: enough %v, another needed %v", x.demo, x.mode, p.Pull.Enough, p.Pull.Another)
		}
	}
}

// Each caution stands with the first step that needs it, once.
func TestCautionsStandOnce(t *testing.T) {
	for _, name := range []string{"slip-one-gear", "third-and-reverse"} {
		m, c := demo(t, name)
		p, _ := planned(t, m, c)
		shown := map[string]int{}
		for i, s := range p.Steps {
			for _, x := range s.Cautions {
				if x.Text == "" || shown[x.Name] != 0 {
					t.Errorf("%s: caution %s", s.Step.Name, x.Name)
				}
				shown[x.Name] = i + 1
			}
			for _, x := range s.Step.Cautions {
				if shown[x] == 0 {
					t.Errorf("%s needs the caution %s, which is not shown by then", s.Step.Name, x)
				}
			}
		}
		if len(shown) != len(p.Cautions) || len(shown) < 5 {
			t.Errorf("%d cautions shown, %d listed", len(shown), len(p.Cautions))
		}
	}
}

// Every part that a step takes off has a place on the bench.
func TestEveryPartHasItsPlace(t *testing.T) {
	for _, unit := range []string{"northfork-4", "harrow-3"} {
		m := unitModel(t, unit)
		for i := range m.Unit.Components {
			if c := &m.Unit.Components[i]; !m.Outside(c) && Bench(m, c) == "" {
				t.Errorf("%s: %s has no place on the bench", unit, c.Name)
			}
		}
	}
}

// While the unit is out, looks at the vehicle wait.
func TestVehicleLooksWaitUntilItIsBack(t *testing.T) {
	m, c := demo(t, "no-reverse")
	for _, done := range [][]string{nil, {"pull_unit"}} {
		c.Done = done
		p, _ := planned(t, m, c)
		late := false
		for _, s := range p.Steps {
			if late && !s.Late {
				t.Errorf("done %v: %s stands among the looks that wait", done, s.Step.Name)
			}
			late = s.Late
			first := false
			for _, x := range p.Pull.Looks {
				first = first || x == s.Step
			}
			if !first && s.Late != (s.Step.Stage == engine.StageInVehicle && m.Outside(find(m.Unit, s.Step.Exposes[0]))) {
				t.Errorf("done %v: %s: late %v", done, s.Step.Name, s.Late)
			}
		}
		if !late {
			t.Error("nothing waits")
		}
	}
}

func BenchmarkMake(b *testing.B) {
	for _, name := range []string{"burnt-clutch-cause-elsewhere", "slip-one-gear", "third-and-reverse", "two-faults"} {
		b.Run(name, func(b *testing.B) {
			m, c := demo(b, name)
			r, _, err := diagnose.Case(m, c, diagnose.Options{})
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				if _, err := Make(m, c, r); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// What settles why a part failed is what can still be done: once the unit is out
// nobody reads its level or drives it, and once the battery is off no codes.
func TestSettledByWhatIsPossible(t *testing.T) {
	m := unitModel(t, "northfork-4")
	stages := func(done ...string) map[engine.Stage]bool {
		c := &engine.CaseFile{Unit: "northfork-4", Seen: []engine.Seen{{Component: "overdrive_band", Mode: "band_burnt"}}, Done: done}
		out := map[engine.Stage]bool{}
		for _, o := range OpenCauses(m, c, mustRead(t, m, c), Found(m, c)) {
			for _, k := range o.SettledBy {
				out[k.Stage] = true
			}
		}
		return out
	}
	before, after := stages(), stages("pull_unit")
	for _, s := range []engine.Stage{engine.StageGauges, engine.StageInVehicle} {
		if !before[s] || after[s] {
			t.Errorf("%s: before %v, with the unit out %v", s, before[s], after[s])
		}
	}
	if !after[engine.StageInterview] || !after[engine.StageTeardown] {
		t.Error("nothing is left with the unit out")
	}
}
