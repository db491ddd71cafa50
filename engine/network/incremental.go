package network

import (
	"errors"
	"math"
	"slices"
	"sync"

	"slipcase/engine/network/internal/lanes"
)

// ErrWide is what a question past the work bound fails with.
var ErrWide = errors.New("network: past the work bound")

// ErrDeep is what a question fails with that would need higher precision on a tree
// too large for it (Solver.Shallow).
var ErrDeep = errors.New("network: the reports are so unlikely together that higher precision would take too long")

// Incremental is one case on one tree for incremental propagation: it is kept, and likelihoods about a few nodes are
// added in turn: what they do not touch is worked out once. It is safe for
// concurrent use.
type Incremental struct {
	b    *problem
	only []bool // variables of the nodes wanted

	once sync.Once
	kept *kept

	base  sync.Once
	fixed *fixed // what Afresh starts from

	plain sync.Once // log evidence of the case, where nothing is kept
	log   float64
	err   error
}

// kept is the way up of a tree without further likelihoods.
type kept struct {
	q          *numbers[dd]
	belief, up []*ftable
	base       *reply    // of the case by itself, without marginals
	strains    []float64 // by clique
	logZ       float64
}

// Incremental prepares a tree for the evidence, the nodes wanted and the nodes that
// further likelihoods will be about. It fails with ErrWide past the work bound.
func (s *Solver) Incremental(ev []Likelihood, want, touched []int) (*Incremental, error) {
	b, err := s.load(ev)
	if err != nil {
		return nil, err
	}
	must, err := s.mask(append(slices.Clone(want), touched...))
	if err != nil {
		return nil, err
	}
	few, err := s.mask(want)
	if err != nil {
		return nil, err
	}
	// The case without what is touched lends its order. The tree itself is not
	// kept: it serves one case, and the next one has other evidence.
	role := s.roles(b.state, b.has, few)
	plans, _ := s.cache("g"+string(role), func() []*plan {
		return []*plan{newSkeleton(s.net, role).finish(s.effort(), s.width, s.maxWork())}
	})
	if b.p = plans[0]; b.affordable() != nil {
		return nil, ErrWide
	}
	b.p = newSkeleton(s.net, s.roles(b.state, b.has, must)).finishLike(b.p, s.effort(), s.width, s.maxWork())
	if b.affordable() != nil {
		return nil, ErrWide
	}
	return &Incremental{b: b, only: b.p.variables(want)}, nil
}

// variables marks those of some nodes.
func (p *plan) variables(nodes []int) []bool {
	out := make([]bool, p.nvars)
	for _, n := range nodes {
		if v := p.xVar[n]; v >= 0 {
			out[v] = true
		}
	}
	return out
}

// With is the posterior of the nodes wanted, -1 for all others, under the case
// and more likelihoods, about nodes named as touched.
func (g *Incremental) With(more []Likelihood) (*Posterior, error) {
	b := *g.b
	extra, err := g.weighs(more)
	if err != nil {
		return nil, err
	}
	if b.keepable() {
		g.once.Do(func() { g.kept = b.keep() })
		b.kept = g.kept
	}
	return b.posterior(extra, g.only)
}

// Afresh is the posterior of some of the nodes wanted, -1 for all others, under the
// case and more likelihoods: by a pass of its own, for the way up that With keeps
// loses digits where many weights change at once. Only what these nodes hear is
// worked out, and only there is it looked for lost digits; what is granted to a
// probability (Solver.Rough) is therefore asked for, not owed: of evidence of 1e-40 its
// logarithm was 2e-7 off.
func (g *Incremental) Afresh(more []Likelihood, want []int) (*Posterior, error) {
	b := *g.b
	extra, err := g.weighs(more)
	if err != nil {
		return nil, err
	}
	only := b.p.variables(want)
	if !b.keepable() {
		return b.posterior(extra, only)
	}
	g.base.Do(func() { g.fixed = b.fix() })
	b.fixed = g.fixed
	r := b.once(0, extra, request{all: true, only: only, partly: true}, 0)
	if err := b.s.ended(); err != nil {
		return nil, err
	}
	out := &Posterior{}
	worst := inf
	if r.zSign > 0 {
		out.P, out.off, out.rel, worst = b.marginals(r, map[int]bool{}, extra, only)
	}
	if granted := math.Max(tolerance, b.s.rough); !(worst <= granted && r.zErr <= granted) {
		return b.posterior(extra, only)
	}
	out.LogEvidence, out.zRel = r.logZ+b.m.logScale, r.zErr
	out.Method = b.method(0, math.Max(worst, r.zErr))
	return out, nil
}

