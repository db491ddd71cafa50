package model

import "slipcase/engine"

// Upward marks the modes nearest above a finding, or the mode itself, through
// effects and parts of findings only. It tells whether there are any.
func (m *Model) Upward(from int, about map[int]bool) bool {
	any := false
	visited := map[int]bool{}
	var visit func(int)
	visit = func(n int) {
		if visited[n] {
			return
		}
		visited[n] = true
		switch layer := m.Nodes[n].Layer; {
		case layer == ModeLayer:
			about[n], any = true, true
		case layer > ModeLayer:
			for _, l := range m.Net.Nodes[n].Links {
				visit(l.Parent)
			}
		}
	}
	visit(from)
	return any
}

// Ancestors lists the nodes above a node, nearest first.
func (m *Model) Ancestors(node int) []int {
	seen := map[int]bool{node: true}
	queue := []int{node}
	for i := 0; i < len(queue); i++ {
		for _, l := range m.Net.Nodes[queue[i]].Links {
			if !seen[l.Parent] {
				seen[l.Parent] = true
				queue = append(queue, l.Parent)
			}
		}
	}
	return queue[1:]
}

// SpeaksOf are the modes that can bring about what is reported present, by their
// effects or directly; not those that only lead to such a mode. Modes that were
// found count as well.
func (m *Model) SpeaksOf(pieces []Piece) map[int]bool {
	about := map[int]bool{}
	for _, p := range pieces {
		if p.State == engine.Present {
			m.Upward(p.Node, about)
		}
	}
	return about
}

// Culprits are the modes that can be behind what is reported: those that lead to
// something reported present, by their effects or directly; once a part was
// found failed, also those behind it, through stresses too, and those that it
// may have led to in one step. It tells whether there are any.
func (m *Model) Culprits(pieces []Piece) (about map[int]bool, any bool) {
	about = map[int]bool{}
	for _, p := range pieces {
		if p.State != engine.Present {
			continue
		}
		if m.Nodes[p.Node].Layer != ModeLayer {
			any = m.Upward(p.Node, about) || any
			continue
		}
		any = true
		for _, n := range m.Ancestors(p.Node) {
			if m.Nodes[n].Layer == ModeLayer {
				about[n] = true
			}
		}
		for _, n := range m.Modes() {
			for _, l := range m.Net.Nodes[n].Links {
				if l.Parent == p.Node {
					about[n] = true
				}
			}
		}
	}
	return about, any
}

// BringsAbout tells whether a mode leads to a node by its effects or directly.
func (m *Model) BringsAbout(mode, node int) bool {
	if m.Nodes[node].Layer <= ModeLayer {
		return mode == node
	}
	for _, l := range m.Net.Nodes[node].Links {
		if m.BringsAbout(mode, l.Parent) {
			return true
		}
	}
	return false
}
