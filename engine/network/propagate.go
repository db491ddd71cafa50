package network

import "math"

// request says what a pass over the tree has to bring back.
type request struct {
	all    bool   // marginals of every variable, not only the evidence
	only   []bool // with all: restricts it to these variables; nil for every one
	ended  func() bool
	feel   bool // the error, of float64 too, without marginals
	blind  bool // on a way up that is kept: the error does not matter
	partly bool // the error of the cliques alone that what is asked for hears from
	pairs  bool // for each link with an auxiliary variable, sums of the parent at a = 0
}

// reply is what a pass brings back.
type reply struct {
	logZ   float64         // log evidence from the tree and its scalars
	zErr   float64         // estimate of its relative error (of the evidence itself)
	zSign  float64         // the evidence on its own scale; not above zErr means unknown
	zTop   float64         // log of the evidence's size with its estimated error added
	vars   []sums          // by variable
	links  map[[2]int]part // {node, link}: over the parent's state, within a = 0
	onWith map[int]part    // node without auxiliary variable: over its parent's state, within node on

	strains []float64 // by clique, 0 where it is not known; nil but in float64
}

// feel takes in the strain of a clique's belief.
func (r *reply) feel(c int, sum, size float64) {
	if r.strains != nil {
		r.strains[c] = strain(sum, size)
	}
}

// unknown says of a float64 pass upward only that it does not know its error.
func (r *reply) unknown() {
	if r.strains != nil {
		r.zErr = inf
	}
}

// settle makes errors of the strains: that of the evidence, which every sum
// carries beside its own.
func (r *reply) settle() {
	all := 0.0
	for _, x := range r.strains {
		all += x
	}
	if r.zErr = rounding * all; !(r.zErr >= 0) {
		r.zErr = inf
	}
	carry := func(s *sums) {
		for x := range s.e {
			if s.e[x] += r.zErr * math.Abs(s.v[x]); s.e[x] != s.e[x] {
				s.e[x] = inf
			}
		}
	}
	for v := range r.vars {
		carry(&r.vars[v])
	}
	for id, s := range r.links {
		carry(&s.sums)
		r.links[id] = s
	}
	for id, s := range r.onWith {
		carry(&s.sums)
		r.onWith[id] = s
	}
}

// part is a sum within a clique with the clique's total on the same scale.
type part struct {
	sums
	all float64
}

// share is one state's part of the total; the second value is its absolute
// error.
func (p part) share(state int) (v, e float64) { return p.v[state] / p.all, p.e[state] / p.all }

func newReply(p *plan, scalar float64, want request) *reply {
	r := &reply{logZ: scalar, zSign: 1, zTop: scalar}
	if want.all {
		r.vars = make([]sums, p.nvars)
	}
	if want.pairs {
		r.links = make(map[[2]int]part)
		r.onWith = make(map[int]part)
	}
	return r
}

// root takes in the total of one tree of the forest; scale follows with its
// exponent.
func (r *reply) root(v, e float64) {
	r.logZ += math.Log(math.Abs(v))
	r.zTop += math.Log(math.Abs(v) + e)
	if v > 0 {
		r.zErr += e / v
	} else {
		r.zSign = -1
	}
}

func (r *reply) scale(exponent int) {
	r.logZ += float64(exponent) * math.Ln2
	r.zTop += float64(exponent) * math.Ln2
}

// over tells whether nobody waits for the reply any more, and spoils it then.
func (w request) over(r *reply) bool {
	if w.ended == nil || !w.ended() {
		return false
	}
	r.zSign = -1
	return true
}

// holds tells whether something asked for is read off a clique.
func (w request) holds(p *plan, c int) bool {
	q := &p.cliques[c]
	if !w.all {
		return false
	}
	if w.pairs && len(q.edges)+len(q.pairs) > 0 {
		return true
	}
	for _, b := range q.unary { // the variables that have their home here
		if w.only == nil || w.only[q.vars[b]] {
			return true
		}
	}
	return false
}

// needed tells which cliques have to hear from above: those that hold something
// asked for, and those on the way to them.
func (p *plan) needed(w request) []bool {
	out := make([]bool, len(p.cliques))
	if w.feel {
		for c := range out {
			out[c] = true
		}
		return out
	}
	for c := len(p.cliques) - 1; c >= 0; c-- {
		out[c] = out[c] || w.holds(p, c)
		if up := p.cliques[c].parent; up >= 0 && out[c] {
			out[up] = true
		}
	}
	return out
}

