package order

import "slices"

// waiting takes jobs out whose weight is always zero, where that costs nothing: one
// that nothing waits for may be done last, one that a single other job waits for
// just before that. It returns the graph of the jobs kept, in their numbers, and
// which they are.
func (g *graph) waiting(idle []bool) (small *graph, kept []int) {
	s := &graph{min: slices.Clone(g.min), wt: make([]float64, g.n()), topo: g.topo, pred: make([][]int, g.n()), succ: make([][]int, g.n())}
	gone := make([]bool, g.n())
	for v := range g.pred {
		s.pred[v], s.succ[v] = slices.Clone(g.pred[v]), slices.Clone(g.succ[v])
	}
	for changed := true; changed; {
		changed = false
		for _, v := range slices.Backward(g.topo) {
			if gone[v] || !idle[v] || len(s.succ[v]) > 1 {
				continue
			}
			gone[v], changed = true, true
			var then []int // what inherits its conditions
			if then = s.succ[v]; len(then) > 0 {
				s.min[then[0]] += s.min[v]
				s.pred[then[0]] = without(s.pred[then[0]], v)
			}
			for _, p := range s.pred[v] {
				s.succ[p] = without(s.succ[p], v)
				for _, t := range then {
					s.succ[p] = with(s.succ[p], t)
					s.pred[t] = with(s.pred[t], p)
				}
			}
			s.pred[v], s.succ[v] = nil, nil
		}
		s.reduce()
	}
	at := make([]int, g.n())
	for v := range at {
		if !gone[v] {
			at[v] = len(kept)
			kept = append(kept, v)
		}
	}
	n := len(kept)
	small = &graph{min: make([]float64, n), wt: make([]float64, n), pred: make([][]int, n), succ: make([][]int, n), rank: make([]int, n)}
	byRank := slices.Clone(kept)
	slices.SortFunc(byRank, func(a, b int) int { return g.rank[a] - g.rank[b] })
	for r, v := range byRank {
		small.rank[at[v]] = r
	}
	for i, v := range kept {
		small.min[i] = s.min[v]
		for _, p := range s.pred[v] {
			small.pred[i] = append(small.pred[i], at[p])
		}
		for _, t := range s.succ[v] {
			small.succ[i] = append(small.succ[i], at[t])
		}
	}
	small.topo = small.list(func(v int) int { return v })
	return small, kept
}

// without and with are a sorted list with one member less or more.
func without(list []int, v int) []int {
	return slices.DeleteFunc(list, func(x int) bool { return x == v })
}

func with(list []int, v int) []int {
	if i, ok := slices.BinarySearch(list, v); !ok {
		return slices.Insert(list, i, v)
	}
	return list
}
