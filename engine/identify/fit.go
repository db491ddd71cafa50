package identify

import (
	"math"
	"strconv"
	"strings"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

// Clearance is what a bore leaves over its shaft, both as they were given. It
// is the difference of two sizes and nothing else: how far a fit may wear is a
// limit of the unit, and none follows from nominal sizes.
type Clearance struct {
	Fit         *engine.Fit
	Bore, Shaft quantity.Quantity
	Left        quantity.Quantity // below 0 where the shaft is larger
	// Nominal says that bore and shaft are sizes that the family states for a
	// variant, not what wear has made of them.
	Nominal bool
}

// clearances are those of which both sizes were given.
func clearances(f *engine.Family, given map[string]Answer) []Clearance {
	var out []Clearance
	for i := range f.Fits {
		t := &f.Fits[i]
		a, ok := given[t.Bore]
		b, also := given[t.Shaft]
		if !ok || !also || a.Unknown || b.Unknown {
			continue
		}
		if left, ok := Between(a.Size, b.Size); ok {
			out = append(out, Clearance{t, a.Size, b.Size, left, stated(f, t.Bore, a.Size) && stated(f, t.Shaft, b.Size)})
		}
	}
	return out
}

// stated tells whether a size is the nominal one of some variant.
func stated(f *engine.Family, feature string, q quantity.Quantity) bool {
	for i := range f.Variants {
		if h := f.Variants[i].Value(feature); h != nil && h.Size.Dim == q.Dim && same(h.Size.Base, q.Base) {
			return true
		}
	}
	return false
}

// rounding is more than converting between units of measure loses, and less
// than any tool reads, in base units such as meters.
const rounding = 1e-9

func same(a, b float64) bool { return math.Abs(a-b) < rounding }

// Between is bore less shaft, in the bore's unit and with the decimals of the
// finer of the two; false where they are not both lengths.
func Between(bore, shaft quantity.Quantity) (quantity.Quantity, bool) {
	if bore.Dim != quantity.Length || shaft.Dim != quantity.Length {
		return quantity.Quantity{}, false
	}
	a, err := bore.In(bore.Unit)
	b, err2 := shaft.In(bore.Unit)
	if err != nil || err2 != nil {
		return quantity.Quantity{}, false
	}
	places := decimals(bore.Text)
	if shaft.Unit == bore.Unit {
		places = max(places, decimals(shaft.Text))
	}
	q, err := quantity.Parse(strconv.FormatFloat(a-b, 'f', places, 64) + " " + bore.Unit)
	return q, err == nil
}

// decimals counts the digits behind the point of a number's text.
func decimals(text string) int {
	_, behind, _ := strings.Cut(text, ".")
	n := 0
	for n < len(behind) && behind[n] >= '0' && behind[n] <= '9' {
		n++
	}
	return n
}
