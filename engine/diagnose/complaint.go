package diagnose

import (
	"slices"

	"slipcase/engine"
	"slipcase/engine/model"
)

// common is the false-alarm rate from which on a finding is no complaint beside
// others: a warning light burns on one vehicle in twenty that comes in for
// something else (our own choice, of the size of the rules' leaks).
const common = 0.05

// complaints are the reports that say why the vehicle came in: what is noticed
// on the road, present, and not what many a sound one has. Where there is none
// of those, all that is reported present. What else was seen, a wet case or a
// worn mount, may be as certain as can be and have nothing to do with it.
func complaints(m *model.Model, pieces []model.Piece) []model.Piece {
	var road, often, rest []model.Piece
	for _, p := range pieces {
		if p.State != engine.Present {
			continue
		}
		f := m.Nodes[p.Node].Finding
		switch {
		case f == nil || f.Stage != engine.StageRoad:
			rest = append(rest, p)
		case f.Leak.Value >= common:
			often = append(often, p)
		default:
			road = append(road, p)
		}
	}
	for _, list := range [][]model.Piece{road, often} {
		if len(list) > 0 && len(m.SpeaksOf(list)) > 0 {
			return list
		}
	}
	return slices.Concat(road, often, rest)
}
