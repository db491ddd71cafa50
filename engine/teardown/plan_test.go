package teardown

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/diagnose"
)

func near9(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(b)) }

// Weights, the probability in view and Σ P × minutes are those of the joint
// distribution written out.
func TestPlanAgainstEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := small(t)
		if len(m.Net.Nodes) > 18 {
			t.Skip("too many states to write out")
		}
		c := smallCase(t, m)
		p, r := planned(t, m, c)
		k := newCulprits(m, c, r)
		all := every(m, r)
		expected, minutes := 0.0, 0.0
		pulled := p.Pull.Pulled
		seen := map[int]bool{}
		for _, s := range p.Steps {
			minutes += takes(s, &pulled)
			for _, v := range s.Views {
				want := 0.0
				for _, w := range all {
					for _, n := range k.modes[v.Component.Name] {
						if w.on[n] {
							want += w.p
							break
						}
					}
				}
				if !near9(v.P, want) {
					t.Fatalf("%s: weight %v, by enumeration %v", v.Component.Name, v.P, want)
				}
				expected += want * minutes
			}
			for _, n := range k.of(s.Step.Exposes) {
				seen[n] = true
			}
			want := 0.0
			for _, w := range all {
				for n := range seen {
					if w.on[n] {
						want += w.p
						break
					}
				}
			}
			if !near9(s.InView, want) {
				t.Fatalf("in view after %s: %v, by enumeration %v", s.Step.Name, s.InView, want)
			}
		}
		if !near9(p.Expected, expected) {
			t.Fatalf("expected %v, by enumeration %v", p.Expected, expected)
		}
	})
}

// takes is the minutes of a step with its refit: of the pull, of what is done in the
// vehicle before it, and of looks at the vehicle when the unit is back.
func takes(s Step, pulled *bool) float64 {
	if !*pulled || s.Late {
		*pulled = *pulled || s.Step.Pulls
		return s.Step.Minutes.Value + s.Step.Refit.Value
	}
	return s.Step.Minutes.Value
}

// No order that keeps to the decision expects less: all of them are tried.
func TestPlanIsBestOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := small(t)
		c := smallCase(t, m)
		p, r := planned(t, m, c)
		k := newCulprits(m, c, r)
		weight, err := k.weights()
		if err != nil {
			t.Fatal(err)
		}
		left := make([]*engine.Step, len(m.Unit.Steps))
		for i := range left {
			left[i] = &m.Unit.Steps[i]
		}
		jobs := keep(m, jobsOf(left, func(n string) float64 { return weight[n] }), left, p.Pull.Pull, p.Pull.Looks)
		best := math.Inf(1)
		done := make([]bool, len(jobs))
		var visit func(n int, t, cost float64)
		visit = func(n int, t, cost float64) {
			if n == len(jobs) {
				best = math.Min(best, cost)
				return
			}
		next:
			for i, j := range jobs {
				if done[i] {
					continue
				}
				for _, a := range j.After {
					if !done[a] {
						continue next
					}
				}
				done[i] = true
				visit(n+1, t+j.Minutes, cost+j.Weight*(t+j.Minutes))
				done[i] = false
			}
		}
		visit(0, 0, 0)
		if !p.Exact || !near9(p.Expected, best) {
			t.Fatalf("expected %v (exact %v), the best of all orders %v", p.Expected, p.Exact, best)
		}
		sequence := make([]int, 0, len(jobs))
		for _, s := range p.Steps {
			for i := range jobs {
				if jobs[i].Name == s.Step.Name {
					sequence = append(sequence, i)
				}
			}
		}
		cost, minutes := 0.0, 0.0
		for _, i := range sequence {
			minutes += jobs[i].Minutes
			cost += jobs[i].Weight * minutes
		}
		if len(sequence) != len(jobs) || !near9(cost, best) {
			t.Fatalf("the steps as listed: %d of %d, %v", len(sequence), len(jobs), cost)
		}
	})
}

