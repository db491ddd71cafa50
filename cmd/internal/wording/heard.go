package wording

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/model"
)

// Together names reports that say the same: one finding as it is called without
// a condition, or several places of one finding in a row: "slips in D/1, D/2,
// R/R".
func Together(pieces []model.Piece) string {
	plain := map[string]string{} // by place, the shortest
	var order []string
	for _, p := range pieces {
		f := engine.ParseFindingName(p.Label)
		old, ok := plain[f.Place]
		if !ok {
			order = append(order, f.Place)
		}
		if !ok || len(Piece(p)) < len(old) {
			plain[f.Place] = Piece(p)
		}
	}
	first := plain[order[0]]
	head, cut := strings.CutSuffix(first, order[0])
	if order[0] == "" || !cut {
		var all []string
		for _, place := range order {
			all = append(all, plain[place])
		}
		return strings.Join(all, "; ")
	}
	var rest []string
	for _, place := range order {
		tail, same := strings.CutPrefix(plain[place], head)
		if !same {
			tail = plain[place]
		}
		rest = append(rest, tail)
	}
	return head + strings.Join(rest, ", ")
}

// Heard is Together, with what is absent marked as such.
func Heard(pieces []model.Piece) string {
	if pieces[0].State == engine.Absent {
		return "absent: " + Together(pieces)
	}
	return Together(pieces)
}

// Reporters names who says it, each once.
func Reporters(pieces []model.Piece) string {
	var out []string
	for _, p := range pieces {
		if by := Name(p.By); by != "" && !slices.Contains(out, by) {
			out = append(out, by)
		}
	}
	return strings.Join(out, ", ")
}

// Without says what would lead if one thing had not been reported, for the
// suspect at a place of the result; "" where nothing alone changes that.
func Without(r *diagnose.Result, heard []diagnose.Heard, place int) string {
	best := -1
	for i, h := range heard {
		changes := h.Leads != 0
		if place != 0 {
			changes = h.Leads == place
		}
		if changes && (best < 0 || h.LeadsP > heard[best].LeadsP) {
			best = i
		}
	}
	if best < 0 {
		return ""
	}
	h := heard[best]
	said := Heard(h.Pieces)
	if h.Pieces[0].State == engine.Absent {
		said = `"` + said + `"`
	}
	if place != 0 {
		return fmt.Sprintf("Without %s this would lead, at %s.", said, Percent(h.LeadsP))
	}
	return fmt.Sprintf("Without %s it would be %s, at %s.", said, Component(r.Suspects[h.Leads].Component), Percent(h.LeadsP))
}
