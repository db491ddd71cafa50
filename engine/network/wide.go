package network

import "math"

// wtable is a table of higher precision with estimates of absolute errors: every
// rounding counts in full, and how many there were is counted generously; not all
// of them one by one, so that it is no bound.
type wtable[T real[T]] struct {
	v   []T
	e   []float64
	mag []float64 // |v| + e, for messages
	exp int
}

// wide is the kernel for double-double and big arithmetic: plain and slow.
type wide[T real[T]] struct {
	p   *plan
	q   *numbers[T]
	of  func(float64) T
	eps float64

	ended func() bool // nobody waits any more
}

// over tells so, now and then.
func (w *wide[T]) over(x int) bool { return x&(1<<10-1) == 0 && w.ended != nil && w.ended() }

func (w *wide[T]) release(*wtable[T])        {}
func (w *wide[T]) exponent(t *wtable[T]) int { return t.exp }

func (w *wide[T]) clone(t *wtable[T]) *wtable[T] {
	return &wtable[T]{v: append([]T(nil), t.v...), e: append([]float64(nil), t.e...), exp: t.exp}
}

func (w *wide[T]) potential(ci int) *wtable[T] {
	c := &w.p.cliques[ci]
	k := len(c.vars)
	t := &wtable[T]{v: make([]T, 1<<k), e: make([]float64, 1<<k)}
	for x := range t.v {
		t.v[x] = w.of(1)
	}
	for _, j := range c.unary {
		u := w.q.unary[c.vars[j]]
		for x := range t.v {
			if w.over(x) {
				return t
			}
			t.v[x] = t.v[x].times(u[x>>j&1])
		}
	}
	for i, e := range c.edges {
		f := w.q.edge[ci][i]
		both := 1<<e.aux | 1<<e.par
		for x := range t.v {
			if w.over(x) {
				return t
			}
			if x&both == both {
				t.v[x] = t.v[x].times(f)
			}
		}
	}
	for i, e := range c.pairs {
		f := &w.q.pair[ci][i]
		for x := range t.v {
			if w.over(x) {
				return t
			}
			t.v[x] = t.v[x].times(f[x>>e.x&1|x>>e.y&1<<1])
		}
	}
	for i := range c.wholes {
		g, f := &c.wholes[i].at, w.q.whole[ci][i]
		n := len(g.lo)
		for x := range t.v {
			if w.over(x) {
				return t
			}
			t.v[x] = t.v[x].times(f[g.hi[x/n]|g.lo[x%n]])
		}
	}
	// Every factor was rounded a few times, every product once.
	ops := float64(4*(len(c.unary)+len(c.edges)+len(c.pairs)+len(c.wholes)*mostWhole) + 2)
	for _, j := range c.unary {
		_ = j
		ops += float64(len(w.p.net.Nodes)) / 8
	}
	for x := range t.v {
		t.e[x] = math.Abs(t.v[x].float()) * ops * w.eps
	}
	return t
}

func (w *wide[T]) by(t *wtable[T], x int, msg *wtable[T], s int) {
	a, b := math.Abs(t.v[x].float()), math.Abs(msg.v[s].float())
	t.e[x] = t.e[x]*msg.mag[s] + a*msg.e[s] + a*b*w.eps
	t.v[x] = t.v[x].times(msg.v[s])
}

func (w *wide[T]) timesUp(t, msg *wtable[T], g *gather) {
	t.exp += msg.exp
	n := len(g.lo)
	for h, base := range g.hi {
		if w.over(0) {
			return
		}
		for x, o := range g.lo {
			w.by(t, h*n+x, msg, int(base|o))
		}
	}
}

func (w *wide[T]) timesDown(t, msg *wtable[T]) {
	t.exp += msg.exp
	for x := range t.v {
		w.by(t, x, msg, x&(len(msg.v)-1))
	}
}

func (w *wide[T]) foldBit(t *wtable[T], b int) {
	s, out := 1<<b, 0
	for at := 0; at < len(t.v); at += 2 * s {
		for x := at; x < at+s; x++ {
			size := math.Abs(t.v[x].float()) + math.Abs(t.v[x+s].float())
			t.v[out] = t.v[x].plus(t.v[x+s])
			t.e[out] = t.e[x] + t.e[x+s] + size*w.eps
			out++
		}
	}
	t.v, t.e = t.v[:out], t.e[:out]
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
		top = max(top, math.Abs(t.v[x].float()), t.e[x])
	}
	_, e := math.Frexp(top)
	t.exp += e
	t.mag = make([]float64, len(t.v))
	for x := range t.v {
		t.v[x] = t.v[x].scale(-e)
		t.e[x] = math.Ldexp(t.e[x], -e) + tiny
		t.mag[x] = math.Abs(t.v[x].float()) + t.e[x]
	}
	return t
}

func (w *wide[T]) total(t *wtable[T]) (v, e float64) { return t.v[0].float(), t.e[0] }

func (w *wide[T]) marginals(t *wtable[T], k int) []sums {
	out := make([]sums, k)
	for b := k - 1; b >= 0; b-- {
		n := 1 << b
		for half := range 2 {
			s := w.of(0)
			e, size := 0.0, 0.0
			for x := half * n; x < half*n+n; x++ {
				s = s.plus(t.v[x])
				e += t.e[x]
				size += math.Abs(t.v[x].float())
			}
			out[b].v[half] = s.float()
			out[b].e[half] = e + size*w.eps*float64(n)
		}
		w.foldBit(t, b)
	}
	return out
}

func (w *wide[T]) given(t *wtable[T], k, bit, value int) []sums {
	c := w.clone(t)
	for x := range c.v {
		if x>>bit&1 != value {
			c.v[x], c.e[x] = w.of(0), 0
		}
	}
	return w.marginals(c, k)
}
