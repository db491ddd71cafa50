package network

import (
	"errors"
	"math"
	"math/bits"
)

// Outcome is one joint state of the asked nodes: its probability given the
// evidence, and all posteriors given both. P follows the order of Net.Nodes
// with -1 where not computed; it is nil for an outcome that cannot occur.
type Outcome struct {
	Config []bool
	Prob   float64
	P      []float64
	Method Method
}

// Scenario returns the joint distribution of a few nodes (at most 12) given
// the evidence, each configuration with the posteriors that it would leave.
// Configurations count up with nodes[0] as the lowest bit.
//
// A noisy-OR node that is off only weighs its parents, which needs no new
// tree: one pass for every set of nodes that are off, and the states with
// nodes on by inclusion and exclusion. Where that would lose digits the
// configuration is solved on its own.
func (s *Solver) Scenario(ev []Likelihood, nodes []int) ([]Outcome, error) {
	if err := s.few(nodes, 12); err != nil {
		return nil, err
	}
	q, err := s.question(ev, nodes)
	if err != nil {
		return nil, err
	}
	return q.outcomes(nodes)
}

// Split is one finding as a question: P(present | evidence) and the posteriors
// with it present and with it absent. A side that cannot occur has nil
// posteriors.
type Split struct {
	Node            int
	Prob            float64
	Present, Absent []float64
}

// Splits prices findings: for each wanted node its predicted probability and
// all posteriors for both answers.
func (s *Solver) Splits(ev []Likelihood, want []int) ([]Split, error) {
	if err := s.valid(want); err != nil {
		return nil, err
	}
	out := make([]Split, len(want))
	// One tree for all, with all their parents, if that stays small; else
	// those whose parents are there anyway share one.
	shared := want
	if b, err := s.load(ev); err != nil {
		return nil, err
	} else if b.costWith(want) > splitCost {
		shared = nil
	}
	q, err := s.question(ev, shared)
	if err != nil {
		return nil, err
	}
	for i, n := range want {
		at := q
		if !q.covers(n) {
			if at, err = s.question(ev, []int{n}); err != nil {
				return nil, err
			}
		}
		o, err := at.outcomes([]int{n})
		if err != nil {
			return nil, err
		}
		out[i] = Split{Node: n, Prob: o[1].Prob, Present: o[1].P, Absent: o[0].P}
	}
	return out, nil
}

// splitCost is the size, in table entries, up to which Splits puts all parents
// in one tree.
const splitCost = 1 << 17

// costWith is the size of a tree that holds the evidence, what is always asked
// and the parents of some nodes.
func (b *problem) costWith(nodes []int) float64 {
	mask := make([]bool, len(b.has))
	for _, n := range b.s.always() {
		mask[n] = true
	}
	for _, n := range nodes {
		for _, k := range b.s.net.Nodes[n].Links {
			mask[k.Parent] = mask[k.Parent] || k.Strength > 0
		}
	}
	return newSkeleton(b.s.net, b.s.roles(b.state, b.has, mask)).cost(2 * splitCost)
}

// question is evidence with trees on which some nodes can be set off by
// weights alone.
type question struct {
	b     *problem
	plans []*plan
	base  *Posterior
}

// question prepares to ask about nodes.
func (s *Solver) question(ev []Likelihood, nodes []int) (*question, error) {
	b, err := s.load(ev)
	if err != nil {
		return nil, err
	}
	mask, err := s.mask(s.always())
	if err != nil {
		return nil, err
	}
	must := make([]bool, len(mask))
	for _, n := range nodes {
		for _, k := range s.net.Nodes[n].Links {
			if k.Strength > 0 {
				must[k.Parent], mask[k.Parent] = true, true
			}
		}
	}
	q := &question{b: b}
	q.plans, b.cached = b.trees(mask, must)
	for _, p := range q.plans {
		b.p = p
		if err := b.affordable(); err != nil {
			return nil, err
		}
	}
	q.base, err = q.solve(nil)
	return q, err
}

// covers reports whether every tree has what it takes to set n off.
func (q *question) covers(n int) bool {
	for _, p := range q.plans {
		if p.role[n] != roleOut {
			continue
		}
		for _, k := range q.b.s.net.Nodes[n].Links {
			if k.Strength > 0 && p.role[k.Parent] == roleOut {
				return false
			}
		}
	}
	return true
}

// solve runs all trees under extra weights.
func (q *question) solve(extra func(p *plan) []weigh) (*Posterior, error) {
	var out *Posterior
	for _, p := range q.plans {
		q.b.p = p
		var w []weigh
		if extra != nil {
			w = extra(p)
		}
		r, err := q.b.posterior(w, nil)
		if err != nil {
			return nil, err
		}
		if out == nil {
			out = r
		} else {
			out.join(r)
		}
	}
	return out, nil
}

