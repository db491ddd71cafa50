package order

import (
	"cmp"
	"math"
	"slices"
)

// solveGeneral orders components that are no trees: each becomes its Sidney
// modules, first to last, the jobs of a module in order. The smallest modules
// are solved first, so that the work bound settles as many as it can.
func (s *solver) solveGeneral(comps [][]int) [][][]int {
	out := make([][][]int, len(comps))
	var todo []*[]int
	for i, c := range comps {
		out[i] = s.g.sidney(c)
		for k := range out[i] {
			s.Modules++
			s.Largest = max(s.Largest, len(out[i][k]))
			todo = append(todo, &out[i][k])
		}
	}
	slices.SortStableFunc(todo, func(a, b *[]int) int { return cmp.Compare(len(*a), len(*b)) })
	for _, m := range todo {
		if len(*m) > 1 {
			*m = s.solveModule(*m)
		}
	}
	return out
}

// sidney splits a convex set of jobs into modules: every module is a smallest
// initial set of greatest weight/minutes of what is left. Some optimal order
// does the modules one after another. A set is cut by the closure of greatest
// weight − λ·minutes, λ being the set's own ratio; when nothing has a positive
// value the set is its own best initial set, and is split only by ties.
func (g *graph) sidney(set []int) [][]int {
	s := g.sub(set)
	w, p := 0.0, 0.0
	for v := range s.n() {
		w += s.wt[v]
		p += s.min[v]
	}
	if w == 0 || p == 0 || s.n() == 1 {
		// Any order costs the same.
		out := make([][]int, 0, s.n())
		for _, v := range s.topo {
			out = append(out, []int{set[v]})
		}
		return out
	}
	value := make([]int64, s.n())
	for v := range value {
		value[v] = int64(math.Round((s.wt[v]/w - s.min[v]/p) * (1 << 52)))
	}
	// Each value is off by some two units at most.
	noise := int64(2 * s.n())
	f, best := closure(s, value)
	if best > noise {
		first := f.initial()
		var a, b []int
		for _, v := range s.topo {
			if first[v] {
				a = append(a, set[v])
			} else {
				b = append(b, set[v])
			}
		}
		if len(a) > 0 && len(b) > 0 {
			return append(g.sidney(a), g.sidney(b)...)
		}
	}
	modules := tied(s, f, noise)
	for _, m := range modules {
		for i, v := range m {
			m[i] = set[v]
		}
	}
	return modules
}

// tied splits a set that is its own best initial set into the smallest
// initial sets of equal ratio: the strongly connected components of the
// residual network (Picard and Queyranne, 1980, recalled). The order follows
// the names as far as the components allow.
func tied(g *graph, f *flow, noise int64) [][]int {
	n := g.n()
	need := make([][]int, n) // jobs that must be in every tight set with v
	for v := range n {
		need[v] = append(need[v], g.pred[v]...)
	}
	for v := range n {
		for _, e := range f.out[v] {
			// Flow from a job to its predecessor ties the predecessor to it.
			if a := f.arcs[e]; e&1 == 0 && a.to < n && f.arcs[e^1].room > noise {
				need[a.to] = append(need[a.to], v)
			}
		}
	}
	of, parts := strong(need)
	if parts == 1 {
		return [][]int{slices.Clone(g.topo)}
	}
	q := &graph{min: make([]float64, parts), pred: make([][]int, parts), succ: make([][]int, parts)}
	name := make([]int, parts)
	out := make([][]int, parts)
	for _, v := range g.topo {
		c := of[v]
		if len(out[c]) == 0 {
			name[c] = g.rank[v]
		}
		out[c] = append(out[c], v)
		for _, u := range need[v] {
			if d := of[u]; d != c && !slices.Contains(q.pred[c], d) {
				q.pred[c] = append(q.pred[c], d)
				q.succ[d] = append(q.succ[d], c)
			}
		}
	}
	var sorted [][]int
	for _, c := range q.list(func(c int) int { return name[c] }) {
		sorted = append(sorted, out[c])
	}
	return sorted
}

// strong numbers the strongly connected components of a directed graph
// (Tarjan's method, with its own stack) and tells how many there are.
func strong(arcs [][]int) (of []int, parts int) {
	n := len(arcs)
	of = make([]int, n)
	seen, low, at := make([]int, n), make([]int, n), make([]int, n)
	for i := range of {
		of[i] = -1
	}
	clock := 0
	var stack, path []int
	for r := range n {
		if seen[r] != 0 {
			continue
		}
		path = append(path, r)
		for len(path) > 0 {
			v := path[len(path)-1]
			if seen[v] == 0 {
				clock++
				seen[v], low[v] = clock, clock
				stack = append(stack, v)
			}
			if at[v] < len(arcs[v]) {
				u := arcs[v][at[v]]
				at[v]++
				if seen[u] == 0 {
					path = append(path, u)
				} else if of[u] < 0 {
					low[v] = min(low[v], seen[u])
				}
				continue
			}
			path = path[:len(path)-1]
			if len(path) > 0 {
				u := path[len(path)-1]
				low[u] = min(low[u], low[v])
			}
			if low[v] == seen[v] {
				for {
					u := stack[len(stack)-1]
					stack = stack[:len(stack)-1]
					of[u] = parts
					if u == v {
						break
					}
				}
				parts++
			}
		}
	}
	return of, parts
}