// The minutes of the decision are those of a builder walked through every
// world: look, repair, pull, search, refit.
func TestDecisionAgainstEnumeration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := small(t)
		if len(m.Net.Nodes) > 18 {
			t.Skip("too many states to write out")
		}
		c := smallCase(t, m)
		r := diagnosed(t, m, c)
		k := newCulprits(m, c, r)
		weight, err := k.weights()
		if err != nil {
			t.Fatal(err)
		}
		var left []*engine.Step
		for i := range m.Unit.Steps {
			left = append(left, &m.Unit.Steps[i])
		}
		w, err := newWay(m, k, &m.Unit.Steps[3], weight, left)
		if err != nil {
			t.Fatal(err)
		}
		var ways [][]*engine.Step
		var vehicle []*engine.Step
		for n := 0; n <= len(w.looks); n++ {
			ways = append(ways, w.looks[:n])
			if n > 0 && !w.onUnit[w.looks[n-1].Name] {
				vehicle = append(vehicle, w.looks[n-1])
				ways = append(ways, append([]*engine.Step(nil), vehicle...))
			}
		}
		got, err := w.minutes(ways...)
		if err != nil {
			t.Fatal(err)
		}
		all := every(m, r)
		for n := range got {
			var minutes, some float64
			for _, x := range all {
				if spent, ok := walk(w, x, ways[n]); ok {
					minutes += x.p * spent
					some += x.p
				}
			}
			if some > 1e-6 && math.Abs(got[n]-minutes/some) > 1e-6*math.Max(1, got[n]) {
				t.Fatalf("%s first: %v minutes, walked %v", exposed(ways[n]), got[n], minutes/some)
			}
		}
	})
}

// walk is a builder's job in one world with some looks first; false when no step
// shows a culprit.
func walk(w *way, x world, looks []*engine.Step) (minutes float64, ok bool) {
	vehicle, bench := false, false
	for _, s := range w.looks {
		vehicle = vehicle || x.shows(w.k, s)
	}
	for _, s := range w.bench {
		if s.Stage != engine.StageInVehicle {
			bench = bench || x.shows(w.k, s)
		}
	}
	if !vehicle && !bench {
		return 0, false
	}
	do := func(s *engine.Step) { minutes += s.Minutes.Value + s.Refit.Value }
	found := false
	for _, s := range looks {
		do(s)
		if x.shows(w.k, s) {
			minutes += s.Repair.Value
			found = true
			break
		}
	}
	if found && !bench {
		return minutes, true
	}
	do(w.pull)
	for _, s := range w.bench {
		early := false
		for _, l := range looks {
			early = early || l == s
		}
		if early {
			continue
		}
		do(s)
		if s.Stage != engine.StageInVehicle {
			if x.shows(w.k, s) {
				return minutes + s.Repair.Value, true
			}
		} else if x.shows(w.k, s) && !bench {
			return minutes + s.Repair.Value, true
		}
	}
	for _, s := range w.looks {
		if !w.onUnit[s.Name] && !slices.Contains(looks, s) {
			do(s)
			if x.shows(w.k, s) {
				return minutes + s.Repair.Value, true
			}
		}
	}
	panic("a culprit that a step shows was not found")
}

