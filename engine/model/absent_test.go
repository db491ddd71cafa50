package model

import (
	"math"
	"math/rand/v2"
	"testing"

	"slipcase/engine"
	"slipcase/engine/internal/tiny"
	"slipcase/engine/internal/worlds"
	"slipcase/engine/network"
)

// told draws reports of a tiny unit's findings.
func told(r *rand.Rand, m *Model) *engine.CaseFile {
	c := &engine.CaseFile{}
	for _, name := range m.FindingNames() {
		for _, by := range []string{"driver", "gauge"} {
			if state := [3]engine.State{"", engine.Absent, engine.Present}[r.IntN(3)]; state != "" {
				c.Reports = append(c.Reports, engine.Report{Finding: name, State: state, By: by})
			}
		}
	}
	return c
}

// With at most one fault at work, reports of what is not there weigh what they
// do on the findings themselves, whoever they come from; so does any set of
// reports that are all of something present. That is what the definition
// promises, by the sum over all states.
func TestAbsentWithOneFault(t *testing.T) {
	absent := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(11, seed))
		k, u := tiny.Unit(r)
		m, err := Build(k, u)
		if err != nil {
			t.Fatal(err)
		}
		for i := range m.Nodes {
			if m.Nodes[i].Layer == FindingLayer {
				m.Net.Nodes[i].Leak = 0 // a leak is one more cause
			}
		}
		pieces, _ := m.Evidence(told(r, m))
		quick, plain := m.Likelihoods(pieces), Plain(pieces)
		for _, p := range pieces {
			if p.State == engine.Absent {
				absent++
			}
		}
		for _, lone := range append([]int{-1}, m.Modes()...) {
			only := func(i int, on bool) bool { return m.Nodes[i].Layer != ModeLayer || on == (i == lone) }
			var a, b float64
			worlds.Each(m.Net, only, func(on []bool, p float64) { a, b = a+p*worlds.Weight(quick, on), b+p*worlds.Weight(plain, on) })
			if d := math.Abs(math.Log(a / b)); d > 1e-9 || math.IsNaN(d) {
				t.Errorf("seed %d, fault %d alone: %v, on the findings %v", seed, lone, a, b)
			}
		}
	}
	if absent < 50 {
		t.Errorf("only %d reports of something absent", absent)
	}
}

// Of two faults that would show the same, each may be noticed: overlooking both
// is overlooking the one and the other.
func TestAbsentWithTwoFaults(t *testing.T) {
	m := &Model{Net: &network.Net{Nodes: []network.Node{
		{Name: "a", Leak: 0.1}, {Name: "b", Leak: 0.2},
		{Name: "effect", Links: []network.Link{{Parent: 0, Strength: 0.5}}},
		{Name: "f", Leak: 0.01, Links: []network.Link{{Parent: 2, Strength: 0.8}, {Parent: 1, Strength: 0.9}}},
		{Name: "g", Links: []network.Link{{Parent: 2, Strength: 0.7}}},
	}}, Nodes: []Node{{Layer: ModeLayer}, {Layer: ModeLayer}, {Layer: EffectLayer}, {Layer: FindingLayer}, {Layer: FindingLayer}}}
	no := Piece{Node: 3, On: 0.2, Off: 0.96}
	missed := 1 - 0.2/0.96
	get := func(pieces ...Piece) map[int]float64 {
		out := map[int]float64{}
		for _, e := range m.Likelihoods(pieces) {
			if out[e.Node] == 0 {
				out[e.Node] = 1
			}
			out[e.Node] *= e.On / e.Off
		}
		return out
	}
	for _, x := range []struct {
		what   string
		pieces []Piece
		want   map[int]float64
	}{
		{"up to the faults", []Piece{no}, map[int]float64{0: 1 - missed*0.8*0.5, 1: 1 - missed*0.9}},
		{"stays at an effect that something present hangs on", []Piece{no, {Node: 4, On: 0.9, Off: 0.05}},
			map[int]float64{2: 1 - missed*0.8, 1: 1 - missed*0.9, 4: 0.9 / 0.05}},
		{"two observers err apart", []Piece{no, {Node: 3, On: 0.1, Off: 0.99}},
			map[int]float64{0: 1 - (1-0.2/0.96*0.1/0.99)*0.8*0.5, 1: 1 - (1-0.2/0.96*0.1/0.99)*0.9}},
		{"one sees it and outweighs the other", []Piece{no, {Node: 3, On: 0.9, Off: 0.02}}, map[int]float64{3: 0.2 / 0.96 * 0.9 / 0.02}},
	} {
		got := get(x.pieces...)
		for n, w := range x.want {
			if math.Abs(got[n]-w) > 1e-12 {
				t.Errorf("%s: node %s weighs %v, want %v", x.what, m.Net.Nodes[n].Name, got[n], w)
			}
		}
		if len(got) != len(x.want) {
			t.Errorf("%s: evidence on %v", x.what, got)
		}
	}
}
