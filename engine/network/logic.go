package network

import (
	"fmt"
	"slices"
)

// ImpossibleError says that the reports cannot all hold: together they have
// probability zero. Tags names a set of reports that clash and of which none
// can be left out (irreducible by deletion).
type ImpossibleError struct {
	Tags []int
}

func (e *ImpossibleError) Error() string {
	return fmt.Sprintf("network: reports %v contradict each other: no state of the network allows all of them", e.Tags)
}

// States of a node in the logic.
const (
	unset int8 = iota
	isOff
	isOn
)

// logic answers questions of possibility, without numbers: which states have
// a probability above zero. A node without leak needs a parent that is on;
// a link of strength one forces; leak one forces. Once all unit consequences of
// some hard states are drawn without a contradiction, the rest can always be
// on: whatever is open has a parent that is on or open, or a leak, and whatever
// is off has no parent left that would force it.
type logic struct {
	net      *Net
	children [][]Link // per node: Parent holds the child's index
	base     []int8   // what holds without any evidence
}

func newLogic(n *Net) *logic {
	l := &logic{net: n, children: make([][]Link, len(n.Nodes))}
	for i := range n.Nodes {
		for _, k := range n.Nodes[i].Links {
			if k.Strength > 0 {
				l.children[k.Parent] = append(l.children[k.Parent], Link{Parent: i, Strength: k.Strength})
			}
		}
	}
	state := make([]int8, len(n.Nodes))
	queue := make([]int, len(n.Nodes))
	for i := range queue {
		queue[i] = i
	}
	if !l.propagate(state, queue) {
		panic("network: a network without evidence contradicts itself")
	}
	l.base = state
	return l
}

// set records a state; it reports whether that is consistent.
func set(state []int8, queue *[]int, i int, v int8) bool {
	if state[i] == unset {
		state[i] = v
		*queue = append(*queue, i)
	}
	return state[i] == v
}

// propagate draws all unit consequences of the nodes in the queue. It returns
// false on a contradiction.
func (l *logic) propagate(state []int8, queue []int) bool {
	for len(queue) > 0 {
		i := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if !l.visit(state, &queue, i) {
			return false
		}
		for _, c := range l.children[i] {
			if !l.visit(state, &queue, c.Parent) {
				return false
			}
		}
	}
	return true
}

// visit draws the consequences of one family.
func (l *logic) visit(state []int8, queue *[]int, i int) bool {
	node := &l.net.Nodes[i]
	forced := node.Leak == 1
	supporters, last := 0, -1
	supported := node.Leak > 0
	for _, k := range node.Links {
		if k.Strength == 0 {
			continue
		}
		switch state[k.Parent] {
		case isOn:
			supported = true
			forced = forced || k.Strength == 1
		case unset:
			supporters++
			last = k.Parent
		}
	}
	if forced && !set(state, queue, i, isOn) {
		return false
	}
	if !supported && supporters == 0 && !set(state, queue, i, isOff) {
		return false
	}
	if state[i] == isOn && !supported && supporters == 1 && !set(state, queue, last, isOn) {
		return false
	}
	if state[i] == isOff {
		for _, k := range node.Links {
			if k.Strength == 1 && !set(state, queue, k.Parent, isOff) {
				return false
			}
		}
	}
	return true
}

// assume adds hard states to a copy of the base, with their consequences; ok is
// false when they contradict each other.
func (l *logic) assume(hard map[int]int8, order []int) (state []int8, ok bool) {
	state = slices.Clone(l.base)
	var queue []int
	for _, i := range order {
		if !set(state, &queue, i, hard[i]) {
			return state, false
		}
	}
	return state, l.propagate(state, queue)
}

// hardStates lists the hard part of the evidence; clash is false when one
// node alone carries both.
func hardStates(ev []Likelihood) (hard map[int]int8, order []int, ok bool) {
	hard = make(map[int]int8)
	for _, e := range ev {
		var v int8
		switch {
		case e.On == 0:
			v = isOff
		case e.Off == 0:
			v = isOn
		default:
			continue
		}
		if old, seen := hard[e.Node]; seen {
			if old != v {
				return nil, nil, false
			}
			continue
		}
		hard[e.Node] = v
		order = append(order, e.Node)
	}
	return hard, order, true
}

// satisfiable reports whether the evidence has a probability above zero.
func (l *logic) satisfiable(ev []Likelihood) bool {
	hard, order, ok := hardStates(ev)
	if !ok {
		return false
	}
	_, ok = l.assume(hard, order)
	return ok
}

// clash reduces contradicting evidence to an irreducible set by deletion.
func (l *logic) clash(ev []Likelihood) *ImpossibleError {
	var hard []Likelihood
	for _, e := range ev {
		if e.On == 0 || e.Off == 0 {
			hard = append(hard, e)
		}
	}
	// From the last to the first, so that the earliest reports are kept.
	for i := len(hard) - 1; i >= 0; i-- {
		without := slices.Delete(slices.Clone(hard), i, i+1)
		if !l.satisfiable(without) {
			hard = without
		}
	}
	err := &ImpossibleError{}
	for _, e := range hard {
		err.Tags = append(err.Tags, e.Tag)
	}
	slices.Sort(err.Tags)
	return err
}
