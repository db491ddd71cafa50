package desk

import (
	"fmt"
	"sort"
	"strings"

	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/quantity"
)

// bounds are the limits of something measured; nil where there is none.
type bounds struct {
	title     string
	low, high *quantity.Quantity
}

// bounds finds the limits of the unit for a reading.
func (w *work) bounds(name, place string) (bounds, bool) {
	b, ok := w.m.Unit.Bounds(name, place)
	if ok && b.Limit != nil {
		b.Title = wording.Name(b.Limit.Name)
	}
	return bounds{b.Title, b.Low, b.High}, ok
}

// readingNames lists what can be measured, with its place.
func (w *work) readingNames() []string {
	var out []string
	for _, p := range w.m.Unit.Pressures {
		out = append(out, "line_pressure@"+p.Place())
	}
	for _, l := range w.m.Unit.Limits {
		out = append(out, l.Name)
	}
	sort.Strings(out)
	return out
}

// isReading tells whether a word begins a reading.
func (w *work) isReading(name string) bool {
	for _, n := range w.readingNames() {
		if base, _, _ := strings.Cut(n, "@"); base == name {
			return true
		}
	}
	return false
}

// readingWords is a reading with its limits: "line pressure at idle/R 62 psi
// (427 kPa): low, limit 80 to 110 psi".
func readingWords(w *work, r engine.Reading) string {
	what := wording.Name(r.Name)
	if r.Place != "" {
		what += " at " + r.Place
	}
	var b bounds
	known := false
	if w != nil {
		if b, known = w.bounds(r.Name, r.Place); known {
			what = b.title
		}
	}
	text := what + " " + withOther(r.Value)
	if known {
		text += ": " + judge(b, r.Value)
	}
	return text
}

// others are the units in which a value is shown beside its own: what the
// other half of the trade's books uses.
var others = map[string]string{
	"psi": "kPa", "kPa": "psi", "bar": "psi", "MPa": "psi", "inHg": "kPa", "mm": "in", "in": "mm", "um": "in",
	"degC": "degF", "degF": "degC", "K": "degC", "Nm": "lbft", "lbft": "Nm", "lbin": "Nm", "L": "qt", "qt": "L", "L/min": "gpm", "gpm": "L/min",
}

// withOther is a value as written, with its conversion.
func withOther(q quantity.Quantity) string {
	own, err := q.Convert(q.Unit)
	if err != nil {
		return q.String()
	}
	if other := others[own.Unit]; other != "" {
		if c, err := q.Convert(other); err == nil {
			return fmt.Sprintf("%s (%s)", q, c)
		}
	}
	return q.String()
}

// judge compares a value with its limits, in the value's own unit.
func judge(b bounds, q quantity.Quantity) string {
	v, err := (engine.Bounds{Title: b.title, Low: b.low, High: b.high}).Judge(q)
	if err != nil {
		return err.Error()
	}
	word := v.Side
	if word == "" {
		word = "good"
	}
	if v.Value.Base != q.Base {
		word += ", " + v.Value.String()
	}
	return word + ", limit " + b.words(q.Unit)
}

// words are limits in a unit: "80 to 110 psi".
func (b bounds) words(unit string) string {
	in := func(q *quantity.Quantity) string {
		if q.Unit == unit {
			return q.String()
		}
		if c, err := q.Convert(unit); err == nil {
			return c.String()
		}
		return q.String()
	}
	switch {
	case b.low != nil && b.high != nil:
		low, high := in(b.low), in(b.high)
		lowValue, lowUnit, _ := strings.Cut(low, " ")
		if _, highUnit, _ := strings.Cut(high, " "); lowUnit == highUnit {
			low = lowValue
		}
		return low + " to " + high
	case b.low != nil:
		return "at least " + in(b.low)
	case b.high != nil:
		return "at most " + in(b.high)
	}
	return "none"
}

func (w *work) hasBounds(name, place string) bool {
	_, ok := w.bounds(name, place)
	return ok
}

// admit refuses a reading without limits in the unit, and one of another
// dimension; it fills in who reports it, and turns "R/idle" into "idle/R".
func (w *work) admit(r *engine.Reading) error {
	if one, other, two := strings.Cut(r.Place, "/"); two && !w.hasBounds(r.Name, r.Place) {
		if turned := other + "/" + one; w.hasBounds(r.Name, turned) {
			r.Place = turned
		}
	}
	full := wording.At(r.Name, r.Place)
	b, ok := w.bounds(r.Name, r.Place)
	if !ok {
		hint := wording.Nearest(full, w.readingNames())
		if hint == "" || w.isReading(r.Name) {
			var same []string
			for _, n := range w.readingNames() {
				if base, place, _ := strings.Cut(n, "@"); base == r.Name && place != "" {
					same = append(same, n)
				}
			}
			if len(same) > 0 {
				hint = "it is measured as " + strings.Join(same, ", ")
			}
		}
		if hint == "" {
			hint = "it is measured: " + strings.Join(w.readingNames(), ", ")
		}
		return wrongUse(fmt.Sprintf("unit %s has no limits for %s", w.m.Unit.ID, full), hint)
	}
	limit := b.low
	if limit == nil {
		limit = b.high
	}
	if limit != nil && limit.Dim != r.Value.Dim {
		return wrongUse(fmt.Sprintf("%s: %s is a %s, the limit is a %s", full, r.Value, r.Value.Dim, limit.Dim), "its limits are "+b.words(limit.Unit))
	}
	if r.By == "" {
		r.By = w.readingReporter(r.Name)
	}
	return nil
}

// readingReporter is who reports a reading where nobody is named: a gauge for
// line pressure, a measuring tool for all else.
func (w *work) readingReporter(name string) string {
	for _, f := range w.k.Findings {
		if f.Reading == name && name == "line_pressure" || f.Reading == "limit" && name != "line_pressure" {
			return f.Reporter
		}
	}
	return ""
}
