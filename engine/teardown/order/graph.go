package order

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// graph is the checked problem. Jobs are numbered as given.
type graph struct {
	min, wt    []float64
	pred, succ [][]int // direct, sorted, without repeats
	topo       []int   // index order as far as the precedence allows
	rank       []int   // place of a job when sorted by name, then index
}

func (g *graph) n() int { return len(g.min) }

// build checks the jobs and returns their graph.
func build(jobs []Job) (*graph, error) {
	n := len(jobs)
	g := &graph{
		min: make([]float64, n), wt: make([]float64, n),
		pred: make([][]int, n), succ: make([][]int, n),
	}
	minutes, weight := 0.0, 0.0
	for i, j := range jobs {
		if !(j.Minutes >= 0) || math.IsInf(j.Minutes, 0) {
			return nil, fmt.Errorf("order: %s has %v minutes; give a finite number, 0 or more", label(jobs, i), j.Minutes)
		}
		if !(j.Weight >= 0) || math.IsInf(j.Weight, 0) {
			return nil, fmt.Errorf("order: %s has weight %v; give a finite number, 0 or more", label(jobs, i), j.Weight)
		}
		// Adding 0 turns a negative zero into a plain one.
		g.min[i], g.wt[i] = j.Minutes+0, j.Weight+0
		minutes += j.Minutes
		weight += j.Weight
		p := slices.Clone(j.After)
		slices.Sort(p)
		p = slices.Compact(p)
		for _, a := range p {
			if a < 0 || a >= n {
				return nil, fmt.Errorf("order: %s comes after job number %d; there are jobs 0 to %d", label(jobs, i), a, n-1)
			}
			g.succ[a] = append(g.succ[a], i)
		}
		g.pred[i] = p
	}
	if math.IsInf(minutes*weight, 0) {
		return nil, fmt.Errorf("order: %g minutes in all times weight %g in all is too large; use a larger unit", minutes, weight)
	}
	byName := make([]int, n)
	for i := range byName {
		byName[i] = i
	}
	slices.SortStableFunc(byName, func(a, b int) int { return strings.Compare(jobs[a].Name, jobs[b].Name) })
	g.rank = make([]int, n)
	for r, i := range byName {
		g.rank[i] = r
	}
	identity := func(v int) int { return v }
	g.topo = g.list(identity)
	if len(g.topo) < n {
		return nil, cycleError(jobs, g)
	}
	return g, nil
}

func label(jobs []Job, i int) string {
	if jobs[i].Name == "" {
		return fmt.Sprintf("job %d", i)
	}
	return fmt.Sprintf("job %d %q", i, jobs[i].Name)
}

// cycleError names one cycle, first to last in the order in which its jobs
// would have to be done, starting at the smallest index.
func cycleError(jobs []Job, g *graph) error {
	placed := make([]bool, g.n())
	for _, v := range g.topo {
		placed[v] = true
	}
	v := slices.Index(placed, false)
	seen := make([]int, g.n())
	var path []int
	for seen[v] == 0 {
		path = append(path, v)
		seen[v] = len(path)
		for _, p := range g.pred[v] {
			if !placed[p] {
				v = p
				break
			}
		}
	}
	path = path[seen[v]-1:]
	slices.Reverse(path)
	at := slices.Index(path, slices.Min(path))
	path = slices.Concat(path[at:], path[:at])
	var names []string
	for _, p := range append(path, path[0]) {
		if jobs[p].Name == "" {
			names = append(names, fmt.Sprintf("job %d", p))
		} else {
			names = append(names, fmt.Sprintf("%q", jobs[p].Name))
		}
	}
	return fmt.Errorf("order: each of these jobs must come before the next: %s; take one of the conditions out", strings.Join(names, ", "))
}

// list returns a topological order that always takes the available job of
// smallest key; keys must differ. On a cycle the order is incomplete.
func (g *graph) list(key func(int) int) []int {
	open := make([]int, g.n())
	var h []int // binary heap of jobs by key
	push := func(v int) {
		h = append(h, v)
		for i := len(h) - 1; i > 0; {
			up := (i - 1) / 2
			if key(h[up]) <= key(h[i]) {
				break
			}
			h[up], h[i] = h[i], h[up]
			i = up
		}
	}
	pop := func() int {
		v := h[0]
		h[0] = h[len(h)-1]
		h = h[:len(h)-1]
		for i := 0; ; {
			c := 2*i + 1
			if c >= len(h) {
				return v
			}
			if c+1 < len(h) && key(h[c+1]) < key(h[c]) {
				c++
			}
			if key(h[i]) <= key(h[c]) {
				return v
			}
			h[i], h[c] = h[c], h[i]
			i = c
		}
	}
	for v := range open {
		open[v] = len(g.pred[v])
		if open[v] == 0 {
			push(v)
		}
	}
	order := make([]int, 0, g.n())
	for len(h) > 0 {
		v := pop()
		order = append(order, v)
		for _, s := range g.succ[v] {
			if open[s]--; open[s] == 0 {
				push(s)
			}
		}
	}
	return order
}

