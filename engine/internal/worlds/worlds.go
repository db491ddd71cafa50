// Package worlds is for tests: the slow oracle that goes through every state of a
// small network.
package worlds

import (
	"math/rand/v2"

	"slipcase/engine/network"
)

// Each hands every state of the nodes to see, with its probability before any
// report. A state is left out where keep is not nil and refuses a node in it, or
// where its probability is zero. on is valid during the call only.
func Each(net *network.Net, keep func(node int, on bool) bool, see func(on []bool, p float64)) {
	n := len(net.Nodes)
	on := make([]bool, n)
	var walk func(i int, p float64)
	walk = func(i int, p float64) {
		if p == 0 {
			return
		}
		if i == n {
			see(on, p)
			return
		}
		off := 1 - net.Nodes[i].Leak
		for _, l := range net.Nodes[i].Links {
			if on[l.Parent] {
				off *= 1 - l.Strength
			}
		}
		for _, yes := range []bool{false, true} {
			if keep != nil && !keep(i, yes) {
				continue
			}
			on[i] = yes
			if yes {
				walk(i+1, p*(1-off))
			} else {
				walk(i+1, p*off)
			}
		}
		on[i] = false
	}
	walk(0, 1)
}

// Weight is what reports weigh in a state.
func Weight(ev []network.Likelihood, on []bool) float64 {
	w := 1.0
	for _, e := range ev {
		if on[e.Node] {
			w *= e.On
		} else {
			w *= e.Off
		}
	}
	return w
}

// Draw draws a state of all nodes, causes first.
func Draw(net *network.Net, rng *rand.Rand) []bool {
	on := make([]bool, len(net.Nodes))
	for i, n := range net.Nodes {
		off := 1 - n.Leak
		for _, l := range n.Links {
			if on[l.Parent] {
				off *= 1 - l.Strength
			}
		}
		on[i] = rng.Float64() >= off
	}
	return on
}