// Has tells whether a node is in the tree, or its state is settled: likelihoods
// may be about it then.
func (g *Incremental) Has(node int) bool { return g.b.p.role[node] != roleOut }

// Off tells whether a node is known to be off.
func (g *Incremental) Off(node int) bool { return g.b.p.role[node] == roleOff }

// Posterior is that of the case without more likelihoods: of every node in the
// tree, -1 for all others.
func (g *Incremental) Posterior() (*Posterior, error) {
	b := *g.b
	return b.posterior(nil, nil)
}

// jointError is the absolute error that Joint and Chance grant, beside a
// probability of one.
const jointError = 1e-9

// Joint is P(more | case) and, along want (nodes wanted of it), P(node on
// and more | case). An error of 1e-9 absolutely is granted, by estimate (or what a rough
// solver grants) where every likelihood is at most one. What is impossible has probability 0.
func (g *Incremental) Joint(more []Likelihood, want []int) (p float64, joint []float64, err error) {
	joint = make([]float64, len(want))
	r, extra, err := g.quick(more, request{all: true, only: g.only, blind: true})
	if err != nil {
		return 0, nil, err
	}
	if r != nil {
		if p = math.Exp(r.logZ - g.kept.logZ); r.zSign < 0 || p == 0 {
			return 0, joint, nil
		}
		for i, n := range want {
			switch v := g.b.p.xVar[n]; {
			case v >= 0:
				all, _ := r.vars[v].total()
				joint[i] = p * math.Max(0, math.Min(1, r.vars[v].v[1]/all))
			case g.b.p.role[n] == roleOn:
				joint[i] = p
			}
		}
		return p, joint, nil
	}
	b := *g.b
	g.plain.Do(func() {
		post, err := b.posterior(nil, g.only)
		if g.err = err; err == nil {
			g.log = post.LogEvidence
		}
	})
	if g.err != nil {
		return 0, nil, g.err
	}
	post, err := b.posterior(extra, g.only)
	var never *ImpossibleError
	if errors.As(err, &never) {
		return 0, joint, nil
	}
	if err != nil {
		return 0, nil, err
	}
	p = math.Exp(post.LogEvidence - g.log)
	for i, n := range want {
		joint[i] = p * post.P[n]
	}
	return p, joint, nil
}

// Chance is P(more | case), as Joint has it.
func (g *Incremental) Chance(more []Likelihood) (float64, error) {
	r, _, err := g.quick(more, request{blind: true})
	if err != nil {
		return 0, err
	}
	if r == nil {
		p, _, err := g.Joint(more, nil)
		return p, err
	}
	if r.zSign < 0 {
		return 0, nil
	}
	return math.Exp(r.logZ - g.kept.logZ), nil
}

// quick is one float64 pass on the way up that is kept, nil where that is not
// good enough.
func (g *Incremental) quick(more []Likelihood, want request) (*reply, []weigh, error) {
	extra, err := g.weighs(more)
	if err != nil {
		return nil, nil, err
	}
	b := *g.b
	if !b.keepable() {
		return nil, extra, nil
	}
	g.once.Do(func() { g.kept = b.keep() })
	if err := b.s.ended(); err != nil || !g.Quick() {
		return nil, extra, err
	}
	sc := scratches.Get().(*scratch)
	defer scratches.Put(sc)
	want.ended = func() bool { return b.s.ended() != nil }
	r := (&double{p: b.p, q: g.kept.q, s: sc}).vary(g.kept, extra, want)
	return r, extra, b.s.ended()
}

