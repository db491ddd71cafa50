package order

import "slices"

// A block is a run of jobs that some optimal order does without a break. It
// is a node of a leftist heap, greatest ratio first.
type block struct {
	w, p       float64
	rank       int // of its first job, to settle ties
	head, tail int // first and last job; line holds those between
	kids       *block

	left, right *block
	npl         int // length of the shortest way down, plus one
}

// before reports whether a goes before b when both are available.
func (a *block) before(b *block) bool {
	if c := ratio(a.w, a.p, b.w, b.p); c != 0 {
		return c > 0
	}
	return a.rank < b.rank
}

// meld joins two heaps in logarithmic time.
func meld(a, b *block) *block {
	if a == nil {
		return b
	}
	if b == nil {
		return a
	}
	if b.before(a) {
		a, b = b, a
	}
	a.right = meld(a.right, b)
	if a.left == nil || a.left.npl < a.right.npl {
		a.left, a.right = a.right, a.left
	}
	a.npl = 1
	if a.right != nil {
		a.npl += a.right.npl
	}
	return a
}

// line holds the jobs of all blocks as linked lists: the job after each.
type line []int

func newLine(n int) line { return make(line, n) }

func (l line) appendTo(order []int, b *block) []int {
	for v := b.head; ; v = l[v] {
		order = append(order, v)
		if v == b.tail {
			return order
		}
	}
}

// newBlock makes one block of jobs, which must not be empty.
func newBlock(g *graph, l line, jobs ...int) *block {
	b := &block{rank: g.rank[jobs[0]], head: jobs[0], tail: jobs[len(jobs)-1], npl: 1}
	for i, v := range jobs {
		b.w += g.wt[v]
		b.p += g.min[v]
		if i > 0 {
			l[jobs[i-1]] = v
		}
	}
	return b
}

// chain makes blocks that follow one another and returns the first. Ratios
// must fall along a chain; where rounding left a greater one behind a smaller
// one, the two become one block.
func chain(g *graph, l line, seq [][]int) *block {
	var next *block
	for i := len(seq) - 1; i >= 0; i-- {
		b := newBlock(g, l, seq[i]...)
		b.kids = next
		b.swallow(l)
		next = b
	}
	return next
}

// swallow joins the best block below b to it as long as that block's ratio is
// greater.
func (b *block) swallow(l line) {
	for c := b.kids; c != nil && ratio(c.w, c.p, b.w, b.p) > 0; c = b.kids {
		b.kids = meld(meld(c.left, c.right), c.kids)
		l[b.tail] = c.head
		b.tail = c.tail
		b.w += c.w
		b.p += c.p
	}
}

// firstPred takes every job's only predecessor as its parent, -1 for none.
func firstPred(g *graph) func(int) int {
	return func(v int) int {
		if len(g.pred[v]) == 0 {
			return -1
		}
		return g.pred[v][0]
	}
}

// horn applies Horn's rule to a forest: jobs in topological order, each with
// at most one parent. From the leaves up, a job swallows the best block below
// it as long as that block's ratio is greater than its own. The result is the
// heap of blocks that may start; the blocks that become available with a block
// are its kids. O(n log n).
func horn(g *graph, l line, jobs []int, parent func(int) int) *block {
	below := make(map[int]*block, len(jobs))
	var roots *block
	for i := len(jobs) - 1; i >= 0; i-- {
		v := jobs[i]
		b := newBlock(g, l, v)
		b.kids = below[v]
		delete(below, v)
		b.swallow(l)
		if p := parent(v); p >= 0 {
			below[p] = meld(below[p], b)
		} else {
			roots = meld(roots, b)
		}
	}
	return roots
}

// blocks empties a heap: the blocks in the order in which they go.
func blocks(l line, heap *block) [][]int {
	var seq [][]int
	for heap != nil {
		b := heap
		heap = meld(meld(b.left, b.right), b.kids)
		seq = append(seq, l.appendTo(nil, b))
	}
	return seq
}

// mirror turns time around: conditions reversed, minutes and weights swapped,
// names from last to first. Σ over pairs of minutes(earlier)·weight(later) is
// the same for an order and its reverse in the mirror.
func (g *graph) mirror() *graph {
	m := &graph{min: g.wt, wt: g.min, pred: g.succ, succ: g.pred, rank: make([]int, g.n())}
	for v, r := range g.rank {
		m.rank[v] = g.n() - 1 - r
	}
	m.topo = slices.Clone(g.topo)
	slices.Reverse(m.topo)
	return m
}

// mirrorHorn solves an in-forest (every job with at most one successor; jobs
// in topological order) by Horn's rule on its mirror image.
func mirrorHorn(g *graph, jobs []int) [][]int {
	m := g.mirror()
	back := slices.Clone(jobs)
	slices.Reverse(back)
	l := newLine(g.n())
	seq := blocks(l, horn(m, l, back, firstPred(m)))
	slices.Reverse(seq)
	for _, b := range seq {
		slices.Reverse(b)
	}
	return seq
}
