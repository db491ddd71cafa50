package teardown

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/teardown/order"
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
		all := worlds(m, r)
		expected := 0.0
		seen := map[int]bool{}
		for _, s := range p.Steps {
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
				expected += want * s.Cumulative
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
		jobs := keep(m, Jobs(m.Unit, func(n string) float64 { return weight[n] }), left, p.Pull)
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
		if cost, err := order.Cost(jobs, sequence); err != nil || !near9(cost, best) {
			t.Fatalf("the steps as listed: %v %v", cost, err)
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
		got, err := w.minutes()
		if err != nil {
			t.Fatal(err)
		}
		all := worlds(m, r)
		for n := range got {
			var minutes, some float64
			for _, x := range all {
				if spent, ok := walk(w, x, n); ok {
					minutes += x.p * spent
					some += x.p
				}
			}
			if some > 1e-6 && math.Abs(got[n]-minutes/some) > 1e-6*math.Max(1, got[n]) {
				t.Fatalf("%d looks first: %v minutes, walked %v", n, got[n], minutes/some)
			}
		}
	})
}

// walk is a builder's job in one world with n looks first; false when no step
// shows a culprit.
func walk(w *way, x world, n int) (minutes float64, ok bool) {
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
	for _, s := range w.looks[:n] {
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
		for _, l := range w.looks[:n] {
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
	for _, s := range w.looks[n:] {
		if !w.onUnit[s.Name] {
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
				for _, s := range first.Steps[n:] {
					want += s.Weight * (s.Cumulative - first.Steps[n-1].Cumulative)
				}
				for _, s := range p.Steps {
					rest += s.Weight * s.Cumulative
				}
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
	r, _, err := m.Diagnose(c, diagnose.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Make(m, c, r); err == nil || err.Error() != `the unit small has no step "pan_of"; did you mean pan_off?` {
		t.Fatal(err)
	}
	c.Done = nil
	p, err := Make(m, c, r)
	if err != nil || !p.Pull.Pulled || p.Pull.Pull != nil || p.Pull.Sentence == "" {
		t.Fatalf("%v %+v", err, p.Pull)
	}
}
