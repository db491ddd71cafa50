package network

import "math"

// sums is a total split by the state of one variable, with bounds on the
// absolute error of each part; on a common scale.
type sums struct {
	v, e [2]float64
}

func (s sums) total() (v, e float64) { return s.v[0] + s.v[1], s.e[0] + s.e[1] }

// kernel does the arithmetic on tables M of one precision. Tables are owned
// by the caller and given back with release.
type kernel[M any] interface {
	// potential is the product of the clique's own factors.
	potential(c int) M
	// timesUp multiplies by the message of a child.
	timesUp(t M, msg M, g *gather)
	// timesDown multiplies by the message of the parent (lowest bits).
	timesDown(t M, msg M)
	clone(t M) M
	// fold sums out what is not in keep (ascending bit positions), consumes
	// the table and returns a rescaled message. consume false keeps t.
	fold(t M, keep []int) M
	// marginals consumes a table and returns the sums of every variable.
	marginals(t M, k int) []sums
	// given consumes nothing: sums of every variable within bit = value.
	given(t M, k, bit, value int) []sums
	// total returns sum and error bound of a table with no variable left.
	total(t M) (v, e float64)
	// exponent is the power of two taken out of a table so far.
	exponent(t M) int
	release(t M)
}

// cell is an entry of a float64 table: the value and a bound on how large
// the exact value may be in magnitude.
type cell struct{ v, u float64 }

type ftable struct {
	c   []cell
	ops int // multiplications behind an entry since the last fold
	exp int
}

const eps = 0x1p-53

// tiny covers what underflow can lose in a rescaled message.
const tiny = 0x1p-1000

// double is the float64 kernel.
type double struct {
	p *plan
	q *numbers[dd]
	s *scratch
}

// scratch keeps spare tables by size.
type scratch struct {
	cells [64][][]cell
}

func (s *scratch) get(k int) []cell {
	if n := len(s.cells[k]); n > 0 {
		t := s.cells[k][n-1]
		s.cells[k] = s.cells[k][:n-1]
		return t
	}
	return make([]cell, 1<<k)
}

func log2(n int) int {
	k := 0
	for 1<<k < n {
		k++
	}
	return k
}

func (d *double) release(t *ftable) {
	k := log2(cap(t.c))
	if cap(t.c) == 1<<k {
		d.s.cells[k] = append(d.s.cells[k], t.c[:1<<k])
	}
	t.c = nil
}

func (d *double) exponent(t *ftable) int { return t.exp }

func (d *double) clone(t *ftable) *ftable {
	c := d.s.get(log2(len(t.c)))
	copy(c, t.c)
	return &ftable{c: c, ops: t.ops, exp: t.exp}
}

// local gives, for each variable j of a clique, the factors that tie it to
// variables before it: r[j][i] = {lower half: factor at i=0, i=1, upper...}.
type tie struct {
	i              int
	lo0, lo1       float64
	up0, up1       float64
	needLo, needUp bool
}

