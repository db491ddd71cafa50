package network

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"
)

// Method says how an answer was reached.
type Method struct {
	Variables   int     // two-state variables of the tree, auxiliary ones included
	Width       int     // variables in the largest clique
	Cliques     int     // number of cliques
	TableSize   float64 // sum of the sizes of all clique tables, in entries
	Trees       int     // trees that were solved
	Conditioned int     // nodes conditioned on to keep tables small: 2^n runs
	Precision   int     // bits of mantissa that were needed: 53, 106 or more
	Error       float64 // estimate of the largest relative error of a probability above 1e-12
	CachedOrder bool    // the tree came from the cache
	Dropped     []int   // tags of reports left out; nil when the answer is exact
}

// Posterior holds marginals given all evidence, exact but for rounding (see the package
// comment for what is owed).
type Posterior struct {
	// P is P(on | evidence) per node; -1 for a node that has no evidence
	// below and is not asked for (see Solver.Always, Solver.SolveSubset).
	P           []float64
	LogEvidence float64 // natural logarithm of P(evidence)
	// Low and High are nil when P is exact. Past the work bound the reports
	// named in Method.Dropped are left out of P, and what they could do at
	// most bounds the exact answer, but for the rounding of what is left, which
	// is estimated and counted: Low[i] <= P(on | all reports) <= High[i]. A wanted
	// node that no affordable tree holds has P -1, Low 0, High 1. LogEvidence is
	// then, in the same sense, not below the exact one.
	Low, High []float64
	Method    Method

	rel  []float64 // estimates of the relative error of each P
	off  []float64 // P(off), whose digits 1 - P would lose
	zRel float64   // of the evidence
}

// tolerance is the relative error that makes an answer go to higher
// precision; 1e-9 is owed.
const tolerance = 5e-10

// Solver answers questions about one network. It caches trees by pattern of
// evidence and is safe for concurrent use.
type Solver struct {
	// Always lists nodes whose marginals Solve gives even without evidence
	// below them. nil means every node that has children. Set it before
	// the first use.
	Always []int

	// MaxWork bounds the table entries that one pass may touch; 0 means
	// 2^28, some seconds. Solve answers what is wider with an
	// interval, see Posterior.Low; other questions with an error. Set it
	// before the first use.
	MaxWork float64

	// Brief says that a tree serves one pass or two, so that fewer elimination orders
	// are tried for it. Set it before the first use.
	Brief bool

	rough float64 // the error that Solve grants; 0 for that which is owed
	deep  float64 // bounds a pass of higher precision; 0 for no bound

	ctx   context.Context // nil for one that never ends
	net   *Net
	logic *logic
	inner []int // nodes with children
	width int   // largest table, in variables

	trees *trees
}

// trees are the trees made so far, by pattern of evidence. Solvers of networks
// that differ in nothing but numbers share them.
type trees struct {
	mu    sync.Mutex
	plans map[string][]*plan
	keys  []string // oldest first

}

// scratches are shared by all solvers.
var scratches = sync.Pool{New: func() any { return new(scratch) }}

const defaultWork = 1 << 28

func (s *Solver) effort() effort {
	if s.Brief {
		return briefly
	}
	return usually
}

// maxPlans bounds the cache of trees.
const maxPlans = 512

// NewSolver checks the network and prepares for questions about it. The
// network must not change afterwards.
func NewSolver(n *Net) (*Solver, error) {
	if err := n.Validate(); err != nil {
		return nil, err
	}
	s := &Solver{net: n, logic: newLogic(n), width: maxWidth, trees: &trees{plans: make(map[string][]*plan)}}
	parent := make([]bool, len(n.Nodes))
	for i := range n.Nodes {
		for _, k := range n.Nodes[i].Links {
			parent[k.Parent] = true
		}
	}
	for i, yes := range parent {
		if yes {
			s.inner = append(s.inner, i)
		}
	}
	return s, nil
}

// Forget lets go of the trees made so far, for who asks about cases that have no
// pattern in common. Answers under way keep theirs.
func (s *Solver) Forget() {
	s.trees.mu.Lock()
	defer s.trees.mu.Unlock()
	s.trees.plans, s.trees.keys = make(map[string][]*plan), nil
}

