package model_test

import (
	"math"
	"os"
	"strings"
	"testing"

	"slipcase/engine/model"
	"slipcase/engine/network"
	"slipcase/rules"
)

// A code is a consequence of what it watches: once that is settled, the code
// tells nothing more of the faults behind it, and the fault nothing of the code.
// Codes that watch the same have it in common, and none hangs on more than a
// few nodes.
func TestCodesAreConsequences(t *testing.T) {
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: "northfork-4"})
	if rules.HasErrors(diags) {
		t.Fatal(diags)
	}
	m, err := model.Build(k, k.Unit("northfork-4"))
	if err != nil {
		t.Fatal(err)
	}
	at := func(name string) int {
		i, ok := m.Lookup(name)
		if !ok {
			t.Fatalf("no node %s", name)
		}
		return i
	}
	ratio, code := m.Net.Nodes[at("ratio_off@D/3")], m.Net.Nodes[at("code_P0733")]
	if len(ratio.Links) != 1 || len(code.Links) != 1 || ratio.Links[0].Parent != code.Links[0].Parent {
		t.Fatalf("ratio_off@D/3 and P0733 do not hang on one node: %v, %v", ratio.Links, code.Links)
	}
	itself := code.Links[0].Parent
	for _, fault := range []string{"direct.slips", "direct.dead", "line.low"} {
		post, err := m.Solver().SolveSubset([]network.Likelihood{{Node: at(fault), On: 1}, {Node: itself, On: 1}}, []int{at("code_P0733")})
		if err != nil {
			t.Fatal(err)
		}
		want := 1 - (1-0.75)*(1-code.Leak)
		if got := post.P[at("code_P0733")]; math.Abs(got-want) > 1e-12 {
			t.Errorf("%s: with a wrong ratio P0733 has %v, want %v", fault, got, want)
		}
	}
	// The finding is as likely as its signs make it: the node between changes
	// no probability of one finding.
	off := 1 - ratio.Leak
	for _, l := range m.Net.Nodes[itself].Links {
		if m.Nodes[l.Parent].Name == "direct.slips" {
			off *= 1 - l.Strength
		}
	}
	ev := []network.Likelihood{{Node: at("direct.slips"), On: 1}}
	for _, l := range m.Net.Nodes[itself].Links {
		if m.Nodes[l.Parent].Name != "direct.slips" {
			ev = append(ev, network.Likelihood{Node: l.Parent, Off: 1})
		}
	}
	post, err := m.Solver().SolveSubset(ev, []int{at("ratio_off@D/3")})
	if err != nil {
		t.Fatal(err)
	}
	if got := post.P[at("ratio_off@D/3")]; math.Abs(got-(1-off)) > 1e-12 {
		t.Errorf("direct.slips alone: ratio_off@D/3 has %v, want %v", got, 1-off)
	}
	const few = 8
	for i, n := range m.Net.Nodes {
		if m.Nodes[i].Code != nil && len(n.Links) > few && !strings.Contains(n.Name, "§") {
			t.Errorf("%s hangs on %d nodes", n.Name, len(n.Links))
		}
	}
}
