package model

import "slipcase/engine"

// Cleared tells, of each finding that something reported has taken away, which
// share of what was there is gone: of a fluid that was changed last week a clean
// pan says little. Where two things take it away, the one that takes more counts.
func (m *Model) Cleared(reports []engine.Report) map[*engine.Finding]float64 {
	out := map[*engine.Finding]float64{}
	for _, r := range reports {
		node, ok := m.LookupFinding(r.Finding)
		if !ok || r.State != engine.Present || m.Nodes[node].Finding == nil {
			continue
		}
		f := m.Nodes[node].Finding
		for _, name := range f.Clears {
			for i := range m.Knowledge.Findings {
				if t := &m.Knowledge.Findings[i]; t.Name == name {
					out[t] = max(out[t], f.Cleared.Value)
				}
			}
		}
	}
	return out
}
