package network

import (
	"math"
	"math/rand/v2"
	"testing"
)

// coarse is arithmetic so coarse that float64 beside it is exact.
type coarse float32

func (a coarse) plus(b coarse) coarse  { return a + b }
func (a coarse) minus(b coarse) coarse { return a - b }
func (a coarse) times(b coarse) coarse { return a * b }
func (a coarse) float() float64        { return float64(a) }
func (a coarse) scale(exp int) coarse  { return coarse(math.Ldexp(float64(a), exp)) }
func coarseOf(x float64) coarse        { return coarse(x) }

const coarseEps = 0x1p-24

// drawn is a table of rounded numbers with what they were before. Half of the
// entries are negative, so that digits cancel.
func drawn(rng *rand.Rand, k int) (*wtable[coarse], []float64) {
	t := &wtable[coarse]{}
	var exact []float64
	for range 1 << k {
		x := (rng.Float64() - 0.5) * math.Ldexp(1, rng.IntN(12))
		exact = append(exact, x)
		t.v = append(t.v, coarseOf(x))
		t.e = append(t.e, math.Abs(x)*coarseEps)
		t.mag = append(t.mag, math.Abs(x)*(1+coarseEps))
	}
	return t, exact
}

// Errors told in higher precision hold the true ones and are not out of all
// proportion, whatever is done to a table.
func TestErrorsAreToldRight(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(8, 15))
	w := &wide[coarse]{of: coarseOf, eps: coarseEps}
	close := 0 // errors that come near what is told
	check := func(what string, got, told, exact, size float64, ops int) {
		t.Helper()
		off := math.Abs(got - exact)
		if off > told*(1+1e-9) {
			t.Fatalf("%s: off by %g, told %g", what, off, told)
		}
		if most := size * coarseEps * float64(ops); told > most {
			t.Fatalf("%s: an error of %g is told, of numbers of %g in %d steps", what, told, size, ops)
		}
		if off > told/8 {
			close++
		}
	}
	for range 300 {
		const k = 5
		a, exact := drawn(rng, k)
		size := make([]float64, len(exact))
		for x, v := range exact {
			size[x] = math.Abs(v)
		}
		// A message of the two lowest variables.
		msg, of := drawn(rng, 2)
		msg.exp = 3
		w.timesDown(a, msg)
		if a.exp != 3 {
			t.Fatalf("power of two %d, want 3", a.exp)
		}
		for x := range exact {
			exact[x] *= of[x&3]
			size[x] *= math.Abs(of[x&3])
			check("product", a.v[x].float(), a.e[x], exact[x], size[x], 4)
		}
		add := func(exact []float64, keep func(x int) bool) (sum float64) {
			for x, v := range exact {
				if keep(x) {
					sum += v
				}
			}
			return sum
		}
		bit, value := rng.IntN(k), rng.IntN(2)
		for name, given := range map[string]bool{"sums": false, "sums within a state": true} {
			c := w.clone(a)
			list := w.given(c, k, bit, value)
			if !given {
				list = w.marginals(c, k)
			}
			for b, s := range list {
				for half := range 2 {
					in := func(x int) bool { return x>>b&1 == half && (!given || x>>bit&1 == value) }
					check(name, s.v[half], s.e[half], add(exact, in), add(size, in), 40)
				}
			}
		}
		f := w.fold(w.clone(a), []int{1, 3})
		two := math.Ldexp(1, f.exp-3)
		top := 0.0
		for y := range f.v {
			in := func(x int) bool { return x>>1&1 == y&1 && x>>3&1 == y>>1 }
			check("message", f.v[y].float()*two, f.e[y]*two, add(exact, in), add(size, in), 12)
			top = max(top, math.Abs(f.v[y].float()), f.e[y])
			if f.mag[y] < math.Abs(f.v[y].float())+f.e[y] {
				t.Fatalf("size %g of a message that is %v by %g", f.mag[y], f.v[y], f.e[y])
			}
		}
		if top < 0.5 || top >= 1 {
			t.Fatalf("a message is scaled to %g", top)
		}
		v, e := w.total(w.fold(w.clone(a), nil))
		one := w.fold(w.clone(a), nil)
		all := func(int) bool { return true }
		check("total", v*math.Ldexp(1, one.exp-3), e*math.Ldexp(1, one.exp-3), add(exact, all), add(size, all), 16)
	}
	if close < 1000 {
		t.Errorf("%d errors come near what was told: the estimates are too coarse to say anything", close)
	}
}

