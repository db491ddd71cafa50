package model

import (
	"cmp"
	"reflect"
	"slices"
	"sync"
)

// MostPresent bounds the findings that a case weighs as present: each that is shared
// out (see Within) takes two passes over a tree. No vehicle shows so many; a mistaken or
// hostile import may say so.
const MostPresent = 256

// Foremost splits off what goes past MostPresent: reports of findings that tell least
// by themselves. Looks at parts and what the vehicle came in for always stay.
func (m *Model) Foremost(pieces []Piece) (kept, left []Piece) {
	tell := map[int]float64{}
	var nodes []int
	for _, p := range pieces {
		if m.present(p) {
			if _, ok := tell[p.Node]; !ok {
				nodes = append(nodes, p.Node)
			}
			tell[p.Node] = max(tell[p.Node], m.tells(p))
		}
	}
	if len(nodes) <= MostPresent {
		return pieces, nil
	}
	// Of equals the node decides, not what was noted first.
	slices.SortFunc(nodes, func(x, y int) int { return cmp.Or(cmp.Compare(tell[y], tell[x]), cmp.Compare(x, y)) })
	gone := map[int]bool{}
	for _, n := range nodes[MostPresent:] {
		gone[n] = true
	}
	for _, p := range pieces {
		if m.present(p) && gone[p.Node] {
			left = append(left, p)
		} else {
			kept = append(kept, p)
		}
	}
	return kept, left
}

// present tells a report that may tie causes together, and may be left out.
func (m *Model) present(p Piece) bool {
	complaint := p.Answer == nil && p.Ranked && p.Value == ""
	return m.Nodes[p.Node].Layer == FindingLayer && p.On > p.Off && p.Off > 0 && !complaint
}

// Presents counts the findings that are reported present and tie causes together.
func (m *Model) Presents(pieces []Piece) int {
	seen := map[int]bool{}
	for _, p := range pieces {
		if m.present(p) {
			seen[p.Node] = true
		}
	}
	return len(seen)
}

// Hold is a case as it is weighed within its budget: Foremost of its pieces, those
// past exactly shared out beside a tree of so many entries (approx), see Within. What
// was left out comes by itself. One case is asked for by several questions of one
// answer, and its shares are worked out once.
func (m *Model) Hold(pieces []Piece, exactly, approx float64) (all, near, left []Piece, err error) {
	if all, near, left, ok := m.held.find(pieces, exactly, approx); ok {
		return all, near, left, nil
	}
	kept, left := m.Foremost(pieces)
	if all, near, err = m.Within(m.solver, kept, nil, exactly, approx); err == nil && len(near) > 0 {
		m.held.add(holding{slices.Clone(pieces), exactly, approx, all, near, left})
	}
	return all, near, left, err
}

// holding is one answer of Hold.
type holding struct {
	pieces          []Piece
	exactly, approx float64
	all, near, left []Piece
}

// holdings are the last answers of Hold in which reports were shared out.
type holdings struct {
	mu   sync.Mutex
	list []holding
}

// keptHoldings bounds them: one case is weighed at up to three budgets.
const keptHoldings = 4

func (h *holdings) find(pieces []Piece, exactly, approx float64) (all, near, left []Piece, ok bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, x := range h.list {
		if x.exactly == exactly && x.approx == approx && reflect.DeepEqual(x.pieces, pieces) {
			return slices.Clone(x.all), slices.Clone(x.near), x.left, true
		}
	}
	return nil, nil, nil, false
}

func (h *holdings) add(x holding) {
	h.mu.Lock()
	defer h.mu.Unlock()
	if h.list = append(h.list, x); len(h.list) > keptHoldings {
		h.list = h.list[1:]
	}
}