// off lists the weights that set a node off on a tree.
func (q *question) off(p *plan, n int) []weigh {
	if p.role[n] != roleOut {
		return []weigh{{node: n, off: 1}}
	}
	node := &q.b.s.net.Nodes[n]
	out := []weigh{{node: -1, off: 1 - node.Leak}}
	for _, k := range node.Links {
		if k.Strength > 0 && p.role[k.Parent] != roleOff {
			out = append(out, weigh{node: k.Parent, off: 1, on: 1 - k.Strength})
		}
	}
	return out
}

// derived is the relative error allowed to a difference of probabilities.
const derived = 5e-10

// outcomes gives all configurations of the nodes.
func (q *question) outcomes(nodes []int) ([]Outcome, error) {
	f := len(nodes)
	size := len(q.base.P)
	// off[A] is the probability that all nodes of A are off, on[A][n] the
	// joint one with node n on.
	off := make([]float64, 1<<f)
	on := make([][]float64, 1<<f)
	fault := make([][]float64, 1<<f) // absolute errors of on, the last of off
	never := func(err error) bool {
		var e *ImpossibleError
		return errors.As(err, &e)
	}
	for a := range off {
		r := q.base
		if a > 0 {
			var err error
			r, err = q.solve(func(p *plan) []weigh {
				var w []weigh
				for i, n := range nodes {
					if a>>i&1 == 1 {
						w = append(w, q.off(p, n)...)
					}
				}
				return w
			})
			if never(err) {
				continue
			}
			if err != nil {
				return nil, err
			}
		}
		off[a] = math.Exp(r.LogEvidence - q.base.LogEvidence)
		on[a] = make([]float64, size)
		fault[a] = make([]float64, size+1)
		rel := 64*eps + r.zRel
		for n, p := range r.P {
			on[a][n] = off[a] * p
			fault[a][n] = on[a][n] * (rel + r.rel[n])
		}
		fault[a][size] = off[a] * rel
	}
	out := make([]Outcome, 1<<f)
	all := 1<<f - 1
	for c := range out {
		o := &out[c]
		for i := range nodes {
			o.Config = append(o.Config, c>>i&1 == 1)
		}
		o.Method = q.base.Method
		// Sum over the sets B of nodes on in c: (-1)^|B|·off[rest and B].
		absent := all &^ c
		joint := make([]float64, size+1)
		errs := make([]float64, size+1)
		some := false
		for sub := c; ; sub = (sub - 1) & c {
			sign := 1 - 2*float64(bits.OnesCount(uint(sub))&1)
			at := absent | sub
			joint[size] += sign * off[at]
			some = some || off[at] > 0
			for n := range on[at] {
				joint[n] += sign * on[at][n]
			}
			for n, e := range fault[at] {
				errs[n] += e
			}
			if sub == 0 {
				break
			}
		}
		sound := true
		for n, v := range joint {
			if n < size && q.base.P[n] < 0 {
				continue
			}
			if errs[n] > derived*v && c != 0 {
				sound = false
			}
		}
		if !some {
			continue // never
		}
		if !sound {
			if err := q.alone(nodes, o); err != nil && !never(err) {
				return nil, err
			}
			continue
		}
		o.Prob = joint[size]
		o.P = make([]float64, size)
		for n := range o.P {
			o.P[n] = math.Min(joint[n]/o.Prob, 1)
			if q.base.P[n] < 0 {
				o.P[n] = -1
			}
		}
		for i, n := range nodes {
			o.P[n] = float64(c >> i & 1)
		}
	}
	return out, nil
}

// alone solves one configuration with its nodes in the trees.
func (q *question) alone(nodes []int, o *Outcome) error {
	s := q.b.s
	mask, err := s.mask(s.always())
	if err != nil {
		return err
	}
	must, err := s.mask(nodes)
	if err != nil {
		return err
	}
	for _, n := range nodes {
		mask[n] = true
	}
	own := &question{b: &problem{s: s, ev: q.b.ev, m: q.b.m, state: q.b.state, has: q.b.has}, base: q.base}
	own.plans, own.b.cached = own.b.trees(mask, must)
	for _, p := range own.plans {
		own.b.p = p
		if err := own.b.affordable(); err != nil {
			return err
		}
	}
	p, err := own.solve(func(*plan) []weigh {
		var w []weigh
		for i, n := range nodes {
			if o.Config[i] {
				w = append(w, weigh{node: n, on: 1})
			} else {
				w = append(w, weigh{node: n, off: 1})
			}
		}
		return w
	})
	if err != nil {
		return err
	}
	o.Prob, o.P, o.Method = math.Exp(p.LogEvidence-q.base.LogEvidence), p.P, p.Method
	return nil
}

// join adds what another tree of the same evidence knows.
func (p *Posterior) join(q *Posterior) {
	for n, v := range q.P {
		if p.P[n] < 0 {
			p.P[n], p.rel[n] = v, q.rel[n]
		}
	}
	m := &p.Method
	m.Trees++
	m.TableSize += q.Method.TableSize
	m.Width = max(m.Width, q.Method.Width)
	m.Precision = max(m.Precision, q.Method.Precision)
	m.Error = math.Max(m.Error, q.Method.Error)
}