// read reads what was asked for off the belief of a clique, which it consumes.
func read[M any](r *reply, p *plan, c int, k reader[M], t M, want request) {
	q := &p.cliques[c]
	var cut map[int][]sums
	if want.pairs {
		cut = givens(p, k, q, t)
	}
	m := k.marginals(t, len(q.vars))
	if sum, size := m[0].total(); r.strains != nil {
		r.feel(c, sum, size/(2*rounding))
	}
	if want.pairs {
		all, _ := m[0].total()
		for _, e := range q.edges {
			r.links[[2]int{e.node, e.link}] = part{cut[e.aux][e.par], all}
		}
		for _, e := range q.pairs {
			if p.auxVar[e.node] < 0 {
				r.onWith[e.node] = part{cut[e.x][e.y], all}
			}
		}
	}
	for _, b := range q.unary {
		r.vars[q.vars[b]] = m[b]
	}
}

// run sends messages to the root and, if asked, back, in more digits than float64 has;
// see double.sweep for that.
func run[M any](p *plan, k kernel[M], scalar float64, want request) *reply {
	r := newReply(p, scalar, want)
	up := make([]M, len(p.cliques))
	none := []int{}
	for c := len(p.cliques) - 1; c >= 0; c-- {
		if want.over(r) {
			return r
		}
		t := k.potential(c)
		for _, ch := range p.cliques[c].children {
			k.timesUp(t, up[ch], &p.cliques[ch].up)
		}
		if p.cliques[c].parent >= 0 {
			up[c] = k.fold(t, lowest[:p.cliques[c].sep])
			continue
		}
		m := k.fold(t, none)
		r.root(k.total(m))
		r.scale(k.exponent(m))
		k.release(m)
	}
	if !want.all || r.zSign < 0 {
		giveBack(p, k, up)
		return r
	}
	down := make([]M, len(p.cliques))
	for c := range p.cliques {
		if want.over(r) {
			return r
		}
		q := &p.cliques[c]
		t := k.potential(c)
		if q.parent >= 0 {
			k.timesDown(t, down[c])
			k.release(down[c])
		}
		// Split the children in halves, so that each message is the
		// product of all others without any division.
		var spread func(t M, kids []int)
		spread = func(t M, kids []int) {
			if len(kids) == 1 {
				down[kids[0]] = k.fold(t, p.cliques[kids[0]].up.bits)
				return
			}
			h := len(kids) / 2
			left := k.clone(t)
			for _, ch := range kids[h:] {
				k.timesUp(left, up[ch], &p.cliques[ch].up)
			}
			spread(left, kids[:h])
			for _, ch := range kids[:h] {
				k.timesUp(t, up[ch], &p.cliques[ch].up)
			}
			spread(t, kids[h:])
		}
		own := want.holds(p, c)
		if len(q.children) > 0 {
			if own {
				spread(k.clone(t), q.children)
			} else {
				spread(t, q.children)
				continue
			}
		}
		if !own {
			k.release(t)
			continue
		}
		for _, ch := range q.children {
			k.timesUp(t, up[ch], &p.cliques[ch].up)
		}
		read(r, p, c, k, t, want)
	}
	giveBack(p, k, up)
	return r
}

// giveBack releases the messages of a pass, which every clique but the roots sent.
func giveBack[M any](p *plan, k kernel[M], up []M) {
	for c, q := range p.cliques {
		if q.parent >= 0 {
			k.release(up[c])
		}
	}
}

// trust replaces error estimates of a reply by what agreement with a run of
// lower precision shows: where the two differ by less than a thousandth, the
// digits that cancel are at most those that the lower precision had beyond
// that, and the higher one has some 50 bits more. The sum over all roundings is kept
// where it is good enough, or where the runs differ.
func (r *reply) trust(low *reply) {
	if low == nil || low.zSign < 0 || r.zSign < 0 {
		return
	}
	const near, gain = 1e-3, 0x1p-40
	if d := math.Abs(r.logZ - low.logZ); r.zErr > tolerance && d < near {
		r.zErr = gain * d
	}
	// agree compares a part of a total.
	agree := func(v, total, lowV, lowTotal float64) (float64, bool) {
		a, b := v/total, lowV/lowTotal
		d := math.Abs(a-b) / math.Abs(a)
		return d * gain, d < near && a > 0
	}
	settle := func(s, low *sums, total, lowTotal float64) {
		for x := range 2 {
			if d, ok := agree(s.v[x], total, low.v[x], lowTotal); ok {
				s.e[x] = math.Min(s.e[x], d*s.v[x])
			}
		}
	}
	for i := range r.vars {
		s, l := &r.vars[i], &low.vars[i]
		t, _ := s.total()
		u, _ := l.total()
		settle(s, l, t, u)
	}
	for id, s := range r.links {
		l := low.links[id]
		settle(&s.sums, &l.sums, s.all, l.all)
		r.links[id] = s
	}
	for id, s := range r.onWith {
		l := low.onWith[id]
		settle(&s.sums, &l.sums, s.all, l.all)
		r.onWith[id] = s
	}
}

