package order

import (
	"cmp"
	"math/bits"
	"slices"
)

// mask is a set of up to 64, 128 or 256 jobs.
type mask interface {
	comparable
	[1]uint64 | [2]uint64 | [4]uint64
}

// maxIdealJobs is the largest module that dynamic programming can hold.
const maxIdealJobs = 256

// search is what dynamic programming over ideals found.
type search struct {
	order   []int   // nil if the budget did not suffice
	bound   float64 // no order of the module costs less
	visited int     // ideals stored
}

// ideals finds the best order of all jobs of g by dynamic programming over
// ideals, size after size. Two things that cost nothing keep the ideals few: a
// job without weight waits until a job with weight needs it, so the size is
// the number of jobs with weight; and a job that takes no time is done as soon
// as it can be. known is the cost of a valid order (an ideal that cannot beat
// it is dropped), or +Inf. tight says that no initial set of g has a greater
// ratio than g itself, as in a Sidney module, which sharpens the bounds. When
// more than budget ideals would be stored it gives up and returns the least
// bound of the last complete size.
func ideals(g *graph, known float64, tight bool, budget int) search {
	switch n := g.n(); {
	case n <= 64:
		return idealsOf[[1]uint64](g, known, tight, budget)
	case n <= 128:
		return idealsOf[[2]uint64](g, known, tight, budget)
	case n <= maxIdealJobs:
		return idealsOf[[4]uint64](g, known, tight, budget)
	}
	return search{}
}

// stratum holds the ideals of one size.
type stratum[M mask] struct {
	sets    []M
	cost    []float64 // least cost of the ideal's jobs
	minutes []float64
}

// trace remembers how an ideal was reached.
type trace struct {
	from []int32 // place in the size below
	last []uint8 // job added
}

func idealsOf[M mask](g *graph, known float64, tight bool, budget int) search {
	n := g.n()
	perm := g.byRatio()
	place := make([]int, n)
	for i, v := range perm {
		place[v] = i
	}
	need := make([]M, n) // all jobs before it, and itself
	b := newBounds[M](g, perm, tight)
	for _, v := range g.topo {
		k := place[v]
		need[k][k>>6] |= 1 << (k & 63)
		for _, p := range g.pred[v] {
			need[k] = union(need[k], need[place[p]])
		}
	}
	var heavy M // jobs with weight
	sizes := 0
	for k, w := range b.wt {
		if w > 0 {
			heavy[k>>6] |= 1 << (k & 63)
			sizes++
		}
	}
	limit := known * (1 + 1e-11) // rounding must not cut the best order off
	cur := stratum[M]{sets: make([]M, 1), cost: []float64{0}, minutes: []float64{0}}
	traces := make([]trace, 0, n)
	visited := min(1, budget)
	var moves []move
	for range sizes {
		var next stratum[M]
		var tr trace
		tab := newTable(2 * len(cur.sets))
		floor := known
		full := false
	expand:
		for i, s := range cur.sets {
			low := cur.cost[i] + b.rest(s, cur.minutes[i])
			if low > limit {
				continue
			}
			floor = min(floor, low)
			if full {
				continue
			}
			moves = b.moves(moves[:0], need, heavy, s)
			for _, m := range moves {
				minutes := cur.minutes[i] + m.minutes
				cost := cur.cost[i] + float64(b.wt[m.job]*minutes)
				t := union(s, need[m.job])
				slot, k := find(tab, next.sets, t)
				if k < 0 {
					if visited >= budget {
						full = true
						continue expand
					}
					visited++
					tab.slots[slot] = int32(len(next.sets) + 1)
					next.sets = append(next.sets, t)
					next.cost = append(next.cost, cost)
					next.minutes = append(next.minutes, minutes)
					tr.from = append(tr.from, int32(i))
					tr.last = append(tr.last, uint8(m.job))
					if 2*len(next.sets) > len(tab.slots) {
						tab = grow(next.sets)
					}
					continue
				}
				old := next.cost[k]
				d := cost - old
				if d < -tie*old || d <= tie*old && g.rank[perm[m.job]] > g.rank[perm[tr.last[k]]] {
					tr.from[k], tr.last[k] = int32(i), uint8(m.job)
				}
				next.cost[k] = min(old, cost)
			}
		}
		if full {
			return search{bound: floor, visited: visited}
		}
		if len(next.sets) == 0 {
			return search{bound: known, visited: visited}
		}
		traces = append(traces, tr)
		cur = next
	}
	targets := make([]int, sizes, n)
	for i, k := sizes-1, int32(0); i >= 0; i-- {
		targets[i] = perm[traces[i].last[k]]
		k = traces[i].from[k]
	}
	for _, v := range g.topo {
		if g.wt[v] == 0 {
			targets = append(targets, v)
		}
	}
	return search{order: g.pursue(targets), bound: cur.cost[0], visited: visited}
}

// byRatio lists the jobs by falling ratio: the members of a set, numbered so,
// come in the order that would be best without conditions.
func (g *graph) byRatio() []int {
	perm := make([]int, g.n())
	for i := range perm {
		perm[i] = i
	}
	key := func(v int) float64 { return quotient(g.wt[v], g.min[v]) }
	slices.SortFunc(perm, func(a, b int) int {
		// Without the tolerance of ratio, which would not be transitive.
		if c := cmp.Compare(key(b), key(a)); c != 0 {
			return c
		}
		return g.rank[a] - g.rank[b]
	})
	return perm
}

// move does a job with weight and the weightless jobs that it still needs.
type move struct {
	job     int
	minutes float64
}

// moves appends what may be done next after the ideal s: every job with weight
// that needs no other such job first, or only one of them if it takes no time.
func (b *bounds[M]) moves(to []move, need []M, heavy, s M) []move {
	for word := 0; word < len(s); word++ {
	next:
		for open := heavy[word] &^ s[word]; open != 0; open &= open - 1 {
			m := move{job: word<<6 + bits.TrailingZeros64(open)}
			// Members count in a fixed order, so that an ideal has one time.
			for i := 0; i < len(s); i++ {
				x := need[m.job][i] &^ s[i]
				if k := x & heavy[i]; k&(k-1) != 0 || k != 0 && i != word {
					continue next
				}
				for ; x != 0; x &= x - 1 {
					m.minutes += b.min[i<<6+bits.TrailingZeros64(x)]
				}
			}
			if m.minutes == 0 {
				return append(to[:0], m)
			}
			to = append(to, m)
		}
	}
	return to
}

func union[M mask](a, b M) M {
	for i := 0; i < len(a); i++ {
		a[i] |= b[i]
	}
	return a
}

// table finds ideals by open addressing; a slot holds place + 1.
type table struct{ slots []int32 }

func newTable(n int) table {
	return table{make([]int32, 1<<bits.Len(uint(max(n, 8))))}
}

func grow[M mask](sets []M) table {
	t := newTable(4 * len(sets))
	for i, s := range sets {
		slot, _ := find(t, sets, s)
		t.slots[slot] = int32(i + 1)
	}
	return t
}

// find returns the place of s in sets, or -1 and the slot to put it in.
func find[M mask](t table, sets []M, s M) (slot, place int) {
	h := uint64(0)
	for i := 0; i < len(s); i++ {
		h = (h ^ s[i]) * 0x9E3779B97F4A7C15
		h ^= h >> 32
	}
	last := len(t.slots) - 1
	for slot = int(h) & last; ; slot = (slot + 1) & last {
		k := t.slots[slot]
		if k == 0 {
			return slot, -1
		}
		if sets[k-1] == s {
			return slot, int(k - 1)
		}
	}
}
