package network

import (
	"math"

	"slipcase/engine/network/internal/lanes"
)

// keepTables bounds the entries that a pass keeps at a time: 16 MiB. The tables of a
// larger tree are worked out again on the way down.
const keepTables = 1 << 21

// smallest is the entry of a message, beside a largest of one, below which it
// is not divided by: what is a product with it may have lost digits to
// underflow.
const smallest = 0x1p-200

// sweep is run with float64 tables. On the way down the message to a child is the sum
// over its parent's belief, divided by what the child had sent: entry by entry the
// product of all others, for the rounding of what was sent is in both. Where an entry
// that was sent is zero, or nearly so, the product is made without the child instead.
func (d *double) sweep(scalar float64, want request) *reply {
	return d.upAndDown(scalar, want, d.p.cost <= keepTables)
}

// upAndDown is sweep; keep says whether the beliefs of the way up are kept for the way
// down, or worked out again.
func (d *double) upAndDown(scalar float64, want request, keep bool) *reply {
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
	d.ascend(r, belief, up, want, keep)
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
		if t == nil {
			t = d.product(c, up, -1)
			belief[c] = t
		}
		if q.parent >= 0 {
			d.timesDown(t, down[c])
		}
		d.toChildren(c, t, nil, up, down, needed, nil)
		if want.holds(p, c) {
			read(r, p, c, reader[*ftable](d), t, want)
		} else {
			sum, size := sized(t.c)
			r.feel(c, sum, size)
			d.release(t)
		}
	}
	r.settle()
	return r
}

// ascend makes the messages of the way up, and the beliefs where these are kept.
func (d *double) ascend(r *reply, belief, up []*ftable, want request, keep bool) {
	p := d.p
	for c := len(p.cliques) - 1; c >= 0; c-- {
		if want.over(r) {
			return
		}
		q := &p.cliques[c]
		t := d.product(c, up, -1)
		if belief[c] = t; !keep {
			belief[c] = nil
		}
		if q.parent >= 0 {
			up[c] = d.sumOut(t, lowest[:q.sep])
			d.rescale(up[c], q.dead)
			if !keep {
				d.release(t)
			}
			continue
		}
		m := d.sumOut(t, nil)
		if !keep {
			d.release(t)
		}
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
func (d *double) sumOut(t *ftable, keep []int) *ftable { return d.sumOutBy(t, nil, keep) }

// sumOutBy is sumOut of a table times a row over its lowest variables, nil for none.
func (d *double) sumOutBy(t, by *ftable, keep []int) *ftable {
	out := &ftable{c: d.s.get(len(keep)), exp: t.exp}
	var row []float64
	if by != nil {
		row = by.c
		out.exp += by.exp
	}
	mask := 0
	for _, b := range keep {
		mask |= 1 << b
	}
	d.collect(out.c, t.c, row, mask)
	return out
}

// nearby is the log2 of the entries that are summed out in a room of their own, which
// the processor keeps at hand.
const nearby = 11

// collect sums the bits of c that are not in keep out into out, the parts of a large
// table one after the other, so that it is read once. by is a row to multiply by, which
// repeats; nil for ones.
func (d *double) collect(out, c, by []float64, keep int) {
	if len(out) == len(c) {
		if by == nil {
			copy(out, c)
		} else {
			lanes.Rows(out, c, by)
		}
		return
	}
	if len(c) > 1<<nearby {
		h := len(c) / 2
		low, high := by, by
		if len(by) > h {
			low, high = by[:h], by[h:]
		}
		switch {
		case keep&h != 0:
			d.collect(out[:len(out)/2], c[:h], low, keep)
			d.collect(out[len(out)/2:], c[h:], high, keep)
		case len(out) == h && by == nil:
			lanes.Add(out, c[:h], c[h:])
		default:
			k := log2(len(out))
			also := d.s.get(k)
			d.collect(out, c[:h], low, keep)
			d.collect(also, c[h:], high, keep)
			lanes.Add(out, out, also)
			d.s.cells[k] = append(d.s.cells[k], also)
		}
		return
	}
	room := d.s.get(nearby)
	if by != nil {
		lanes.Rows(room[:len(c)], c, by)
		c = room[:len(c)]
	}
	for b := len(c) / 2; ; b /= 2 {
		if keep&b != 0 {
			continue
		}
		if len(c) == 2*len(out) {
			lanes.Fold(out, c, b)
			break
		}
		lanes.Fold(room[:len(c)/2], c, b)
		c = room[:len(c)/2]
	}
	d.s.cells[nearby] = append(d.s.cells[nearby], room)
}

// rescale brings the largest entry of a message near one. Entries that are dead do
// not count as small.
func (d *double) rescale(t *ftable, dead []state) {
	top, low := lanes.Largest(t.c), lanes.Least(t.c)
	if low == 0 {
		low = inf
		for x, v := range t.c {
			if v = math.Abs(v); v < low && !(v == 0 && in(x, dead)) {
				low = v
			}
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
