package network

import (
	"math"
	"slices"
	"sync/atomic"
)

var inf = math.Inf(1)

// What a node is to one pattern of evidence.
const (
	roleOut  byte = iota // no evidence below and not wanted: sums to one
	roleOff              // known to be off
	roleOn               // known to be on
	roleNode             // a variable of the tree
	roleBare             // the same, with nothing said at or below it; a plan has roleNode instead
)

// plan is the structure of one pattern of evidence: the junction tree without
// numbers. It is never written to once built.
type plan struct {
	net  *Net
	role []byte

	xVar   []int     // node -> variable of its state, or -1
	auxVar []int     // node -> its auxiliary variable, or -1
	free   [][]int32 // node -> indices of links whose parent is a variable
	sure   []bool    // node -> forced on by a parent or leak of certain effect
	whole  []bool    // node -> one factor over it and its free parents stands for it

	nvars   int
	order   []int    // variables as they were eliminated
	cliques []clique // parents before children
	home    []int    // variable -> its smallest clique
	width   int
	cost    float64 // sum of table sizes

	// Variables that are conditioned on: one run for each of their states.
	// Only states of nodes, never auxiliary variables, so that the weight of
	// a run is not negative.
	cut      []int
	cutAt    []int // variable -> index in cut, or -1
	cutEdges []cutEdge
	cutPairs []cutPair
}

// cutEdge is a link whose parent is conditioned on.
type cutEdge struct{ aux, cut, node, link int }

// cutPair is a pair factor with one variable, or both, conditioned on:
// variables x and y as in pair.
type cutPair struct{ x, y, node int }

// clique is one table of the tree over at most 62 two-state variables. Bit i
// of an index is the state of vars[i]. The first sep variables are those
// shared with the parent clique, in the parent's order.
type clique struct {
	vars     []int
	parent   int // -1 for a root
	sep      int
	children []int
	groups   []group // the children, small separators joined
	up       gather  // from an index of the parent to one of the separator
	unary    []int   // variables whose weight is multiplied in here, as bits
	edges    []edge
	pairs    []pair
	wholes   []whole
	dead     []state // of the separator: no message says anything but zero there
}

// state is what an index of a table has in some of its bits.
type state struct{ mask, value int }

// in tells whether an index is in one of some states.
func in(x int, list []state) bool {
	for _, s := range list {
		if x&s.mask == s.value {
			return true
		}
	}
	return false
}

// whole is the factor of a node and all its free parents.
type whole struct {
	node int
	at   gather // from an index of the clique to one of theirs
	x    int    // bit of the node in that
	by   []int  // bit -> index of the link, -1 for the node
}

// mostWhole bounds the parents of such a factor.
const mostWhole = 3

// edge is one noisy-OR link: factor 1-strength where both bits are one.
type edge struct {
	aux, par   int // bits
	node, link int // Net.Nodes[node].Links[link]
}

// pair is a general factor over two bits: a node and its auxiliary variable,
// or a node and its only parent.
type pair struct {
	x, y int // bits
	node int
}

// gather maps an index over a clique to one over a subset of its variables:
// lo[x & mask] + hi[x >> shift].
type gather struct {
	bits   []int // positions in the clique, ascending
	lo, hi []int32
	shift  int
	run    int // the lowest bits that map to themselves, at most shift
}

// low is the number of bits of an index that gather.lo maps at most.
const low = 10

func newGather(positions []int, k int) gather {
	g := gather{bits: positions, shift: min(low, k)}
	for g.run < g.shift && g.run < len(positions) && positions[g.run] == g.run {
		g.run++
	}
	at := 0 // positions are ascending: those below shift come first
	below := 0
	for at < len(positions) && positions[at] < g.shift {
		below |= 1 << positions[at]
		at++
	}
	g.lo = packed(below, 0)[:1<<g.shift]
	if k-g.shift <= low {
		above := 0
		for _, p := range positions[at:] {
			above |= 1 << (p - g.shift)
		}
		g.hi = packed(above, at)[:1<<(k-g.shift)]
		return g
	}
	g.hi = make([]int32, 1<<(k-g.shift))
	for i, p := range positions[at:] {
		for x := range g.hi {
			if x>>(p-g.shift)&1 != 0 {
				g.hi[x] |= 1 << (at + i)
			}
		}
	}
	return g
}

