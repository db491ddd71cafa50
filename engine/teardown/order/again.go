package order

import (
	"math"
	"slices"
)

// Again finds the least cost of the same jobs with one set of weights after
// another, much quicker than Optimal where weights change little. It is not safe
// for concurrent use.
type Again struct {
	g                       *graph // of the jobs that count
	kept                    []int  // those jobs, as given
	at                      []int  // their number in g, -1 for the others
	wt                      []float64
	parent                  []int
	place                   []int // job -> its place in the order tried
	order, best             []int
	w, p                    []float64 // of the block that starts at a job
	left, right, kids, tail []int
	next, npl               []int
	below                   []int
	waits                   []int
	ready                   []int
}

// NewAgain prepares for the minutes and conditions of jobs. Those that are idle (nil
// for none) never have any weight. Errors are those of Optimal.
func NewAgain(jobs []Job, idle []bool) (*Again, error) {
	g, err := build(jobs)
	if err != nil {
		return nil, err
	}
	g.reduce()
	a := &Again{at: make([]int, g.n())}
	if idle == nil {
		idle = make([]bool, g.n())
	}
	for v := range a.at {
		a.at[v] = -1
	}
	a.g, a.kept = g.waiting(idle)
	for i, v := range a.kept {
		a.at[v] = i
	}
	n := a.g.n()
	a.wt, a.w, a.p = make([]float64, n), make([]float64, n), make([]float64, n)
	for _, list := range []*[]int{&a.parent, &a.place, &a.left, &a.right, &a.kids, &a.tail, &a.next, &a.npl, &a.below, &a.waits} {
		*list = make([]int, n)
	}
	return a, nil
}

// tries bounds the relaxations tried, reach how far the cost found may be above
// the bound, of the cost: far below what a report can tell.
const (
	tries = 4
	reach = 1e-12
)

// Least is the least cost for some weights, starting from an order that respects
// all conditions; false where that is not proven. Each job is let wait for only
// one other, or only one other wait for it: those next to it in the order at hand.
// The conditions then form a forest, which Horn's rule settles at once, at a cost
// that no order is below. Of the order that comes out one is made that respects
// all conditions, and where it costs no more it is the best of all.
func (a *Again) Least(weights []float64, start []int) (cost float64, proven bool) {
	a.best = a.best[:0]
	for _, v := range start {
		if i := a.at[v]; i >= 0 {
			a.best = append(a.best, i)
		}
	}
	a.weigh(weights)
	cost = a.cost(a.best)
	bound := 0.0
	for range tries {
		better := false
		for _, mirror := range []bool{false, true} {
			a.relax(mirror)
			bound = math.Max(bound, a.cost(a.order))
			if cost-bound <= reach*cost {
				return cost, true
			}
			a.respect()
			if c := a.cost(a.order); c < cost {
				cost, better = c, true
				a.best, a.order = a.order, a.best
			}
			if cost-bound <= reach*cost {
				return cost, true
			}
		}
		if !better {
			break
		}
	}
	return cost, false
}

// Full is the least cost for some weights by the full search, as Optimal has it
// with so many ideals at most, and what no order costs less than.
func (a *Again) Full(weights []float64, ideals int) (cost, bound float64) {
	a.weigh(weights)
	copy(a.g.wt, a.wt)
	r := a.g.optimal(ideals)
	return r.Cost, r.Bound
}

// weigh takes the weights of the jobs that count.
func (a *Again) weigh(weights []float64) {
	for i, v := range a.kept {
		a.wt[i] = weights[v] + 0
	}
}

// relax orders the jobs by a forest of their conditions: of each job's that on
// the one that comes last before it or, mirrored, that of the one that comes first
// behind it.
func (a *Again) relax(mirror bool) {
	for at, v := range a.best {
		a.place[v] = at
		if mirror {
			a.place[v] = -at
		}
	}
	near := a.g.pred
	if mirror {
		near = a.g.succ
	}
	for v, list := range near {
		a.parent[v] = -1
		for _, u := range list {
			if p := a.parent[v]; p < 0 || a.place[u] > a.place[p] {
				a.parent[v] = u
			}
		}
	}
	a.horn(mirror)
}

