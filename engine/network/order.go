package network

import (
	"math/bits"
	"math/rand/v2"
	"slices"
)

// bitset is a set of small numbers; all sets of one graph have one length.
type bitset []uint64

func (b bitset) has(i int) bool { return b[i>>6]>>(i&63)&1 != 0 }
func (b bitset) add(i int)      { b[i>>6] |= 1 << (i & 63) }
func (b bitset) del(i int)      { b[i>>6] &^= 1 << (i & 63) }

func (b bitset) count() int {
	n := 0
	for _, w := range b {
		n += bits.OnesCount64(w)
	}
	return n
}

// missing counts members of b that are not in c.
func (b bitset) missing(c bitset) int {
	n := 0
	for i, w := range b {
		n += bits.OnesCount64(w &^ c[i])
	}
	return n
}

// common counts members of both.
func (b bitset) common(c bitset) int {
	n := 0
	for i, w := range b {
		n += bits.OnesCount64(w & c[i])
	}
	return n
}

func (b bitset) within(c bitset) bool {
	for i, w := range b {
		if w&^c[i] != 0 {
			return false
		}
	}
	return true
}

func (b bitset) each(f func(i int)) {
	for w, word := range b {
		for word != 0 {
			f(w<<6 | bits.TrailingZeros64(word))
			word &= word - 1
		}
	}
}

// graph is an undirected graph over model variables.
type graph struct {
	n    int
	adj  []bitset
	gone bitset // variables that are conditioned on

	began *began // where every search for an order begins, once it was made
}

// began is the order up to the first choice that can be made otherwise, and plain
// min-fill from there on.
type began struct {
	head  *elimination
	rest  *graph // what is left, renumbered
	names []int
	plain *elimination
}

// begin eliminates what no order can do better, and the rest by plain min-fill; false
// where that costs more than limit.
func (g *graph) begin(limit float64) (*began, bool) {
	if g.began != nil {
		return g.began, g.began.head.cost+g.began.plain.cost <= limit
	}
	head, left := g.simplicial()
	rest, names := left.compact()
	e, ok := rest.eliminate(0, limit)
	b := &began{head, rest, names, e}
	if ok {
		g.began = b
	}
	return b, ok && head.cost+e.cost <= limit
}

// whole is an order of the rest after what was eliminated first.
func (b *began) whole(rest *elimination, n int) *elimination {
	e := &elimination{order: slices.Clone(b.head.order), later: slices.Clone(b.head.later)}
	words := (n + 63) / 64
	for _, v := range rest.order {
		nb := make(bitset, words)
		rest.later[v].each(func(u int) { nb.add(b.names[u]) })
		e.order = append(e.order, b.names[v])
		e.later[b.names[v]] = nb
	}
	e.width = max(b.head.width, rest.width)
	e.cost = b.head.cost + rest.cost
	return e
}

func newGraph(n int) *graph {
	words := (n + 63) / 64
	flat := make([]uint64, n*words)
	g := &graph{n: n, adj: make([]bitset, n), gone: make(bitset, words)}
	for i := range g.adj {
		g.adj[i] = flat[i*words : (i+1)*words : (i+1)*words]
	}
	return g
}

func (g *graph) join(a, b int) {
	g.began = nil
	if a != b {
		g.adj[a].add(b)
		g.adj[b].add(a)
	}
}

func (g *graph) clone() *graph {
	c := newGraph(g.n)
	for i := range g.adj {
		copy(c.adj[i], g.adj[i])
	}
	copy(c.gone, g.gone)
	return c
}

// elimination is an order with, for each variable, its neighbors when it
// was eliminated.
type elimination struct {
	order []int
	later []bitset // by variable: neighbors eliminated after it
	cost  float64  // sum of table sizes
	width int      // variables in the largest table
}