// packings are the tables of packed, made when they are first asked for: there
// are few, and every tree needs many of them.
var packings [1 << low][low + 1]atomic.Pointer[[1 << low]int32]

// packed maps every index of so many bits to those of its bits that are in mask,
// moved together and then up by so many places. Nobody may write to it.
func packed(mask, up int) *[1 << low]int32 {
	if t := packings[mask][up].Load(); t != nil {
		return t
	}
	t := new([1 << low]int32)
	for x := range t {
		at := up
		for b := range low {
			if mask>>b&1 != 0 {
				t[x] |= int32(x>>b&1) << at
				at++
			}
		}
	}
	packings[mask][up].Store(t)
	return t
}

// roles decides what each node is, given states known beforehand, which nodes
// have evidence and which are wanted.
func (s *Solver) roles(state []int8, has []bool, want []bool) []byte {
	n := len(s.net.Nodes)
	role := make([]byte, n)
	below := make([]bool, n) // a relevant child
	for i := n - 1; i >= 0; i-- {
		known := s.logic.base[i] != unset
		switch {
		case state[i] == isOff:
			role[i] = roleOff
		case state[i] == isOn:
			role[i] = roleOn
		case below[i] || has[i]:
			role[i] = roleNode
		case want[i]:
			role[i] = roleBare
		}
		// A node that is known without any evidence says nothing about
		// its parents.
		if role[i] == roleOut || known {
			continue
		}
		for _, k := range s.net.Nodes[i].Links {
			if k.Strength > 0 {
				below[k.Parent] = true
			}
		}
	}
	return role
}

// scope names the variables of a factor.
type scope struct{ a, b int }

// skeleton numbers the variables of a pattern and gathers its factors.
type skeleton struct {
	p      *plan
	g      *graph
	edges  []scope
	pairs  []scope
	edgeOf []edge
	pairOf []pair
	wholes []int // nodes with such a factor
}

func newSkeleton(net *Net, role []byte) *skeleton { return skeletonOf(net, role, true) }

// skeletonOf is newSkeleton. With small, a node of a few parents of which nothing is
// known but through them is one factor over all: by an auxiliary variable half of
// its message would be zero, which nothing can be divided by.
func skeletonOf(net *Net, role []byte, small bool) *skeleton {
	p := &plan{net: net, role: slices.Clone(role)}
	bare := make([]bool, len(role))
	for i, r := range role {
		if r == roleBare {
			p.role[i], bare[i] = roleNode, true
		}
	}
	role = p.role
	n := len(net.Nodes)
	p.xVar, p.auxVar = make([]int, n), make([]int, n)
	p.free, p.sure, p.whole = make([][]int32, n), make([]bool, n), make([]bool, n)
	for i := range net.Nodes {
		p.xVar[i], p.auxVar[i] = -1, -1
		if role[i] == roleOut {
			continue
		}
		if role[i] == roleNode {
			p.xVar[i] = p.nvars
			p.nvars++
		}
		p.sure[i] = net.Nodes[i].Leak == 1
		for j, k := range net.Nodes[i].Links {
			switch role[k.Parent] {
			case roleNode:
				if k.Strength > 0 {
					p.free[i] = append(p.free[i], int32(j))
				}
			case roleOn:
				p.sure[i] = p.sure[i] || k.Strength == 1
			}
		}
		p.whole[i] = small && bare[i] && !p.sure[i] && len(p.free[i]) > 1 && len(p.free[i]) <= mostWhole
		if len(p.free[i]) > 1 && role[i] != roleOff && !p.sure[i] && !p.whole[i] {
			p.auxVar[i] = p.nvars
			p.nvars++
		}
	}
	s := &skeleton{p: p, g: newGraph(p.nvars)}
	for i := range net.Nodes {
		switch {
		case p.whole[i]:
			vars := p.family(i)
			for a := range vars {
				for b := range a {
					s.g.join(vars[a], vars[b])
				}
			}
			s.wholes = append(s.wholes, i)
		case p.auxVar[i] >= 0:
			if p.xVar[i] >= 0 {
				s.g.join(p.xVar[i], p.auxVar[i])
				s.pairs = append(s.pairs, scope{p.xVar[i], p.auxVar[i]})
				s.pairOf = append(s.pairOf, pair{node: i})
			}
			for _, j := range p.free[i] {
				v := p.xVar[net.Nodes[i].Links[j].Parent]
				s.g.join(p.auxVar[i], v)
				s.edges = append(s.edges, scope{p.auxVar[i], v})
				s.edgeOf = append(s.edgeOf, edge{node: i, link: int(j)})
			}
		case p.xVar[i] >= 0 && len(p.free[i]) == 1:
			v := p.xVar[net.Nodes[i].Links[p.free[i][0]].Parent]
			s.g.join(p.xVar[i], v)
			s.pairs = append(s.pairs, scope{p.xVar[i], v})
			s.pairOf = append(s.pairOf, pair{node: i})
		}
	}
	return s
}

