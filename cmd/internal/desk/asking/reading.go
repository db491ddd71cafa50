package asking

import (
	"slices"
	"sort"
	"strings"

	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// ReadingNames lists what can be measured, with its place.
func (w *Work) ReadingNames() []string {
	var out []string
	for _, p := range w.Model.Unit.Pressures {
		if p.Low != nil || p.High != nil { // a unit without a table has the findings alone
			out = append(out, "line_pressure@"+p.Place())
		}
	}
	for _, l := range w.Model.Unit.Limits {
		out = append(out, l.Name)
	}
	sort.Strings(out)
	return out
}

// ReadingBases lists what can be measured, each once and without its places.
func (w *Work) ReadingBases() []string {
	var out []string
	for _, n := range w.ReadingNames() {
		base, _, _ := strings.Cut(n, "@")
		out = append(out, base)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// IsReading tells whether a word begins a reading.
func (w *Work) IsReading(name string) bool {
	return slices.Contains(w.ReadingBases(), name)
}

func (w *Work) hasBounds(name, place string) bool {
	_, ok := w.Model.Unit.Bounds(name, place)
	return ok
}

// Admit takes a reading: it fills in who reports it, and turns "R/idle" into
// "idle/R". Fails with WrongUse for one without limits in the unit, of another
// dimension, or that cannot be.
func (w *Work) Admit(r *engine.Reading) error {
	if one, other, two := strings.Cut(r.Place, "/"); two && !w.hasBounds(r.Name, r.Place) {
		if turned := other + "/" + one; w.hasBounds(r.Name, turned) {
			r.Place = turned
		}
	}
	full := wording.At(r.Name, r.Place)
	b, ok := w.Model.Unit.Bounds(r.Name, r.Place)
	if !ok {
		if same := w.judged(r.Name, r.Place); len(same) > 0 {
			return fault.WrongUse(wording.NoLimitsButJudged(w.Model.Unit.ID, full, same))
		}
		var same []string
		for _, n := range w.ReadingNames() {
			if base, place, _ := strings.Cut(n, "@"); base == r.Name && place != "" {
				same = append(same, n)
			}
		}
		return fault.WrongUse(wording.NoLimits(w.Model.Unit.ID, r.Name, r.Place, w.IsReading(r.Name), same, w.ReadingBases(), w.ReadingNames()))
	}
	limit := b.Low
	if limit == nil {
		limit = b.High
	}
	if limit != nil && limit.Dim != r.Value.Dim {
		return fault.WrongUse(wording.OtherMeasure(full, r.Value, limit.Dim, wording.Limits(b, limit.Unit)))
	}
	vacuum := r.Value.IsVacuum() || limit != nil && limit.IsVacuum()
	if why := r.Value.Impossible(vacuum); why != "" {
		return fault.WrongUse(wording.NotPossible(full, r.Value.String(), why))
	}
	if r.By == "" {
		r.By = w.ReadingReporter(r.Name)
	}
	return nil
}

// judged are the findings that a reading would be compared for at a place.
func (w *Work) judged(name, place string) []string {
	var out []string
	for _, f := range w.Knowledge.Findings {
		if at := (engine.FindingName{Name: f.Name, Place: place}).String(); f.Reading == name && place != "" && w.Model.HasFinding(at) {
			out = append(out, at)
		}
	}
	return out
}

// ReadingReporter is who reports a reading where nobody is named: a gauge for
// line pressure, a measuring tool for all else.
func (w *Work) ReadingReporter(name string) string {
	for _, f := range w.Knowledge.Findings {
		if f.Reading == name && name == "line_pressure" || f.Reading == "limit" && name != "line_pressure" {
			return f.Reporter
		}
	}
	return ""
}
