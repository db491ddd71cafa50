package network

import "math"

// Family holds the expected counts of one node's family given the evidence,
// as expectation-maximization needs them. The noisy-OR is read as independent
// trials: the leak fires with its probability, and every parent that is on
// transmits with its link's strength; the node is on if anything got through.
type Family struct {
	Node      int
	On        float64   // P(node on | e)
	LeakFired float64   // P(leak fired | e); every case is one trial of it
	ParentOn  []float64 // per link: P(parent on | e), the trials of the link
	Transmits []float64 // per link: P(parent on and the link transmits | e)
}

// Families returns the counts of every node with evidence at or below it
// (others carry no information and sum to one), in the order of the nodes, and
// the log evidence. A rough solver grants as much error in them as it does in
// probabilities.
func (s *Solver) Families(ev []Likelihood) ([]Family, *Posterior, error) {
	b, err := s.prepare(ev, nil)
	if err != nil {
		return nil, nil, err
	}
	out := &Posterior{}
	var fam []Family
	worst := 0.0
	never := make(map[int]bool)
	r, level, err := b.solve(nil, request{all: true, pairs: true}, func(r *reply) bool {
		out.P, out.off, out.rel, worst = b.marginals(r, never, nil, nil)
		bad := 0.0
		fam, bad = b.families(r, out.P)
		granted := math.Max(tolerance, b.s.rough)
		return worst <= granted && bad <= granted/tolerance
	})
	if err != nil {
		return nil, nil, err
	}
	out.LogEvidence = r.logZ + b.m.logScale
	out.Method = b.method(level, math.Max(worst, r.zErr))
	return fam, out, nil
}

// families reads the counts off a reply. bad is the largest error of a
// transmission count, as a multiple of what is allowed: 5e-10 of the count or
// 1e-13, whichever is more.
func (b *problem) families(r *reply, prob []float64) (out []Family, bad float64) {
	p, net := b.p, b.s.net
	for i := range net.Nodes {
		// A node known without evidence teaches nothing.
		if p.role[i] == roleOut || b.s.logic.base[i] != unset {
			continue
		}
		node := &net.Nodes[i]
		f := Family{
			Node: i, On: prob[i],
			ParentOn:  make([]float64, len(node.Links)),
			Transmits: make([]float64, len(node.Links)),
		}
		for j, k := range node.Links {
			switch {
			case prob[k.Parent] >= 0:
				f.ParentOn[j] = prob[k.Parent]
			case k.Strength == 0:
				// The parent may be out of the tree: an idle link.
				f.ParentOn[j] = -1
			}
		}
		if prob[i] > 0 {
			bad = math.Max(bad, b.fired(r, i, &f, prob))
		}
		out = append(out, f)
	}
	return out, bad
}

// excess compares an error with what is allowed for a value.
func excess(v, e float64) float64 {
	if !(e >= 0) {
		return inf
	}
	return e / math.Max(tolerance*v, 1e-13)
}

// fired fills in what got through to node i and returns the worst excess.
func (b *problem) fired(r *reply, i int, f *Family, prob []float64) (bad float64) {
	p := b.p
	node := &b.s.net.Nodes[i]
	// open is P(e, everything but this trial unconstrained by the node)
	// relative to P(e): the weight of a trial that surely turns it on.
	each := func(open float64) {
		f.LeakFired = node.Leak * open
		for j, k := range node.Links {
			if p.role[k.Parent] == roleOn {
				f.Transmits[j] = k.Strength * open
			}
		}
	}
	if p.auxVar[i] >= 0 {
		// With a = 0 the family is a constant one: what a fired trial
		// leaves of it. The evidence on the node is then that on "on",
		// which its pair factor or weight already carries.
		v := r.vars[p.auxVar[i]]
		z, _ := v.total()
		bad = excess(v.v[0]/z, v.e[0]/z)
		each(v.v[0] / z)
		for _, j := range p.free[i] {
			v, e := r.links[[2]int{i, int(j)}].share(1)
			f.Transmits[j] = node.Links[j].Strength * v
			bad = math.Max(bad, excess(v, e))
		}
		return bad
	}
	off, on := b.noise(i)
	switch {
	case p.sure[i] || len(p.free[i]) == 0:
		// The parents known to be on (and the leak) share the node's
		// being on; nothing else has a say.
		each(prob[i] / on)
		for _, j := range p.free[i] {
			// Forced on anyway: the link's own trial stays free.
			k := node.Links[j]
			f.Transmits[j] = k.Strength * prob[k.Parent]
		}
	default:
		j := p.free[i][0]
		k := node.Links[j]
		// Joint of parent and node given the evidence.
		on1 := on + k.Strength*off
		var both, only float64 // node on with the parent on, off
		if p.role[i] == roleOn {
			v := r.vars[p.xVar[k.Parent]]
			z, _ := v.total()
			only, both = v.v[0]/z, v.v[1]/z
		} else {
			only, _ = r.onWith[i].share(0)
			var e float64
			both, e = r.onWith[i].share(1)
			bad = excess(both, e)
		}
		open := 0.0
		if on > 0 {
			open += only / on
		}
		if on1 > 0 {
			open += both / on1
			f.Transmits[j] = k.Strength * both / on1
		}
		each(open)
	}
	return bad
}