// family lists the variables of a node, its own first, and of its free parents.
func (p *plan) family(i int) []int {
	vars := []int{p.xVar[i]}
	for _, j := range p.free[i] {
		vars = append(vars, p.xVar[p.net.Nodes[i].Links[j].Parent])
	}
	return vars
}

// cost is the sum of table sizes under plain min-fill, or more than limit.
func (s *skeleton) cost(limit float64) float64 {
	if s.p.nvars == 0 {
		return 0
	}
	b, ok := s.g.begin(limit)
	if !ok {
		return inf
	}
	return b.head.cost + b.plain.cost
}

// maxWidth is the usual bound of a table: two-state variables of one clique. Wider trees are
// conditioned on shared nodes, which costs the same work in less memory.
const maxWidth = 19

// finish orders the variables and builds the tree. Past limit (in table
// entries) it returns a plan with its cost but no tree.
func (s *skeleton) finish(how effort, maxWidth int, limit float64) *plan {
	if s.p.nvars == 0 {
		return s.p
	}
	return s.finishAs(s.g.bestOrder(how), how, maxWidth, limit)
}

// worse is by how much the tables of a borrowed order may exceed those where
// it comes from.
const worse = 1.5

// finishLike is finish in the order of a plan for less, if that does well
// enough.
func (s *skeleton) finishLike(less *plan, how effort, maxWidth int, limit float64) *plan {
	p := s.p
	if p.nvars == 0 || len(less.order) == 0 || len(less.cut) > 0 {
		return s.finish(how, maxWidth, limit)
	}
	rank := s.rank(less, less.order)
	e, ok := s.g.follow(rank, math.Min(limit, worse*less.cost+1<<13))
	if !ok || e.width > maxWidth {
		return s.finish(how, maxWidth, limit)
	}
	return s.finishAs(e, how, maxWidth, limit)
}

// rank places the variables as an order of another pattern does, -1 for those
// that it does not have.
func (s *skeleton) rank(other *plan, order []int) []int {
	place := make([]int, other.nvars)
	for at, v := range order {
		place[v] = at
	}
	rank := make([]int, s.p.nvars)
	for i := range s.p.net.Nodes {
		for _, v := range [][2]int{{s.p.xVar[i], other.xVar[i]}, {s.p.auxVar[i], other.auxVar[i]}} {
			if v[0] < 0 {
				continue
			}
			if rank[v[0]] = -1; v[1] >= 0 {
				rank[v[0]] = place[v[1]]
			}
		}
	}
	return rank
}