// What is done does not come back, what needs something comes after it, parts
// that were looked at weigh nothing, and each step left comes once.
func TestPlanFollowsTheBench(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := small(t)
		c := smallCase(t, m)
		first, r := planned(t, m, c)
		n := rapid.IntRange(0, len(first.Steps)).Draw(t, "done")
		for _, s := range first.Steps[:n] {
			c.Done = append(c.Done, s.Step.Name)
		}
		p, err := Make(m, c, r)
		if err != nil {
			t.Fatal(err)
		}
		if len(p.Steps) != len(m.Unit.Steps)-n {
			t.Fatalf("%d steps left of %d with %d done", len(p.Steps), len(m.Unit.Steps), n)
		}
		gone := map[string]bool{}
		for _, d := range c.Done {
			gone[d] = true
		}
		seen := seenComponents(c)
		last := 0.0
		for _, s := range p.Steps {
			if gone[s.Step.Name] {
				t.Fatalf("%s comes again", s.Step.Name)
			}
			gone[s.Step.Name] = true
			for _, a := range s.Step.After {
				if !gone[a] {
					t.Fatalf("%s before %s", s.Step.Name, a)
				}
			}
			for _, v := range s.Views {
				if seen[v.Component.Name] && v.P != 0 {
					t.Fatalf("%s was looked at and weighs %v", v.Component.Name, v.P)
				}
			}
			if s.InView < last-1e-9 {
				t.Fatalf("less in view after %s", s.Step.Name)
			}
			last = s.InView
		}
		for _, v := range p.Open {
			if seen[v.Component.Name] || v.P <= 0 {
				t.Fatalf("%s is no open part", v.Component.Name)
			}
		}
		// Once it is out, nothing is decided any more: the rest of the plan is
		// the plan of the rest.
		for i, s := range first.Steps {
			if s.Step.Pulls && n > i {
				var rest, want float64
				sum := func(steps []Step) (cost float64) {
					minutes, pulled := 0.0, true
					for _, s := range steps {
						minutes += takes(s, &pulled)
						cost += s.Weight * minutes
					}
					return cost
				}
				want, rest = sum(first.Steps[n:]), sum(p.Steps)
				if !near9(rest, want) {
					t.Fatalf("the rest expects %v, the plan of the rest %v", want, rest)
				}
			}
		}
	})
}

func TestBadDoneStep(t *testing.T) {
	m := loadSmall(t, "  component \"p0\" {\n    title = \"part\"\n    kind = k\n    serves = unit\n  }\n  step \"pan_off\" {\n    title = \"pan off\"\n    stage = in_vehicle\n    minutes = 5\n    exposes = [\"p0\"]\n  }\n",
		"kind \"k\" {\n  title = \"kind\"\n}\nmode \"m\" {\n  title = \"m\"\n  of = [k]\n  frequency = 0.1\n}\n")
	c := &engine.CaseFile{Unit: "small", Done: []string{"pan_of"}}
	r, _, err := diagnose.Case(m, c, diagnose.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Make(m, c, r); err == nil || err.Error() != `the unit small has no step "pan_of"; did you mean pan_off?` {
		t.Fatal(err)
	}
	c.Done = nil
	p, err := Make(m, c, r)
	if err != nil || !p.Pull.Pulled || p.Pull.Pull != nil {
		t.Fatalf("%v %+v", err, p.Pull)
	}
}

// The looks of the decision come before the pull and nothing else does; looks
// at the vehicle that wait come after everything at the unit.
func TestPlanKeepsToTheDecision(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := small(t)
		p, _ := planned(t, m, smallCase(t, m))
		want := map[string]bool{}
		for _, s := range p.Pull.Looks {
			want[s.Name] = true
			if p.Pull.Justified && belongsToUnit(m, s) {
				t.Fatalf("%s could be seen on the bench", s.Name)
			}
		}
		pulled, late := false, false
		for _, s := range p.Steps {
			if s.Step.Pulls {
				pulled = true
				continue
			}
			if want[s.Step.Name] == pulled {
				t.Fatalf("%s: a look first %v, after the pull %v", s.Step.Name, want[s.Step.Name], pulled)
			}
			if late && !s.Late {
				t.Fatalf("%s after looks that wait", s.Step.Name)
			}
			late = s.Late
		}
		if !p.Pull.Justified && !p.Pull.Enough && !p.Pull.Unlikely && p.Pull.PullNow <= p.Pull.InVehicle {
			t.Fatalf("%+v", p.Pull)
		}
	})
}

