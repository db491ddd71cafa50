package refine_test

import (
	"cmp"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"slipcase/engine"
	"slipcase/engine/internal/worlds"
	"slipcase/engine/model"
	"slipcase/engine/refine"
	"slipcase/engine/refine/rulepath"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// demoUnit is the unit that learning is tried on: where SLIPCASE_LONG is not set
// the small one, of which few parts are kept.
func demoUnit() string {
	if long() {
		return "northfork-4"
	}
	return "harrow-3"
}

// fewParts are the components that the demo unit keeps where SLIPCASE_LONG is not
// set: of a quarter of them everything can be learned that can of all, for a
// fraction of the work.
var fewParts = []string{
	"fluid", "filter", "pump", "regulator_valve", "front_clutch_plates", "front_clutch_rings", "rear_clutch_plates",
	"rear_clutch_rings", "front_band", "front_servo", "rear_band", "rear_servo", "overrunning_clutch",
}

// knowledgeOf is the embedded knowledge with one unit; of the small one its
// few parts where SLIPCASE_LONG is not set.
func knowledgeOf(t testing.TB, unit string) *engine.Knowledge {
	t.Helper()
	k := wholeKnowledgeOf(t, unit)
	if unit == smallUnit && !long() {
		u := k.Unit(unit)
		u.Components = slices.DeleteFunc(u.Components, func(c engine.Component) bool { return !slices.Contains(fewParts, c.Name) })
		if len(u.Components) != len(fewParts) {
			t.Fatalf("%d of the %d parts are in %s", len(u.Components), len(fewParts), unit)
		}
	}
	return k
}

// wholeKnowledgeOf is the embedded knowledge with one unit, with all its parts,
// read once.
func wholeKnowledgeOf(t testing.TB, unit string) *engine.Knowledge {
	t.Helper()
	if k := loaded[unit]; k != nil {
		return clone(k)
	}
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: knowledge.FS}}, Unit: unit})
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	loaded[unit] = k
	return clone(k)
}

var loaded = map[string]*engine.Knowledge{}

func build(t testing.TB, k *engine.Knowledge) *model.Model {
	t.Helper()
	return buildOf(t, k, demoUnit())
}

