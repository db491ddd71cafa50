package model

import (
	"errors"
	"math"
	"slices"
	"sync"

	"slipcase/engine/network"
)

// Share is what a report weighs on one node by itself.
type Share struct {
	Node  int
	Ratio float64 // P(this report | the node is on) / P(this report | it is off)
}

// patient is how many findings may be shared out with half of them done twice: without,
// the error was .030 instead of .023 (12 cases). With hundreds it is a second's work,
// and so is the second step of their weights (with one the error was .031).
const patient = 48

// settleSteps bounds the steps of the weights of one report; settled is the mean gap
// to the odds aimed at, in logarithms, at which they end.
const (
	settleSteps = 2
	settled     = 0.03
)

// SharedError is what the largest error of a probability of a mode was where reports
// are shared out (see Model.Within): on average over Cases, and at worst. Measured
// against exact answers, beside a tree of 2^17 entries, 2026-11-27: vehicles drawn and
// benchmark evidence of 60 to 100 reports (20 cases, 2 to 8 reports shared out in the
// mean of a row, at worst .138), benchmark evidence of 45 (TestSharedOut: EXACT=23
// BOUND=20 NEAR=17 SEEDS=24; two cases, of which one shares out 22 reports and is .62
// off). Nothing bounds it.
var SharedError = struct {
	Cases       int
	Mean, Worst float64
}{22, 0.076, 0.624}

// shareError is the error that sharing out grants to a probability on the way.
const shareError = 0.05

// shared turns reports that would make too large a tree into weights on what is
// behind them: on effects that the tree of the other reports (kept) holds
// anyway, else on modes. Weights tie nothing together. They are chosen so that
// each node behind a report has the probability that the report by itself, at
// full length, would give it beside all the others: expectation propagation
// (Minka, "A family of algorithms for approximate Bayesian inference", 2001,
// ch. 3) with the tree of the other reports as the exact part. What is lost is
// that two faults behind one report excuse each other, once by each report that
// is shared out.
//
// It returns all pieces, those of left with their shares.
func (m *Model) shared(s *network.Solver, kept, left []Piece) ([]Piece, error) {
	out := slices.Concat(kept, left)
	live := m.holds(m.Likelihoods(kept))
	var list []*sharing
	byNode := map[int]*sharing{}
	touched := map[int]bool{}
	for i := len(kept); i < len(out); i++ {
		p := &out[i]
		p.Shares = []Share{}
		if r := byNode[p.Node]; r != nil {
			r.on, r.off = r.on*p.On, r.off*p.Off
			continue
		}
		r := &sharing{on: p.On, off: p.Off, at: i}
		r.leak, r.nodes, r.miss = m.reach(p.Node, live)
		r.weight, r.told = make([]float64, len(r.nodes)), make([]float64, len(r.nodes))
		for k, n := range r.nodes {
			r.weight[k], r.told[k] = 1, 1
			touched[n] = true
		}
		byNode[p.Node] = r
		list = append(list, r)
	}
	var nodes []int
	for n := range m.Nodes {
		if touched[n] {
			nodes = append(nodes, n)
		}
	}
	// One tree for all that is asked: it holds the other reports and what is
	// behind those that are shared out.
	tree, err := s.Rough(shareError).Incremental(m.Likelihoods(kept), nodes, nil)
	if err != nil {
		return nil, err
	}
	x := &sharer{tree, list}
	steps := settleSteps
	if len(list) > patient {
		steps = 1
	}
	if err := x.turn(list, steps, true); err != nil {
		return nil, err
	}
	// Those that were first knew the least of the others.
	if len(list) <= patient {
		if err := x.turn(list[:len(list)/2], 1, false); err != nil {
			return nil, err
		}
	}
	for _, r := range list {
		for k, n := range r.nodes {
			out[r.at].Shares = append(out[r.at].Shares, Share{n, r.weight[k]})
		}
	}
	return out, nil
}

// sharer shares reports out on one tree.
type sharer struct {
	tree *network.Incremental
	list []*sharing
}

// abreast is how many reports are shared out at the same time, each of them beside
// what the others weighed before.
const abreast = 2

// turn weighs some of the reports anew, in their order.
func (x *sharer) turn(list []*sharing, steps int, first bool) error {
	for from := 0; from < len(list); from += abreast {
		some := list[from:min(from+abreast, len(list))]
		errs := make([]error, len(some))
		var all sync.WaitGroup
		for i, r := range some {
			all.Go(func() { errs[i] = x.renew(r, steps, first) })
		}
		all.Wait()
		if err := errors.Join(errs...); err != nil {
			return err
		}
		for _, r := range some {
			copy(r.told, r.weight)
		}
	}
	return nil
}

// ask is the posterior of what is behind a report, under the shares of all others
// and weights on what is behind this one, nil for none.
func (x *sharer) ask(r *sharing, own []float64) (*network.Posterior, error) {
	var ev []network.Likelihood
	for _, o := range x.list {
		weight := o.told
		if o == r {
			weight = own
		}
		for k, w := range weight {
			ev = append(ev, network.Likelihood{Node: o.nodes[k], On: math.Min(1, w), Off: math.Min(1, 1/w), Tag: -1})
		}
	}
	return x.tree.Afresh(ev, r.nodes)
}