// reduceLimit bounds the memory of the transitive reduction (two bits per
// pair of jobs: 8 MB).
const reduceLimit = 8192

// reduce drops conditions that follow from others, so that a tree written
// with shortcuts is recognized as one.
func (g *graph) reduce() {
	n := g.n()
	several := slices.ContainsFunc(g.pred, func(p []int) bool { return len(p) > 1 })
	if !several || n > reduceLimit {
		return
	}
	above := g.ancestors()
	for v := range g.succ {
		g.succ[v] = g.succ[v][:0]
	}
	for v, ps := range g.pred {
		g.pred[v] = slices.DeleteFunc(ps, func(p int) bool {
			return slices.ContainsFunc(ps, func(q int) bool { return above[q].has(p) })
		})
	}
	for v, ps := range g.pred {
		for _, p := range ps {
			g.succ[p] = append(g.succ[p], v)
		}
	}
}

// ancestors returns for every job the set of jobs that must come before it.
func (g *graph) ancestors() []bitset {
	words := (g.n() + 63) / 64
	all := make([]uint64, words*g.n())
	above := make([]bitset, g.n())
	for _, v := range g.topo {
		above[v] = all[v*words : (v+1)*words]
		for _, p := range g.pred[v] {
			above[v].add(p)
			for i, w := range above[p] {
				above[v][i] |= w
			}
		}
	}
	return above
}

// components returns the connected components, each in topological order,
// ordered by their first job.
func (g *graph) components() [][]int {
	of := make([]int, g.n())
	for i := range of {
		of[i] = -1
	}
	var out [][]int
	for _, v := range g.topo {
		if of[v] >= 0 {
			continue
		}
		stack := []int{v}
		of[v] = len(out)
		for len(stack) > 0 {
			u := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, side := range [2][]int{g.pred[u], g.succ[u]} {
				for _, x := range side {
					if of[x] < 0 {
						of[x] = len(out)
						stack = append(stack, x)
					}
				}
			}
		}
		out = append(out, nil)
	}
	for _, v := range g.topo {
		out[of[v]] = append(out[of[v]], v)
	}
	return out
}

// tree tells whether every job of a component has at most one predecessor, or
// at most one successor.
func (g *graph) tree(jobs []int) (out, in bool) {
	out, in = true, true
	for _, v := range jobs {
		out = out && len(g.pred[v]) <= 1
		in = in && len(g.succ[v]) <= 1
	}
	return out, in
}

// sub returns the graph of the given jobs alone, renumbered by their place in
// set. Only direct conditions survive, so set must be convex (with two jobs
// it holds every job between them).
func (g *graph) sub(set []int) *graph {
	place := make(map[int]int, len(set))
	for i, v := range set {
		place[v] = i
	}
	n := len(set)
	s := &graph{
		min: make([]float64, n), wt: make([]float64, n),
		pred: make([][]int, n), succ: make([][]int, n), rank: make([]int, n),
	}
	byRank := slices.Clone(set)
	slices.SortFunc(byRank, func(a, b int) int { return g.rank[a] - g.rank[b] })
	for r, v := range byRank {
		s.rank[place[v]] = r
	}
	for i, v := range set {
		s.min[i], s.wt[i] = g.min[v], g.wt[v]
		for _, p := range g.pred[v] {
			if k, ok := place[p]; ok {
				s.pred[i] = append(s.pred[i], k)
				s.succ[k] = append(s.succ[k], i)
			}
		}
	}
	s.topo = s.list(func(v int) int { return s.rank[v] })
	return s
}

// cost is Σ weight × completion time of the jobs of order, started at 0.
func (g *graph) cost(order []int) float64 {
	t, c := 0.0, 0.0
	for _, v := range order {
		t += g.min[v]
		// The conversion keeps the product from being fused with the sum, so
		// that every processor gives the same digits.
		c += float64(g.wt[v] * t)
	}
	return c
}

// tie is the relative difference up to which two ratios count as equal.
const tie = 1e-12

// ratio compares weight/minutes of two groups of jobs: positive if the first
// is greater. A group without minutes is never a reason to wait: its ratio is
// infinite, also when it has no weight.
func ratio(w1, p1, w2, p2 float64) int {
	a, b := quotient(w1, p1), quotient(w2, p2)
	switch {
	case a == b:
		return 0
	case a-b > tie*a || math.IsInf(a, 1):
		return 1
	case b-a > tie*b || math.IsInf(b, 1):
		return -1
	}
	return 0
}

func quotient(w, p float64) float64 {
	if p == 0 {
		return math.Inf(1)
	}
	return w / p
}

type bitset []uint64

func (b bitset) has(i int) bool { return b[i>>6]>>(i&63)&1 != 0 }
func (b bitset) add(i int)      { b[i>>6] |= 1 << (i & 63) }
