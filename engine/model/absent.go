package model

import (
	"math"
	"slices"

	"slipcase/engine/network"
)

// evidenceOf is the evidence as the network takes it, with the index of its piece
// as the tag; quick tells of each piece whether it ties nothing together.
//
// A report that something is there ties together all that may have brought it
// about. One that it is not there need not: it is taken to speak against each
// fault by itself, each having been noticed or not on its own. With one fault
// at work that is the same as noticing the finding; of two at once, either may
// be noticed, so that they are the less likely to have been overlooked. The
// report is then a product over the faults, and ties nothing together
// (Heckerman, "A tractable inference algorithm for diagnosing multiple
// diseases", 1989, does so for reports that are never wrong; here each fault is
// overlooked with the reporter's own rate).
//
// Such evidence is handed up from the finding through its parts and effects to
// the faults, as far as nothing reported present hangs on the way: there it
// stays, so that what shows by one effect in one place and not in another still
// speaks of that effect.
func (m *Model) evidenceOf(pieces []Piece) (ev []network.Likelihood, quick []bool) {
	n := len(m.Nodes)
	on, off := make([]float64, n), make([]float64, n)
	tag := make([]int, n)
	for i := range on {
		on[i], off[i], tag[i] = 1, 1, -1
	}
	for i, p := range pieces {
		if p.Shares != nil {
			continue
		}
		on[p.Node] *= p.On
		off[p.Node] *= p.Off
		if tag[p.Node] < 0 {
			tag[p.Node] = i
		}
	}
	// live are nodes at or below which something is reported that stays in its
	// place; parents stand before children.
	live := make([]bool, n)
	ratio := make([]float64, n) // P(not noticed | on) / P(not noticed | off), 1 where nothing is said
	quick = make([]bool, len(pieces))
	for i, p := range pieces {
		if p.Shares != nil {
			quick[i] = true
			for _, x := range p.Shares {
				ev = append(ev, network.Likelihood{Node: x.Node, On: x.Ratio, Off: 1, Tag: i})
			}
			continue
		}
		if m.Nodes[p.Node].Layer == FindingLayer && on[p.Node] > 0 && on[p.Node] < off[p.Node] {
			quick[i] = true
			continue
		}
		live[p.Node] = true
		ev = append(ev, network.Likelihood{Node: p.Node, On: p.On, Off: p.Off, Tag: i})
	}
	for i := range ratio {
		ratio[i] = 1
		if tag[i] >= 0 && quick[tag[i]] {
			ratio[i] = on[i] / off[i]
		}
	}
	m.lift(live)
	scale := 1.0 // what no fault has a say in
	for i := n - 1; i >= 0; i-- {
		if ratio[i] == 1 {
			continue
		}
		if m.Nodes[i].Layer <= ModeLayer || live[i] {
			ev = append(ev, network.Likelihood{Node: i, On: ratio[i], Off: 1, Tag: tag[i]})
			continue
		}
		if tag[i] >= 0 {
			scale *= off[i]
		}
		missed := 1 - ratio[i]
		scale *= 1 - missed*m.Net.Nodes[i].Leak
		for _, l := range m.Net.Nodes[i].Links {
			ratio[l.Parent] *= 1 - missed*l.Strength
			if tag[l.Parent] < 0 {
				tag[l.Parent] = tag[i]
			}
		}
	}
	if scale != 1 && len(ev) > 0 {
		last := &ev[len(ev)-1]
		last.On, last.Off = last.On*scale, last.Off*scale
	}
	return ev, quick
}

// Likelihoods is the evidence as the network takes it; tags are the indexes of
// pieces. What is reported not to be there speaks against each fault by itself,
// so that it ties nothing together.
func (m *Model) Likelihoods(pieces []Piece) []network.Likelihood {
	ev, _ := m.evidenceOf(pieces)
	return ev
}

// silence is a likelihood ratio so near to one that it says nothing, and still
// keeps the tree of the case.
const silence = 1 - 1e-12

// Silenced is pieces with those of back saying nothing, so that questions with
// and without them share one tree.
func Silenced(pieces []Piece, back map[int]bool) []Piece {
	out := append([]Piece(nil), pieces...)
	for i := range out {
		switch {
		case !back[i]:
		case out[i].Shares != nil:
			out[i].Shares = slices.Clone(out[i].Shares)
			for k := range out[i].Shares {
				out[i].Shares[k].Ratio = silence
			}
		case out[i].On < out[i].Off:
			out[i].On, out[i].Off = silence, 1
		default:
			out[i].On, out[i].Off = 1, math.Nextafter(1, 0)
		}
	}
	return out
}
