// Package quantity holds physical quantities as they are written on a bench:
// a number and a unit of measure ("62 psi", "0.75 mm", "18 ohm at 20 degC").
//
// A value is kept in the base unit of its dimension; comparisons and
// conversions are between quantities of one dimension, all else is an error.
// Factors are those of NIST Special Publication 811 (2008), appendix B.8,
// taken from the exact definitions there where it gives them.
package quantity

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Dimension is what a quantity measures.
type Dimension string

// The dimensions that transmissions need.
const (
	Pressure    Dimension = "pressure"    // base kPa, gauge pressure (above that of the air)
	Length      Dimension = "length"      // base mm
	Resistance  Dimension = "resistance"  // base ohm
	Speed       Dimension = "speed"       // rotational, base rpm
	Temperature Dimension = "temperature" // base degC
	Voltage     Dimension = "voltage"     // base V
	Time        Dimension = "time"        // base s
	Flow        Dimension = "flow"        // base L/min
	Torque      Dimension = "torque"      // base N·m
	Volume      Dimension = "volume"      // base L
	Distance    Dimension = "distance"    // driven, base mi
)

// Quantity is a value with its unit, kept as written.
type Quantity struct {
	Base float64 // value in the dimension's base unit
	Dim  Dimension
	Unit string // unit as written
	Text string // as written, "62 psi"
	// A resistance may name the temperature it holds at: "18 ohm at 20 degC".
	TempSet bool
	Temp    float64 // degC
}

// unit is a unit of measure: base = value·factor + offset.
type unit struct {
	name   string
	dim    Dimension
	factor float64
	offset float64
}

// Exact definitions: 1 in = 25.4 mm; 1 lb = 0.45359237 kg; standard gravity
// 9.80665 m/s²; 1 US gallon = 231 in³.
const (
	inch      = 25.4                                     // mm
	poundf    = 0.45359237 * 9.80665                     // N
	psi       = poundf / (inch * inch / 1e6) / 1000      // kPa; SP 811: 6.894757
	gallon    = 231 * inch * inch * inch / 1e6           // L; SP 811: 3.785412
	poundFoot = poundf * inch * 12 / 1000                // N·m; SP 811: 1.355818
	inchHg    = 13595.1 * 9.80665 * (inch / 1000) / 1000 // kPa, conventional; SP 811: 3.386389
	zeroC     = 273.15                                   // K
	mile      = 5280 * 12 * inch / 1e6                   // km; SP 811: 1.609344
	ftoc      = 1 / 1.8                                  // kelvin in a degree Fahrenheit
)

// units in the order in which they are offered, base unit of each dimension
// first.
var units = []unit{
	{"kPa", Pressure, 1, 0},
	{"psi", Pressure, psi, 0},
	{"bar", Pressure, 100, 0},
	{"MPa", Pressure, 1000, 0},
	{"inHg", Pressure, inchHg, 0},
	{"mm", Length, 1, 0},
	{"in", Length, inch, 0},
	{"um", Length, 0.001, 0},
	{"ohm", Resistance, 1, 0},
	{"kohm", Resistance, 1000, 0},
	{"mohm", Resistance, 0.001, 0},
	{"rpm", Speed, 1, 0},
	{"degC", Temperature, 1, 0},
	{"degF", Temperature, ftoc, -32 * ftoc},
	{"K", Temperature, 1, -zeroC},
	{"V", Voltage, 1, 0},
	{"mV", Voltage, 0.001, 0},
	{"s", Time, 1, 0},
	{"ms", Time, 0.001, 0},
	{"min", Time, 60, 0},
	{"L/min", Flow, 1, 0},
	{"gpm", Flow, gallon, 0},
	{"Nm", Torque, 1, 0},
	{"lbft", Torque, poundFoot, 0},
	{"lbin", Torque, poundFoot / 12, 0},
	{"L", Volume, 1, 0},
	{"qt", Volume, gallon / 4, 0},
	{"mi", Distance, 1, 0},
	{"km", Distance, 1 / mile, 0},
}

// signs are other ways to write a unit that people and keyboards produce.
var signs = map[string]string{
	"°C": "degC", "°F": "degF", "\u2126": "ohm", "\u03a9": "ohm", "kΩ": "kohm", "µm": "um", "μm": "um",
	"N·m": "Nm", "lb·ft": "lbft", "lb·in": "lbin", "l/min": "L/min",
}

func lookUp(name string) (unit, bool) {
	if s, ok := signs[name]; ok {
		name = s
	}
	for _, u := range units {
		if u.name == name {
			return u, true
		}
	}
	return unit{}, false
}

// Units lists the units of a dimension, its base unit first; all units when
// the dimension is "".
func Units(dim Dimension) []string {
	var out []string
	for _, u := range units {
		if dim == "" || u.dim == dim {
			out = append(out, u.name)
		}
	}
	return out
}