// Worked by hand. A servo fails with 0.6 and is seen in the vehicle (20 min,
// refit 10, repair 5); a clutch fails with 0.3 and is seen on the bench (30,
// 40, 10); pulling is 150 and 150. Nothing is reported, so both count.
//
//	F(A) = 1 − 0.4·0.7 = 0.72, F(B) = 0.3, rest(V) = 0.12, rest(V ∪ B) = 0
//	servo first: 30·0.72 + 5·0.6 + 300·0.3 + 70·0.3 + 10·0.3 = 138.6
//	pull now:    300·0.72 + 30·0.72 + 5·0.42 + 70·0.3 + 10·0.3 = 263.7
//
// and both divided by 0.72: 192.5 and 366.25 minutes.
func TestDecisionByHand(t *testing.T) {
	rest := ""
	unit := ""
	for _, x := range []struct{ name, rate string }{{"servo", "0.6"}, {"clutch", "0.3"}} {
		unit += "  component \"" + x.name + "\" {\n    title = \"" + x.name + "\"\n    kind = " + x.name + "\n    serves = unit\n  }\n"
		rest += "kind \"" + x.name + "\" {\n  title = \"" + x.name + "\"\n}\nmode \"" + x.name + "_bad\" {\n  title = \"bad\"\n  of = [" + x.name + "]\n  frequency = " + x.rate + "\n}\n"
	}
	unit += `  step "servo_off" {
    title   = "servo off"
    stage   = in_vehicle
    minutes = 20
    refit   = 10
    repair  = 5
    exposes = ["servo"]
  }
  step "pull" {
    title   = "take it out"
    stage   = pulled
    pulls   = true
    minutes = 150
    refit   = 150
  }
  step "pack_open" {
    title   = "pack open"
    stage   = teardown
    after   = ["pull"]
    minutes = 30
    refit   = 40
    repair  = 10
    exposes = ["clutch"]
  }
`
	m := loadSmall(t, unit, rest)
	p, _ := planned(t, m, &engine.CaseFile{Unit: "small"})
	d := p.Pull
	if d.Justified || !near9(d.InVehicle, 192.5) || !near9(d.PullNow, 366.25) || !near9(d.OnlyBench, 0.3) || !near9(d.InReach, 0.42) || !near9(d.Some, 0.72) || d.Unlikely {
		t.Fatalf("%+v", d)
	}
	// With the refit of servo and unit 0.6·30 + 0.3·(30 + 300 + 30) = 126; in the unit's
	// own order the same.
	if !near9(p.Expected, 126) || !near9(p.Bench.Expected, 126) || p.Bench.SavedPercent != 0 {
		t.Errorf("%+v", p)
	}
	// The servo was bad: taking it off again (30 minutes, as often as another part
	// failed) against a pull for nothing (300, as often as none did). Repair and
	// refit are 15.
	bad := &engine.CaseFile{Unit: "small", Done: []string{"servo_off"}, Seen: []engine.Seen{{Component: "servo", Mode: "servo_bad"}}}
	for _, x := range []struct {
		another float64
		enough  bool
	}{{0, true}, {0.3, true}, {0.9, true}, {0.91, false}, {1, false}} {
		d := Decision{Another: x.another, Pull: m.Step("pull"), Justified: true}
		if d.enough(m, bad); d.Enough != x.enough || d.Justified == x.enough || len(d.Found) != 1 || x.enough && d.Repair != 15 {
			t.Errorf("another with %v: %+v", x.another, d)
		}
	}
	p, _ = planned(t, m, bad)
	if d = p.Pull; !d.Enough || d.Justified || d.Another != 0 {
		t.Errorf("%+v", d)
	}
	// The servo is good: then only the bench can show it.
	p, _ = planned(t, m, &engine.CaseFile{Unit: "small", Done: []string{"servo_off"}, Seen: []engine.Seen{{Component: "servo", Cleared: true}}})
	if d = p.Pull; !d.Justified || !near9(d.PullNow, 300+70+10) {
		t.Errorf("%+v", d)
	}
	// The clutch fails with 0.2 only: nothing is taken out for it, until it is found.
	m = loadSmall(t, unit, strings.Replace(rest, "0.3", "0.2", 1))
	good := &engine.CaseFile{Unit: "small", Done: []string{"servo_off"}, Seen: []engine.Seen{{Component: "servo", Cleared: true}}}
	p, _ = planned(t, m, good)
	if d = p.Pull; d.Justified || !d.Unlikely || !near9(d.Some, 0.2) {
		t.Errorf("%+v", d)
	}
}
