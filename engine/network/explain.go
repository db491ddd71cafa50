package network

import (
	"container/heap"
	"fmt"
	"math"
	"slices"
)

// Explanation is one joint configuration of the asked nodes.
type Explanation struct {
	On   []int   // the asked nodes that are on; the others are off
	Prob float64 // P(this configuration | evidence)
	// Cause gives, for each entry of On, the parent most likely to have
	// turned it on given this configuration, -1 for the leak; Share is that
	// probability.
	Cause []int
	Share []float64
	// P is the posterior of all nodes given this configuration as well.
	P []float64
}

// Explanations lists the most probable configurations, best first.
type Explanations struct {
	Best []Explanation
	// Proven is false when the search stopped at its work bound: there may
	// be a configuration with a probability up to Bound that is not listed.
	Proven bool
	Bound  float64
	Solved int // posteriors computed
}

// explainWork bounds the posteriors that one Explain may compute.
const explainWork = 2000

// partial is a branch of the search: some asked nodes decided.
type partial struct {
	set   []weigh
	mass  float64 // P(decided part | evidence)
	bound float64 // no completion is more probable
	p     []float64
}

type branches []*partial

func (b branches) Len() int { return len(b) }
func (b branches) Less(i, j int) bool {
	if b[i].bound != b[j].bound {
		return b[i].bound > b[j].bound
	}
	return slices.CompareFunc(b[i].set, b[j].set, func(x, y weigh) int {
		if x.node != y.node {
			return x.node - y.node
		}
		return int(x.on - y.on)
	}) < 0
}
func (b branches) Swap(i, j int) { b[i], b[j] = b[j], b[i] }
func (b *branches) Push(x any)   { *b = append(*b, x.(*partial)) }
func (b *branches) Pop() any {
	o := *b
	x := o[len(o)-1]
	*b = o[:len(o)-1]
	return x
}

// Explain finds the k most probable joint configurations of the nodes in
// restrict given the evidence; all other nodes are summed out. Each comes with
// its exact posterior probability. The search is best first: the probability
// of a decided part, times the least certain of the rest, bounds all its
// completions.
func (s *Solver) Explain(ev []Likelihood, k int, restrict []int) (*Explanations, error) {
	if k < 1 {
		return nil, fmt.Errorf("network: %d explanations asked for; ask for at least one", k)
	}
	if err := s.few(restrict, len(s.net.Nodes)); err != nil {
		return nil, err
	}
	b, err := s.prepare(ev, restrict)
	if err != nil {
		return nil, err
	}
	b.hold()
	root, err := b.posterior(nil, nil)
	if err != nil {
		return nil, err
	}
	out := &Explanations{Proven: true, Solved: 1}
	nodes := slices.Clone(restrict)
	slices.Sort(nodes)
	// What is certain needs no decision.
	var open, fixed []int
	for _, n := range nodes {
		if p := b.p.role[n]; p == roleOn {
			fixed = append(fixed, n)
		} else if p == roleNode {
			open = append(open, n)
		}
	}
	q := &branches{limit(&partial{mass: 1, p: root.P}, open)}
	for q.Len() > 0 && len(out.Best) < k {
		t := heap.Pop(q).(*partial)
		n := leastCertain(t, open)
		if n < 0 {
			out.Best = append(out.Best, complete(t, fixed))
			continue
		}
		if out.Solved >= explainWork {
			out.Proven = false
			out.Bound = t.bound
			break
		}
		for _, on := range []bool{true, false} {
			p := t.p[n]
			if !on {
				p = 1 - p
			}
			if p <= 0 {
				continue
			}
			w := weigh{node: n, off: 1}
			if on {
				w = weigh{node: n, on: 1}
			}
			set := append(slices.Clone(t.set), w)
			slices.SortFunc(set, func(x, y weigh) int { return x.node - y.node })
			post, err := b.posterior(set, nil)
			if _, never := err.(*ImpossibleError); never {
				continue
			}
			if err != nil {
				return nil, err
			}
			out.Solved++
			mass := math.Exp(post.LogEvidence - root.LogEvidence)
			heap.Push(q, limit(&partial{set: set, mass: mass, p: post.P}, open))
		}
	}
	for i := range out.Best {
		if err := s.causes(ev, nodes, &out.Best[i]); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func decided(t *partial, n int) bool {
	for _, w := range t.set {
		if w.node == n {
			return true
		}
	}
	return false
}

// limit sets the bound of a branch.
func limit(t *partial, open []int) *partial {
	t.bound = t.mass
	for _, n := range open {
		if !decided(t, n) {
			t.bound = math.Min(t.bound, t.mass*math.Max(t.p[n], 1-t.p[n]))
		}
	}
	return t
}

// leastCertain picks the open node to branch on, or -1.
func leastCertain(t *partial, open []int) int {
	best, at := inf, -1
	for _, n := range open {
		if decided(t, n) {
			continue
		}
		if d := math.Abs(t.p[n] - 0.5); d < best {
			best, at = d, n
		}
	}
	return at
}

func complete(t *partial, fixed []int) Explanation {
	e := Explanation{Prob: t.mass, P: t.p, On: slices.Clone(fixed)}
	for _, w := range t.set {
		if w.on > 0 {
			e.On = append(e.On, w.node)
		}
	}
	slices.Sort(e.On)
	return e
}

// causes fills in what most likely turned each node of an explanation on.
func (s *Solver) causes(ev []Likelihood, nodes []int, e *Explanation) error {
	more := slices.Clone(ev)
	for _, n := range nodes {
		more = append(more, hardOn(n, slices.Contains(e.On, n)))
	}
	fam, _, err := s.Families(more)
	if err != nil {
		return err
	}
	at := make(map[int]*Family, len(fam))
	for i := range fam {
		at[fam[i].Node] = &fam[i]
	}
	for _, n := range e.On {
		cause, share := -1, 1.0
		if f := at[n]; f != nil {
			share = f.LeakFired
			for j, k := range s.net.Nodes[n].Links {
				if f.Transmits[j] > share {
					cause, share = k.Parent, f.Transmits[j]
				}
			}
		}
		e.Cause = append(e.Cause, cause)
		e.Share = append(e.Share, share)
	}
	return nil
}