// finishAs builds the tree of an order.
func (s *skeleton) finishAs(e *elimination, how effort, maxWidth int, limit float64) *plan {
	p, edgeOf, pairOf := s.p, s.edgeOf, s.pairOf
	p.cutAt = make([]int, p.nvars)
	for v := range p.cutAt {
		p.cutAt[v] = -1
	}
	if e.cost > limit {
		p.width, p.cost = e.width, e.cost
		return p
	}
	if e.width > maxWidth && len(s.wholes) > 0 {
		return skeletonOf(p.net, p.role, false).finish(how, maxWidth, limit)
	}
	for e.width > maxWidth {
		v := s.heaviest(e, maxWidth)
		if v < 0 {
			break
		}
		p.cutAt[v] = len(p.cut)
		p.cut = append(p.cut, v)
		s.g.without(v)
		if e = s.g.bestOrder(twice); e.width <= maxWidth+1 {
			e = s.g.bestOrder(how)
		}
	}
	p.width, p.order = e.width, e.order
	p.build(e)
	// Factors go to the smallest clique that holds them.
	in := make([][]int32, p.nvars) // variable -> cliques that hold it
	for c := range p.cliques {
		for _, v := range p.cliques[c].vars {
			in[v] = append(in[v], int32(c))
		}
	}
	where := func(a, b int) (c, x, y int) {
		c = -1
		for _, i := range in[a] {
			vars := p.cliques[i].vars
			if c >= 0 && len(vars) >= len(p.cliques[c].vars) {
				continue
			}
			if at := slices.Index(vars, b); at >= 0 {
				c, y = int(i), at
			}
		}
		if c < 0 {
			panic("network: a factor fits no clique")
		}
		return c, slices.Index(p.cliques[c].vars, a), y
	}
	for i, f := range s.edges {
		if cut := p.cutAt[f.b]; cut >= 0 {
			p.cutEdges = append(p.cutEdges, cutEdge{f.a, cut, edgeOf[i].node, edgeOf[i].link})
			continue
		}
		c, x, y := where(f.a, f.b)
		edgeOf[i].aux, edgeOf[i].par = x, y
		p.cliques[c].edges = append(p.cliques[c].edges, edgeOf[i])
	}
	for i, f := range s.pairs {
		if p.cutAt[f.a] >= 0 || p.cutAt[f.b] >= 0 {
			p.cutPairs = append(p.cutPairs, cutPair{f.a, f.b, pairOf[i].node})
			continue
		}
		c, x, y := where(f.a, f.b)
		pairOf[i].x, pairOf[i].y = x, y
		p.cliques[c].pairs = append(p.cliques[c].pairs, pairOf[i])
	}
	for _, node := range s.wholes {
		vars := p.family(node)
		c := -1
		for _, i := range in[vars[0]] {
			if q := p.cliques[i].vars; (c < 0 || len(q) < len(p.cliques[c].vars)) && holds(q, vars) {
				c = int(i)
			}
		}
		p.cliques[c].wholes = append(p.cliques[c].wholes, p.newWhole(node, p.cliques[c].vars, vars))
	}
	p.bury()
	p.home = make([]int, p.nvars)
	for v := range p.home {
		if p.home[v] = -1; p.cutAt[v] >= 0 {
			continue
		}
		c, x, _ := where(v, v)
		p.home[v] = c
		p.cliques[c].unary = append(p.cliques[c].unary, x)
	}
	return p
}

// bury finds what of each separator is zero whatever is reported: a node that is off
// while its auxiliary variable stands for "on", a node that is off though its only
// parent is on and sure to be followed. Every term of such an entry is zero, not
// only their sum, so that what comes down to it is of no account.
func (p *plan) bury() {
	type zero struct{ off, other, value int } // variables; the value of the other
	rise := make([][]zero, len(p.cliques))
	for c := len(p.cliques) - 1; c >= 0; c-- {
		q := &p.cliques[c]
		for _, f := range q.pairs {
			switch {
			case p.auxVar[f.node] >= 0:
				rise[c] = append(rise[c], zero{q.vars[f.x], q.vars[f.y], 0})
			case p.net.Nodes[f.node].Links[p.free[f.node][0]].Strength == 1:
				rise[c] = append(rise[c], zero{q.vars[f.x], q.vars[f.y], 1})
			}
		}
		if q.parent < 0 {
			continue
		}
		sep := q.vars[:q.sep]
		for _, z := range rise[c] {
			x, y := slices.Index(sep, z.off), slices.Index(sep, z.other)
			if x >= 0 && y >= 0 {
				q.dead = append(q.dead, state{1<<x | 1<<y, z.value << y})
				rise[q.parent] = append(rise[q.parent], z)
			}
		}
	}
}