// Scaling takes a power of two out of a message, but for what is near the end
// of the range of float64, where it would overflow.
func TestRescale(t *testing.T) {
	d := &double{}
	for _, c := range []struct {
		in  []float64
		exp int
		low float64
	}{
		{[]float64{3, -12}, 4, 3.0 / 16},
		{[]float64{0x1p-1060, -0x1p-1050}, 0, 0x1p-1060},
		{[]float64{0x1p1015, 1}, 0, 1},
		{[]float64{0, 0}, 0, 0},
		{[]float64{0x1p-999, 0}, -998, 0},
	} {
		f := &ftable{c: append([]float64(nil), c.in...)}
		d.rescale(f, nil)
		for x, v := range f.c {
			if math.Ldexp(v, f.exp) != c.in[x] {
				t.Errorf("%v becomes %v with 2^%d", c.in, f.c, f.exp)
			}
		}
		if f.exp != c.exp || f.low != c.low {
			t.Errorf("%v: 2^%d taken out, the smallest is %g; want 2^%d and %g", c.in, f.exp, f.low, c.exp, c.low)
		}
	}
}

// An error of a pass in higher precision is told too, and is as much smaller as
// its numbers are finer.
func TestHigherPrecisionTellsItsError(t *testing.T) {
	t.Parallel()
	n, ev := hostile(1e-3)
	b, err := mustSolver(t, n).prepare(ev, everyNode(n))
	if err != nil {
		t.Fatal(err)
	}
	var last float64
	for level := range 3 {
		r := b.pass(level, nil, request{all: true})
		if r.zSign < 0 || !(r.zErr > 0) || level > 0 && r.zErr > 1e-9*last {
			t.Errorf("%d bits: sign %v, error %g after %g", precision(level), r.zSign, r.zErr, last)
		}
		if w := (&wide[dd]{p: b.p, q: fill(b.s.net, b.p, b.m, nil, 0, ddOf), of: ddOf, eps: ddEps}); level == 1 {
			for c := range b.p.cliques {
				f := w.potential(c)
				for x, e := range f.e {
					if v := math.Abs(f.v[x].float()); v > 0 && e < ddEps*v {
						t.Errorf("clique %d: %g with an error of %g", c, v, e)
					}
				}
			}
		}
		for v, s := range r.vars {
			if total, e := s.total(); !(e > 0) || level > 0 && e > 1e-6*math.Abs(total) {
				t.Errorf("%d bits, variable %d: %g with an error of %g", precision(level), v, total, e)
			}
		}
		last = r.zErr
	}
}

// Nothing to work out is worked out without an error.
func TestNothingToWorkOut(t *testing.T) {
	n := &Net{Nodes: []Node{{Leak: 1}, {Leak: 0.25}}}
	got, err := mustSolver(t, n).SolveSubset(nil, []int{0})
	if err != nil || got.P[0] != 1 || got.P[1] != -1 || got.Method.Precision != 53 || !(got.Method.Error <= tolerance) {
		t.Errorf("%+v, %v", got, err)
	}
}

// The cost of a tree is told up to a limit, and is more than any beyond it.
func TestCostIsBounded(t *testing.T) {
	t.Parallel()
	n, ev := hostile(1e-3)
	fresh := func() *skeleton {
		b, err := mustSolver(t, n).load(ev)
		if err != nil {
			t.Fatal(err)
		}
		all := make([]bool, len(n.Nodes))
		for i := range all {
			all[i] = true
		}
		return newSkeleton(b.s.net, b.s.roles(b.state, b.has, all))
	}
	all := fresh().cost(inf)
	if !(all > 4 && all < 1e6) {
		t.Fatalf("cost %v", all)
	}
	for _, c := range []struct{ limit, want float64 }{{all, all}, {all + 1, all}, {all - 1, inf}, {1, inf}} {
		k := fresh()
		for range 2 { // kept the second time
			if got := k.cost(c.limit); got != c.want {
				t.Errorf("up to %v: %v, want %v", c.limit, got, c.want)
			}
		}
	}
}

// A table without a factor of its own has an error, too, that its messages build on.
func TestEmptyTableHasAnError(t *testing.T) {
	p := &plan{net: &Net{}, cliques: []clique{{vars: []int{0, 1}}}}
	w := &wide[dd]{p: p, q: &numbers[dd]{unary: make([][2]dd, 2), edge: make([][]dd, 1), pair: make([][][4]dd, 1), whole: make([][][]dd, 1)}, of: ddOf, eps: ddEps}
	f := w.potential(0)
	for x, e := range f.e {
		if f.v[x].float() != 1 || !(e >= ddEps) {
			t.Errorf("%v with an error of %g", f.v[x], e)
		}
	}
}