func (d *double) potential(ci int) *ftable {
	c := &d.p.cliques[ci]
	k := len(c.vars)
	t := &ftable{c: d.s.get(k), ops: 2 + len(c.unary) + len(c.edges) + len(c.pairs)}
	var un [64][2]float64
	for j := range k {
		un[j] = [2]float64{1, 1}
	}
	for _, j := range c.unary {
		u := d.q.unary[c.vars[j]]
		un[j] = [2]float64{u[0].float(), u[1].float()}
	}
	ties := make([][]tie, k)
	at := func(a, b int) *tie { // tie of the larger to the smaller
		j, i := max(a, b), min(a, b)
		for x := range ties[j] {
			if ties[j][x].i == i {
				return &ties[j][x]
			}
		}
		ties[j] = append(ties[j], tie{i: i, lo0: 1, lo1: 1, up0: 1, up1: 1})
		return &ties[j][len(ties[j])-1]
	}
	for x, e := range c.edges {
		f := at(e.aux, e.par)
		f.up1 *= d.q.edge[ci][x].float()
		f.needUp = true
	}
	for x, e := range c.pairs {
		f := at(e.x, e.y)
		v := d.q.pair[ci][x]
		f.lo0 *= v[0].float()
		f.up1 *= v[3].float()
		if e.x > e.y {
			f.up0 *= v[1].float()
			f.lo1 *= v[2].float()
		} else {
			f.lo1 *= v[1].float()
			f.up0 *= v[2].float()
		}
		f.needLo, f.needUp = true, true
	}
	cells := t.c
	cells[0] = cell{1, 1}
	var row []cell
	for j := range k {
		n := 1 << j
		lo, up := cells[:n], cells[n:2*n]
		needLo, needUp, top := false, false, 0
		for _, f := range ties[j] {
			needLo = needLo || f.needLo
			needUp = needUp || f.needUp
			top = max(top, f.i+1)
		}
		if needUp && row == nil {
			row = d.s.get(k)
		}
		if needUp {
			r := d.row(row, ties[j], top, un[j][1], true)
			for b := 0; b < n; b += len(r) {
				src, dst := lo[b:b+len(r)], up[b:b+len(r)]
				for x := range r {
					dst[x] = cell{src[x].v * r[x].v, src[x].u * r[x].u}
				}
			}
		} else if un[j][1] == 1 {
			copy(up, lo)
		} else {
			w := un[j][1]
			a := math.Abs(w)
			for x := range lo {
				up[x] = cell{lo[x].v * w, lo[x].u * a}
			}
		}
		if needLo {
			r := d.row(row, ties[j], top, un[j][0], false)
			for b := 0; b < n; b += len(r) {
				dst := lo[b : b+len(r)]
				for x := range r {
					dst[x].v *= r[x].v
					dst[x].u *= r[x].u
				}
			}
		} else if w := un[j][0]; w != 1 {
			a := math.Abs(w)
			for x := range lo {
				lo[x].v *= w
				lo[x].u *= a
			}
		}
	}
	if row != nil {
		d.s.cells[k] = append(d.s.cells[k], row)
	}
	return t
}

// row expands the factors of one variable over the bits below it.
func (d *double) row(buf []cell, ties []tie, top int, w float64, up bool) []cell {
	var f [64][2]float64
	for i := range top {
		f[i] = [2]float64{1, 1}
	}
	for _, t := range ties {
		if up {
			f[t.i] = [2]float64{t.up0, t.up1}
		} else {
			f[t.i] = [2]float64{t.lo0, t.lo1}
		}
	}
	r := buf[:1<<top]
	r[0] = cell{w, math.Abs(w)}
	for i := range top {
		n := 1 << i
		f0, f1 := f[i][0], f[i][1]
		a0, a1 := math.Abs(f0), math.Abs(f1)
		lo, hi := r[:n], r[n:2*n]
		for x := range lo {
			hi[x] = cell{lo[x].v * f1, lo[x].u * a1}
		}
		if f0 != 1 {
			for x := range lo {
				lo[x].v *= f0
				lo[x].u *= a0
			}
		}
	}
	return r
}

func (d *double) timesUp(t, msg *ftable, g *gather) {
	t.ops += 1
	t.exp += msg.exp
	n := len(g.lo)
	m := msg.c
	for h, base := range g.hi {
		dst := t.c[h*n : h*n+n]
		for x, o := range g.lo {
			s := &m[base|o]
			dst[x].v *= s.v
			dst[x].u *= s.u
		}
	}
}

func (d *double) timesDown(t, msg *ftable) {
	t.ops += 1
	t.exp += msg.exp
	n := len(msg.c)
	for b := 0; b < len(t.c); b += n {
		dst := t.c[b : b+n]
		for x, s := range msg.c {
			dst[x].v *= s.v
			dst[x].u *= s.u
		}
	}
}

// toErrors turns the bounds u into absolute errors, with room for the
// rounding of the products so far and of folds sums to come.
func (t *ftable) toErrors(folds int) {
	w := 1 + float64(t.ops+folds+2)*2*eps
	for x := range t.c {
		c := &t.c[x]
		c.u = c.u*w - math.Abs(c.v)
	}
}