// eliminate runs a greedy heuristic. With seed 0 it is min-fill: always the
// variable that adds the fewest edges, then the one with the smaller table,
// then the lowest index. Other seeds blur the choice. It gives up once the
// cost passes limit.
func (g *graph) eliminate(seed uint64, limit float64) (*elimination, bool) {
	w := g.clone()
	e := &elimination{order: make([]int, 0, g.n), later: make([]bitset, g.n)}
	words := (g.n + 63) / 64
	left := make(bitset, words)
	for i := range g.n {
		if !g.gone.has(i) {
			left.add(i)
		}
	}
	count := left.count()
	rng := rand.New(rand.NewPCG(seed, 0x5eed))
	fill := make([]int, g.n)
	deg := make([]int, g.n)
	dirty := make(bitset, words)
	copy(dirty, left)
	gained, near := make(bitset, words), make(bitset, words)
	for len(e.order) < count {
		for at, word := range dirty {
			for word &= left[at]; word != 0; word &= word - 1 {
				v := at<<6 | bits.TrailingZeros64(word)
				deg[v], fill[v] = w.around(v)
			}
		}
		clear(dirty)
		best, score := -1, inf
		for at, word := range left {
			for ; word != 0; word &= word - 1 {
				v := at<<6 | bits.TrailingZeros64(word)
				if seed == 0 {
					if best < 0 || fill[v] < fill[best] || fill[v] == fill[best] && deg[v] < deg[best] {
						best = v
					}
					continue
				}
				// Fill per neighbor, a little blurred: on networks of
				// this kind it finds smaller tables in a few tries.
				f := float64(fill[v]) / float64(deg[v]+1) * (1 + 0.1*rng.Float64())
				if f < score {
					score, best = f, v
				}
			}
		}
		nb := make(bitset, words)
		copy(nb, w.adj[best])
		e.order = append(e.order, best)
		e.later[best] = nb
		e.width = max(e.width, deg[best]+1)
		e.cost += float64(uint64(1) << min(deg[best]+1, 62))
		if e.cost > limit {
			return e, false
		}
		left.del(best)
		nb.each(func(u int) { w.adj[u].del(best) })
		if fill[best] > 0 {
			clear(gained)
			nb.each(func(u int) {
				if nb.missing(w.adj[u]) > 1 { // itself is one
					gained.add(u)
				}
			})
			gained.each(func(u int) {
				for i := range w.adj[u] {
					w.adj[u][i] |= nb[i]
				}
				w.adj[u].del(u)
			})
			// New edges change the fill of the neighbors and of all
			// that see two of their ends.
			clear(near)
			gained.each(func(u int) {
				for i := range near {
					near[i] |= w.adj[u][i]
				}
			})
			near.each(func(v int) {
				if w.adj[v].common(gained) > 1 {
					dirty.add(v)
				}
			})
		}
		for i := range dirty {
			dirty[i] |= nb[i]
		}
	}
	return e, true
}

// around counts the neighbors of a variable, and twice the edges that are
// missing between them.
func (g *graph) around(v int) (degree, fill int) {
	nb := g.adj[v]
	for at, word := range nb {
		for ; word != 0; word &= word - 1 {
			u := g.adj[at<<6|bits.TrailingZeros64(word)]
			degree++
			fill--
			for i, x := range nb {
				fill += bits.OnesCount64(x &^ u[i])
			}
		}
	}
	return degree, fill
}

// effort bounds the elimination orders tried for a tree.
type effort struct {
	tries     int
	few, more float64 // entries from which on four are tried, and all
}

// Below 2^16 entries a pass takes less than one more try; where the tree serves one
// pass, a try seldom pays below 2^18.
var (
	usually = effort{12, 1 << 16, 1 << 19}
	briefly = effort{12, 1 << 18, 1 << 21}
	twice   = effort{2, 1 << 16, 1 << 19}
)

// bestOrder tries a few orders and keeps the cheapest; more where the tables
// are large and a better order pays. Variables whose neighbors are joined
// already go first: no order is better, and the tries share that part.
func (g *graph) bestOrder(how effort) *elimination {
	start, _ := g.begin(inf)
	rest, best := start.rest, start.plain
	// First a few, then the rest where that pays; those of one batch at the
	// same time. The first of the cheapest wins, whatever the timing.
	for _, batch := range [][2]int{{1, min(4, how.tries)}, {4, how.tries}} {
		from, to := batch[0], batch[1]
		if from >= to || best.cost < how.few || from > 1 && best.cost < how.more {
			break
		}
		found := make([]*elimination, to-from)
		limit := best.cost
		each(to-from, func(i int) error {
			if e, ok := rest.eliminate(uint64(from+i), limit); ok {
				found[i] = e
			}
			return nil
		})
		for _, e := range found {
			if e != nil && e.cost < best.cost {
				best = e
			}
		}
	}
	return start.whole(best, g.n)
}