// WithNumbers returns a solver for a network that differs from that of s in
// nothing but numbers. It shares the trees of s, unless a number becomes or
// ceases to be zero or one. Fails where the networks differ otherwise.
func (s *Solver) WithNumbers(n *Net) (*Solver, error) {
	if err := n.Validate(); err != nil {
		return nil, err
	}
	if len(n.Nodes) != len(s.net.Nodes) {
		return nil, fmt.Errorf("network: %d nodes, want %d", len(n.Nodes), len(s.net.Nodes))
	}
	same := true
	alike := func(a, b float64) bool { return a == b || a > 0 && a < 1 && b > 0 && b < 1 }
	for i := range n.Nodes {
		x, y := &s.net.Nodes[i], &n.Nodes[i]
		if len(x.Links) != len(y.Links) {
			return nil, fmt.Errorf("network: node %d %q has %d links, want %d", i, y.Name, len(y.Links), len(x.Links))
		}
		same = same && alike(x.Leak, y.Leak)
		for j := range x.Links {
			if x.Links[j].Parent != y.Links[j].Parent {
				return nil, fmt.Errorf("network: node %d %q: link %d has another parent", i, y.Name, j)
			}
			same = same && alike(x.Links[j].Strength, y.Links[j].Strength)
		}
	}
	if same {
		out := *s
		out.net = n
		return &out, nil
	}
	out, err := NewSolver(n)
	if err == nil {
		out.Always, out.MaxWork, out.width, out.ctx = s.Always, s.MaxWork, s.width, s.ctx
	}
	return out, err
}

// Rough returns the same solver, with the same trees, whose Solve, SolveSubset,
// Chances, Given and Incremental grant an error of up to most in every probability (0.001, say):
// for comparisons that need no more, and that higher precision would make ten
// times slower. Posterior.LogEvidence is as good, relatively.
func (s *Solver) Rough(most float64) *Solver {
	out := *s
	out.rough = most
	return &out
}

// Shallow returns the same solver, with the same trees, whose Solve, SolveSubset,
// Chances, Given and Incremental fail with ErrDeep where digits are lost that only
// higher precision gives back and a pass in it would cost as much as so many
// table entries cost in float64.
func (s *Solver) Shallow(entries float64) *Solver {
	out := *s
	out.deep = entries
	return &out
}

// What an entry costs in double-double and in 212 bits, beside one in float64:
// measured on cases of 329 and 493 reports, within a factor of two.
const ddCost, bigCost = 32, 400

// shallow refuses a pass of higher precision past the bound.
func (b *problem) shallow(level int) error {
	if level == 0 || b.s.deep == 0 {
		return nil
	}
	cost := b.p.work() * ddCost
	if level > 1 {
		cost = b.p.work() * bigCost
	}
	if cost > b.s.deep {
		return ErrDeep
	}
	return nil
}

// WithContext returns the same solver, with the same trees, whose questions
// fail with the context's error soon after it ends: within one table, or one
// try of an order.
func (s *Solver) WithContext(ctx context.Context) *Solver {
	out := *s
	out.ctx = ctx
	return &out
}

// Context is what WithContext was given, or one that never ends.
func (s *Solver) Context() context.Context {
	if s.ctx == nil {
		return context.Background()
	}
	return s.ctx
}

// ended is the error of the context, nil while it holds.
func (s *Solver) ended() error {
	if s.ctx == nil {
		return nil
	}
	return s.ctx.Err()
}

// Net returns the network that the solver was made for.
func (s *Solver) Net() *Net { return s.net }

func (s *Solver) always() []int {
	if s.Always != nil {
		return s.Always
	}
	return s.inner
}

// levels of precision: float64, double-double, then big with doubling.
const lastLevel = 6

func precision(level int) int {
	switch level {
	case 0:
		return 53
	case 1:
		return 106
	default:
		return 128 << (level - 1)
	}
}