// Quick tells whether Joint and Chance are one float64 pass; else they need higher
// precision, or a tree too large to keep.
func (g *Incremental) Quick() bool {
	if !g.b.keepable() {
		return false
	}
	g.once.Do(func() { g.kept = g.b.keep() })
	all := 0.0
	for _, x := range g.kept.strains {
		all += x
	}
	// See vary for the factor; numerator and evidence are off.
	return 2*regrown*rounding*all <= math.Max(jointError, g.b.s.rough)
}

// weighs are likelihoods as weights on the tree.
func (g *Incremental) weighs(more []Likelihood) ([]weigh, error) {
	role := g.b.p.role
	var extra []weigh
	for _, l := range more {
		if l.Node < 0 || l.Node >= len(role) || role[l.Node] == roleOut {
			return nil, errNoNode(l.Node, len(role))
		}
		if l.On != l.Off {
			extra = append(extra, weigh{l.Node, l.Off, l.On})
		} else {
			extra = append(extra, weigh{-1, l.Off, l.On})
		}
	}
	return extra, nil
}

// Free gives its memory back, for the next one. It must not
// be in use then; it may be used again.
func (g *Incremental) Free() {
	if g.kept == nil {
		return
	}
	sc := scratches.Get().(*scratch)
	defer scratches.Put(sc)
	d := &double{s: sc}
	for _, list := range [][]*ftable{g.kept.belief, g.kept.up} {
		for _, t := range list {
			if t != nil {
				d.release(t)
			}
		}
	}
	g.kept, g.once = nil, sync.Once{}
}

// Entries is the size of the tree, in table entries.
func (g *Incremental) Entries() float64 { return g.b.p.cost }

// keepable tells whether the tree is small enough, and whole.
func (b *problem) keepable() bool { return len(b.p.cut) == 0 && b.p.cost <= keepTables }

// hold keeps the way up for the questions to come about the same tree.
func (b *problem) hold() {
	if b.keepable() {
		b.kept = b.keep()
	}
}

// fixed are the numbers of a case, and the product of each clique's own factors,
// without further likelihoods. They are shared: nobody changes them.
type fixed struct {
	q          *numbers[dd]
	potentials []*ftable
}

// fix works them out.
func (b *problem) fix() *fixed {
	f := &fixed{q: fill(b.s.net, b.p, b.m, nil, 0, ddOf), potentials: make([]*ftable, len(b.p.cliques))}
	sc := scratches.Get().(*scratch)
	defer scratches.Put(sc)
	d := &double{p: b.p, q: f.q, s: sc}
	for c := range f.potentials {
		f.potentials[c] = d.potential(c)
	}
	return f
}

// with is a kernel for the same with extra weights: what they do not touch is taken
// from there.
func (f *fixed) with(p *plan, extra []weigh, s *scratch) *double {
	q := *f.q
	q.unary = slices.Clone(q.unary)
	q.weigh(p, extra, ddOf)
	d := &double{p: p, q: &q, s: s, potentials: f.potentials, touched: make([]bool, len(p.cliques))}
	for _, w := range extra {
		if w.node >= 0 && p.xVar[w.node] >= 0 {
			d.touched[p.home[p.xVar[w.node]]] = true
		}
	}
	return d
}