func buildOf(t testing.TB, k *engine.Knowledge, unit string) *model.Model {
	t.Helper()
	m, err := model.Build(k, k.Unit(unit))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// doubled is a shop whose truth differs from the rules: the odds of every
// number are doubled or halved, by lot; reporters err as the rules say.
func doubled(t testing.TB, k *engine.Knowledge, rng *rand.Rand) (*engine.Knowledge, map[string]float64) {
	t.Helper()
	truth := map[string]float64{}
	rulepath.Walk(k, func(p rulepath.Path, n *engine.Number) {
		if n.Value <= 0 || n.Value >= 1 || p.Blocks[0].Type == "reporter" {
			return
		}
		odds := n.Value / (1 - n.Value)
		if rng.IntN(2) == 0 {
			odds *= 2
		} else {
			odds /= 2
		}
		truth[p.String()] = odds / (1 + odds)
	})
	out, err := with(k, truth)
	if err != nil {
		t.Fatal(err)
	}
	return out, truth
}

// asked draws some findings to ask for, the commoner the likelier, whatever
// the answer will be: each time an exponential race.
func asked(findings []int, weight []float64, some int, rng *rand.Rand) []int {
	at := make(map[int]float64, len(findings))
	for _, i := range findings {
		at[i] = rng.ExpFloat64() / (weight[i] + 1)
	}
	list := slices.Clone(findings)
	slices.SortFunc(list, func(a, b int) int { return cmp.Compare(at[a], at[b]) })
	return list[:some]
}

// casebook makes n cases of a shop that finds failed modes nine times in ten. Every
// case is a unit that the model draws, faults or not.
func casebook(t testing.TB, m *model.Model, n int, rng *rand.Rand) []refine.Case {
	t.Helper()
	return casesOf(t, m, n, 0.9, false, asks, rng)
}

// customers makes n cases of vehicles that came in, each drawn once: with a
// complaint, of which the driver states one first. Else as casebook.
func customers(t testing.TB, m *model.Model, n int, rng *rand.Rand) []refine.Case {
	t.Helper()
	return casesOf(t, m, n, 0.9, true, asks, rng)
}

// asks is how many findings a shop asks for.
const asks = 12

// casesOf makes n cases of a shop: so many findings asked for, as their reporters give
// them; failed modes found with probability noted, sound components looked at three
// times in ten, root causes settled half the time. Where they come with a complaint
// it is stated first.
func casesOf(t testing.TB, m *model.Model, n int, noted float64, complain bool, asks int, rng *rand.Rand) []refine.Case {
	t.Helper()
	complaints := m.Complaints()
	var findings []int
	for i, x := range m.Nodes {
		if x.Layer == model.FindingLayer && x.Condition == "" {
			findings = append(findings, i)
		}
	}
	weight := make([]float64, len(m.Nodes))
	for range 2000 {
		for i, on := range worlds.Draw(m.Net, rng) {
			if on {
				weight[i]++
			}
		}
	}
	var out []refine.Case
	for len(out) < n {
		on := worlds.Draw(m.Net, rng)
		var there []int
		for _, i := range complaints {
			if on[i] {
				there = append(there, i)
			}
		}
		if complain && len(there) == 0 {
			continue
		}
		c := refine.Case{ID: fmt.Sprintf("26-%05d", len(out)+1), Outcome: engine.CaseFixed}
		f := engine.CaseFile{ID: c.ID, Unit: m.Unit.ID}
		stated := -1
		if complain {
			stated = there[rng.IntN(len(there))]
			f.Reports = append(f.Reports, engine.Report{Finding: m.Nodes[stated].Name, State: engine.Present, By: "driver"})
		}
		for _, i := range asked(findings, weight, asks, rng) {
			if i == stated {
				continue
			}
			by := "road_test"
			if m.Nodes[i].Finding != nil && m.Nodes[i].Finding.Reporter != "" {
				by = m.Nodes[i].Finding.Reporter
			}
			hit, fa, err := m.Reliability(by, m.Nodes[i].Name)
			if err != nil {
				t.Fatal(err)
			}
			says := rng.Float64() < fa
			if on[i] {
				says = rng.Float64() < hit
			}
			state := engine.Absent
			if says {
				state = engine.Present
			}
			f.Reports = append(f.Reports, engine.Report{Finding: m.Nodes[i].Name, State: state, By: by})
		}
		for _, x := range m.Unit.Components {
			any := false
			for _, i := range m.ModesOf(x.Name) {
				if on[i] {
					any = true
					if rng.Float64() < noted {
						f.Seen = append(f.Seen, engine.Seen{Component: x.Name, Mode: m.Nodes[i].Mode.Name})
					}
				}
			}
			if !any && rng.Float64() < 0.3 {
				f.Seen = append(f.Seen, engine.Seen{Component: x.Name, Cleared: true})
			}
		}
		for i, x := range m.Nodes {
			if x.Layer == model.CauseLayer && rng.Float64() < 0.5 {
				f.Settled = append(f.Settled, engine.SettledCause{Cause: x.Name, Present: on[i]})
			}
		}
		if len(f.Seen) == 0 {
			continue
		}
		c.File = f
		out = append(out, c)
	}
	return out
}

// covered counts the numbers moved of which the truth is told and whose true value lies in their interval.
func covered(p *refine.Proposal, truth map[string]float64) (in, all int) {
	for _, c := range p.Changes {
		v, ok := truth[c.Path.String()]
		if !ok {
			continue
		}
		all++
		if c.Low <= v && v <= c.High {
			in++
		}
	}
	return in, all
}

// closer is the mean squared error of the log-odds, before and after, over
// the numbers moved.
func closer(p *refine.Proposal, truth map[string]float64) (before, after float64) {
	lo := func(x float64) float64 { return math.Log(x / (1 - x)) }
	for _, c := range p.Changes {
		v, ok := truth[c.Path.String()]
		if !ok {
			continue
		}
		v = lo(v)
		before += (lo(c.Prior.Value) - v) * (lo(c.Prior.Value) - v)
		after += (lo(c.New) - v) * (lo(c.New) - v)
	}
	n := float64(max(len(p.Changes), 1))
	return before / n, after / n
}
