package network

import "math"

// weigh multiplies a node's states, as extra evidence that needs no new tree.
// Node -1 is a plain factor, off.
type weigh struct {
	node    int
	off, on float64
}

// numbers are the factors of a plan for one case.
type numbers[T real[T]] struct {
	unary  [][2]T   // by variable
	edge   [][]T    // by clique and edge: 1 - strength
	pair   [][][4]T // by clique and pair: index x + 2y
	whole  [][][]T  // by clique and factor over a family: by the index over it
	off    []T      // node -> (1-leak)·Π(1-strength) over parents known to be on
	on     []T      // node -> 1 - off, without cancellation
	scalar float64  // log of factors without a variable
}

// absorb multiplies the states of a variable.
func (q *numbers[T]) absorb(v int, off, on T) {
	q.unary[v][0] = q.unary[v][0].times(off)
	q.unary[v][1] = q.unary[v][1].times(on)
}

// weigh takes in extra weights.
func (q *numbers[T]) weigh(p *plan, extra []weigh, of func(float64) T) {
	for _, w := range extra {
		if w.node < 0 {
			q.scalar += math.Log(w.off)
			continue
		}
		switch p.role[w.node] {
		case roleNode:
			q.absorb(p.xVar[w.node], of(w.off), of(w.on))
		case roleOn:
			q.scalar += math.Log(w.on)
		case roleOff:
			q.scalar += math.Log(w.off)
		default:
			panic("network: extra weight on a node that is no variable")
		}
	}
}

// fill computes the factors of a plan, with its conditioned variables in the
// states of the bits of cut.
func fill[T real[T]](net *Net, p *plan, m *merged, extra []weigh, cut int, of func(float64) T) *numbers[T] {
	one, zero := of(1), of(0)
	q := &numbers[T]{
		unary: make([][2]T, p.nvars),
		edge:  make([][]T, len(p.cliques)),
		pair:  make([][][4]T, len(p.cliques)),
		whole: make([][][]T, len(p.cliques)),
		off:   make([]T, len(net.Nodes)),
		on:    make([]T, len(net.Nodes)),
	}
	for i := range q.unary {
		q.unary[i] = [2]T{one, one}
	}
	scalar := func(x T) { q.scalar += math.Log(x.float()) }
	absorb := q.absorb
	for i := range net.Nodes {
		role := p.role[i]
		if role == roleOut {
			continue
		}
		node := &net.Nodes[i]
		off, on := one.minus(of(node.Leak)), of(node.Leak)
		for _, k := range node.Links {
			if p.role[k.Parent] == roleOn {
				on = on.plus(of(k.Strength).times(off))
				off = off.times(one.minus(of(k.Strength)))
			}
		}
		q.off[i], q.on[i] = off, on
		lOff, lOn := of(m.off[i]), of(m.on[i])
		free := p.free[i]
		switch {
		case role == roleOff:
			scalar(off.times(lOff))
			for _, j := range free {
				k := node.Links[j]
				absorb(p.xVar[k.Parent], one, one.minus(of(k.Strength)))
			}
		case role == roleOn && p.sure[i]:
			scalar(lOn)
		case role == roleOn:
			scalar(lOn)
			switch len(free) {
			case 0:
				scalar(on)
			case 1:
				k := node.Links[free[0]]
				absorb(p.xVar[k.Parent], on, on.plus(of(k.Strength).times(off)))
			default:
				absorb(p.auxVar[i], one, zero.minus(off))
			}
		case p.whole[i]:
			absorb(p.xVar[i], lOff, lOn)
		case len(free) == 0: // roleNode
			absorb(p.xVar[i], lOff.times(off), lOn.times(on))
		}
	}
	q.weigh(p, extra, of)
	pairValues := func(n int) [4]T {
		off, on, lOff, lOn := q.off[n], q.on[n], of(m.off[n]), of(m.on[n])
		if p.auxVar[n] >= 0 {
			return [4]T{zero, lOn, lOff.times(off), zero.minus(lOn.times(off))}
		}
		s := of(net.Nodes[n].Links[p.free[n][0]].Strength)
		return [4]T{
			lOff.times(off), lOn.times(on),
			lOff.times(off).times(one.minus(s)), lOn.times(on.plus(s.times(off))),
		}
	}
	for c := range p.cliques {
		q.edge[c] = make([]T, len(p.cliques[c].edges))
		for i, e := range p.cliques[c].edges {
			q.edge[c][i] = one.minus(of(net.Nodes[e.node].Links[e.link].Strength))
		}
		q.pair[c] = make([][4]T, len(p.cliques[c].pairs))
		for i, e := range p.cliques[c].pairs {
			q.pair[c][i] = pairValues(e.node)
		}
	}
	for c := range p.cliques {
		for _, f := range p.cliques[c].wholes {
			t := make([]T, 1<<len(f.by))
			for x := range t {
				off, on := q.off[f.node], q.on[f.node]
				for b, j := range f.by {
					if j >= 0 && x>>b&1 == 1 {
						s := of(net.Nodes[f.node].Links[j].Strength)
						on = on.plus(s.times(off))
						off = off.times(one.minus(s))
					}
				}
				if t[x] = off; x>>f.x&1 == 1 {
					t[x] = on
				}
			}
			q.whole[c] = append(q.whole[c], t)
		}
	}
	for _, e := range p.cutEdges {
		if cut>>e.cut&1 == 1 {
			absorb(e.aux, one, one.minus(of(net.Nodes[e.node].Links[e.link].Strength)))
		}
	}
	for _, e := range p.cutPairs {
		f := pairValues(e.node)
		i, j := p.cutAt[e.x], p.cutAt[e.y]
		switch {
		case i >= 0 && j >= 0:
			scalar(f[cut>>i&1|cut>>j&1<<1])
		case i >= 0:
			absorb(e.y, f[cut>>i&1], f[cut>>i&1|2])
		default:
			absorb(e.x, f[cut>>j&1<<1], f[cut>>j&1<<1|1])
		}
	}
	for i, v := range p.cut {
		scalar(q.unary[v][cut>>i&1])
	}
	return q
}
