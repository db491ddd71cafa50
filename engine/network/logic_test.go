package network

import (
	"errors"
	"math/rand/v2"
	"slices"
	"testing"
)

// What the logic calls possible has a state of the whole network with a
// probability above zero, what it settles holds in all of these, and what it
// leaves open is on in some.
func TestLogicAgainstEnumeration(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(4, 41))
	possible, never := 0, 0
	for range 4000 {
		n := &Net{}
		for i := range 3 + rng.IntN(5) {
			node := Node{Leak: []float64{0, 0, 0, 0.3, 1}[rng.IntN(5)]}
			for p := range i {
				if rng.IntN(3) == 0 {
					node.Links = append(node.Links, Link{p, []float64{0, 0.5, 1, 1}[rng.IntN(4)]})
				}
			}
			n.Nodes = append(n.Nodes, node)
		}
		hard := map[int]int8{}
		var order []int
		for i := range n.Nodes {
			if rng.IntN(3) == 0 {
				hard[i] = isOff + int8(rng.IntN(2))
				order = append(order, i)
			}
		}
		state, ok := newLogic(n).assume(hard, order)
		on, off := worldsOf(n, hard)
		some := slices.Contains(on, true) || slices.Contains(off, true)
		if ok != some {
			t.Fatalf("%+v with %v: possible %v, by enumeration %v", n.Nodes, hard, ok, some)
		}
		if !ok {
			never++
			continue
		}
		possible++
		for i, s := range state {
			if s == isOn && off[i] || s == isOff && on[i] || s == unset && !on[i] {
				t.Fatalf("%+v with %v: node %d is %d, on %v and off %v by enumeration", n.Nodes, hard, i, s, on[i], off[i])
			}
		}
	}
	if possible < 500 || never < 500 {
		t.Errorf("%d possible, %d not: too few to tell", possible, never)
	}
}

// worldsOf tells which nodes are on, and which are off, in some state of
// positive probability.
func worldsOf(n *Net, hard map[int]int8) (on, off []bool) {
	on, off = make([]bool, len(n.Nodes)), make([]bool, len(n.Nodes))
next:
	for world := range 1 << len(n.Nodes) {
		for i, node := range n.Nodes {
			isOnHere := world>>i&1 == 1
			if s := hard[i]; s != unset && (s == isOn) != isOnHere {
				continue next
			}
			p := 1 - node.Leak
			for _, k := range node.Links {
				if world>>k.Parent&1 == 1 {
					p *= 1 - k.Strength
				}
			}
			if isOnHere && p == 1 || !isOnHere && p == 0 {
				continue next
			}
		}
		for i := range n.Nodes {
			if world>>i&1 == 1 {
				on[i] = true
			} else {
				off[i] = true
			}
		}
	}
	return on, off
}

// What has one way to come about and is there has come about that way.
func TestOnlyReason(t *testing.T) {
	n := &Net{Nodes: []Node{{Leak: 0.1}, {Leak: 0.1}, {Links: []Link{{0, 0.5}, {1, 0}}}, {Leak: 0.1, Links: []Link{{1, 0.5}}}}}
	state, ok := newLogic(n).assume(map[int]int8{2: isOn, 3: isOn}, []int{2, 3})
	if want := []int8{isOn, unset, isOn, isOn}; !ok || !slices.Equal(state, want) {
		t.Errorf("%v, %v; want %v", state, ok, want)
	}
}

// Tags come in their own order, not in that of the reports.
func TestClashIsSorted(t *testing.T) {
	n := &Net{Nodes: []Node{{Leak: 0.1}, {Links: []Link{{0, 1}}}}}
	_, err := mustSolver(t, n).Solve([]Likelihood{{Node: 0, On: 1, Tag: 7}, {Node: 1, Off: 1, Tag: 3}})
	var never *ImpossibleError
	if !errors.As(err, &never) || !slices.Equal(never.Tags, []int{3, 7}) {
		t.Errorf("%v; want that 3 and 7 clash", err)
	}
}
