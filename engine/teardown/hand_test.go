package teardown

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/google/go-cmp/cmp"

	"slipcase/engine"
	"slipcase/engine/diagnose"
)

// A unit written by hand, numbers invented: a servo and a bracket seen in the
// vehicle, a clutch, a drum and a piston on the bench.
const (
	handUnit = `
  component "servo" {
    title  = "servo"
    kind   = servo
    serves = unit
  }
  component "bracket" {
    title  = "bracket"
    kind   = bracket
    serves = unit
  }
  component "clutch" {
    title  = "clutch"
    kind   = clutch
    serves = unit
  }
  component "drum" {
    title  = "drum"
    kind   = drum
    serves = unit
  }
  step "pull" {
    title   = "take it out"
    stage   = pulled
    pulls   = true
    minutes = 150
    refit   = 150
  }
  step "bracket_look" {
    title   = "look at the bracket"
    stage   = in_vehicle
    minutes = 60
    refit   = 1
    repair  = 2
    exposes = ["bracket"]
  }
  step "servo_off" {
    title   = "servo off"
    stage   = in_vehicle
    minutes = 20
    refit   = 10
    repair  = 5
    exposes = ["servo"]
  }
  step "pack_open" {
    title   = "pack open"
    stage   = teardown
    after   = ["pull"]
    minutes = 30
    refit   = 40
    repair  = 10
    exposes = ["clutch", "drum"]
  }
`
	handRules = `
kind "servo" {
  title = "servo"
}
kind "bracket" {
  title   = "bracket"
  serves  = [unit]
  outside = true
}
kind "clutch" {
  title = "clutch"
}
kind "drum" {
  title = "drum"
}
mode "servo_bad" {
  title     = "servo bad"
  of        = [servo]
  frequency = 0.3
  shows "noise" {
    strength = 0.7
  }
}
mode "servo_worn" {
  title     = "servo worn"
  of        = [servo]
  frequency = 0.2
  shows "noise" {
    strength = 0.5
  }
}
mode "bracket_loose" {
  title     = "bracket loose"
  of        = [bracket]
  frequency = 0.02
  shows "noise" {
    strength = 0.4
  }
}
mode "clutch_bad" {
  title     = "clutch bad"
  of        = [clutch]
  frequency = 0.2
  shows "noise" {
    strength = 0.6
  }
  because "worn_out" {
    strength = 0.5
  }
}
mode "clutch_worn" {
  title     = "clutch worn"
  of        = [clutch]
  frequency = 0.1
  shows "noise" {
    strength = 0.5
  }
}
mode "drum_bad" {
  title     = "drum bad"
  of        = [drum]
  frequency = 0.1
  shows "noise" {
    strength = 0.3
  }
  because "clutch_bad" {
    strength = 0.5
    scope    = any
  }
}
stress "worn_out" {
  title = "worn out"
}
cause "age" {
  title     = "age"
  frequency = 0.2
  stresses "worn_out" {
    strength = 0.5
  }
}
finding "noise" {
  title    = "noise"
  stage    = road
  reporter = "driver"
  leak     = 0.05
}
finding "groove" {
  title    = "groove in the drum"
  stage    = teardown
  reporter = "driver"
  leak     = 0.05
}
reporter "driver" {
  title       = "driver"
  hit         = 0.9
  false_alarm = 0.1
}
check "play" {
  title    = "play of the drum"
  stage    = teardown
  minutes  = 5
  reporter = "driver"
  yields   = ["noise", "groove"]
  needs    = ["servo_off"]
  before   = ["pack_open"]
}
`
)

func noisy() *engine.CaseFile {
	return &engine.CaseFile{Unit: "small", Reports: []engine.Report{{Finding: "noise", State: engine.Present}}}
}

// ending is a context that ends after it was looked at a number of times.
type ending struct {
	context.Context
	left atomic.Int64
}

