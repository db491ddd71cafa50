package geartrain

import (
	"math/big"
	"slices"
	"testing"

	"slipcase/engine"
)

// TestFaultyGap, on the published chart ravigneaux-transaxle-4: between second
// and third C1 and B2 hold, second gear by F1. Without B2 only F2 is left, and
// the engine runs up as far as first; with C2 stuck on the set is locked, third
// before its time. In 1-2 only C1 is on, first gear, and no fault of what comes
// on lets the engine run up in it.
func TestFaultyGap(t *testing.T) {
	m := machineOf(t, tableUnit(t, "ravigneaux-transaxle-4"))
	for _, x := range []struct {
		place string
		fault Fault
		want  Timing
		ratio *big.Rat
	}{
		{"D/2-3", Fault{"B2", Dead}, FlareBounded, big.NewRat(23, 8)},
		{"D/2-3", Fault{"C2", StaysOn}, Detour, big.NewRat(1, 1)},
		{"D/2-3", Fault{"C1", Dead}, FlareUnbounded, nil},
		{"D/2-3", Fault{"C3", Dead}, InTime, big.NewRat(69, 44)},
		{"D/1-2", Fault{"B2", Dead}, InTime, big.NewRat(23, 8)},
		{"D/1-2", Fault{"B2", StaysOn}, Detour, big.NewRat(69, 44)},
	} {
		w := m.InGap(shiftAt(t, m, x.place), x.fault)
		if w.Timing != x.want || !equal(w.State.Ratio, x.ratio) {
			t.Errorf("%s, %v: %s at %v, want %s at %v", x.place, x.fault, w.Timing, w.State.Ratio, x.want, x.ratio)
		}
	}
	// Kicked down from third: first gear's ratio is where 3-1 is going, so the
	// engine running up that far is the shift itself and no flare.
	down := downshiftAt(t, m, "D/3-1")
	if w := m.InGap(down, Fault{"B2", StaysOn}); w.Timing != Detour {
		t.Errorf("3-1 by second: %s", w.Timing)
	}
}

// TestCoastFeltBySpeed, on the same chart: rolling out, 4-3 takes B1 off and
// brings C1 on. Without C1 the wheels still turn the engine, at fourth's speed:
// C1 changes it, and is felt.
func TestCoastFeltBySpeed(t *testing.T) {
	m := machineOf(t, tableUnit(t, "ravigneaux-transaxle-4"))
	s := downshiftAt(t, m, "D/4-3")
	if !slices.Equal(s.Oncoming, []string{"C1"}) || !m.CoastFelt(s, "C1") {
		t.Errorf("on %v, felt %v", s.Oncoming, m.CoastFelt(s, "C1"))
	}
	if m.CoastFelt(s, "B1") || m.CoastFelt(s, "C2") {
		t.Error("an element that does not come on is felt")
	}
}

// TestPlainSets: the rules of thumb of gear design. A single set's ring and sun
// are both even or both odd, so that the pinion has a whole number of teeth; the
// pinions can be spaced evenly. Sets worked by hand.
func TestPlainSets(t *testing.T) {
	for _, x := range []struct {
		kind      engine.GearsetKind
		sun, ring int64
		want      bool
	}{
		{engine.Single, 30, 60, true},  // 90: three pinions
		{engine.Single, 33, 65, false}, // 98: by none of 3, 4, 5
		{engine.Single, 31, 73, true},  // 104: four
		{engine.Single, 32, 63, false}, // 95 by five, but the pinion has 15.5 teeth
		{engine.Single, 37, 73, true},  // 110: five
		{engine.Single, 42, 79, false}, // od-simpson-4: 121
		{engine.Double, 32, 92, true},  // 60
		{engine.Double, 32, 77, true},  // 45: odd, and no matter with two pinions
		{engine.Double, 32, 79, false}, // 47
	} {
		if got := Plain(x.kind, x.sun, x.ring); got != x.want {
			t.Errorf("%s %d/%d: %v", x.kind, x.sun, x.ring, got)
		}
	}
}

// TestEditsMend: each edit of a set's tooth counts mends the chart by itself,
// and every set with one wrong count gets one.
func TestEditsMend(t *testing.T) {
	for _, wrong := range [][2]int64{{4, 0}, {0, 6}, {-7, 0}, {5, 8}, {-3, 9}, {11, -4}} {
		u := tableUnit(t, "od-simpson-4")
		g := &u.Train.Gearsets[0]
		g.SunTeeth, g.RingTeeth = g.SunTeeth+wrong[0], g.RingTeeth+wrong[1]
		offered := false
		for _, e := range toothEdits(u) {
			if bad := machineOf(t, Edited(u, e)).Disagree(); e.Name == g.Name && len(bad) > 0 {
				t.Errorf("%d in %d: %v leaves %v", g.SunTeeth, g.RingTeeth, e.Got, bad)
			}
			offered = offered || e.Name == g.Name
		}
		if !offered && (wrong[0] == 0 || wrong[1] == 0) {
			t.Errorf("%d in %d: nothing offered", g.SunTeeth, g.RingTeeth)
		}
	}
}

// TestEditOfBraking turns what a row says of engine braking around; a row that
// says nothing is made to say yes. The unit that was given stays as it is.
func TestEditOfBraking(t *testing.T) {
	yes, no := true, false
	for _, x := range []struct {
		was  *bool
		want bool
	}{{nil, true}, {&no, true}, {&yes, false}} {
		u := simpson()
		u.Rows[0].EngineBraking = x.was
		v := Edited(u, Edit{Kind: EditBraking, Row: u.Rows[0].Name()})
		if got := v.Rows[0].EngineBraking; got == nil || *got != x.want || u.Rows[0].EngineBraking != x.was {
			t.Errorf("%v became %v", x.was, got)
		}
	}
}
