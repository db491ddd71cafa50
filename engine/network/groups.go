package network

import "slices"

// group is children of one clique whose separators overlap enough to be joined
// in one small table: a big clique may have fifty children with separators of
// one to four variables, and a pass over its own table for each of them would
// be most of the work.
type group struct {
	bits []int  // positions in the clique, ascending
	up   gather // from an index of the clique to one of the group
	kids []kid
}

// kid is a child within a group.
type kid struct {
	child int
	at    gather // from an index of the group to one of the child's separator
}

// joined bounds the variables of a group of several children.
const joined = 12

// gatherChildren makes the groups of a clique.
func (p *plan) gatherChildren(c int) {
	q := &p.cliques[c]
	if len(q.children) == 0 {
		return
	}
	k := len(q.vars)
	room := min(joined, k-2)
	kids := slices.Clone(q.children)
	slices.SortStableFunc(kids, func(a, b int) int { return p.cliques[b].sep - p.cliques[a].sep })
	var sets [][]int
	var members [][]int
	for _, ch := range kids {
		bits := p.cliques[ch].up.bits
		best, grown := -1, 0
		for g, set := range sets {
			n := len(union(set, bits))
			if n > max(room, len(set)) {
				continue
			}
			if best < 0 || n-len(set) < grown {
				best, grown = g, n-len(set)
			}
		}
		if best < 0 {
			sets, members = append(sets, slices.Clone(bits)), append(members, []int{ch})
			continue
		}
		sets[best] = union(sets[best], bits)
		members[best] = append(members[best], ch)
	}
	for g, set := range sets {
		out := group{bits: set, up: newGather(set, k)}
		for _, ch := range members[g] {
			at := make([]int, 0, len(set))
			for _, b := range p.cliques[ch].up.bits {
				at = append(at, slices.Index(set, b))
			}
			out.kids = append(out.kids, kid{ch, newGather(at, len(set))})
		}
		q.groups = append(q.groups, out)
	}
}

// union merges two ascending lists.
func union(a, b []int) []int {
	out := append(slices.Clone(a), b...)
	slices.Sort(out)
	return slices.Compact(out)
}

// join is the product of the messages of a group's children. own tells that
// the table is the caller's to release.
func (d *double) join(g *group, up []*ftable) (t *ftable, own bool) {
	if len(g.kids) == 1 {
		return up[g.kids[0].child], false
	}
	t = &ftable{c: d.s.get(len(g.bits))}
	for x := range t.c {
		t.c[x] = 1
	}
	for i := range g.kids {
		d.timesUp(t, up[g.kids[i].child], &g.kids[i].at)
	}
	return t, true
}

// product is the clique's own factors times the messages of its children,
// without those of one group (-1 for none left out).
func (d *double) product(c int, up []*ftable, without int) *ftable {
	q := &d.p.cliques[c]
	var t *ftable
	if d.potentials == nil || d.touched[c] {
		t = d.potential(c)
	}
	for i := range q.groups {
		if i == without {
			continue
		}
		m, own := d.join(&q.groups[i], up)
		if t == nil {
			t = d.timesFrom(d.potentials[c], m, &q.groups[i].up)
		} else {
			d.timesUp(t, m, &q.groups[i].up)
		}
		if own {
			d.release(m)
		}
	}
	if t == nil {
		t = d.clone(d.potentials[c])
	}
	return t
}

// toChildren makes the messages from a clique to those of its children that
// need one; t is the clique's belief and is kept, but for a factor by over its
// lowest variables (nil for none). weights are on variables, beside the factors.
func (d *double) toChildren(c int, t, by *ftable, up, down []*ftable, needed []bool, weights map[int][2]float64) {
	q := &d.p.cliques[c]
	for i := range q.groups {
		g := &q.groups[i]
		// What comes from the belief by division, and what from the product
		// without the group where a message cannot be divided by.
		var sum, rest *ftable
		for j := range g.kids {
			k := &g.kids[j]
			if !needed[k.child] {
				continue
			}
			sent := up[k.child]
			if sent.low >= smallest {
				if sum == nil {
					sum = d.sumOutBy(t, by, g.bits)
				}
				m := d.sumOut(sum, k.at.bits)
				for x, s := range sent.c {
					if s == 0 { // dead: nothing hangs on what comes down
						m.c[x] = 0
						continue
					}
					m.c[x] /= s
				}
				m.exp -= sent.exp
				d.rescale(m, nil)
				down[k.child] = m
				continue
			}
			if rest == nil {
				rest = d.withoutGroup(c, i, up, down[c], weights)
			}
			all := d.clone(rest)
			for l := range g.kids {
				if l != j {
					d.timesUp(all, up[g.kids[l].child], &g.kids[l].at)
				}
			}
			m := d.sumOut(all, k.at.bits)
			d.release(all)
			d.rescale(m, nil)
			down[k.child] = m
		}
		for _, m := range []*ftable{sum, rest} {
			if m != nil {
				d.release(m)
			}
		}
	}
}

// withoutGroup is the product of all that a clique holds and hears except from
// one group of its children, over the variables of that group.
func (d *double) withoutGroup(c, g int, up []*ftable, down *ftable, weights map[int][2]float64) *ftable {
	q := &d.p.cliques[c]
	own := d.product(c, up, g)
	for _, j := range q.unary {
		if w, ok := weights[q.vars[j]]; ok {
			d.weigh(own, j, w)
		}
	}
	if down != nil {
		d.timesDown(own, down)
	}
	m := d.sumOut(own, q.groups[g].bits)
	d.release(own)
	return m
}
