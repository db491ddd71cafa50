package wording

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/quantity"
)

// ReadingOf is a reading with its limits: "line pressure at idle/R 62 psi
// (427 kPa): low, limit 80 to 110 psi". m may be nil: then without them.
func ReadingOf(m *model.Model, r engine.Reading) string {
	what := Name(r.Name)
	if r.Place != "" {
		what += " at " + r.Place
	}
	var b engine.Bounds
	known := false
	if m != nil {
		if b, known = m.Unit.Bounds(r.Name, r.Place); known {
			if b.Limit != nil {
				what = Name(b.Limit.Name)
			}
		}
	}
	text := what + " " + withOther(r.Value)
	if known {
		text += ": " + judge(b, r.Value)
	}
	return text
}

// Measured is what is read: the title of a limit tells it better than its name,
// but for a name of one word, as mileage; "line pressure at idle/R" for a line
// of the pressure table.
func Measured(b engine.Bounds) string {
	switch {
	case b.Limit == nil:
		return Name(b.Reading) + " at " + b.Place
	case b.Title == "" || !strings.Contains(b.Limit.Name, "_"):
		return Name(b.Limit.Name)
	}
	return b.Title
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
func judge(b engine.Bounds, q quantity.Quantity) string {
	v, err := b.Judge(q)
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
	return word + ", limit " + Limits(b, q.Unit)
}

// Limits are limits in a unit of measure: "80 to 110 psi"; in their own for "".
func Limits(b engine.Bounds, unit string) string {
	if unit == "" {
		for _, q := range []*quantity.Quantity{b.Low, b.High} {
			if q != nil && unit == "" {
				unit = q.Unit
			}
		}
	}
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
	case b.Low != nil && b.High != nil:
		low, high := in(b.Low), in(b.High)
		lowValue, lowUnit, _ := strings.Cut(low, " ")
		if _, highUnit, _ := strings.Cut(high, " "); lowUnit == highUnit {
			low = lowValue
		}
		return low + " to " + high
	case b.Low != nil:
		return "at least " + in(b.Low)
	case b.High != nil:
		return "at most " + in(b.High)
	}
	return "none"
}

// Between is a limit as it is written: "0.25 mm to 0.90 mm", "at most 0.12 mm";
// "" where neither end is said.
func Between(low, high *quantity.Quantity) string {
	switch {
	case low != nil && high != nil:
		return low.Text + " to " + high.Text
	case high != nil:
		return "at most " + high.Text
	case low != nil:
		return "at least " + low.Text
	}
	return ""
}

// readOff are the units of measure that gauges and tools of the trade show, by
// dimension; of a pressure below the air's, inches of mercury come first as its
// limit says so.
var readOff = map[quantity.Dimension][]string{
	quantity.Pressure: {"psi", "kPa", "bar"}, quantity.Length: {"mm", "in"}, quantity.Temperature: {"degF", "degC"}, quantity.Resistance: {"ohm", "kohm"},
	quantity.Flow: {"L/min", "gpm"}, quantity.Torque: {"lbft", "lbin", "Nm"}, quantity.Volume: {"L", "qt"}, quantity.Distance: {"mi", "km"}, quantity.Time: {"s", "ms"},
}

// UnitsOf are the units of measure in which a value is likely to be read off:
// that of its limit first, then what else the trade's gauges and tools show.
func UnitsOf(low, high *quantity.Quantity) []string {
	for _, q := range []*quantity.Quantity{low, high} {
		if q == nil || q.Unit == "" {
			continue
		}
		out := []string{q.Unit}
		for _, o := range readOff[quantity.DimensionOf(q.Unit)] {
			if !slices.Contains(out, o) {
				out = append(out, o)
			}
		}
		return out
	}
	return nil
}

// Impossible says why a reading cannot be.
func Impossible(why quantity.Impossible) string {
	if why == quantity.BeyondVacuum {
		return "vacuum cannot go beyond 29.92 inHg, atmospheric pressure"
	}
	return "it cannot be below zero"
}
