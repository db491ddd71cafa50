package network

import (
	"math"
	"math/big"
	"math/rand/v2"
)

// brute is the slow oracle: it enumerates every state of a small network in
// big floating point.
type brute struct {
	z      *big.Float
	on     []*big.Float // P(node on, e)
	leak   []*big.Float // P(leak fired, e)
	parent [][]*big.Float
	trans  [][]*big.Float
	joint  map[int]*big.Float // by state of the whole network
}

const brutePrec = 400

func num(x float64) *big.Float { return new(big.Float).SetPrec(brutePrec).SetFloat64(x) }

func enumerate(n *Net, ev []Likelihood) *brute {
	b := &brute{z: num(0), joint: make(map[int]*big.Float)}
	size := len(n.Nodes)
	b.parent, b.trans = make([][]*big.Float, size), make([][]*big.Float, size)
	for i := range n.Nodes {
		b.on = append(b.on, num(0))
		b.leak = append(b.leak, num(0))
		for range n.Nodes[i].Links {
			b.parent[i] = append(b.parent[i], num(0))
			b.trans[i] = append(b.trans[i], num(0))
		}
	}
	one := num(1)
	sub := func(x, y *big.Float) *big.Float { return num(0).Sub(x, y) }
	mul := func(x, y *big.Float) *big.Float { return num(0).Mul(x, y) }
	// A node goes by its parents alone: what it comes to is worked out once for each of
	// their states.
	type given struct{ on, off *big.Float }
	mask, known := make([]int, size), make([]map[int]given, size)
	for i, node := range n.Nodes {
		known[i] = map[int]given{}
		for _, k := range node.Links {
			mask[i] |= 1 << k.Parent
		}
	}
	of := func(i, state int) given {
		g, ok := known[i][state&mask[i]]
		if !ok {
			g.off = sub(one, num(n.Nodes[i].Leak))
			for _, k := range n.Nodes[i].Links {
				if state>>k.Parent&1 == 1 {
					g.off = mul(g.off, sub(one, num(k.Strength)))
				}
			}
			g.on = sub(one, g.off)
			known[i][state&mask[i]] = g
		}
		return g
	}
	likely := make([][2]*big.Float, len(ev))
	for i, e := range ev {
		likely[i] = [2]*big.Float{num(e.Off), num(e.On)}
	}
	onP := make([]*big.Float, size)
	for state := range 1 << size {
		w := num(1)
		for i := 0; i < size && w.Sign() != 0; i++ {
			g := of(i, state)
			if onP[i] = g.on; state>>i&1 == 1 {
				w.Mul(w, g.on)
			} else {
				w.Mul(w, g.off)
			}
		}
		for i, e := range ev {
			w.Mul(w, likely[i][state>>e.Node&1])
		}
		if w.Sign() == 0 {
			continue
		}
		b.joint[state] = w
		b.z.Add(b.z, w)
		for i, node := range n.Nodes {
			for j, k := range node.Links {
				if state>>k.Parent&1 == 1 {
					b.parent[i][j].Add(b.parent[i][j], w)
				}
			}
			if state>>i&1 == 0 {
				continue
			}
			b.on[i].Add(b.on[i], w)
			share := num(0).Quo(w, onP[i])
			b.leak[i].Add(b.leak[i], mul(share, num(node.Leak)))
			for j, k := range node.Links {
				if state>>k.Parent&1 == 1 {
					b.trans[i][j].Add(b.trans[i][j], mul(share, num(k.Strength)))
				}
			}
		}
	}
	return b
}

func (b *brute) ratio(x *big.Float) float64 {
	r, _ := num(0).Quo(x, b.z).Float64()
	return r
}

func (b *brute) logZ() float64 {
	m := new(big.Float)
	e := b.z.MantExp(m)
	f, _ := m.Float64()
	return math.Log(f) + float64(e)*math.Ln2
}

// randomNet draws a small network. hard makes zeros, ones and tiny numbers
// common.
func randomNet(rng *rand.Rand, size int, hard bool) *Net {
	n := &Net{}
	number := func() float64 {
		if hard {
			switch rng.IntN(8) {
			case 0:
				return 0
			case 1:
				return 1
			case 2:
				return math.Exp(-25 * rng.Float64())
			case 3:
				return 1 - math.Exp(-25*rng.Float64())
			}
		}
		return rng.Float64()
	}
	for i := range size {
		node := Node{Leak: number()}
		if i > 0 && rng.IntN(3) > 0 {
			node.Leak *= 0.1
		}
		for p := range i {
			if rng.IntN(size) < 4 {
				node.Links = append(node.Links, Link{p, number()})
			}
		}
		n.Nodes = append(n.Nodes, node)
	}
	return n
}

func randomEvidence(rng *rand.Rand, n *Net, count int, hard bool) []Likelihood {
	var ev []Likelihood
	for t := range count {
		l := Likelihood{Node: rng.IntN(len(n.Nodes)), On: rng.Float64(), Off: rng.Float64(), Tag: t}
		if hard && rng.IntN(3) == 0 {
			l.On, l.Off = 1, 0
			if rng.IntN(2) == 0 {
				l.On, l.Off = 0, 1
			}
		}
		ev = append(ev, l)
	}
	return ev
}

// positive enumerates a small network as a sum of non-negative terms, so that
// no digit cancels: float64 is good to some 1e-13 of each probability.
func positive(n *Net, ev []Likelihood) (z float64, on []float64) {
	on = make([]float64, len(n.Nodes))
	for state := range 1 << len(n.Nodes) {
		w := 1.0
		for i, node := range n.Nodes {
			off, yes := 1-node.Leak, node.Leak
			for _, k := range node.Links {
				if state>>k.Parent&1 == 1 {
					yes += k.Strength * off
					off *= 1 - k.Strength
				}
			}
			if state>>i&1 == 1 {
				w *= yes
			} else {
				w *= off
			}
		}
		for _, e := range ev {
			if state>>e.Node&1 == 1 {
				w *= e.On
			} else {
				w *= e.Off
			}
		}
		z += w
		for i := range on {
			if state>>i&1 == 1 {
				on[i] += w
			}
		}
	}
	return z, on
}

// granted is what is owed to a probability: 1e-9 of it, or 1e-11 absolutely.
func granted(got, want float64) bool {
	return math.Abs(got-want) <= math.Max(1e-11, 1e-9*math.Min(want, 1))
}