// keep makes the way up without further likelihoods.
func (b *problem) keep() *kept {
	q := fill(b.s.net, b.p, b.m, nil, 0, ddOf)
	sc := scratches.Get().(*scratch)
	defer scratches.Put(sc)
	d := &double{p: b.p, q: q, s: sc}
	k := &kept{q: q, belief: make([]*ftable, len(b.p.cliques)), up: make([]*ftable, len(b.p.cliques))}
	ended := request{ended: func() bool { return b.s.ended() != nil }}
	d.ascend(newReply(b.p, q.scalar, request{}), k.belief, k.up, ended, true)
	r := d.vary(k, nil, request{feel: true, ended: ended.ended})
	k.base, k.strains, k.logZ = r, r.strains, r.logZ
	return k
}

// regrown is how much larger an entry may become by weights of at most one: they
// take terms of one sign away from it, or leave what the other sign had taken
// away.
const regrown = 3

// vary is sweep for the numbers kept and extra weights on a few variables. Only
// the cliques that hold these, and those above, are worked out again on the way
// up.
func (d *double) vary(k *kept, extra []weigh, want request) *reply {
	p := d.p
	scalar := k.q.scalar
	most := k.logZ // of the evidence, by the larger weights
	weights := make(map[int][2]float64)
	for _, w := range extra {
		switch {
		case w.node < 0 || p.role[w.node] == roleOff:
			scalar += math.Log(w.off)
			most += math.Log(w.off)
		case p.role[w.node] == roleOn:
			scalar += math.Log(w.on)
			most += math.Log(w.on)
		default:
			most += math.Log(max(w.off, w.on))
			v := p.xVar[w.node]
			x, ok := weights[v]
			if !ok {
				x = [2]float64{1, 1}
			}
			weights[v] = [2]float64{x[0] * w.off, x[1] * w.on}
		}
	}
	r := newReply(p, scalar, want)
	n := len(p.cliques)
	belief, up, down := make([]*ftable, n), make([]*ftable, n), make([]*ftable, n)
	fresh := make([]bool, n) // belief and up are this pass's own
	defer func() {
		for c := range n {
			for _, t := range []*ftable{belief[c], up[c]} {
				if fresh[c] && t != nil && t.c != nil {
					d.release(t)
				}
			}
			if t := down[c]; t != nil && t.c != nil {
				d.release(t)
			}
		}
	}()
	for v := range weights {
		for c := p.home[v]; c >= 0 && !fresh[c]; c = p.cliques[c].parent {
			fresh[c] = true
		}
	}
	for c := n - 1; c >= 0; c-- {
		if want.over(r) {
			return r
		}
		q := &p.cliques[c]
		if !fresh[c] {
			belief[c], up[c] = k.belief[c], k.up[c]
		} else {
			belief[c] = d.again(k, c, fresh, up)
			for _, j := range q.unary {
				if w, ok := weights[q.vars[j]]; ok {
					d.weigh(belief[c], j, w)
				}
			}
			if q.parent >= 0 {
				up[c] = d.sumOut(belief[c], lowest[:q.sep])
				d.rescale(up[c], q.dead)
			}
		}
		if q.parent < 0 {
			m := d.sumOut(belief[c], nil)
			d.rescale(m, nil)
			r.root(d.total(m))
			r.scale(m.exp)
			d.release(m)
		}
	}
	r.strains = make([]float64, n)
	if !want.all && !want.feel || r.zSign < 0 {
		r.unknown()
		return r
	}
	needed := p.needed(want)
	for c := range p.cliques {
		if !needed[c] {
			continue
		}
		if want.over(r) {
			return r
		}
		q, t := &p.cliques[c], belief[c]
		if q.parent >= 0 && want.blind && !want.holds(p, c) {
			d.toChildren(c, t, down[c], up, down, needed, weights)
			continue
		}
		if q.parent >= 0 {
			if fresh[c] {
				d.timesDown(t, down[c])
			} else {
				whole := &ftable{c: d.s.get(len(q.vars)), exp: t.exp + down[c].exp}
				lanes.Rows(whole.c, t.c, down[c].c)
				t = whole
			}
		}
		d.toChildren(c, t, nil, up, down, needed, weights)
		size := 0.0
		if !want.blind {
			var sum float64
			sum, size = sized(t.c)
			r.feel(c, sum, size)
		}
		if want.holds(p, c) {
			d.readSome(r, c, t, want, size)
		}
		if t != k.belief[c] {
			d.release(t)
		}
	}
	if want.blind {
		return r
	}
	for c := range r.strains {
		if !needed[c] {
			r.strains[c] = regrown * k.strains[c] * math.Max(1, math.Exp(most-r.logZ))
		}
	}
	r.settle()
	return r
}

