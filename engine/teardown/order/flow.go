package order

import "math"

// flow is a network of whole-number capacities. Nodes 0..n-1 are jobs, n is
// the source, n+1 the sink. Arc e and its reverse e^1 are neighbors.
type flow struct {
	n     int
	arcs  []arc
	out   [][]int
	level []int
	at    []int
}

type arc struct {
	to   int
	room int64
}

// closure finds the initial set of greatest value (a maximum closure, by a
// minimum cut) and returns the saturated network with that value.
func closure(g *graph, value []int64) (*flow, int64) {
	n := g.n()
	f := &flow{n: n, out: make([][]int, n+2), level: make([]int, n+2), at: make([]int, n+2)}
	total := int64(0)
	for v, x := range value {
		switch {
		case x > 0:
			f.add(n, v, x)
			total += x
		case x < 0:
			f.add(v, n+1, -x)
		}
		for _, p := range g.pred[v] {
			// Twice what can ever flow is as good as no limit.
			f.add(v, p, math.MaxInt64/4)
		}
	}
	return f, total - f.fill()
}

func (f *flow) add(from, to int, room int64) {
	f.out[from] = append(f.out[from], len(f.arcs))
	f.arcs = append(f.arcs, arc{to, room})
	f.out[to] = append(f.out[to], len(f.arcs))
	f.arcs = append(f.arcs, arc{from, 0})
}

// fill finds a maximum flow (Dinic's method) and returns its amount.
func (f *flow) fill() int64 {
	sum := int64(0)
	for f.levels() {
		clear(f.at)
		sum += f.push(f.n, math.MaxInt64)
	}
	return sum
}

// levels numbers the nodes by distance from the source and reports whether
// the sink can be reached.
func (f *flow) levels() bool {
	for i := range f.level {
		f.level[i] = -1
	}
	f.level[f.n] = 0
	queue := []int{f.n}
	for len(queue) > 0 {
		v := queue[0]
		queue = queue[1:]
		for _, e := range f.out[v] {
			if a := f.arcs[e]; a.room > 0 && f.level[a.to] < 0 {
				f.level[a.to] = f.level[v] + 1
				queue = append(queue, a.to)
			}
		}
	}
	return f.level[f.n+1] >= 0
}

// push sends up to limit from v towards the sink along rising levels.
func (f *flow) push(v int, limit int64) int64 {
	if v == f.n+1 {
		return limit
	}
	sent := int64(0)
	for ; f.at[v] < len(f.out[v]); f.at[v]++ {
		e := f.out[v][f.at[v]]
		a := f.arcs[e]
		if a.room == 0 || f.level[a.to] != f.level[v]+1 {
			continue
		}
		x := f.push(a.to, min(limit-sent, a.room))
		f.arcs[e].room -= x
		f.arcs[e^1].room += x
		if sent += x; sent == limit {
			break
		}
	}
	return sent
}

// initial tells for every job whether it belongs to the smallest best initial
// set: what the source still reaches.
func (f *flow) initial() []bool {
	f.levels()
	in := make([]bool, f.n)
	for v := range in {
		in[v] = f.level[v] >= 0
	}
	return in
}
