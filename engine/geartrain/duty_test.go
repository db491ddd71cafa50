package geartrain

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"slipcase/engine"
)

// The factors of any duties keep the mean, stay within the bound, are alike for
// alike duties, and rise with what is asked.
func TestDutyFactors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		amount := rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0, 1), rapid.Float64Range(0, 1e-6), rapid.Just(1e6))
		duties := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Duty {
			return Duty{Held: amount.Draw(t, "held"), Shifted: amount.Draw(t, "shifted")}
		}), 1, 12).Draw(t, "duties")
		duties = append(duties, duties[0]) // one stands twice
		out := DutyFactors(duties)
		sum := 0.0
		for i, f := range out {
			sum += f
			if f > MostDuty+1e-9 || f < 1/MostDuty {
				t.Fatalf("%v has factor %v", duties[i], f)
			}
			for j, g := range out {
				if duties[i].Held >= duties[j].Held && duties[i].Shifted >= duties[j].Shifted && f < g-1e-9 {
					t.Fatalf("%v has %v, %v has %v", duties[i], f, duties[j], g)
				}
			}
		}
		if mean := sum / float64(len(out)); math.Abs(mean-1) > 1e-9 {
			t.Fatalf("%v: mean %v", out, mean)
		}
		if last := out[len(out)-1]; out[0] != last {
			t.Fatalf("the same duty has %v and %v", out[0], last)
		}
	})
}

// One of many that does all the work meets the bound, and the others have the rest.
func TestDutyBound(t *testing.T) {
	out := DutyFactors([]Duty{{Held: 1}, {}, {}, {}, {}, {}})
	if math.Abs(out[0]-MostDuty) > 1e-9 || math.Abs(out[1]-(6-MostDuty)/5) > 1e-9 {
		t.Errorf("%v", out)
	}
	// Two meet it; what is above goes to the others alike.
	out = DutyFactors([]Duty{{Held: 50}, {Held: 50}, {Held: 2}, {Held: 1}, {}, {}, {}, {}, {}, {}})
	if math.Abs(out[0]-MostDuty) > 1e-9 || out[2] <= out[3] || out[3] <= out[4] || math.Abs(out[4]-out[9]) > 1e-12 {
		t.Errorf("%v", out)
	}
}

// What the published three-speed is asked to do: shares of driving and shifts by
// hand, demands as the machine has them.
func TestDutyOfSimpson(t *testing.T) {
	m, err := New(simpson())
	if err != nil {
		t.Fatal(err)
	}
	demand := func(row, element string) float64 {
		d := m.Demand(m.RowIndex(row), element)
		if d == nil {
			return 0
		}
		f, _ := d.Float64()
		return f
	}
	const d, two, low = (1 - inReverse - byHand) / 3, byHand / 4, byHand / 2
	for name, want := range map[string]Duty{
		// On in all forward gears, it slips in no shift.
		"rear_clutch": {Applied: 1 - inReverse, Held: d*(demand("D/1", "rear_clutch")+demand("D/2", "rear_clutch")+demand("D/3", "rear_clutch")) +
			two*(demand("2/1", "rear_clutch")+demand("2/2", "rear_clutch")) + low*demand("L/1", "rear_clutch")},
		// On at the 2-3, lets go at the kickdown from third.
		"front_clutch": {Applied: d + inReverse, Held: d*demand("D/3", "front_clutch") + inReverse*demand("R/R", "front_clutch"),
			Shifts: 1 + kickdowns, Shifted: (1 + kickdowns) * demand("D/3", "front_clutch")},
		// On at the 1-2 and at the kickdown to second, lets go at the one to first.
		"front_band": {Applied: d + two, Held: d*demand("D/2", "front_band") + two*demand("2/2", "front_band"),
			Shifts: 1 + 2*kickdowns, Shifted: (1 + 2*kickdowns) * demand("D/2", "front_band")},
		"rear_band": {Applied: inReverse + low, Held: inReverse*demand("R/R", "rear_band") + low*demand("L/1", "rear_band")},
	} {
		got, ok := m.Duty(name)
		if !ok || math.Abs(got.Applied-want.Applied) > 1e-12 || math.Abs(got.Held-want.Held) > 1e-12 || math.Abs(got.Shifts-want.Shifts) > 1e-12 || math.Abs(got.Shifted-want.Shifted) > 1e-12 {
			t.Errorf("%s: %+v, by hand %+v", name, got, want)
		}
	}
	if _, ok := m.Duty("sun"); ok {
		t.Error("a member has a duty")
	}
}

// Two clutches, one behind the other, have the same duty.
func TestDutyOfAlike(t *testing.T) {
	u := &engine.Unit{ID: "alike", Train: engine.Train{Input: "turbine", Output: "carrier", Gearsets: []engine.Gearset{
		{Name: "set", Kind: engine.Single, Sun: "sun", Carrier: "carrier", Ring: "ring", SunTeeth: 30, RingTeeth: 60}}},
		Elements: []engine.Element{
			{Name: "first", Kind: engine.Clutch, A: "turbine", B: "hub"},
			{Name: "second", Kind: engine.Clutch, A: "hub", B: "sun"},
			{Name: "low", Kind: engine.Brake, A: "ring", B: "case"},
		},
		Rows: []engine.Row{{Range: "D", Gear: "1", Apply: []string{"first", "second", "low"}}},
	}
	m, err := New(u)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := m.Duty("first")
	b, _ := m.Duty("second")
	if a != b || a.Held != 1 {
		t.Errorf("%+v and %+v", a, b)
	}
}