// again is the product of a clique's own factors, without further weights, and
// of its children's messages, some of which are new.
func (d *double) again(k *kept, c int, fresh []bool, up []*ftable) *ftable {
	q := &d.p.cliques[c]
	for _, ch := range q.children {
		if fresh[ch] && k.up[ch].low < smallest {
			return d.product(c, up, -1)
		}
	}
	var t *ftable
	for i := range q.groups {
		g := &q.groups[i]
		var all *ftable // of the ratios of new messages to old ones
		for j := range g.kids {
			kid := &g.kids[j]
			if !fresh[kid.child] {
				continue
			}
			was, now := k.up[kid.child], up[kid.child]
			m := &ftable{c: d.s.get(log2(len(now.c))), exp: now.exp - was.exp}
			for x := range m.c {
				if was.c[x] == 0 { // dead
					m.c[x] = 0
					continue
				}
				m.c[x] = now.c[x] / was.c[x]
			}
			if all == nil && len(m.c) == 1<<len(g.bits) {
				all = m
				continue
			}
			if all == nil {
				all = &ftable{c: d.s.get(len(g.bits))}
				for x := range all.c {
					all.c[x] = 1
				}
			}
			d.timesUp(all, m, &kid.at)
			d.release(m)
		}
		if all != nil && t == nil {
			t = d.timesFrom(k.belief[c], all, &g.up)
			d.release(all)
		} else if all != nil {
			d.timesUp(t, all, &g.up)
			d.release(all)
		}
	}
	if t == nil {
		t = d.clone(k.belief[c])
	}
	return t
}

// timesFrom is a new table, another one multiplied as by timesUp.
func (d *double) timesFrom(t, msg *ftable, g *gather) *ftable {
	out := &ftable{c: d.s.get(log2(len(t.c))), exp: t.exp + msg.exp}
	d.times(out.c, t.c, msg.c, g)
	return out
}

// weigh multiplies a table by a weight on one of its variables.
func (d *double) weigh(t *ftable, bit int, w [2]float64) {
	s := 1 << bit
	if s <= 8 {
		var row [16]float64
		for x := range 2 * s {
			row[x] = w[x/s]
		}
		lanes.Rows(t.c, t.c, row[:2*s])
		return
	}
	for half, x := range w {
		for at := half * s; at < len(t.c); at += 2 * s {
			scaled(t.c[at:at+s], x)
		}
	}
}

// readSome reads the sums of a few variables off the belief of a clique, which
// is kept.
func (d *double) readSome(r *reply, c int, t *ftable, want request, size float64) {
	q := &d.p.cliques[c]
	asked := make([]int, 0, len(q.unary))
	for _, b := range q.unary {
		if want.only == nil || want.only[q.vars[b]] {
			asked = append(asked, b)
		}
	}
	if len(asked) > 3 { // halving brings them all for some three
		m := d.marginals(d.clone(t), len(q.vars))
		for _, b := range asked {
			r.vars[q.vars[b]] = m[b]
		}
		return
	}
	for _, b := range asked {
		v := q.vars[b]
		s := 1 << b
		var part [2]float64
		for at := 0; at < len(t.c); at += 2 * s {
			for half := range 2 {
				part[half] += lanes.Sum(t.c[at+half*s : at+half*s+s])
			}
		}
		r.vars[v] = sums{v: part, e: [2]float64{rounding * size, rounding * size}}
	}
}