// sum adds up runs under different conditions; top is their largest log
// evidence.
func (p *plan) sum(runs []*reply, cuts []int, top float64) *reply {
	out := &reply{zSign: 1}
	all := 0.0
	for _, r := range runs {
		all += math.Exp(r.logZ - top)
	}
	out.logZ = top + math.Log(all)
	if runs[0].vars != nil {
		out.vars = make([]sums, p.nvars)
	}
	if runs[0].links != nil {
		out.links = make(map[[2]int]part)
		out.onWith = make(map[int]part)
	}
	for i, r := range runs {
		w := math.Exp(r.logZ-top) / all
		out.zErr += w * r.zErr
		into := func(s *sums, from sums, total float64) {
			for x := range 2 {
				v := from.v[x] / total * w
				s.v[x] += v
				s.e[x] += from.e[x]/total*w + math.Abs(v)*r.zErr
			}
		}
		for v := range out.vars {
			if at := p.cutAt[v]; at >= 0 {
				var s sums
				s.v[cuts[i]>>at&1] = 1
				into(&out.vars[v], s, 1)
				continue
			}
			total, _ := r.vars[v].total()
			into(&out.vars[v], r.vars[v], total)
		}
		if out.links == nil {
			continue
		}
		for id, f := range r.links {
			g := out.links[id]
			into(&g.sums, f.sums, f.all)
			g.all = 1
			out.links[id] = g
		}
		for id, f := range r.onWith {
			g := out.onWith[id]
			into(&g.sums, f.sums, f.all)
			g.all = 1
			out.onWith[id] = g
		}
		for _, e := range p.cutEdges {
			// Within a = 0 the parent's state is the condition's.
			id := [2]int{e.node, e.link}
			v := r.vars[e.aux]
			total, _ := v.total()
			var s sums
			s.v[cuts[i]>>e.cut&1] = v.v[0]
			s.e[cuts[i]>>e.cut&1] = v.e[0]
			g := out.links[id]
			into(&g.sums, s, total)
			g.all = 1
			out.links[id] = g
		}
		for _, e := range p.cutPairs {
			if p.auxVar[e.node] >= 0 {
				continue
			}
			// Joint of node on and its only parent.
			x, y := p.cutAt[e.x], p.cutAt[e.y]
			var s sums
			total := 1.0
			switch {
			case x >= 0 && y >= 0:
				s.v[cuts[i]>>y&1] = float64(cuts[i] >> x & 1)
			case x >= 0:
				if cuts[i]>>x&1 == 1 {
					s = r.vars[e.y]
				}
				total, _ = r.vars[e.y].total()
			default:
				v := r.vars[e.x]
				s.v[cuts[i]>>y&1], s.e[cuts[i]>>y&1] = v.v[1], v.e[1]
				total, _ = v.total()
			}
			g := out.onWith[e.node]
			into(&g.sums, s, total)
			g.all = 1
			out.onWith[e.node] = g
		}
	}
	return out
}

// givens returns the sums of every variable within a = 0 for each auxiliary
// variable a with links in the clique, and within "on" for each node that has
// a factor with its only parent there.
func givens[M any](p *plan, k reader[M], q *clique, t M) map[int][]sums {
	done := make(map[int][]sums)
	for _, e := range q.edges {
		if _, ok := done[e.aux]; !ok {
			done[e.aux] = k.given(t, len(q.vars), e.aux, 0)
		}
	}
	for _, e := range q.pairs {
		if p.auxVar[e.node] < 0 {
			done[e.x] = k.given(t, len(q.vars), e.x, 1)
		}
	}
	return done
}