// pass runs the tree at a level of precision, once for each state of the
// conditioned variables, and adds the runs up.
func (b *problem) pass(level int, extra []weigh, want request) *reply {
	if len(b.p.cut) == 0 {
		return b.once(level, extra, want, 0)
	}
	var runs []*reply
	var cuts []int
	top := -inf
	for cut := range 1 << len(b.p.cut) {
		if b.s.ended() != nil {
			return &reply{zSign: -1}
		}
		r := b.once(level, extra, want, cut)
		if math.IsInf(r.logZ, -1) {
			continue
		}
		if r.zSign < 0 {
			// Nothing left under this condition, or lost digits?
			more := slices.Clone(extra)
			for i, v := range b.p.cut {
				n := slices.Index(b.p.xVar, v)
				more = append(more, weigh{node: n, off: float64(1 - cut>>i&1), on: float64(cut >> i & 1)})
			}
			if !b.allows(more) {
				continue
			}
			return r
		}
		runs, cuts = append(runs, r), append(cuts, cut)
		top = math.Max(top, r.logZ)
	}
	if len(runs) == 0 {
		return &reply{zSign: -1}
	}
	return b.p.sum(runs, cuts, top)
}

// once runs the tree under one condition. What comes back once the context has
// ended is worth nothing; whoever asks for a pass looks at the context.
func (b *problem) once(level int, extra []weigh, want request, cut int) *reply {
	want.ended = func() bool { return b.s.ended() != nil }
	switch level {
	case 0:
		sc := scratches.Get().(*scratch)
		defer scratches.Put(sc)
		if b.kept != nil && len(extra) == 0 && !want.all {
			return b.kept.base
		}
		if b.kept != nil && !want.pairs {
			return (&double{p: b.p, q: b.kept.q, s: sc}).vary(b.kept, extra, want)
		}
		if b.fixed != nil {
			d := b.fixed.with(b.p, extra, sc)
			return d.sweep(d.q.scalar, want)
		}
		q := fill(b.s.net, b.p, b.m, extra, cut, ddOf)
		d := &double{p: b.p, q: q, s: sc}
		return d.sweep(q.scalar, want)
	case 1:
		q := fill(b.s.net, b.p, b.m, extra, cut, ddOf)
		return run(b.p, kernel[*wtable[dd]](&wide[dd]{p: b.p, q: q, of: ddOf, eps: ddEps, ended: want.ended}), q.scalar, want)
	default:
		of := bigOf(uint(precision(level)))
		q := fill(b.s.net, b.p, b.m, extra, cut, of)
		return run(b.p, kernel[*wtable[bigReal]](&wide[bigReal]{p: b.p, q: q, of: of, eps: math.Ldexp(1, 2-precision(level)), ended: want.ended}), q.scalar, want)
	}
}

// allows tells whether the evidence can occur with extra weights.
func (b *problem) allows(extra []weigh) bool {
	state := slices.Clone(b.state)
	var queue []int
	for _, w := range extra {
		if w.node < 0 {
			if w.off == 0 {
				return false
			}
			continue
		}
		if w.off == 0 && !set(state, &queue, w.node, isOn) || w.on == 0 && !set(state, &queue, w.node, isOff) {
			return false
		}
	}
	return b.s.logic.propagate(state, queue)
}

// impossible is an error where extra weights contradict the evidence.
func (b *problem) impossible(extra []weigh) error {
	if b.allows(extra) {
		return nil
	}
	return &ImpossibleError{}
}

// solve runs passes of growing precision until ok accepts one.
func (b *problem) solve(extra []weigh, want request, ok func(r *reply) bool) (*reply, int, error) {
	checked := false
	var low *reply
	for level := 0; level <= lastLevel; level++ {
		if err := b.shallow(level); err != nil {
			return nil, level, err
		}
		r := b.pass(level, extra, want)
		if err := b.s.ended(); err != nil {
			return nil, level, err
		}
		r.trust(low)
		low = r
		if r.zSign < 0 || math.IsInf(r.logZ, -1) || !(r.zErr <= math.Max(tolerance, b.s.rough)) {
			if !checked {
				if err := b.impossible(extra); err != nil {
					return nil, level, err
				}
				checked = true
			}
			continue
		}
		if ok == nil || ok(r) {
			return r, level, nil
		}
	}
	return nil, lastLevel, fmt.Errorf("network: %d bits do not give the answer to 1e-9; the evidence is all but impossible", precision(lastLevel))
}

func (b *problem) method(level int, err float64) Method {
	return Method{
		Variables: b.p.nvars, Width: b.p.width, Cliques: len(b.p.cliques), TableSize: b.p.cost,
		Trees: 1, Conditioned: len(b.p.cut), Precision: precision(level), Error: err, CachedOrder: b.cached,
	}
}

// Solve returns the posterior of every node with evidence below it, of all
// their ancestors and of the nodes in Always.
func (s *Solver) Solve(ev []Likelihood) (*Posterior, error) {
	return s.SolveSubset(ev, s.always())
}

