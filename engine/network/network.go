// Package network does exact inference in a directed acyclic graph of
// two-state nodes, each a leaky noisy-OR of its parents, under any number of
// soft findings and with any number of causes on at once.
//
// A family of n parents is never written out as a table over all of them.
// With g = (1-leak)·Π(1-strength) over the parents that are on,
//
//	[x off]·g + [x on]·(1-g) = Σ over a of h(x, a)·Π phi(a, parent)
//
// holds with one two-state auxiliary variable a: a = 0 stands for "1", a = 1
// for "g" (Diez and Galan 2003; Savicky and Vomlel 2007). What remains are
// factors over one or two variables, which go through a junction tree
// (min-fill order, Shafer-Shenoy messages without division, rescaled).
//
// The form has negative entries, so digits can cancel. How many is read off the
// tables: the evidence is linear in the entries of every one of them, so the
// rounding of each counts, to first order, by its share of the evidence, and the
// shares of one table, taken without their signs, add up to its strain (one
// where nothing cancels). Where the strains of all tables tell of an error beyond
// what is granted, the answer is worked out again on the same tree in
// double-double arithmetic, and in big floating point if that is not enough. An
// entry is taken to round four units in the last place either way, which many
// factors could exceed: the error is an estimate, no bound. Against enumeration
// none of 100,000 networks of rare modes came out wrong (see
// TestHostileNetworks). What is owed to a probability is 1e-9 of it, or 1e-11
// absolutely where it is smaller than that: of a probability of 1e-49 nothing
// but "next to nothing" holds.
//
// Errors: bad data (an unknown node, a probability outside 0..1) is an error,
// evidence that cannot occur is an *ImpossibleError, and the package panics
// only for its own faults.
package network

import (
	"fmt"
	"math"
)

// Link says that a parent, when on, turns the child on with Strength (a
// probability in 0..1), independently of every other parent and of the leak.
type Link struct {
	Parent   int     // index of the parent in Net.Nodes
	Strength float64 // P(child on | only this parent on, no leak)
}

// Node is a two-state variable with
// P(on | parents) = 1 - (1-Leak)·Π over parents that are on of (1-Strength)
// (Pearl 1988; Henrion 1989 for the leak). A node without links is a root and
// Leak is its prior probability.
type Node struct {
	Name  string
	Leak  float64 // P(on | no parent on)
	Links []Link
}

// Net is a directed acyclic graph of nodes; parents have a lower index than
// their children.
type Net struct {
	Nodes []Node
}

// Likelihood is virtual (soft) evidence about one node: the probability of the report
// when the node is on and when it is off. Only the ratio matters to the
// marginals; both count in the log evidence. Several on one node multiply.
// {1, 0} and {0, 1} are hard evidence for on and off.
type Likelihood struct {
	Node    int
	On, Off float64 // P(report | on), P(report | off)
	Tag     int     // the caller's number of the report, for naming clashes
}

// Validate reports the first fault of the network: an unknown or
// non-preceding parent, a parent named twice, a number outside 0..1.
func (n *Net) Validate() error {
	for i := range n.Nodes {
		node := &n.Nodes[i]
		if !(node.Leak >= 0 && node.Leak <= 1) {
			return fmt.Errorf("network: node %d %q: leak %v is not in 0..1", i, node.Name, node.Leak)
		}
		seen := make(map[int]bool, len(node.Links))
		for _, l := range node.Links {
			if l.Parent < 0 || l.Parent >= i {
				return fmt.Errorf("network: node %d %q: parent %d must be a node of lower index", i, node.Name, l.Parent)
			}
			if seen[l.Parent] {
				return fmt.Errorf("network: node %d %q: parent %d %q is linked twice; merge the links", i, node.Name, l.Parent, n.Nodes[l.Parent].Name)
			}
			seen[l.Parent] = true
			if !(l.Strength >= 0 && l.Strength <= 1) {
				return fmt.Errorf("network: node %d %q: strength %v of parent %q is not in 0..1", i, node.Name, l.Strength, n.Nodes[l.Parent].Name)
			}
		}
	}
	return nil
}

// merged is the evidence on each node, multiplied and rescaled.
type merged struct {
	on, off  []float64 // larger of the two is 1 where there is evidence
	has      []bool
	logScale float64 // log of what rescaling took out
}

func (n *Net) merge(ev []Likelihood) (*merged, error) {
	m := &merged{
		on:  make([]float64, len(n.Nodes)),
		off: make([]float64, len(n.Nodes)),
		has: make([]bool, len(n.Nodes)),
	}
	for i := range m.on {
		m.on[i], m.off[i] = 1, 1
	}
	for _, l := range ev {
		if l.Node < 0 || l.Node >= len(n.Nodes) {
			return nil, fmt.Errorf("network: report %d is about node %d, but the network has nodes 0..%d", l.Tag, l.Node, len(n.Nodes)-1)
		}
		if !(l.On >= 0 && l.Off >= 0) || math.IsInf(l.On, 0) || math.IsInf(l.Off, 0) {
			return nil, fmt.Errorf("network: report %d on %q: likelihoods %v (on) and %v (off) must be finite and not negative", l.Tag, n.Nodes[l.Node].Name, l.On, l.Off)
		}
		if l.On == 0 && l.Off == 0 {
			return nil, fmt.Errorf("network: report %d on %q is impossible whether the node is on or off; give it a likelihood above zero", l.Tag, n.Nodes[l.Node].Name)
		}
		// Each factor is scaled first, so that many tiny likelihoods
		// cannot underflow together.
		s := math.Max(l.On, l.Off)
		on, off := m.on[l.Node]*(l.On/s), m.off[l.Node]*(l.Off/s)
		t := math.Max(on, off)
		if (on == 0 && m.on[l.Node] > 0 && l.On > 0) || (off == 0 && m.off[l.Node] > 0 && l.Off > 0) {
			return nil, fmt.Errorf("network: the reports on %q together have a likelihood ratio beyond 1e300; use 0 for what cannot be", n.Nodes[l.Node].Name)
		}
		if t == 0 {
			// A hard clash; the logic names its reports.
			m.on[l.Node], m.off[l.Node], m.has[l.Node] = 0, 0, true
			continue
		}
		m.on[l.Node], m.off[l.Node], m.has[l.Node] = on/t, off/t, true
		m.logScale += math.Log(s) + math.Log(t)
	}
	return m, nil
}