// Dimensions lists what quantities measure, in the order of their units.
func Dimensions() []Dimension {
	var out []Dimension
	for _, u := range units {
		if len(out) == 0 || out[len(out)-1] != u.dim {
			out = append(out, u.dim)
		}
	}
	return out
}

// DimensionOf is the dimension of a unit, "" when it is not known.
func DimensionOf(name string) Dimension {
	u, _ := lookUp(name)
	return u.dim
}

// UnitError says that a unit of measure is not known.
type UnitError struct {
	Unit    string
	Nearest string // a known unit it may have been meant to be, or ""
}

func (e *UnitError) Error() string {
	if e.Unit == "" {
		return `unit of measure missing; write it after the number, as in "62 psi"`
	}
	if e.Nearest != "" {
		return fmt.Sprintf("unknown unit %q; did you mean %q?", e.Unit, e.Nearest)
	}
	return fmt.Sprintf("unknown unit %q; known are %s", e.Unit, strings.Join(Units(""), ", "))
}

// DimensionError says that two quantities, or a quantity and a unit, do not
// measure the same thing.
type DimensionError struct {
	Text      string
	Have, Not Dimension
}

func (e *DimensionError) Error() string {
	return fmt.Sprintf("%q is a %s, not a %s (units of %s: %s)", e.Text, e.Have, e.Not, e.Not, strings.Join(Units(e.Not), ", "))
}

const (
	maxText = 80
	most    = 1e9 // largest value in a base unit
)

// Parse reads a number and a unit: "62 psi", "-3 mm", "18 ohm at 20 degC". A
// decimal point is a point. The error names what is wrong, and a near unit.
func Parse(text string) (Quantity, error) {
	q := Quantity{Text: text}
	if len(text) > maxText {
		return Quantity{}, fmt.Errorf("quantity of %d characters; a number and a unit are enough", len(text))
	}
	body, at, hasAt := strings.Cut(strings.TrimSpace(text), " at ")
	value, u, err := split(body)
	if err != nil {
		return Quantity{}, err
	}
	q.Unit, q.Dim = u.name, u.dim
	q.Base = value*u.factor + u.offset
	if math.Abs(q.Base) > most {
		return Quantity{}, fmt.Errorf("%q is beyond anything on a bench", text)
	}
	if q.Dim == Temperature && q.Base < -zeroC-1e-9 {
		return Quantity{}, fmt.Errorf("%q is below absolute zero", text)
	}
	if hasAt {
		if q.Dim != Resistance {
			return Quantity{}, fmt.Errorf("%q: only a resistance is stated at a temperature", text)
		}
		t, err := Parse(at)
		if err != nil {
			return Quantity{}, fmt.Errorf("temperature after \"at\": %w", err)
		}
		if t.Dim != Temperature {
			return Quantity{}, &DimensionError{at, t.Dim, Temperature}
		}
		q.TempSet, q.Temp = true, t.Base
	}
	return q, nil
}

// copper is the temperature coefficient of resistance of annealed copper at 20
// degC, per kelvin (published: IEC 60028, 3.93e-3).
const copper = 0.00393

// AtTemperature is a resistance of copper that was taken at one temperature as
// it would read at another, in degC: 20 ohm at 20 degC is 26.3 ohm at 100 degC.
// Other quantities, and a resistance that names no temperature, come back as
// they are.
func (q Quantity) AtTemperature(degC float64) Quantity {
	if q.Dim != Resistance || !q.TempSet || q.Temp == degC {
		return q
	}
	at := func(t float64) float64 { return 1 + copper*(t-20) }
	if at(q.Temp) <= 0 || at(degC) <= 0 {
		return q // below -234 degC the straight line means nothing
	}
	q.Base *= at(degC) / at(q.Temp)
	q.Temp = degC
	q.Text = "" // no longer as written
	if s, err := q.Format(q.Unit, 3); err == nil {
		q.Text = s + " at " + short(degC) + " degC"
	}
	return q
}

func split(body string) (float64, unit, error) {
	body = strings.TrimSpace(body)
	n := 0
	for n < len(body) && strings.IndexByte("+-0123456789.,", body[n]) >= 0 {
		n++
	}
	// An exponent, told from a unit by its digits.
	if n > 0 && n+1 < len(body) && (body[n] == 'e' || body[n] == 'E') {
		m := n + 1
		if body[m] == '+' || body[m] == '-' {
			m++
		}
		k := m
		for k < len(body) && body[k] >= '0' && body[k] <= '9' {
			k++
		}
		if k > m {
			n = k
		}
	}
	number, name := body[:n], strings.TrimSpace(body[n:])
	switch {
	case number == "":
		return 0, unit{}, fmt.Errorf(`%q does not begin with a number; write it as in "62 psi"`, body)
	case strings.Contains(number, ","):
		return 0, unit{}, fmt.Errorf("%q: write a decimal point, and no commas between thousands", number)
	}
	value, err := strconv.ParseFloat(number, 64)
	if err != nil || math.IsInf(value, 0) || math.Abs(value) > 1e15 {
		return 0, unit{}, fmt.Errorf("%q is not a number that a quantity can have", number)
	}
	u, ok := lookUp(name)
	if !ok {
		return 0, unit{}, &UnitError{Unit: name, Nearest: nearest(name)}
	}
	return value, u, nil
}

