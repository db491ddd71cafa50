package model_test

import (
	"fmt"
	"os"
	"testing"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/engine/quantity"
	"slipcase/rules"
)

func build(t testing.TB, unit string) *model.Model {
	t.Helper()
	k, u := knowledgeOf(t, unit)
	m, err := model.Build(k, u)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// knowledgeOf is the project's knowledge, with one of its units.
func knowledgeOf(t testing.TB, unit string) (*engine.Knowledge, *engine.Unit) {
	t.Helper()
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: unit})
	for _, d := range diags {
		if d.Severity == engine.Error {
			t.Fatalf("%v", d)
		}
	}
	return k, k.Unit(unit)
}

// chances solves a case of readings alone.
func chances(t testing.TB, m *model.Model, readings ...engine.Reading) map[string]float64 {
	t.Helper()
	pieces, diags := m.Evidence(&engine.CaseFile{Unit: m.Unit.ID, Readings: readings})
	if len(diags) > 0 {
		t.Fatalf("%v: %v", readings, diags)
	}
	p, err := m.Solve(pieces)
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]float64{}
	for i, n := range m.Nodes {
		if n.Layer == model.ModeLayer || n.Layer == model.CauseLayer {
			out[n.Name] = p.P[i]
		}
	}
	return out
}

func at(base float64, like *quantity.Quantity) quantity.Quantity {
	q := *like
	q.Base, q.Text = base, ""
	return q
}

// Every limit and every line of the pressure table of both units speaks: far
// past the limit some fault, or the root cause that the figure is of, becomes
// at least twice as likely as before; in the middle each of these becomes less
// likely than before.
func TestEveryLimitSpeaks(t *testing.T) {
	for _, unit := range []string{"northfork-4", "harrow-3"} {
		m := build(t, unit)
		before := chances(t, m)
		try := func(name, place string, low, high *quantity.Quantity) {
			label := fmt.Sprintf("%s %s %s", unit, name, place)
			limit := low
			if limit == nil {
				limit = high
			}
			width, middle := limit.Base, limit.Base*0.4
			switch {
			case low != nil && high != nil:
				width, middle = high.Base-low.Base, (low.Base+high.Base)/2
			case low != nil:
				middle = low.Base * 1.5
			}
			within := chances(t, m, engine.Reading{Name: name, Place: place, Value: at(middle, limit)})
			side := func(what string, far, near float64) {
				out := chances(t, m, engine.Reading{Name: name, Place: place, Value: at(far, limit)})
				just := chances(t, m, engine.Reading{Name: name, Place: place, Value: at(near, limit)})
				var raised int
				for n, p := range before {
					if out[n] < 2*p || p == 0 {
						continue
					}
					raised++
					if within[n] >= p {
						t.Errorf("%s: %s is raised from %.4f to %.4f %s its limit, and %.4f within it", label, n, p, out[n], what, within[n])
					}
					if just[n] >= out[n] {
						t.Errorf("%s: %s: %.4f just %s the limit, %.4f far: not graded", label, n, just[n], what, out[n])
					}
				}
				if raised == 0 {
					t.Errorf("%s: a value far %s its limit raises nothing", label, what)
				}
			}
			if high != nil {
				side("above", high.Base+1.5*width, high.Base+0.05*width)
			}
			if low != nil {
				side("below", low.Base-0.7*width, low.Base-0.05*width)
			}
		}
		for _, p := range m.Unit.Pressures {
			try("line_pressure", p.Place(), p.Low, p.High)
		}
		for _, l := range m.Unit.Limits {
			try(l.Name, "", l.Low, l.High)
		}
	}
}

// A coil that reads 26 ohm at 100 degC is a 20 ohm coil and good; one that
// reads 26 ohm cold is not, and neither is one that is open hot only.
func TestResistanceIsBroughtToItsTemperature(t *testing.T) {
	m := build(t, "northfork-4")
	before := chances(t, m)
	const coil, hotCoil, other = "solenoid_a/shift_coil_open", "solenoid_a/shift_coil_opens_hot", "solenoid_b/shift_coil_open"
	for _, c := range []struct {
		value            string
		cold, hot, other int // sign of the change of coil, hotCoil and other
	}{
		{"26 ohm at 100 degC", -1, -1, 0},
		{"20 ohm at 20 degC", -1, 0, 0},
		{"40 ohm at 20 degC", 1, 0, 0},
		{"4000 ohm at 100 degC", 1, 1, 0},
	} {
		q, err := quantity.Parse(c.value)
		if err != nil {
			t.Fatal(err)
		}
		after := chances(t, m, engine.Reading{Name: "solenoid_a_resistance", Value: q})
		for name, want := range map[string]int{coil: c.cold, hotCoil: c.hot, other: c.other} {
			got := 0
			switch d := after[name] / before[name]; {
			case d > 1.5:
				got = 1
			case d < 0.7:
				got = -1
			}
			if got != want {
				t.Errorf("%s: %s goes from %.5f to %.5f, want sign %d", c.value, name, before[name], after[name], want)
			}
		}
	}
}

// A limit and what it measures are one thing under two names.
func TestLimitAndFindingAreOne(t *testing.T) {
	m := build(t, "northfork-4")
	for limit, finding := range map[string]string{
		"above_limit@forward_clearance":     "clearance_high@forward",
		"below_limit@forward_clearance":     "clearance_low@forward",
		"above_limit@solenoid_a_resistance": "resistance_off@a",
		"above_limit@input_end_play":        "end_play_high",
	} {
		a, okA := m.LookupFinding(limit)
		b, okB := m.LookupFinding(finding)
		if !okA || !okB || a != b {
			t.Errorf("%s is node %d (%v), %s is node %d (%v)", limit, a, okA, finding, b, okB)
		}
	}
	q, _ := quantity.Parse("2.9 mm")
	a := chances(t, m, engine.Reading{Name: "forward_clearance", Value: q})
	b := chances(t, m, engine.Reading{Name: "clearance", Place: "forward", Value: q})
	const pack = "forward_frictions/pack_loose"
	if a[pack] != b[pack] || a[pack] < 0.05 {
		t.Errorf("%s: %.4f by the limit's name, %.4f by what it measures", pack, a[pack], b[pack])
	}
}
