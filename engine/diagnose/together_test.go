package diagnose_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/internal/tiny"
	"slipcase/engine/internal/worlds"
	"slipcase/engine/model"
	"slipcase/engine/network"
)

// What is said of an element together is the share of states in which a mode of a
// part that holds it, or that its own oil runs through, is there, counted over all
// states of small networks. A circuit that feeds two elements tells of neither.
func TestTogetherAgainstEnumeration(t *testing.T) {
	told, silent := 0, 0
	for seed := range uint64(60) {
		k, u := tiny.Unit(rand.New(rand.NewPCG(seed, 7)))
		u.Circuits = []engine.Circuit{{Name: "own", Feeds: []string{"forward"}}, {Name: "shared", Feeds: []string{"forward", "other"}}}
		on := func(kind engine.TargetKind, name string) []engine.Target {
			return []engine.Target{{Kind: kind, Name: name}}
		}
		u.Components[0].Serves, u.Components[1].Serves, u.Components[2].Serves = on(engine.OnElement, "forward"), on(engine.OnCircuit, "own"), on(engine.OnCircuit, "shared")
		m, err := model.Build(k, u)
		if err != nil {
			t.Fatal(err)
		}
		c := &engine.CaseFile{Unit: "tiny", Reports: []engine.Report{{Finding: "f0", State: engine.Present, By: "driver"}, {Finding: "f1", State: engine.Present, By: "driver"}}}
		r, _, err := diagnose.Case(m, c, diagnose.Options{Top: 4})
		if err != nil {
			t.Fatal(err)
		}
		if r.Together == nil {
			silent++
			continue
		}
		told++
		about := m.SpeaksOf(r.Pieces)
		pieces, _ := m.AsAsked().Evidence(c)
		ev := make([]network.Likelihood, len(pieces))
		for i, p := range pieces {
			ev[i] = network.Likelihood{Node: p.Node, On: p.On, Off: p.Off, Tag: i}
		}
		var all, with, best float64
		each := map[string]float64{}
		worlds.Each(m.Net, nil, func(on []bool, p float64) {
			p *= worlds.Weight(ev, on)
			all += p
			any := false
			for _, part := range []string{"part0", "part1"} {
				there := false
				for _, n := range m.ModesOf(part) {
					there = there || on[n] && about[n]
				}
				if there {
					each[part] += p
				}
				any = any || there
			}
			if any {
				with += p
			}
		})
		best = max(each["part0"], each["part1"]) / all
		if got, want := r.Together.P, with/all; math.Abs(got-want) > 1e-9 {
			t.Errorf("seed %d: together %v, of all states %v", seed, got, want)
		}
		if len(r.Together.Components) != 2 || r.Together.Element.Name != "forward" || r.Together.P < best+0.04 {
			t.Errorf("seed %d: %s, %d parts, together %v, the likeliest alone %v", seed, r.Together.Element.Name, len(r.Together.Components), r.Together.P, best)
		}
	}
	if told < 10 || silent < 5 {
		t.Errorf("told of %d units, silent of %d", told, silent)
	}
}
