package order

import (
	"math"
	"slices"
)

// solveModule orders the jobs of one Sidney module.
func (s *solver) solveModule(set []int) []int {
	g := s.g.sub(set)
	order, bound, done := slices.Clone(g.topo), 0.0, false
	cost := math.Inf(1)
	if g.n() > smallModule || s.budget < 1<<smallModule {
		order = g.goodOrder()
		cost = g.cost(order)
		bound = max(g.relaxed(), g.shares())
	}
	r := ideals(g, cost, true, s.budget)
	s.budget -= r.visited
	s.Ideals += r.visited
	bound = max(bound, r.bound)
	if r.order != nil {
		order, done = r.order, true
	}
	if !done {
		s.Searched += len(set)
		// A bound within rounding of the cost is a proof as well.
		if gap := cost - bound; gap > costRounding*cost {
			s.gap += gap
		}
	}
	for i, v := range order {
		order[i] = set[v]
	}
	return order
}

// smallModule is the size up to which all ideals are sure to be few.
const smallModule = 12

// relaxed bounds the cost of every order from below: keep of every job's
// predecessors only one (or of its successors only one) and Horn's rule gives
// the exact optimum of what is left.
func (g *graph) relaxed() float64 {
	best := 0.0
	for _, seq := range [2][][]int{g.relaxedOut(), g.relaxedIn()} {
		best = max(best, g.cost(slices.Concat(seq...)))
	}
	return best
}

// relaxedOut orders the forest that keeps of every job the predecessor with
// the most minutes before it.
func (g *graph) relaxedOut() [][]int {
	level := make([]float64, g.n())
	parent := make([]int, g.n())
	for _, v := range g.topo {
		parent[v] = -1
		for _, p := range g.pred[v] {
			if parent[v] < 0 || level[p] > level[parent[v]] {
				parent[v] = p
			}
		}
		level[v] = g.min[v]
		if parent[v] >= 0 {
			level[v] += level[parent[v]]
		}
	}
	l := newLine(g.n())
	return blocks(l, horn(g, l, g.topo, func(v int) int { return parent[v] }))
}

// relaxedIn is relaxedOut with time turned around.
func (g *graph) relaxedIn() [][]int {
	seq := g.mirror().relaxedOut()
	slices.Reverse(seq)
	for _, b := range seq {
		slices.Reverse(b)
	}
	return seq
}

// goodOrder returns a good order without a guarantee: the better
// of two starts, improved by moving short runs of jobs and by solving windows.
func (g *graph) goodOrder() []int {
	starts := [][]int{
		g.pursue(slices.Concat(g.relaxedOut()...)),
		g.pursue(slices.Concat(g.relaxedIn()...)),
	}
	best, least := starts[0], math.Inf(1)
	for _, o := range starts {
		g.moveRuns(o)
		if c := g.cost(o); c < least*(1-tie) {
			best, least = o, c
		}
	}
	for range 8 {
		if !g.windows(best) {
			break
		}
		if !g.moveRuns(best) {
			break
		}
	}
	return best
}

// moveRuns moves runs of up to eight jobs to better places until none helps
// or its work is used up. It reports whether the cost fell.
func (g *graph) moveRuns(order []int) bool {
	n := len(order)
	pos := make([]int, n)
	for i, v := range order {
		pos[v] = i
	}
	work := 20_000_000
	better := false
	for again := true; again && work > 0; {
		again = false
		for length := 1; length <= min(8, n-1) && work > 0; length++ {
			for i := 0; i+length <= n; i++ {
				w, p := 0.0, 0.0
				for _, v := range order[i : i+length] {
					w += g.wt[v]
					p += g.min[v]
				}
				gain, to := 0.0, i
				sum := 0.0
				for k := i - 1; k >= 0; k-- { // earlier: pass order[k]
					u := order[k]
					work -= 1 + len(g.succ[u])
					if slices.ContainsFunc(g.succ[u], func(x int) bool { return pos[x] >= i && pos[x] < i+length }) {
						break
					}
					sum += w*g.min[u] - g.wt[u]*p
					if sum > gain {
						gain, to = sum, k
					}
				}
				sum = 0.0
				for k := i + length; k < n; k++ { // later
					u := order[k]
					work -= 1 + len(g.pred[u])
					if slices.ContainsFunc(g.pred[u], func(x int) bool { return pos[x] >= i && pos[x] < i+length }) {
						break
					}
					sum += g.wt[u]*p - w*g.min[u]
					if sum > gain {
						gain, to = sum, k-length+1
					}
				}
				// A gain in the last digits is none: it could go around in circles.
				if to == i || gain <= gainRounding*float64(w*p) {
					continue
				}
				run := slices.Clone(order[i : i+length])
				if to < i {
					copy(order[to+length:i+length], order[to:i])
				} else {
					copy(order[i:to], order[i+length:to+length])
				}
				copy(order[to:to+length], run)
				for k := min(i, to); k < max(i, to)+length; k++ {
					pos[order[k]] = k
				}
				again, better = true, true
			}
		}
	}
	return better
}

// windows solves short stretches of the order exactly.
func (g *graph) windows(order []int) bool {
	const size, ideal = 16, 3000
	better := false
	for i := 0; i+2 <= len(order); i += size / 2 {
		win := order[i:min(i+size, len(order))]
		s := g.sub(win)
		own := make([]int, len(win))
		for k := range own {
			own[k] = k
		}
		before := s.cost(own)
		r := ideals(s, before, false, ideal)
		if r.order == nil || s.cost(r.order) >= before*(1-1e-12) {
			continue
		}
		old := slices.Clone(win)
		for k, v := range r.order {
			win[k] = old[v]
		}
		better = true
	}
	return better
}
