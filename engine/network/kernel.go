package network

import (
	"math"

	"slipcase/engine/network/internal/lanes"
)

// sums is a total split by the state of one variable, with estimates of the
// absolute error of each part; on a common scale.
type sums struct {
	v, e [2]float64
}

func (s sums) total() (v, e float64) { return s.v[0] + s.v[1], s.e[0] + s.e[1] }

// reader reads sums off tables M of one precision.
type reader[M any] interface {
	// marginals consumes a table and returns the sums of every variable.
	marginals(t M, k int) []sums
	// given consumes nothing: sums of every variable within bit = value.
	given(t M, k, bit, value int) []sums
}

// kernel does the arithmetic of run on tables M of one precision. Tables are owned
// by the caller and given back with release.
type kernel[M any] interface {
	reader[M]
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
	// total returns sum and estimated error of a table with no variable left.
	total(t M) (v, e float64)
	// exponent is the power of two taken out of a table so far.
	exponent(t M) int
	release(t M)
}

// ftable is a float64 table. How many digits canceled is read off the beliefs,
// see strain.
type ftable struct {
	c   []float64
	exp int
	low float64 // of a rescaled message: the smallest absolute entry
}

const eps = 0x1p-53

// tiny covers what underflow can lose in a rescaled message.
const tiny = 0x1p-1000

// rounding is the relative error that the entries of one clique's table carry:
// factors, products and sums round some ten times, either way.
const rounding = 4 * eps

// strain is how much larger the entries of a clique's belief are, taken without
// their signs, than their sum, the evidence. The evidence is linear in the
// entries of every table, so the sum of all strains times rounding is, to first
// order, the relative error of the evidence. sum is what the belief adds up to.
func strain(sum, size float64) float64 { return size / math.Abs(sum) }

// sized adds up a table, and its entries without their signs.
func sized(c []float64) (sum, size float64) { return lanes.Sums(c) }

// scaled multiplies a table by a factor.
func scaled(c []float64, f float64) {
	if f != 1 {
		lanes.Scale(c, c, f)
	}
}

// double does the arithmetic in float64, see sweep.
type double struct {
	p *plan
	q *numbers[dd]
	s *scratch

	potentials []*ftable // of each clique, but for those touched; nil where none are known
	touched    []bool
}

// scratch keeps spare tables by size.
type scratch struct {
	cells [64][][]float64
	un    [64][2]float64
	ties  [64][]tie
}