// foldBit sums out bit b of the first n entries, packing them.
func foldBit(c []cell, b int) []cell {
	n, s := len(c), 1<<b
	if 2*s == n {
		lo, hi := c[:s], c[s:]
		for x := range lo {
			lo[x].v += hi[x].v
			lo[x].u += hi[x].u
		}
		return c[:s]
	}
	out := 0
	for at := 0; at < n; at += 2 * s {
		for x := at; x < at+s; x++ {
			c[out] = cell{c[x].v + c[x+s].v, c[x].u + c[x+s].u}
			out++
		}
	}
	return c[:n/2]
}

func (d *double) fold(t *ftable, keep []int) *ftable {
	k := log2(len(t.c))
	t.toErrors(k - len(keep))
	whole := t.c
	c := t.c
	next := len(keep) - 1
	for b := k - 1; b >= 0; b-- {
		if next >= 0 && keep[next] == b {
			next--
			continue
		}
		c = foldBit(c, b)
	}
	// A message of its own size, so that big tables can be reused.
	out := &ftable{c: d.s.get(len(keep)), exp: t.exp}
	top := 0.0
	for x := range c {
		top = max(top, math.Abs(c[x].v), c[x].u)
	}
	_, e := math.Frexp(top)
	if top == 0 || math.IsInf(top, 0) {
		e = 0
	}
	f := math.Ldexp(1, -e)
	if e > 1000 || e < -1000 {
		f, e = 1, 0
	}
	out.exp += e
	for x := range c {
		v := c[x].v * f
		out.c[x] = cell{v, math.Abs(v) + c[x].u*f + tiny}
	}
	t.c = whole
	d.release(t)
	return out
}

func (d *double) total(t *ftable) (v, e float64) {
	if len(t.c) != 1 {
		panic("network: total of a table with variables")
	}
	return t.c[0].v, t.c[0].u - math.Abs(t.c[0].v)
}

func (d *double) marginals(t *ftable, k int) []sums {
	t.toErrors(k + 32)
	whole := t.c
	out := halve(t.c, k)
	t.c = whole
	d.release(t)
	return out
}

// halve returns the sums of every bit, overwriting c (values and errors).
func halve(c []cell, k int) []sums {
	out := make([]sums, k)
	for b := k - 1; b >= 0; b-- {
		n := 1 << b
		lo, hi := c[:n], c[n:2*n]
		var s sums
		s.v[0], s.e[0] = addUp(lo)
		s.v[1], s.e[1] = addUp(hi)
		out[b] = s
		for x := range lo {
			lo[x].v += hi[x].v
			lo[x].u += hi[x].u
		}
	}
	return out
}

// addUp sums pairwise down to blocks of 32; callers count 32 folds for it.
func addUp(c []cell) (v, e float64) {
	const block = 32
	if len(c) > block {
		h := len(c) / 2
		v1, e1 := addUp(c[:h])
		v2, e2 := addUp(c[h:])
		return v1 + v2, e1 + e2
	}
	for x := range c {
		v += c[x].v
		e += c[x].u
	}
	return v, e
}

func (d *double) given(t *ftable, k, bit, value int) []sums {
	half := &ftable{c: d.s.get(k - 1), ops: t.ops}
	s := 1 << bit
	out := 0
	for at := value * s; at < len(t.c); at += 2 * s {
		out += copy(half.c[out:], t.c[at:at+s])
	}
	half.toErrors(k + 32)
	r := halve(half.c, k-1)
	d.release(half)
	// Put the fixed bit back, with all its weight on the value.
	full := make([]sums, 0, k)
	full = append(full, r[:bit]...)
	var own sums
	if len(r) > 0 {
		own.v[value], own.e[value] = r[0].total()
	} else {
		own.v[value], own.e[value] = t.c[value].v, t.c[value].u-math.Abs(t.c[value].v)
	}
	full = append(full, own)
	return append(full, r[bit:]...)
}
