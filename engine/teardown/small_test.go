package teardown

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/internal/worlds"
	"slipcase/engine/model"
	"slipcase/rules"
)

// The frame of a small unit: one gearset, no faults of its elements.
const smallUnit = `language = 1
basis "invented" {
  note = "for tests"
}
unit "small" {
  title    = "small"
  drive    = rear
  controls = hydraulic
  train {
    input  = "turbine"
    output = "carrier"
    gearset "front" {
      kind    = single
      sun     = "sun"
      carrier = "carrier"
      ring    = "ring"
      teeth   = [30, 60]
    }
  }
  clutch "forward" {
    joins = ["turbine", "ring"]
  }
  brake "low" {
    holds = "sun"
  }
  circuit "line" {
    main  = true
    feeds = ["forward", "low"]
  }
  row "D" "1" {
    apply = ["forward", "low"]
  }
`

// loadSmall loads a unit and rules written as HCL; the texts are put together
// from the frame above and what is given.
func loadSmall(t interface{ Fatalf(string, ...any) }, unit, rest string) *model.Model {
	fs := fstest.MapFS{
		"units/small.hcl": {Data: []byte(smallUnit + unit + "}\n")},
		"rules/rest.hcl":  {Data: []byte("language = 1\nbasis \"invented\" {\n  note = \"for tests\"\n}\n" + rest)},
	}
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "small", FS: fs}}, Unit: "small"})
	for _, d := range diags {
		if d.Severity == engine.Error {
			t.Fatalf("%v\n%s\n%s", d, unit, rest)
		}
	}
	m, err := model.Build(k, k.Unit("small"))
	if err != nil {
		t.Fatalf("%v", err)
	}
	return m
}

func parts(list []string) string {
	for i := range list {
		list[i] = fmt.Sprintf("%q", list[i])
	}
	return "[" + strings.Join(list, ", ") + "]"
}

// small draws a unit of up to six parts and nine steps, rules with a root
// cause, a stress, faults that lead to faults, and three findings.
func small(t *rapid.T) *model.Model {
	var unit, rest strings.Builder
	strength := func() float64 { return float64(rapid.IntRange(1, 19).Draw(t, "strength")) / 20 }
	rest.WriteString("stress \"heat\" {\n  title = \"heat\"\n}\ncause \"abuse\" {\n  title = \"abuse\"\n  frequency = 0.1\n  stresses \"heat\" {\n    strength = 0.5\n  }\n}\n")
	n := rapid.IntRange(2, 6).Draw(t, "parts")
	var names []string
	for i := range n {
		name := fmt.Sprintf("p%d", i)
		names = append(names, name)
		fmt.Fprintf(&unit, "  component %q {\n    title = \"part %d\"\n    kind = kind_%d\n    serves = unit\n  }\n", name, i, i)
		fmt.Fprintf(&rest, "kind \"kind_%d\" {\n  title = \"kind %d\"\n  serves = [unit]\n  outside = %v\n}\n", i, i, rapid.IntRange(0, 3).Draw(t, "outside") == 0)
		for j := range rapid.IntRange(1, 2).Draw(t, "modes") {
			fmt.Fprintf(&rest, "mode \"m%d_%d\" {\n  title = \"m\"\n  of = [kind_%d]\n  frequency = %v\n  look = \"bent\"\n", i, j, i, strength()/4)
			shows := false
			for f := range 3 {
				if rapid.Bool().Draw(t, "shows") {
					shows = true
					fmt.Fprintf(&rest, "  shows \"f%d\" {\n    strength = %v\n  }\n", f, strength())
				}
			}
			if !shows {
				fmt.Fprintf(&rest, "  shows \"f3\" {\n    strength = %v\n  }\n", strength())
			}
			if rapid.Bool().Draw(t, "heat") {
				fmt.Fprintf(&rest, "  because \"heat\" {\n    strength = %v\n  }\n", strength())
			}
			if i > 0 && rapid.Bool().Draw(t, "chain") {
				fmt.Fprintf(&rest, "  because \"m%d_0\" {\n    strength = %v\n    scope = any\n  }\n", i-1, strength())
			}
			rest.WriteString("}\n")
		}
	}
	for f := range 4 {
		fmt.Fprintf(&rest, "finding \"f%d\" {\n  title = \"sign %d\"\n  stage = road\n  reporter = \"driver\"\n  leak = 0.05\n}\n", f, f)
	}
	rest.WriteString("reporter \"driver\" {\n  title = \"driver\"\n  hit = 0.9\n  false_alarm = 0.1\n}\n")
	rest.WriteString("caution \"c\" {\n  text = \"careful\"\n}\n")
	// Every part is shown by one step, or by none.
	shown := make([][]string, 6)
	for _, name := range names {
		if at := rapid.IntRange(-1, 5).Draw(t, "shown"); at >= 0 {
			shown[at] = append(shown[at], name)
		}
	}
	var before []string // steps in the vehicle
	step := func(name, stage string, after []string, pulls bool, exposes []string) {
		fmt.Fprintf(&unit, "  step %q {\n    title = %q\n    stage = %s\n    minutes = %d\n    refit = %d\n    repair = %d\n", name, name, stage,
			rapid.IntRange(1, 30).Draw(t, "minutes"), rapid.IntRange(0, 20).Draw(t, "refit"), rapid.IntRange(0, 20).Draw(t, "repair"))
		if len(after) > 0 {
			fmt.Fprintf(&unit, "    after = %s\n", parts(append([]string(nil), after...)))
		}
		if pulls {
			unit.WriteString("    pulls = true\n    cautions = [\"c\"]\n")
		}
		if len(exposes) > 0 {
			fmt.Fprintf(&unit, "    exposes = %s\n", parts(exposes))
		}
		unit.WriteString("  }\n")
	}
	pick := func(from []string) []string {
		if len(from) > 0 && rapid.IntRange(0, 2).Draw(t, "needs") == 0 {
			return []string{from[rapid.IntRange(0, len(from)-1).Draw(t, "needed")]}
		}
		return nil
	}
	for i := range 3 {
		name := fmt.Sprintf("v%d", i)
		step(name, "in_vehicle", pick(before), false, shown[i])
		before = append(before, name)
	}
	step("pull", "pulled", nil, true, nil)
	bench := []string{"pull"}
	for i := 3; i < 6; i++ {
		name := fmt.Sprintf("b%d", i)
		after := pick(bench)
		if after == nil {
			after = []string{"pull"}
		}
		if i == 5 {
			after = append(after, pick(before)...)
		}
		step(name, "teardown", after, false, shown[i])
		bench = append(bench, name)
	}
	return loadSmall(t, unit.String(), rest.String())
}

