package teardown

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"slipcase/engine"
	"slipcase/engine/internal/worlds"
	"slipcase/engine/model"
	"slipcase/internal/size"
)

// intake is what every simulated vehicle is asked and tested for, and by whom:
// the same for all, so that the reports are those that the model expects.
var intake = []struct {
	by       string
	findings []string
}{
	{"road_test", []string{
		"slips@D/1", "slips@D/3", "slips@D/4", "slips@R/R", "no_drive@D/1", "no_drive@R/R",
		"flare@D/1-2", "flare@D/2-3", "harsh_shift@D/1-2", "no_shift@D/2-3",
		"late_engagement@D", "late_engagement@R", "shudder@D/4",
	}},
	{"driver", []string{"limp_mode"}},
	{"eye", []string{"lining_in_pan", "fluid_low"}},
	{"gauge", []string{"line_pressure_low@idle/D"}},
}

// sample draws what failed from the model itself and has it reported; false
// where no culprit that a step shows is behind what is reported.
func sample(m *model.Model, rng *rand.Rand, id int) (Trial, bool, error) {
	on := worlds.Draw(m.Net, rng)
	t := Trial{Case: &engine.CaseFile{ID: fmt.Sprintf("case %d", id), Unit: m.Unit.ID}, Failed: map[string]string{}}
	for _, n := range m.Modes() {
		if node := m.Nodes[n]; on[n] && t.Failed[node.Component.Name] == "" {
			t.Failed[node.Component.Name] = node.Mode.Name
		}
	}
	var complaints []int
	for _, group := range intake {
		for _, name := range group.findings {
			node, ok := m.Lookup(name)
			if !ok {
				return t, false, fmt.Errorf("no finding %s", name)
			}
			hit, fa, err := m.Reliability(group.by, name)
			if err != nil {
				return t, false, err
			}
			p := fa
			if on[node] {
				p = hit
			}
			state := engine.Absent
			if rng.Float64() < p {
				state = engine.Present
				if on[node] && group.by != "eye" {
					complaints = append(complaints, node)
				}
			}
			t.Case.Reports = append(t.Case.Reports, engine.Report{Finding: name, State: state, By: group.by})
		}
	}
	t.Culprits = Behind(m, t.Failed, complaints)
	return t, len(t.Culprits) > 0, nil
}

// The plan against the plain bench order and against likeliest first, on
// simulated cases of the demo unit: six, or 500 with SLIPCASE_LONG=1.
func TestSavings(t *testing.T) {
	n, follow := size.Of(6, 12, 500), size.Of(1, 2, 100)
	m := unitModel(t, "northfork-4")
	rng := rand.New(rand.NewPCG(20, 26))
	var s, f Savings
	drawn := 0
	for s.Cases < n {
		drawn++
		trial, ok, err := sample(m, rng, drawn)
		if err != nil {
			t.Fatal(err)
		}
		if !ok {
			continue
		}
		if err := s.Add(m, trial, false); err != nil {
			t.Fatal(err)
		}
		if f.Cases < follow {
			if err := f.Add(m, trial, true); err != nil {
				t.Fatal(err)
			}
		}
	}
	t.Logf("%d cases of %d drawn, %d culprits", s.Cases, drawn, s.Culprits)
	show := func(name string, plan, other Spent, s *Savings) {
		culprits, cases := float64(s.Culprits), float64(s.Cases)
		t.Logf("%-24s to a culprit %.0f against %.0f min, saves %.1f%%: before pulling %.1f, from the pull on %.1f min; to the first of a case %.0f against %.0f, %.1f%%; job with refit %.0f against %.0f, %.1f%%",
			name, plan.View.Total()/culprits, other.View.Total()/culprits, Percent(plan.View.Total(), other.View.Total()),
			(other.View.Before-plan.View.Before)/culprits, (other.View.After-plan.View.After)/culprits,
			plan.First/cases, other.First/cases, Percent(plan.First, other.First), plan.Job/cases, other.Job/cases, Percent(plan.Job, other.Job))
	}
	show("plan, bench order", s.Plan, s.Bench, &s)
	show("plan, likeliest first", s.Plan, s.Likely, &s)
	t.Logf("followed, %d cases, %d culprits:", f.Cases, f.Culprits)
	show("followed, bench order", f.Followed, f.Bench, &f)
	show("followed, likeliest first", f.Followed, f.Likely, &f)
	if saved := Percent(s.Plan.View.Total(), s.Bench.View.Total()); saved < 30 {
		t.Errorf("the plan saves %.1f%% on the bench order, want 30%%", saved)
	}
}
