package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// TestFactors compares with NIST Special Publication 811 (2008), appendix B.8,
// to the digits printed there, except where a line says otherwise.
func TestFactors(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		want, tol  float64
		source     string
	}{
		{"1 psi", "kPa", 6.894757, 5e-7, "B.8: psi to kPa 6.894 757 E+00"},
		{"1 bar", "kPa", 100, 0, "B.8: bar, exact"},
		{"1 MPa", "kPa", 1000, 0, "SI prefix"},
		{"1 inHg", "kPa", 3.386389, 5e-7, "B.8: inch of mercury, conventional, 3.386 389 E+03 Pa"},
		{"1 in", "mm", 25.4, 0, "B.8: inch 2.54 E-02 m, exact"},
		{"1 um", "mm", 0.001, 0, "SI prefix"},
		{"1 kohm", "ohm", 1000, 0, "SI prefix"},
		{"1 mohm", "ohm", 0.001, 0, "SI prefix"},
		{"1 mV", "V", 0.001, 0, "SI prefix"},
		{"1 ms", "s", 0.001, 0, "SI prefix"},
		{"1 min", "s", 60, 0, "B.8: minute, exact"},
		{"1 gpm", "L/min", 3.785412, 5e-7, "B.8: gallon (U.S.) 3.785 412 E+00 L"},
		{"1 qt", "L", 0.9463529, 5e-8, "B.8: quart (U.S. liquid) 9.463 529 E-01 L"},
		{"1 lbft", "Nm", 1.355818, 5e-7, "B.8: pound-force foot 1.355 818 E+00 N·m"},
		{"1 lbin", "Nm", 0.1129848, 5e-8, "B.8: pound-force inch 1.129 848 E-01 N·m"},
		{"212 degF", "degC", 100, 1e-12, "B.8: t/degC = (t/degF - 32)/1.8"},
		{"32 degF", "degC", 0, 1e-12, "the same"},
		{"-40 degF", "degC", -40, 1e-12, "the same"},
		{"0 K", "degC", -273.15, 0, "B.8: t/degC = T/K - 273.15"},
		{"62 psi", "bar", 4.274749, 6e-7, "62 × 6.894 757 / 100"},
		{"0.030 in", "mm", 0.762, 1e-15, "0.030 × 25.4"},
	} {
		q, err := Parse(c.text)
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		got, err := q.In(c.unit)
		if err != nil || math.Abs(got-c.want) > c.tol {
			t.Errorf("%s = %.9g %s, want %.9g (%s) %v", c.text, got, c.unit, c.want, c.source, err)
		}
	}
}

// TestTable: every unit has a dimension whose first unit is its base, and a
// test above or is a base itself.
func TestTable(t *testing.T) {
	base := map[Dimension]bool{}
	for _, u := range units {
		if !base[u.dim] && (u.factor != 1 || u.offset != 0) {
			t.Errorf("first unit of %s is %s with factor %g", u.dim, u.name, u.factor)
		}
		base[u.dim] = true
		q, err := Parse("3.5 " + u.name)
		if err != nil || q.Dim != u.dim || q.Unit != u.name {
			t.Errorf("%s: %+v, %v", u.name, q, err)
		}
		if v, err := q.In(u.name); err != nil || math.Abs(v-3.5) > 1e-12 {
			t.Errorf("3.5 %s comes back as %g, %v", u.name, v, err)
		}
		if DimensionOf(u.name) != u.dim {
			t.Errorf("DimensionOf(%s) = %s", u.name, DimensionOf(u.name))
		}
	}
	if len(base) != 11 {
		t.Errorf("%d dimensions", len(base))
	}
	for sign, name := range signs {
		if DimensionOf(sign) != DimensionOf(name) || DimensionOf(name) == "" {
			t.Errorf("%s is not %s", sign, name)
		}
	}
	for _, a := range aliases {
		if DimensionOf(a.unit) == "" {
			t.Errorf("%s stands for unknown %s", a.text, a.unit)
		}
	}
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		base float64
		dim  Dimension
		temp float64
	}{
		{"62psi", 62 * psi, Pressure, 0},
		{" 0.75  mm ", 0.75, Length, 0},
		{"18 ohm at 20 degC", 18, Resistance, 20},
		{"18 ohm at 68 degF", 18, Resistance, 20},
		{"-3 mm", -3, Length, 0},
		{"1e3 rpm", 1000, Speed, 0},
		{"2450 rpm", 2450, Speed, 0},
		{"80 °C", 80, Temperature, 0},
		{"20 \u03a9", 20, Resistance, 0},
	} {
		q, err := Parse(c.text)
		if err != nil || math.Abs(q.Base-c.base) > 1e-9 || q.Dim != c.dim || math.Abs(q.Temp-c.temp) > 1e-9 || q.Text != c.text || q.TempSet != (c.temp != 0) {
			t.Errorf("%q = %+v, %v", c.text, q, err)
		}
	}
}