func (a *Again) cost(order []int) float64 {
	t, c := 0.0, 0.0
	for _, v := range order {
		t += a.g.min[v]
		c += float64(a.wt[v] * t)
	}
	return c
}

// before is block.before, for blocks named by their first jobs.
func (a *Again) before(x, y int) bool {
	if c := ratio(a.w[x], a.p[x], a.w[y], a.p[y]); c != 0 {
		return c > 0
	}
	return a.place[x] < a.place[y]
}

// meld is the package's, on numbers; -1 for none.
func (a *Again) meld(x, y int) int {
	if x < 0 {
		return y
	}
	if y < 0 {
		return x
	}
	if a.before(y, x) {
		x, y = y, x
	}
	a.right[x] = a.meld(a.right[x], y)
	if a.left[x] < 0 || a.npl[a.left[x]] < a.npl[a.right[x]] {
		a.left[x], a.right[x] = a.right[x], a.left[x]
	}
	a.npl[x] = 1
	if r := a.right[x]; r >= 0 {
		a.npl[x] += a.npl[r]
	}
	return x
}

// horn orders the forest of parents; mirrored, of children, with time turned around
// (see graph.mirror).
func (a *Again) horn(mirror bool) {
	g := a.g
	for v := range a.below {
		a.below[v] = -1
	}
	roots := -1
	for i := len(g.topo) - 1; i >= 0; i-- {
		v := g.topo[i]
		if mirror {
			v = g.topo[len(g.topo)-1-i]
		}
		if a.w[v], a.p[v] = a.wt[v], g.min[v]; mirror {
			a.w[v], a.p[v] = a.p[v], a.w[v]
		}
		a.left[v], a.right[v], a.npl[v] = -1, -1, 1
		a.tail[v], a.next[v] = v, -1
		k := a.below[v]
		for k >= 0 && ratio(a.w[k], a.p[k], a.w[v], a.p[v]) > 0 {
			a.next[a.tail[v]] = k
			a.tail[v] = a.tail[k]
			a.w[v] += a.w[k]
			a.p[v] += a.p[k]
			k = a.meld(a.meld(a.left[k], a.right[k]), a.kids[k])
		}
		a.kids[v] = k
		if p := a.parent[v]; p >= 0 {
			a.below[p] = a.meld(a.below[p], v)
		} else {
			roots = a.meld(roots, v)
		}
	}
	a.order = a.order[:0]
	for roots >= 0 {
		b := roots
		roots = a.meld(a.meld(a.left[b], a.right[b]), a.kids[b])
		for v := b; v >= 0; v = a.next[v] {
			a.order = append(a.order, v)
		}
	}
	if mirror {
		slices.Reverse(a.order)
	}
}

// respect makes the order one that meets all conditions: always the earliest job
// that may go.
func (a *Again) respect() {
	g := a.g
	for at, v := range a.order {
		a.place[v] = at
		a.waits[v] = len(g.pred[v])
	}
	a.ready = a.ready[:0]
	for _, v := range a.order {
		if a.waits[v] == 0 {
			a.ready = append(a.ready, v)
		}
	}
	a.order = a.order[:0]
	for len(a.ready) > 0 {
		at := 0
		for i, v := range a.ready {
			if a.place[v] < a.place[a.ready[at]] {
				at = i
			}
		}
		v := a.ready[at]
		a.ready[at] = a.ready[len(a.ready)-1]
		a.ready = a.ready[:len(a.ready)-1]
		a.order = append(a.order, v)
		for _, s := range g.succ[v] {
			if a.waits[s]--; a.waits[s] == 0 {
				a.ready = append(a.ready, s)
			}
		}
	}
}