// nearest gives the known unit that differs from name by capitals, or by one
// letter more, less or other.
func nearest(name string) string {
	if len(name) > 12 {
		return ""
	}
	for _, u := range units {
		if strings.EqualFold(u.name, name) {
			return u.name
		}
	}
	for _, alias := range aliases {
		if strings.EqualFold(alias.text, name) {
			return alias.unit
		}
	}
	if len(name) < 2 {
		return ""
	}
	for _, u := range units {
		if len(u.name) > 1 && oneApart(strings.ToLower(name), strings.ToLower(u.name)) {
			return u.name
		}
	}
	return ""
}

// aliases are what people write for a unit, offered but not taken.
var aliases = []struct{ text, unit string }{
	{"inch", "in"}, {"inches", "in"}, {`"`, "in"}, {"C", "degC"}, {"F", "degF"}, {"celsius", "degC"}, {"fahrenheit", "degF"},
	{"volt", "V"}, {"volts", "V"}, {"sec", "s"}, {"seconds", "s"}, {"minutes", "min"}, {"liter", "L"}, {"litre", "L"}, {"quart", "qt"}, {"quarts", "qt"},
	{"ohms", "ohm"}, {"ft-lb", "lbft"}, {"ftlb", "lbft"}, {"ft lb", "lbft"}, {"lb-ft", "lbft"}, {"in-lb", "lbin"}, {"inlb", "lbin"}, {"micron", "um"}, {"lpm", "L/min"}, {"mile", "mi"}, {"miles", "mi"},
}

func oneApart(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) == len(b) {
		return i == len(a) || a[i+1:] == b[i+1:]
	}
	return a[i:] == b[i+1:]
}

// In is the value in another unit of the same dimension.
func (q Quantity) In(name string) (float64, error) {
	u, ok := lookUp(name)
	if !ok {
		return 0, &UnitError{Unit: name, Nearest: nearest(name)}
	}
	if u.dim != q.Dim {
		return 0, &DimensionError{q.Text, q.Dim, u.dim}
	}
	return (q.Base - u.offset) / u.factor, nil
}

// Convert writes the quantity in another unit of the same dimension, with as
// many significant digits as it was written with, three at least.
func (q Quantity) Convert(name string) (Quantity, error) {
	text, err := q.Format(name, max(3, digits(q.Text)))
	if err != nil {
		return Quantity{}, err
	}
	u, _ := lookUp(name)
	out := q
	out.Unit, out.Text = u.name, text
	if q.TempSet {
		out.Text += " at " + short(q.Temp) + " degC"
	}
	return out, nil
}

// Format writes the value in a unit with so many significant digits, without
// exponent: "427 kPa".
func (q Quantity) Format(name string, significant int) (string, error) {
	v, err := q.In(name)
	if err != nil {
		return "", err
	}
	u, _ := lookUp(name)
	text := number(v, significant)
	// Rounding must not carry a temperature below absolute zero.
	for more := significant + 1; u.dim == Temperature && more <= 12; more++ {
		if r, err := strconv.ParseFloat(text, 64); err == nil && r*u.factor+u.offset >= -zeroC-1e-9 {
			break
		}
		text = number(v, more)
	}
	return text + " " + u.name, nil
}

// String is the quantity as written, or in its base unit when made by code.
func (q Quantity) String() string {
	if q.Text != "" {
		return q.Text
	}
	if base := Units(q.Dim); q.Dim != "" && len(base) > 0 {
		return short(q.Base) + " " + base[0]
	}
	return short(q.Base)
}

// short is six significant digits without the zeros at their end.
func short(v float64) string {
	s := number(v, 6)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Compare orders two quantities of one dimension: -1, 0 or +1.
func Compare(a, b Quantity) (int, error) {
	if a.Dim != b.Dim {
		return 0, &DimensionError{a.String(), a.Dim, b.Dim}
	}
	return cmp.Compare(a.Base, b.Base), nil
}

// number writes v with so many significant digits and no exponent; digits
// before the point are never cut off.
func number(v float64, significant int) string {
	if v == 0 {
		return "0"
	}
	place := significant - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	place = min(max(place, 0), 12)
	return strconv.FormatFloat(v, 'f', place, 64)
}

// digits counts the significant digits of the number that text begins with.
func digits(text string) int {
	n, seen := 0, false
	for _, c := range strings.TrimSpace(text) {
		switch {
		case c >= '1' && c <= '9':
			seen = true
			n++
		case c == '0':
			if seen {
				n++
			}
		case c == '.' || c == '-' || c == '+':
		default:
			return n
		}
	}
	return n
}