// compact renumbers the variables that are left, so that sets are short.
func (g *graph) compact() (*graph, []int) {
	var names []int
	at := make([]int, g.n)
	for v := range g.n {
		if !g.gone.has(v) {
			at[v] = len(names)
			names = append(names, v)
		}
	}
	c := newGraph(len(names))
	for i, v := range names {
		g.adj[v].each(func(u int) { c.adj[i].add(at[u]) })
	}
	return c, names
}

// simplicial eliminates variables whose neighbors are all joined, as long as
// there are any, and returns the graph that is left.
func (g *graph) simplicial() (*elimination, *graph) {
	w := g.clone()
	e := &elimination{later: make([]bitset, g.n)}
	words := (g.n + 63) / 64
	dirty := make(bitset, words)
	for v := range g.n {
		if !g.gone.has(v) {
			dirty.add(v)
		}
	}
	for changed := true; changed; {
		changed = false
		for v := range g.n {
			if !dirty.has(v) || w.gone.has(v) {
				continue
			}
			dirty.del(v)
			joined := true
			w.adj[v].each(func(u int) { joined = joined && w.adj[v].missing(w.adj[u]) == 1 })
			if !joined {
				continue
			}
			changed = true
			nb := make(bitset, words)
			copy(nb, w.adj[v])
			k := nb.count() + 1
			e.order = append(e.order, v)
			e.later[v] = nb
			e.width = max(e.width, k)
			e.cost += float64(uint64(1) << min(k, 62))
			w.without(v)
			for i := range dirty {
				dirty[i] |= nb[i]
			}
		}
	}
	return e, w
}

// without takes a variable out of the graph.
func (g *graph) without(v int) {
	g.began = nil
	g.gone.add(v)
	g.adj[v].each(func(u int) { g.adj[u].del(v) })
	clear(g.adj[v])
}

// costWithout is the sum of table sizes in an order, less some variables; limit where
// it is more.
func (g *graph) costWithout(gone bitset, order []int, limit float64) (cost float64) {
	w := g.clone()
	for _, adj := range w.adj {
		for i := range adj {
			adj[i] &^= gone[i]
		}
	}
	for _, v := range order {
		if gone.has(v) {
			continue
		}
		nb := w.adj[v]
		cost += float64(uint64(1) << min(nb.count()+1, 62))
		if cost >= limit {
			return limit
		}
		for at, word := range nb {
			for ; word != 0; word &= word - 1 {
				u := at<<6 | bits.TrailingZeros64(word)
				to := w.adj[u]
				for i, x := range nb {
					to[i] |= x
				}
				to.del(u)
				to.del(v)
			}
		}
	}
	return cost
}

// follow eliminates in order of rank, -1 first: of these always the one that
// adds the fewest edges. It gives up once the cost passes limit.
func (g *graph) follow(rank []int, limit float64) (*elimination, bool) {
	w := g.clone()
	e := &elimination{order: make([]int, 0, g.n), later: make([]bitset, g.n)}
	words := (g.n + 63) / 64
	flat := make([]uint64, g.n*words)
	take := func(v int) bool {
		nb := bitset(flat[v*words : (v+1)*words : (v+1)*words])
		copy(nb, w.adj[v])
		k := nb.count() + 1
		e.order = append(e.order, v)
		e.later[v] = nb
		e.width = max(e.width, k)
		e.cost += float64(uint64(1) << min(k, 62))
		nb.each(func(u int) {
			for i := range nb {
				w.adj[u][i] |= nb[i]
			}
			w.adj[u].del(u)
			w.adj[u].del(v)
		})
		return e.cost <= limit
	}
	var fresh, rest []int
	for v := range g.n {
		switch {
		case g.gone.has(v):
		case rank[v] < 0:
			fresh = append(fresh, v)
		default:
			rest = append(rest, v)
		}
	}
	for len(fresh) > 0 {
		best, least := 0, -1
		for i, v := range fresh {
			f := 0
			w.adj[v].each(func(u int) { f += w.adj[v].missing(w.adj[u]) - 1 })
			if least < 0 || f < least {
				best, least = i, f
			}
		}
		if !take(fresh[best]) {
			return e, false
		}
		fresh = slices.Delete(fresh, best, best+1)
	}
	slices.SortFunc(rest, func(a, b int) int { return rank[a] - rank[b] })
	for _, v := range rest {
		if !take(v) {
			return e, false
		}
	}
	return e, true
}