// SolveSubset is Solve with want in place of Always; nodes with evidence below
// and their ancestors come with it.
func (s *Solver) SolveSubset(ev []Likelihood, want []int) (*Posterior, error) {
	b, err := s.load(ev)
	if err != nil {
		return nil, err
	}
	mask, err := s.mask(want)
	if err != nil {
		return nil, err
	}
	plans, cached := b.trees(mask, nil)
	b.cached = cached
	var out *Posterior
	for i, p := range plans {
		b.p = p
		if b.p.work() > s.maxWork() {
			return b.interval()
		}
		q, err := b.posterior(nil, nil)
		if err != nil {
			return nil, err
		}
		if i == 0 {
			out = q
			continue
		}
		out.join(q)
	}
	return out, nil
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

// posterior solves one tree for all marginals, or those of some variables, under
// extra weights if any.
func (b *problem) posterior(extra []weigh, only []bool) (*Posterior, error) {
	out := &Posterior{}
	worst := 0.0
	never := make(map[int]bool) // nodes that cannot be on
	r, level, err := b.solve(extra, request{all: true, only: only}, func(r *reply) bool {
		out.P, out.off, out.rel, worst = b.marginals(r, never, extra, only)
		return worst <= math.Max(tolerance, b.s.rough)
	})
	if err != nil {
		return nil, err
	}
	out.LogEvidence, out.zRel = r.logZ+b.m.logScale, r.zErr
	out.Method = b.method(level, math.Max(worst, r.zErr))
	return out, nil
}

// nextToNone is a probability near the end of float64, of which no digits are
// owed where its error is ten digits below that.
const nextToNone = 1e-250

// share turns sums into P(on) with its relative error; an absolute one of up to
// slack is good enough.
func share(s sums, slack float64) (p, rel float64) {
	v, e := s.total()
	p = s.v[1] / v
	if p < nextToNone && s.e[1]/v < nextToNone*1e-10 {
		return max(p, 0), e / v
	}
	if abs := s.e[1]/v + math.Abs(p)*e/v; v > e && abs <= slack {
		return max(p, 0), e / v
	}
	rel = s.e[1]/s.v[1] + e/v
	if !(v > e) || !(s.v[1] > s.e[1]) {
		rel = inf
	}
	return p, rel
}

// negligible is the absolute error of a probability that is good enough whatever its
// relative error: it moves no answer that is owed to 1e-9.
const negligible = 5e-12

// marginals reads all node probabilities off a reply, with the largest
// relative error. Nodes that cannot be on are exactly zero.
func (b *problem) marginals(r *reply, never map[int]bool, extra []weigh, only []bool) (out, offs, rels []float64, worst float64) {
	p, net := b.p, b.s.net
	out, offs, rels = make([]float64, len(net.Nodes)), make([]float64, len(net.Nodes)), make([]float64, len(net.Nodes))
	for i := range out {
		prob, rel := -1.0, 0.0
		switch p.role[i] {
		case roleOff:
			prob, offs[i] = 0, 1
		case roleOn:
			prob = 1
		case roleNode:
			if v := p.xVar[i]; only == nil || only[v] {
				prob, rel = share(r.vars[v], math.Max(negligible, b.s.rough))
				all, _ := r.vars[v].total()
				offs[i] = math.Max(0, r.vars[v].v[0]/all)
			}
		}
		if !(rel <= math.Max(tolerance, b.s.rough)) {
			if _, asked := never[i]; !asked {
				never[i] = !b.allows(append(extra[:len(extra):len(extra)], weigh{node: i, on: 1}))
			}
			if never[i] {
				prob, rel, offs[i] = 0, 0, 1
			}
		}
		out[i], rels[i] = math.Min(prob, 1), rel
		worst = math.Max(worst, rel)
		if rel != rel {
			worst = inf
		}
	}
	return out, offs, rels, worst
}

// noise is the probability that a node is off, and on, with all its free
// parents off.
func (b *problem) noise(i int) (off, on float64) {
	node := &b.s.net.Nodes[i]
	off, on = 1-node.Leak, node.Leak
	for _, k := range node.Links {
		if b.p.role[k.Parent] == roleOn {
			on += k.Strength * off
			off *= 1 - k.Strength
		}
	}
	return off, on
}