// renew weighs one report. first tells that it did not weigh anything yet.
func (x *sharer) renew(r *sharing, steps int, first bool) error {
	z := r.leak // P(the finding is off | all other reports)
	var none *network.Posterior
	var err error
	var second sync.WaitGroup
	second.Go(func() { none, err = x.ask(r, r.miss) })
	base, bad := x.ask(r, nil)
	second.Wait()
	if bad != nil {
		return bad
	}
	var never *network.ImpossibleError
	switch {
	case errors.As(err, &never):
		z, none = 0, base
	case err != nil:
		return err
	default:
		z *= math.Exp(none.LogEvidence - base.LogEvidence)
	}
	aim := make([]float64, len(r.nodes))
	for k, n := range r.nodes {
		p := (r.on*base.P[n] - (r.on-r.off)*z*none.P[n]) / (r.on - (r.on-r.off)*z)
		aim[k] = logit(p)
	}
	if !first {
		base = nil
	}
	return r.settle(aim, base, steps, func() (*network.Posterior, error) { return x.ask(r, r.weight) })
}

// sharing is a finding whose reports are shared out.
type sharing struct {
	on, off float64 // likelihoods of what is reported about it
	at      int     // the piece that carries the shares
	leak    float64 // P(the finding is off | nothing behind it is on)
	nodes   []int
	miss    []float64 // P(the finding is off | this one is on) / P(it is off | none is)
	weight  []float64
	told    []float64 // the weights that the others go by
}

// settle brings the weights to where the posterior, now, has the odds aimed at.
// first is that of the weights as they are, nil where it is not known.
func (r *sharing) settle(aim []float64, first *network.Posterior, steps int, now func() (*network.Posterior, error)) error {
	step, last := 1.0, math.Inf(1)
	gap, from := make([]float64, len(aim)), slices.Clone(r.weight)
	for range steps {
		post := first
		if first = nil; post == nil {
			var err error
			if post, err = now(); err != nil {
				return err
			}
		}
		next, all := make([]float64, len(aim)), 0.0
		for k, n := range r.nodes {
			next[k] = aim[k] - logit(post.P[n])
			all += math.Abs(next[k])
		}
		// Nodes that are seldom on one without the other raise each other,
		// so that a full step may lead too far.
		switch {
		case all < settled*float64(len(aim)):
			return nil
		case all > last:
			step /= 4
		default:
			if all > last/2 {
				step /= 2
			}
			gap, last = next, all
			copy(from, r.weight)
		}
		for k := range gap {
			r.weight[k] = bounded(from[k] * math.Exp(step*gap[k]))
		}
	}
	return nil
}

// logit is the logarithm of the odds, of probabilities that are neither 0 nor 1.
func logit(p float64) float64 {
	p = math.Min(math.Max(p, 1e-9), 1-1e-9)
	return math.Log(p) - math.Log1p(-p)
}

// bounded keeps a weight from settling what it is about.
func bounded(w float64) float64 { return math.Min(math.Max(w, 1e-6), 1e6) }

// holds tells of each node whether it has evidence at or below it, along effects
// and findings, up to the modes.
func (m *Model) holds(ev []network.Likelihood) []bool {
	live := make([]bool, len(m.Nodes))
	for _, e := range ev {
		live[e.Node] = true
	}
	m.lift(live)
	return live
}

// lift marks what stands above marked nodes, up to the modes; parents stand
// before their children.
func (m *Model) lift(live []bool) {
	for i := len(m.Nodes) - 1; i >= 0; i-- {
		if live[i] && m.Nodes[i].Layer > ModeLayer {
			for _, l := range m.Net.Nodes[i].Links {
				live[l.Parent] = true
			}
		}
	}
}

// reach is a finding as one noisy-OR of what is behind it: the nearest nodes
// that are live, else the modes. It gives P(off | none of them is on), and for
// each node the factor by which it, on, makes that smaller. Where two paths lead
// through one effect that is not live, each is counted by itself.
func (m *Model) reach(finding int, live []bool) (leak float64, nodes []int, miss []float64) {
	open := map[int]float64{finding: 1} // P(the node, on, shows as the finding)
	leak = 1
	for len(open) > 0 {
		n := -1 // children first
		for i := range open {
			n = max(n, i)
		}
		w := open[n]
		delete(open, n)
		if n != finding && (m.Nodes[n].Layer <= ModeLayer || live[n]) {
			nodes = append(nodes, n)
			miss = append(miss, math.Max(1-w, 1e-9))
			continue
		}
		leak *= 1 - w*m.Net.Nodes[n].Leak
		for _, l := range m.Net.Nodes[n].Links {
			if l.Strength > 0 {
				open[l.Parent] = 1 - (1-open[l.Parent])*(1-w*l.Strength)
			}
		}
	}
	return leak, nodes, miss
}