// holds tells whether all of some variables are among others.
func holds(all, some []int) bool {
	for _, v := range some {
		if !slices.Contains(all, v) {
			return false
		}
	}
	return true
}

// newWhole is the factor of a node, whose family is vars, in a clique.
func (p *plan) newWhole(node int, clique, vars []int) whole {
	bits := make([]int, len(vars))
	link := map[int]int{} // by bit of the clique
	for i, v := range vars {
		bits[i] = slices.Index(clique, v)
		if link[bits[i]] = -1; i > 0 {
			link[bits[i]] = int(p.free[node][i-1])
		}
	}
	own := bits[0]
	slices.Sort(bits)
	f := whole{node: node, at: newGather(bits, len(clique)), x: slices.Index(bits, own)}
	for _, b := range bits {
		f.by = append(f.by, link[b])
	}
	return f
}

// heaviest picks the node variable whose removal takes the most out of the
// tables over the bound, or -1.
func (s *skeleton) heaviest(e *elimination, maxWidth int) int {
	weight := make([]float64, s.p.nvars)
	for _, v := range e.order {
		k := e.later[v].count() + 1
		if k <= maxWidth {
			continue
		}
		w := math.Exp2(float64(k))
		weight[v] += w
		e.later[v].each(func(u int) { weight[u] += w })
	}
	best := -1
	for _, v := range s.p.xVar {
		if v >= 0 && weight[v] > 0 && (best < 0 || weight[v] > weight[best]) {
			best = v
		}
	}
	return best
}

// build turns an elimination order into maximal cliques joined as a tree.
func (p *plan) build(e *elimination) {
	at := make([]int, p.nvars) // position in the order
	for i, v := range e.order {
		at[v] = i
	}
	// The bucket of v hangs under the bucket of the first of its later
	// neighbors; a bucket that lies within one of its children merges
	// with it.
	up := make([]int, p.nvars)
	set := make([]bitset, p.nvars)
	into := make([]int, p.nvars) // what a bucket merged into
	for _, v := range e.order {
		up[v] = -1
		e.later[v].each(func(u int) {
			if up[v] < 0 || at[u] < at[up[v]] {
				up[v] = u
			}
		})
		set[v] = slices.Clone(e.later[v])
		set[v].add(v)
		into[v] = v
	}
	find := func(v int) int {
		for into[v] != v {
			v = into[v]
		}
		return v
	}
	link := slices.Clone(up)
	for _, v := range e.order {
		u := up[v]
		if u < 0 {
			continue
		}
		// Parent's clique within v's: v's neighbors are exactly it.
		if into[u] == u && set[u].within(set[v]) {
			r := find(v)
			into[u] = r
			link[r] = up[u]
		}
	}
	// Roots of the tree come last in the order; walk from the top.
	id := make([]int, p.nvars)
	for i := range id {
		id[i] = -1
	}
	kids := make([][]int, p.nvars)
	var roots []int
	for _, v := range e.order {
		if into[v] != v {
			continue
		}
		if link[v] < 0 {
			roots = append(roots, v)
			continue
		}
		parent := find(link[v])
		kids[parent] = append(kids[parent], v)
	}
	var lay func(v, parent int)
	lay = func(v, parent int) {
		c := clique{parent: parent}
		var positions []int
		mine := slices.Clone(set[v])
		if parent >= 0 {
			for i, u := range p.cliques[parent].vars {
				if mine.has(u) {
					c.vars = append(c.vars, u)
					positions = append(positions, i)
					mine.del(u)
				}
			}
			c.sep = len(c.vars)
			c.up = newGather(positions, len(p.cliques[parent].vars))
		}
		mine.each(func(u int) { c.vars = append(c.vars, u) })
		id[v] = len(p.cliques)
		p.cliques = append(p.cliques, c)
		p.cost += math.Exp2(float64(len(c.vars)))
		if parent >= 0 {
			p.cliques[parent].children = append(p.cliques[parent].children, id[v])
		}
		me := id[v]
		for _, k := range kids[v] {
			lay(k, me)
		}
	}
	for _, r := range roots {
		lay(r, -1)
	}
	for c := range p.cliques {
		p.gatherChildren(c)
	}
}
