package network

import "math"

// wtable is a table of higher precision.
type wtable[T real[T]] struct {
	v   []T
	exp int
}

// wide is the kernel for double-double and big arithmetic: plain and slow.
type wide[T real[T]] struct {
	p  *plan
	q  *numbers[T]
	of func(float64) T
}

func (w *wide[T]) release(*wtable[T])        {}
func (w *wide[T]) exponent(t *wtable[T]) int { return t.exp }

func (w *wide[T]) clone(t *wtable[T]) *wtable[T] {
	return &wtable[T]{v: append([]T(nil), t.v...), exp: t.exp}
}

func (w *wide[T]) potential(ci int) *wtable[T] {
	c := &w.p.cliques[ci]
	k := len(c.vars)
	t := &wtable[T]{v: make([]T, 1<<k)}
	for x := range t.v {
		t.v[x] = w.of(1)
	}
	for _, j := range c.unary {
		u := w.q.unary[c.vars[j]]
		for x := range t.v {
			t.v[x] = t.v[x].times(u[x>>j&1])
		}
	}
	for i, e := range c.edges {
		f := w.q.edge[ci][i]
		both := 1<<e.aux | 1<<e.par
		for x := range t.v {
			if x&both == both {
				t.v[x] = t.v[x].times(f)
			}
		}
	}
	for i, e := range c.pairs {
		f := &w.q.pair[ci][i]
		for x := range t.v {
			t.v[x] = t.v[x].times(f[x>>e.x&1|x>>e.y&1<<1])
		}
	}
	return t
}

func (w *wide[T]) timesUp(t, msg *wtable[T], g *gather) {
	t.exp += msg.exp
	n := len(g.lo)
	for h, base := range g.hi {
		for x, o := range g.lo {
			t.v[h*n+x] = t.v[h*n+x].times(msg.v[base|o])
		}
	}
}

func (w *wide[T]) timesDown(t, msg *wtable[T]) {
	t.exp += msg.exp
	for x := range t.v {
		t.v[x] = t.v[x].times(msg.v[x&(len(msg.v)-1)])
	}
}

func (w *wide[T]) foldBit(t *wtable[T], b int) {
	s, out := 1<<b, 0
	for at := 0; at < len(t.v); at += 2 * s {
		for x := at; x < at+s; x++ {
			t.v[out] = t.v[x].plus(t.v[x+s])
			out++
		}
	}
	t.v = t.v[:out]
}

func (w *wide[T]) fold(t *wtable[T], keep []int) *wtable[T] {
	next := len(keep) - 1
	for b := log2(len(t.v)) - 1; b >= 0; b-- {
		if next >= 0 && keep[next] == b {
			next--
			continue
		}
		w.foldBit(t, b)
	}
	top := 0.0
	for x := range t.v {
		top = max(top, math.Abs(t.v[x].float()))
	}
	_, e := math.Frexp(top)
	t.exp += e
	for x := range t.v {
		t.v[x] = t.v[x].scale(-e)
	}
	return t
}

func (w *wide[T]) total(t *wtable[T]) (v, size float64) { return w.addUp(t.v) }

func (w *wide[T]) addUp(c []T) (v, size float64) {
	s := w.of(0)
	for _, x := range c {
		s = s.plus(x)
		size += math.Abs(x.float())
	}
	return s.float(), size
}

func (w *wide[T]) marginals(t *wtable[T], k int) []sums {
	out := make([]sums, k)
	for b := range k {
		s := [2]T{w.of(0), w.of(0)}
		for x, y := range t.v {
			h := x >> b & 1
			out[b].size[h] += math.Abs(y.float())
			s[h] = s[h].plus(y)
		}
		out[b].v = [2]float64{s[0].float(), s[1].float()}
	}
	return out
}

func (w *wide[T]) given(t *wtable[T], k, bit, value int) []sums {
	c := w.clone(t)
	for x := range c.v {
		if x>>bit&1 != value {
			c.v[x] = w.of(0)
		}
	}
	return w.marginals(c, k)
}