func (e *ending) Err() error {
	if e.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

// A question that is given up anywhere on the way is an error, never a plan
// made of numbers that were not worked out.
func TestGivenUpPlanIsAnError(t *testing.T) {
	for _, found := range []bool{false, true} {
		c := noisy()
		if found {
			c.Seen = []engine.Seen{{Component: "servo", Mode: "servo_bad"}}
		}
		for n := int64(0); ; n++ {
			m := loadSmall(t, handUnit, handRules) // anew: a tree that was kept asks less
			r := diagnosed(t, m, c)
			e := &ending{Context: context.Background()}
			e.left.Store(n)
			p, err := Make(m.WithContext(e), c, r)
			if e.left.Load() >= 0 {
				if err != nil || p == nil || n < 5 {
					t.Fatalf("whole after %d looks: %v", n, err)
				}
				break
			}
			if !errors.Is(err, context.Canceled) || p != nil {
				t.Fatalf("given up at look %d: %v, plan %v", n, err, p != nil)
			}
		}
	}
}

// A pull that is the first step of the list is a pull; looks at the vehicle
// wait for it in a comparison too.
func TestLookAtTheVehicleWaitsForAPullThatIsListedFirst(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	left := []*engine.Step{m.Step("pull"), m.Step("bracket_look")}
	jobs := keep(m, jobsOf(left, func(string) float64 { return 1 }), left, left[0], nil)
	if !slices.Equal(jobs[1].After, []int{0}) {
		t.Errorf("the look comes after %v, want the pull", jobs[1].After)
	}
	p, _ := planned(t, m, noisy())
	if want := []string{"pull", "servo_off", "pack_open", "bracket_look"}; !slices.Equal(p.Bench.Order, want) {
		t.Errorf("as listed: %v, want %v", p.Bench.Order, want)
	}
	c := noisy()
	c.Done = []string{"pull"}
	if p, _ = planned(t, m, c); !slices.Equal(p.Bench.Order, []string{"servo_off", "pack_open", "bracket_look"}) {
		t.Errorf("with the unit out: %v", p.Bench.Order)
	}
}

// A measure says which steps it waits for: those that are not done by then.
func TestMeasureSaysWhatItNeeds(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	for _, done := range [][]string{nil, {"servo_off"}} {
		c := noisy()
		c.Done = done
		p, _ := planned(t, m, c)
		reached := slices.Clone(done)
		for _, s := range p.Steps {
			reached = append(reached, s.Step.Name)
			for _, y := range s.Measure {
				if y.Check.Name != "play" || slices.Contains(reached, "servo_off") == (len(y.Needs) > 0) {
					t.Errorf("done %v, %s: %s waits for %d steps", done, s.Step.Name, y.Text, len(y.Needs))
				}
			}
		}
	}
	// The pack is opened first where the clutch is nearly certain: the measure
	// before it has to wait for the servo.
	c := noisy()
	c.Done = []string{"pull"}
	c.Seen = []engine.Seen{{Component: "servo", Cleared: true}}
	p, _ := planned(t, m, c)
	if first := p.Steps[0]; first.Step.Name != "pack_open" || len(first.Measure) != 1 || len(first.Measure[0].Needs) != 1 || first.Measure[0].Needs[0].Name != "servo_off" {
		t.Errorf("%+v", first)
	}
}

// A check is done once all that it yields is reported.
func TestCheckIsTakenWithItsLastFinding(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	play := m.Knowledge.Check("play")
	report := func(names ...string) *engine.CaseFile {
		c := &engine.CaseFile{}
		for _, n := range names {
			c.Reports = append(c.Reports, engine.Report{Finding: n, State: engine.Absent})
		}
		return c
	}
	for names, want := range map[string]bool{"": false, "noise": false, "groove": false, "noise groove": true, "groove noise groove": true} {
		if got := taken(m, report(strings.Fields(names)...), play); got != want {
			t.Errorf("with %q reported: taken %v", names, got)
		}
	}
	if taken(m, report("noise"), &engine.Check{Yields: []string{"no_such"}}) {
		t.Error("a check that yields nothing of this unit is taken")
	}
}

// What was found at one step is repaired there once, and all that is off is
// put back on.
func TestRepairCountsAStepOnce(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	seen := []engine.Seen{{Component: "clutch", Mode: "clutch_bad"}, {Component: "drum", Mode: "drum_bad"}, {Component: "servo", Mode: "servo_bad"}}
	for _, x := range []struct {
		done []string
		seen int
		want float64
	}{
		{nil, 1, 10 + 40},
		{nil, 2, 10 + 40},
		{[]string{"pack_open"}, 2, 10 + 40},
		{[]string{"bracket_look"}, 2, 10 + 40 + 1},
		{[]string{"bracket_look", "no_such"}, 3, 10 + 40 + 1 + 5 + 10},
	} {
		d := Decision{Pull: m.Step("pull")}
		d.enough(m, &engine.CaseFile{Unit: "small", Done: x.done, Seen: seen[:x.seen]})
		if !d.Enough || d.Repair != x.want {
			t.Errorf("%d found, %v done: %v minutes, want %v", x.seen, x.done, d.Repair, x.want)
		}
	}
}

// What settles a find is listed once for each thing: the cause named with it by
// its title, what the rules do not know as it was written, and what else was
// found behind it.
func TestCausesOfAFind(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	for _, x := range []struct {
		name string
		c    engine.CaseFile
		want []string
		lead bool
	}{
		{"open", engine.CaseFile{Seen: []engine.Seen{{Component: "drum", Mode: "drum_bad"}}}, nil, true},
		{"named", engine.CaseFile{Seen: []engine.Seen{{Component: "drum", Mode: "drum_bad", Cause: "age"}}}, []string{"age"}, true},
		{"unknown", engine.CaseFile{Seen: []engine.Seen{{Component: "drum", Mode: "drum_bad", Cause: "a wet road"}}}, []string{"a wet road"}, true},
		{"settled", engine.CaseFile{Seen: []engine.Seen{{Component: "drum", Mode: "drum_bad"}}, Settled: []engine.SettledCause{{Cause: "age", Present: true}}}, []string{"age"}, true},
		{"found", engine.CaseFile{Seen: []engine.Seen{{Component: "drum", Mode: "drum_bad"}, {Component: "clutch", Mode: "clutch_bad"}}}, []string{"clutch: clutch bad"}, true},
		{"named and found", engine.CaseFile{Seen: []engine.Seen{{Component: "drum", Mode: "drum_bad", Cause: "age"}, {Component: "clutch", Mode: "clutch_bad"}}}, []string{"age", "clutch: clutch bad"}, true},
		{"ruled out", engine.CaseFile{Seen: []engine.Seen{{Component: "drum", Mode: "drum_bad"}, {Component: "clutch", Cleared: true}}, Settled: []engine.SettledCause{{Cause: "age"}}}, nil, false},
		{"nothing leads to it", engine.CaseFile{Seen: []engine.Seen{{Component: "servo", Mode: "servo_bad"}}}, nil, false},
	} {
		f := Found(m, &x.c)[0]
		if d := cmp.Diff(x.want, f.Causes); d != "" || f.Lead != x.lead {
			t.Errorf("%s: lead %v, causes %s", x.name, f.Lead, d)
		}
	}
	if found := Found(m, &engine.CaseFile{Seen: []engine.Seen{{Component: "drum", Mode: "no_such"}, {Component: "servo", Mode: "servo_bad"}}}); len(found) != 1 {
		t.Errorf("an unknown fault was found: %+v", found)
	}
}

// Open causes are listed each once, the most probable first, by name where two
// are equally so; what was looked at or settled is not among them.
func TestOpenCausesInOrder(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	c := noisy()
	c.Seen = []engine.Seen{{Component: "drum", Mode: "drum_bad"}}
	r := diagnosed(t, m, c)
	names := func(c *engine.CaseFile, r *diagnose.Result) (out []string) {
		for _, o := range OpenCauses(m, c, r, Found(m, c)) {
			out = append(out, o.Name)
		}
		return out
	}
	if d := cmp.Diff([]string{"clutch/clutch_bad", "age"}, names(c, r)); d != "" {
		t.Error(d)
	}
	for i := range r.Posterior {
		r.Posterior[i] = 0.25
	}
	if d := cmp.Diff([]string{"age", "clutch/clutch_bad"}, names(c, r)); d != "" {
		t.Error(d)
	}
	c.Seen = append(c.Seen, engine.Seen{Component: "clutch", Mode: "clutch_bad"})
	if d := cmp.Diff([]string{"age"}, names(c, r)); d != "" {
		t.Error(d)
	}
}

// Where nothing can have failed, no minutes are made of nothing.
func TestNothingLeftToFind(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	c := noisy()
	for _, name := range []string{"servo", "bracket", "clutch", "drum"} {
		c.Seen = append(c.Seen, engine.Seen{Component: name, Cleared: true})
	}
	p, _ := planned(t, m, c)
	if p.Pull.PullNow != 0 || p.Pull.InVehicle != 0 || p.Weight != 0 {
		t.Errorf("pull now %v, in the vehicle %v minutes, weight %v", p.Pull.PullNow, p.Pull.InVehicle, p.Weight)
	}
}

// Steps that need each other in a circle are an error, not a plan.
func TestStepsInACircle(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	m.Step("servo_off").After = []string{"bracket_look"}
	m.Step("bracket_look").After = []string{"servo_off"}
	if p, err := Make(m, noisy(), diagnosed(t, m, noisy())); err == nil || p != nil {
		t.Errorf("a plan, error %v", err)
	}
}

// What the pull needs is done before it and is no look: the minutes of looks
// and pull are compared without it.
func TestPullNeedsStepsInTheVehicle(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	m.Step("pull").After = []string{"servo_off"}
	m.Step("servo_off").After = []string{"bracket_look"}
	p, _ := planned(t, m, noisy())
	var got []string
	for _, s := range p.Steps {
		got = append(got, s.Step.Name)
	}
	if d := cmp.Diff([]string{"bracket_look", "servo_off", "pull", "pack_open"}, got); d != "" || len(p.Pull.Instead) > 0 {
		t.Errorf("%s, looked at instead: %v", d, p.Pull.Instead)
	}
}

// A part found failed is in the hand: the step that shows it was done, and all
// before it; one that was cleared may have been looked at from outside.
func TestFindImpliesItsSteps(t *testing.T) {
	m := loadSmall(t, handUnit, handRules)
	for _, x := range []struct {
		seen engine.Seen
		done []string
		want []string
	}{
		{engine.Seen{Component: "clutch", Mode: "clutch_bad"}, nil, []string{"pull", "pack_open"}},
		{engine.Seen{Component: "clutch", Mode: "clutch_bad"}, []string{"pull"}, []string{"pack_open"}},
		{engine.Seen{Component: "servo", Mode: "servo_bad"}, []string{"pull"}, []string{"servo_off"}},
		{engine.Seen{Component: "clutch", Cleared: true}, nil, nil},
		{engine.Seen{Component: "no_such", Mode: "bad"}, nil, nil},
	} {
		c := &engine.CaseFile{Unit: "small", Done: x.done, Seen: []engine.Seen{x.seen}}
		if d := cmp.Diff(x.want, Implied(m.Unit, c)); d != "" {
			t.Errorf("%+v: %s", x.seen, d)
		}
	}
}

// What is looked at besides: parts on the same oil, parts that consist of what
// was shed into the pan, parts that the failure can hurt; each with its first
// relation, and none that was looked at.
func TestPartsToLookAtAsWell(t *testing.T) {
	var unit, rest strings.Builder
	part := func(name, serves, modes string) {
		fmt.Fprintf(&unit, "  component %q {\n    title = %q\n    kind = %s\n    serves = %s\n  }\n", name, name, name, serves)
		fmt.Fprintf(&rest, "kind %q {\n  title = %q\n}\nmode \"%s_bad\" {\n  title = \"bad\"\n  of = [%s]\n  frequency = 0.1\n%s}\n", name, name, name, name, modes)
	}
	shows := func(finding string, strength float64) string {
		return fmt.Sprintf("  shows %q {\n    strength = %v\n  }\n", finding, strength)
	}
	hurt := "  because \"plates_bad\" {\n    strength = 0.3\n    scope = any\n  }\n"
	part("plates", "element.forward", shows("lining", 0.8)+shows("noise", 0.95))
	part("piston", "element.forward", shows("noise", 0.1))
	part("strainer", "element.low", shows("lining", 0.97))
	part("gears", "element.low", shows("metal", 0.97))
	part("magnet", "element.low", shows("lining", 0.9))
	part("drum", "element.low", shows("noise", 0.1)+hurt)
	part("hub", "element.low", shows("noise", 0.97))
	part("cooler", "element.low", shows("noise", 0.1)+shows("lining", 0.97)+hurt)
	for name, stage := range map[string]string{"lining": "pan", "metal": "pan", "noise": "road"} {
		fmt.Fprintf(&rest, "finding %q {\n  title = %q\n  stage = %s\n  reporter = \"driver\"\n  leak = 0.01\n}\n", name, name, stage)
	}
	rest.WriteString("reporter \"driver\" {\n  title = \"driver\"\n  hit = 0.9\n  false_alarm = 0.1\n}\n")
	unit.WriteString("  step \"open\" {\n    title = \"open\"\n    stage = teardown\n    minutes = 5\n    exposes = [\"drum\"]\n  }\n")
	m := loadSmall(t, unit.String(), rest.String())
	c := noisy()
	c.Seen = []engine.Seen{{Component: "plates", Mode: "plates_bad"}}
	look := func() map[string]string {
		p, _ := planned(t, m, c)
		out := map[string]string{}
		for _, x := range p.After.Look {
			out[x.Component.Name] = string(x.Relation)
			if x.Sign != nil {
				out[x.Component.Name] += " " + x.Sign.Title
			}
			if x.Mode != nil {
				out[x.Component.Name] += " " + x.Mode.Name
			}
			if x.Done {
				out[x.Component.Name] += ", in view"
			}
		}
		return out
	}
	want := map[string]string{"piston": "shares_oil", "strainer": "debris lining", "drum": "caused_by drum_bad", "cooler": "debris lining"}
	if d := cmp.Diff(want, look()); d != "" {
		t.Error(d)
	}
	c.Done = []string{"open"}
	c.Seen = append(c.Seen, engine.Seen{Component: "strainer", Cleared: true})
	delete(want, "strainer")
	want["drum"] += ", in view"
	if d := cmp.Diff(want, look()); d != "" {
		t.Error(d)
	}
}

// A find that can only come from another fault makes that fault certain.
func TestFindThatNeedsAnother(t *testing.T) {
	m := loadSmall(t, handUnit, strings.Replace(handRules, "of        = [drum]\n  frequency = 0.1", "of        = [drum]\n  frequency = 0", 1))
	c := noisy()
	c.Seen = []engine.Seen{{Component: "drum", Mode: "drum_bad"}}
	if p, _ := planned(t, m, c); p.Pull.Another != 1 || p.Pull.Enough {
		t.Errorf("another with %v, enough %v", p.Pull.Another, p.Pull.Enough)
	}
}
