package refine

import (
	"math"

	"slipcase/engine/network"
)

// A vehicle that came in has a complaint, whether or not what it came in for is
// counted (see ascertain): its likelihood is P(what is noted and some complaint), which
// is P(noted) less P(noted and no complaint). With P(noted) alone, over the chance of a
// complaint by which each case is divided (see unseen), there would be no bound to what
// rare complaints gain.
//
// Of what is noted w is the share without a complaint. A probability given that there is
// one is (p − w p')/(1 − w), with p of all and p' of those without.

const (
	bare     = -1.0     // Family.On of a node of which nothing is known but that there is a complaint
	noShare  = 1e-12    // a share so small is none
	allShare = 1 - 1e-6 // a case that hardly can have a complaint says so much and no more
	loose    = 1e-3     // error granted of what is known without a complaint: its share is small where digits are lost
)

// brought puts into fam, and the log evidence, that there is some complaint. quiet are
// the counts with none.
func (b *binding) brought(fam []network.Family, logL float64, quiet []network.Family, quietL float64) ([]network.Family, float64) {
	w := math.Min(math.Exp(quietL-logL), allShare)
	if !(w >= noShare) {
		return fam, logL
	}
	left := func(x, without float64) float64 { return within((x-w*without)/(1-w), 1) }
	out := make([]network.Family, 0, len(quiet))
	chance := make(map[int]float64, len(quiet)) // of the nodes done, with a complaint or without
	k := 0
	for i := range quiet {
		y := &quiet[i]
		for k < len(fam) && fam[k].Node < y.Node { // never: what is known besides adds nodes
			out = append(out, fam[k])
			k++
		}
		x := network.Family{Node: y.Node, ParentOn: make([]float64, len(y.ParentOn)), Transmits: make([]float64, len(y.Transmits))}
		if k < len(fam) && fam[k].Node == y.Node {
			f := &fam[k]
			k++
			chance[x.Node] = f.On
			x.On, x.LeakFired = left(f.On, y.On), left(f.LeakFired, y.LeakFired)
			for j := range y.ParentOn {
				if x.ParentOn[j] = f.ParentOn[j]; x.ParentOn[j] < 0 || y.ParentOn[j] < 0 {
					continue
				}
				x.ParentOn[j] = left(f.ParentOn[j], y.ParentOn[j])
				x.Transmits[j] = within(left(f.Transmits[j], y.Transmits[j]), x.ParentOn[j])
			}
			out = append(out, x)
			continue
		}
		// Nothing is noted at or below: that there is a complaint is all that is known
		// of it. Its trials come out as often as they do at all, of the cases with a
		// complaint and without. How many there are would take far larger trees; at most
		// there are as many as the chances of its parents add up to. More than there are
		// shorten the step, and move neither where it leads nor what is known: those too
		// many come out as the number says.
		n := &b.net.Nodes[x.Node]
		at := n.Leak
		x.On = bare
		x.LeakFired = left(n.Leak, y.LeakFired)
		for j, u := range n.Links {
			if x.ParentOn[j] = y.ParentOn[j]; x.ParentOn[j] < 0 {
				continue
			}
			p, ok := chance[u.Parent]
			if !ok {
				p = y.ParentOn[j] // known at all times
			}
			at += u.Strength * p
			x.ParentOn[j] = math.Max((p-w*y.ParentOn[j])/(1-w), 0)
			x.Transmits[j] = within((u.Strength*p-w*y.Transmits[j])/(1-w), x.ParentOn[j])
		}
		chance[x.Node] = math.Min(at, 1)
		out = append(out, x)
	}
	return append(out, fam[k:]...), logL + math.Log1p(-w)
}
