package engine

import (
	"fmt"

	"slipcase/engine/quantity"
)

// Bounds are the limits of one thing that is measured on a unit: a line of
// its pressure table, or a limit. Low and High may be nil, not both.
type Bounds struct {
	Title     string // of the limit, or its name; "" for a line of the pressure table
	Limit     *Limit // nil for a line of the pressure table
	Reading   string // name by which findings read it; "" where only the limit's own findings do
	Place     string // place of those findings
	Low, High *quantity.Quantity
}

// Verdict is a measured value against its limits.
type Verdict struct {
	Side string // "low", "high", "" within
	// Beyond is how far the value is past the limit, as a share of the width
	// between the limits (of the limit itself where there is one only);
	// negative within: how far it is from the nearer limit.
	Beyond float64
	// Value is the value that was compared: a resistance brought to the
	// temperature at which the limits are stated.
	Value quantity.Quantity
}

// Bounds finds what a reading is compared with. A reading is named by a limit
// ("forward_clearance"), or by what findings read, with the place
// ("line_pressure" "idle/R", "clearance" "forward"); false where the unit
// states no limits for it.
func (u *Unit) Bounds(name, place string) (Bounds, bool) {
	if name == "line_pressure" {
		for _, p := range u.Pressures {
			if p.Place() == place && (p.Low != nil || p.High != nil) {
				return Bounds{Reading: name, Place: place, Low: p.Low, High: p.High}, true
			}
		}
	}
	for i := range u.Limits {
		l := &u.Limits[i]
		m := ParseFindingName(l.Measures)
		if l.Name == name && place == "" || name == "limit" && l.Name == place || l.Measures != "" && m.Name == name && m.Place == place {
			b := Bounds{Title: l.Title, Limit: l, Reading: m.Name, Place: m.Place, Low: l.Low, High: l.High}
			if b.Title == "" {
				b.Title = l.Name
			}
			return b, l.Low != nil || l.High != nil
		}
	}
	return Bounds{}, false
}

// Judge compares a value with the limits. A resistance taken at another
// temperature than the limits' is corrected first. The error says that value
// and limits are not of one kind.
func (b Bounds) Judge(q quantity.Quantity) (Verdict, error) {
	limit := b.Low
	if limit == nil {
		limit = b.High
	}
	if limit == nil {
		return Verdict{}, fmt.Errorf("%s %s has no limits", b.Reading, b.Title)
	}
	if limit.Dim != q.Dim {
		return Verdict{}, &quantity.DimensionError{Text: q.Text, Have: q.Dim, Not: limit.Dim}
	}
	if limit.TempSet && q.TempSet {
		q = q.AtTemperature(limit.Temp)
	}
	v := Verdict{Value: q}
	width := limit.Base
	if b.Low != nil && b.High != nil {
		width = b.High.Base - b.Low.Base
	}
	if width < 0 {
		width = -width
	}
	if width == 0 {
		width = 1
	}
	switch {
	case b.Low != nil && q.Base < b.Low.Base:
		v.Side, v.Beyond = "low", (b.Low.Base-q.Base)/width
	case b.High != nil && q.Base > b.High.Base:
		v.Side, v.Beyond = "high", (q.Base-b.High.Base)/width
	default:
		near := width
		if b.Low != nil {
			near = min(near, q.Base-b.Low.Base)
		}
		if b.High != nil {
			near = min(near, b.High.Base-q.Base)
		}
		v.Beyond = -near / width
	}
	return v, nil
}