// smallCase draws reports on the findings of a small unit, and parts found or
// cleared.
func smallCase(t *rapid.T, m *model.Model) *engine.CaseFile {
	c := &engine.CaseFile{ID: "case", Unit: "small"}
	for f := range 3 {
		switch rapid.IntRange(0, 2).Draw(t, "report") {
		case 1:
			c.Reports = append(c.Reports, engine.Report{Finding: fmt.Sprintf("f%d", f), State: engine.Present, By: "driver"})
		case 2:
			c.Reports = append(c.Reports, engine.Report{Finding: fmt.Sprintf("f%d", f), State: engine.Absent, By: "driver"})
		}
	}
	for _, part := range m.Unit.Components {
		switch rapid.IntRange(0, 7).Draw(t, "seen") {
		case 0:
			c.Seen = append(c.Seen, engine.Seen{Component: part.Name, Cleared: true})
		case 1:
			mode := m.Nodes[m.ModesOf(part.Name)[0]].Mode.Name
			c.Seen = append(c.Seen, engine.Seen{Component: part.Name, Mode: mode})
		}
	}
	return c
}

func diagnosed(t interface{ Fatalf(string, ...any) }, m *model.Model, c *engine.CaseFile) *diagnose.Result {
	r, diags, err := diagnose.Read(m, c)
	if err != nil || r == nil {
		t.Fatalf("%v %v", err, diags)
	}
	return r
}

func planned(t interface{ Fatalf(string, ...any) }, m *model.Model, c *engine.CaseFile) (*Plan, *diagnose.Result) {
	r := diagnosed(t, m, c)
	p, err := Make(m, c, r)
	if err != nil {
		t.Fatalf("%v", err)
	}
	return p, r
}

// world is one joint state of all nodes with its posterior probability.
type world struct {
	on []bool
	p  float64
}

// every enumerates the joint states of a small net under the reports.
func every(m *model.Model, r *diagnose.Result) []world {
	ev := m.Likelihoods(r.Pieces)
	var out []world
	total := 0.0
	worlds.Each(m.Net, nil, func(on []bool, p float64) {
		if p *= worlds.Weight(ev, on); p > 0 {
			out = append(out, world{slices.Clone(on), p})
			total += p
		}
	})
	for i := range out {
		out[i].p /= total
	}
	return out
}

// shows tells whether a step shows a culprit in this world.
func (w world) shows(k *culprits, s *engine.Step) bool {
	for _, n := range k.of(s.Exposes) {
		if w.on[n] {
			return true
		}
	}
	return false
}

var _ = testing.Short

// A check and the limit that is measured in it are one thing to do; another
// limit of the same check is a thing of its own, and so is a check without.
func TestMeasuresMerged(t *testing.T) {
	play, gaps := &engine.Check{Name: "play"}, &engine.Check{Name: "gaps"}
	limit := func(name, check string) *Limit { return &Limit{Limit: &engine.Limit{Name: name, Check: check}} }
	in, out, other := limit("in", "play"), limit("out", "play"), limit("other", "")
	elsewhere := limit("elsewhere", "runout")
	same := Measure{Text: "same", Check: gaps, Limit: limit("gaps", "")}
	for _, tc := range []struct {
		name       string
		list, want []Measure
	}{
		{"nothing", nil, nil},
		{"limit, then check", []Measure{{Text: "in", Limit: in}, {Text: "play", Check: play, When: AtStep, Taken: true}},
			[]Measure{{Text: "in", Limit: in, Check: play, When: AtStep, Taken: true}}},
		{"check, then limit", []Measure{{Text: "play", Check: play}, {Text: "x"}, {Text: "in", Limit: in, Taken: true}},
			[]Measure{{Text: "x"}, {Text: "in", Limit: in, Check: play, Taken: true}}},
		{"two limits", []Measure{{Text: "in", Limit: in}, {Text: "out", Limit: out}, {Text: "play", Check: play}},
			[]Measure{{Text: "in", Limit: in, Check: play}, {Text: "out", Limit: out}}},
		{"nothing in common", []Measure{{Text: "other", Limit: other}, {Text: "elsewhere", Limit: elsewhere}, {Text: "play", Check: play}, same},
			[]Measure{{Text: "other", Limit: other}, {Text: "elsewhere", Limit: elsewhere}, {Text: "play", Check: play}, same}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			if d := cmp.Diff(tc.want, merged(slices.Clone(tc.list)), cmpopts.EquateEmpty(), cmp.Comparer(func(a, b *Limit) bool { return a == b }), cmp.Comparer(func(a, b *engine.Check) bool { return a == b })); d != "" {
				t.Error(d)
			}
		})
	}
}