func (s *scratch) get(k int) []float64 {
	if n := len(s.cells[k]); n > 0 {
		t := s.cells[k][n-1]
		s.cells[k] = s.cells[k][:n-1]
		return t
	}
	return make([]float64, 1<<k)
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

func (d *double) clone(t *ftable) *ftable {
	c := d.s.get(log2(len(t.c)))
	copy(c, t.c)
	return &ftable{c: c, exp: t.exp}
}

// tie holds the factors over one variable and one of lower position i, for
// the half of the table where the upper variable is off (lo) and on (up), by
// the state of i.
type tie struct {
	i      int
	lo, up [2]float64
	plain  bool // lo is one throughout
}

// potential doubles the table variable by variable. The factors that tie a
// variable to lower ones are first multiplied into a row over the lower
// variables up to the highest that is tied, so the cost does not depend on the
// number of factors.
func (d *double) potential(ci int) *ftable {
	c := &d.p.cliques[ci]
	k := len(c.vars)
	t := &ftable{c: d.s.get(k)}
	un, ties := d.s.un[:k], d.s.ties[:k]
	for j := range k {
		un[j] = [2]float64{1, 1}
		ties[j] = ties[j][:0]
	}
	for _, j := range c.unary {
		u := d.q.unary[c.vars[j]]
		un[j] = [2]float64{u[0].hi, u[1].hi}
	}
	at := func(a, b int) *tie { // tie of the larger to the smaller
		j, i := max(a, b), min(a, b)
		for x := range ties[j] {
			if ties[j][x].i == i {
				return &ties[j][x]
			}
		}
		ties[j] = append(ties[j], tie{i: i, lo: [2]float64{1, 1}, up: [2]float64{1, 1}, plain: true})
		return &ties[j][len(ties[j])-1]
	}
	for x, e := range c.edges {
		f := at(e.aux, e.par)
		f.up[1] *= d.q.edge[ci][x].hi
	}
	for x, e := range c.pairs {
		f := at(e.x, e.y)
		f.plain = false
		v := &d.q.pair[ci][x]
		f.lo[0] *= v[0].hi
		f.up[1] *= v[3].hi
		if e.x > e.y {
			f.up[0] *= v[1].hi
			f.lo[1] *= v[2].hi
		} else {
			f.lo[1] *= v[1].hi
			f.up[0] *= v[2].hi
		}
	}
	cells := t.c
	cells[0] = 1
	var row []float64
	for j := range k {
		n := 1 << j
		lo, up := cells[:n:n], cells[n:2*n:2*n]
		if len(ties[j]) > 0 && row == nil {
			row = d.s.get(k)
		}
		if len(ties[j]) > 0 {
			lanes.Rows(up, lo, expand(row, ties[j], un[j][1], true))
		} else if w := un[j][1]; w == 1 {
			copy(up, lo)
		} else {
			lanes.Scale(up, lo, w)
		}
		plain := true
		for x := range ties[j] {
			plain = plain && ties[j][x].plain
		}
		if !plain {
			lanes.Rows(lo, lo, expand(row, ties[j], un[j][0], false))
		} else {
			scaled(lo, un[j][0])
		}
	}
	if row != nil {
		d.s.cells[k] = append(d.s.cells[k], row)
	}
	for x := range c.wholes {
		f := &ftable{}
		for _, v := range d.q.whole[ci][x] {
			f.c = append(f.c, v.hi)
		}
		d.timesUp(t, f, &c.wholes[x].at)
	}
	return t
}

// expand multiplies the ties of one variable out over the bits below it.
func expand(buf []float64, ties []tie, w float64, up bool) []float64 {
	top := 0
	for x := range ties {
		top = max(top, ties[x].i+1)
	}
	r := buf[:1<<top]
	r[0] = w
	for i := range top {
		n := 1 << i
		f := [2]float64{1, 1}
		for x := range ties {
			if ties[x].i != i {
				continue
			}
			if f = ties[x].lo; up {
				f = ties[x].up
			}
		}
		lo, hi := r[:n:n], r[n:2*n:2*n]
		if f[1] == 1 {
			copy(hi, lo)
		} else {
			lanes.Scale(hi, lo, f[1])
		}
		scaled(lo, f[0])
	}
	return r
}

func (d *double) timesUp(t, msg *ftable, g *gather) {
	t.exp += msg.exp
	d.times(t.c, t.c, msg.c, g)
}

// times sets dst = src × the entries of m that g maps theirs to; dst may be src.
func (d *double) times(dst, src, m []float64, g *gather) {
	size := 1 << g.shift
	if g.run > 2 {
		// The lowest variables are the separator's lowest: whole runs.
		for h, base := range g.hi {
			at := h << g.shift
			lanes.Runs(dst[at:at+size], src[at:at+size], m, g.lo, int(base), 1<<g.run)
		}
		return
	}
	// What m has for the lowest variables of the clique is spread out in a row, for
	// those of the others that m knows; the row repeats over the rest.
	wide, mask := 0, 0
	for _, b := range g.bits {
		if b < g.shift {
			wide = b + 1
		} else {
			mask |= 1 << (b - g.shift)
		}
	}
	all := len(g.hi) - 1
	rest := all &^ mask
	if rest == 0 && wide == g.shift { // it does not repeat
		for h, base := range g.hi {
			at := h << g.shift
			lanes.Gather(dst[at:at+size], src[at:at+size], m, g.lo, int(base))
		}
		return
	}
	room := d.s.get(wide)
	row := room[:1<<wide]
	for b := 0; ; {
		lanes.Gather(row, nil, m, g.lo, int(g.hi[b]))
		for r := 0; ; {
			at := (b | r) << g.shift
			lanes.Rows(dst[at:at+size], src[at:at+size], row)
			if r = (r - rest) & rest; r == 0 {
				break
			}
		}
		if b = (b - mask) & mask; b == 0 {
			break
		}
	}
	d.s.cells[wide] = append(d.s.cells[wide], room)
}

func (d *double) timesDown(t, msg *ftable) {
	t.exp += msg.exp
	lanes.Rows(t.c, t.c, msg.c)
}

func (d *double) total(t *ftable) (v, e float64) {
	if len(t.c) != 1 {
		panic("network: total of a table with variables")
	}
	return t.c[0], 0
}

func (d *double) marginals(t *ftable, k int) []sums {
	whole := t.c
	out := halve(t.c, k)
	t.c = whole
	d.release(t)
	return out
}

// halve returns the sums of every bit, overwriting c. All carry the error of the
// whole table's entries.
func halve(c []float64, k int) []sums {
	out := make([]sums, k)
	size := 0.0
	for b := k - 1; b >= 0; b-- {
		n := 1 << b
		lo, hi := c[:n], c[n:2*n]
		s := &out[b]
		if b == k-1 {
			var x, y float64
			s.v[0], x = sized(lo)
			s.v[1], y = sized(hi)
			size = x + y
		} else {
			s.v[0], s.v[1] = lanes.Sum(lo), lanes.Sum(hi)
		}
		s.e[0], s.e[1] = rounding*size, rounding*size
		lanes.Add(lo, lo, hi)
	}
	return out
}

func (d *double) given(t *ftable, k, bit, value int) []sums {
	half := &ftable{c: d.s.get(k - 1)}
	s := 1 << bit
	out := 0
	for at := value * s; at < len(t.c); at += 2 * s {
		if s == 1 {
			half.c[out] = t.c[at]
			out++
			continue
		}
		out += copy(half.c[out:], t.c[at:at+s])
	}
	r := halve(half.c, k-1)
	d.release(half)
	// Put the fixed bit back, with all its weight on the value.
	full := make([]sums, 0, k)
	full = append(full, r[:bit]...)
	var own sums
	if len(r) > 0 {
		own.v[value], own.e[value] = r[0].total()
	} else {
		own.v[value], own.e[value] = t.c[value], rounding*math.Abs(t.c[value])
	}
	full = append(full, own)
	return append(full, r[bit:]...)
}
