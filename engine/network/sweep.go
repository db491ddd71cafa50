package network

import "math"

// keepTables bounds the entries that a pass keeps at a time: some 32 MiB. What
// is larger is worked out twice instead, see run.
const keepTables = 1 << 21

// smallest is the entry of a message, beside a largest of one, below which it
// is not divided by: what is a product with it may have lost digits to
// underflow.
const smallest = 0x1p-200

// sweep is run with float64 tables that are kept on the way up. On the way down
// the message to a child is the sum over its parent's belief, divided by what
// the child had sent: entry by entry the product of all others, for the
// rounding of what was sent is in both. Where an entry that was sent is zero,
// or nearly so, the product is made without the child instead.
func (d *double) sweep(scalar float64, want request) *reply {
	p := d.p
	r := newReply(p, scalar, want)
	belief, up := make([]*ftable, len(p.cliques)), make([]*ftable, len(p.cliques))
	down := make([]*ftable, len(p.cliques))
	defer func() {
		for _, list := range [][]*ftable{belief, up, down} {
			for _, t := range list {
				if t != nil && t.c != nil {
					d.release(t)
				}
			}
		}
	}()
	d.ascend(r, belief, up, want)
	r.strains = make([]float64, len(p.cliques))
	if !want.all && !want.feel || r.zSign < 0 {
		r.unknown()
		return r
	}
	want.feel = !want.partly // every clique is heard
	needed := p.needed(want)
	for c := range p.cliques {
		if !needed[c] {
			continue
		}
		if want.over(r) {
			return r
		}
		q, t := &p.cliques[c], belief[c]
		if q.parent >= 0 {
			d.timesDown(t, down[c])
		}
		d.toChildren(c, t, nil, up, down, needed, nil)
		if want.holds(p, c) {
			read[*ftable](r, p, c, d, t, want)
		} else {
			sum, size := sized(t.c)
			r.feel(c, sum, size)
			d.release(t)
		}
	}
	r.settle()
	return r
}

// ascend makes the beliefs and messages of the way up.
func (d *double) ascend(r *reply, belief, up []*ftable, want request) {
	p := d.p
	for c := len(p.cliques) - 1; c >= 0; c-- {
		if want.over(r) {
			return
		}
		q := &p.cliques[c]
		t := d.product(c, up, -1)
		belief[c] = t
		if q.parent >= 0 {
			up[c] = d.sumOut(t, lowest[:q.sep])
			d.rescale(up[c], q.dead)
			continue
		}
		m := d.sumOut(t, nil)
		d.rescale(m, nil)
		r.root(d.total(m))
		r.scale(m.exp)
		d.release(m)
	}
}

// lowest is the positions of the lowest bits.
var lowest = func() (bits [64]int) {
	for i := range bits {
		bits[i] = i
	}
	return bits
}()

// sumOut sums out what is not in keep (ascending bit positions) into a table
// of its own, not rescaled.
func (d *double) sumOut(t *ftable, keep []int) *ftable {
	k := log2(len(t.c))
	out := &ftable{c: d.s.get(len(keep)), exp: t.exp}
	if len(keep) == k {
		copy(out.c, t.c)
		return out
	}
	// The first bit to go is the highest: half of the table is read into spare
	// room, the rest happens there.
	next, b := len(keep)-1, k-1
	for next >= 0 && keep[next] == b {
		next--
		b--
	}
	room := d.s.get(k - 1)
	c := room
	for at, o, s := 0, 0, 1<<b; at < len(t.c); at, o = at+2*s, o+s {
		lo, hi, to := t.c[at:at+s:at+s], t.c[at+s:at+2*s:at+2*s], c[o:o+s:o+s]
		for x := range to {
			to[x] = lo[x] + hi[x]
		}
	}
	for b--; b >= 0; b-- {
		if next >= 0 && keep[next] == b {
			next--
			continue
		}
		c = foldBit(c, b)
	}
	copy(out.c, c)
	d.s.cells[k-1] = append(d.s.cells[k-1], room)
	return out
}

// sumOutBy is sumOut of a table times a row over its lowest variables, nil for none.
func (d *double) sumOutBy(t, by *ftable, keep []int) *ftable {
	if by == nil {
		return d.sumOut(t, keep)
	}
	k := log2(len(t.c))
	out := &ftable{c: d.s.get(len(keep)), exp: t.exp + by.exp}
	r := by.c
	if len(keep) == k {
		spreadRow(out.c, t.c, r)
		return out
	}
	next, b := len(keep)-1, k-1
	for next >= 0 && keep[next] == b {
		next--
		b--
	}
	room := d.s.get(k - 1)
	c := room
	for at, o, s := 0, 0, 1<<b; at < len(t.c); at, o = at+2*s, o+s {
		lo, hi, to := t.c[at:at+s:at+s], t.c[at+s:at+2*s:at+2*s], c[o:o+s:o+s]
		if s >= len(r) { // the row does not depend on the variable that goes
			for x := 0; x < s; x += len(r) {
				l, h, w := lo[x:x+len(r)], hi[x:x+len(r)], to[x:x+len(r)]
				for y := range r {
					w[y] = (l[y] + h[y]) * r[y]
				}
			}
			continue
		}
		i := at & (len(r) - 1)
		p, q := r[i:i+s:i+s], r[i+s:i+2*s:i+2*s]
		for x := range to {
			// The conversions keep products and sum apart on every processor.
			to[x] = float64(lo[x]*p[x]) + float64(hi[x]*q[x])
		}
	}
	for b--; b >= 0; b-- {
		if next >= 0 && keep[next] == b {
			next--
			continue
		}
		c = foldBit(c, b)
	}
	copy(out.c, c)
	d.s.cells[k-1] = append(d.s.cells[k-1], room)
	return out
}

// rescale brings the largest entry of a message near one. Entries that are dead do
// not count as small.
func (d *double) rescale(t *ftable, dead []state) {
	top, low := 0.0, inf
	for x := range t.c {
		v := math.Abs(t.c[x])
		if v > top {
			top = v
		}
		if v < low && !(v == 0 && in(x, dead)) {
			low = v
		}
	}
	_, e := math.Frexp(top) // 0 for zero and infinity
	if e > 1000 || e < -1000 {
		e = 0
	}
	f := math.Ldexp(1, -e)
	t.exp += e
	t.low = low * f
	scaled(t.c, f)
}