// TestErrors: the message names what is wrong, and a near unit where one is
// near.
func TestErrors(t *testing.T) {
	for _, c := range []struct{ text, has string }{
		{"62 PSI", `"psi"`},
		{"62 psy", `"psi"`},
		{"4 Bar", `"bar"`},
		{"3 inch", `"in"`},
		{"80 C", `"degC"`},
		{"80 F", `"degF"`},
		{"12 volts", `"V"`},
		{"30 ft-lb", `"lbft"`},
		{"30 furlong", "known are"},
		{"62", "unit of measure missing"},
		{"psi", "number"},
		{"", "number"},
		{"4,3 bar", "decimal point"},
		{"1,250 rpm", "commas"},
		{"1.2.3 mm", "not a number"},
		{"1e400 mm", "not a number"},
		{"-500 degC", "absolute zero"},
		{"-1 K", "absolute zero"},
		{"3 mm at 20 degC", "resistance"},
		{"3 ohm at 20 mm", "temperature"},
		{"3 ohm at warm", "number"},
		{strings.Repeat("9", 100) + " mm", "characters"},
	} {
		q, err := Parse(c.text)
		if err == nil || !strings.Contains(err.Error(), c.has) || q != (Quantity{}) {
			t.Errorf("%q: %+v, %v; want an error with %s", c.text, q, err, c.has)
		}
	}
	q, _ := Parse("3 mm")
	_, err := q.In("psi")
	var dim *DimensionError
	if !errors.As(err, &dim) || dim.Have != Length || dim.Not != Pressure {
		t.Error(err)
	}
	if _, err := q.In("furlong"); err == nil {
		t.Error("furlong")
	}
	p, _ := Parse("3 psi")
	if _, err := Compare(q, p); !errors.As(err, &dim) {
		t.Error(err)
	}
}

func TestConvert(t *testing.T) {
	for _, c := range []struct{ text, unit, want string }{
		{"62 psi", "kPa", "427 kPa"},
		{"0.030 in", "mm", "0.762 mm"},
		{"110 psi", "bar", "7.58 bar"},
		{"0.75 mm", "in", "0.0295 in"},
		{"250 degF", "degC", "121 degC"},
		{"18 ohm at 68 degF", "kohm", "0.0180 kohm at 20 degC"},
		{"0 mm", "in", "0 in"},
		{"2450 rpm", "rpm", "2450 rpm"},
	} {
		q, err := Parse(c.text)
		if err != nil {
			t.Fatal(err)
		}
		got, err := q.Convert(c.unit)
		if err != nil || got.String() != c.want {
			t.Errorf("%s in %s: %q, %v; want %q", c.text, c.unit, got, err, c.want)
		}
		if got.Base != q.Base || got.Dim != q.Dim {
			t.Errorf("%s: conversion changed the value", c.text)
		}
	}
	if s := (Quantity{Base: 12.5, Dim: Length}).String(); s != "12.5 mm" {
		t.Error(s)
	}
}

// TestThereAndBack: a value goes through any unit of its dimension and back.
func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(units).Draw(t, "from")
		v := rapid.Float64Range(0, 1e6).Draw(t, "value")
		q := Quantity{Base: v*u.factor + u.offset, Dim: u.dim, Unit: u.name}
		w := rapid.SampledFrom(Units(u.dim)).Draw(t, "to")
		there, err := q.In(w)
		if err != nil {
			t.Fatal(err)
		}
		x, _ := lookUp(w)
		back, err := Quantity{Base: there*x.factor + x.offset, Dim: u.dim}.In(u.name)
		if err != nil || math.Abs(back-v) > 1e-9*math.Max(1, math.Abs(v))*math.Max(1, math.Abs(x.offset)+math.Abs(u.offset)) {
			t.Fatalf("%g %s -> %g %s -> %g", v, u.name, there, w, back)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"62 psi", "0K", "0 K", "-273.15 degC", "0.001 K", "18 ohm at 20 degC", "-3e2 mm", "1 L/min", "0x10 mm", "1e mm", "3 at 4 at 5", "٣ mm", "1_000 mm", "inf mm", "nan V", "3 ohm at 3 ohm at 3 ohm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		q, err := Parse(s)
		if err != nil {
			if q != (Quantity{}) {
				t.Fatalf("%q: value beside an error", s)
			}
			return
		}
		if math.IsNaN(q.Base) || math.IsInf(q.Base, 0) || q.Text != s || DimensionOf(q.Unit) != q.Dim {
			t.Fatalf("%q: %+v", s, q)
		}
		for _, u := range Units(q.Dim) {
			c, err := q.Convert(u)
			if err != nil {
				t.Fatal(err)
			}
			again, err := Parse(c.Text)
			if err != nil && math.Abs(q.Base) > 0.99*most {
				continue // rounding carries it over the limit
			}
			if err != nil || again.Dim != q.Dim {
				t.Fatalf("%q became %q: %v", s, c.Text, err)
			}
		}
	})
}
