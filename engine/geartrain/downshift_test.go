package geartrain

import (
	"slices"
	"testing"

	"slipcase/engine"
)

func downshiftAt(t *testing.T, m *Machine, place string) Shift {
	t.Helper()
	for _, s := range m.Downshifts() {
		if s.Place() == place {
			return s
		}
	}
	t.Fatalf("no downshift %s", place)
	return Shift{}
}

// TestDownshifts, on the Simpson three-speed: third is rear and front clutch,
// second rear clutch and front band, first the rear clutch on the overrunning
// clutch.
//
//	3-2  between the two only the rear clutch is on: first gear. A slow band lets
//	     the engine run up, but no further than first. Front clutch and band
//	     together hold sun and ring: a late clutch binds.
//	2-1  nothing comes on. The band off is first gear already: the overrunning
//	     clutch catches it. A late band only keeps second.
//	3-1  the skip: again nothing comes on, and a late clutch keeps third.
//
// Rolling out with closed throttle the band of 3-2 is felt, for second turns the
// engine and without the band the overrunning clutch runs free.
func TestDownshifts(t *testing.T) {
	m := mustNew(t, simpson())
	var places []string
	for _, s := range m.Downshifts() {
		places = append(places, s.Place())
	}
	if want := []string{"D/2-1", "D/3-2", "D/3-1", "2/2-1"}; !slices.Equal(places, want) {
		t.Fatalf("downshifts %v, want %v", places, want)
	}
	s := downshiftAt(t, m, "D/3-2")
	if s.GapKeeps || s.GapReaches || !equal(s.GapRatio, m.Gear("1")) || !s.OverlapTies {
		t.Errorf("3-2: %+v", s)
	}
	if w := m.SlowOn(s, "front_band"); w.Timing != FlareBounded || !equal(w.State.Ratio, m.Gear("1")) {
		t.Errorf("3-2 with a slow band: %s", w.Timing)
	}
	if w := m.LateOff(s, "front_clutch"); w.Timing != Binds {
		t.Errorf("3-2 with a late clutch: %s", w.Timing)
	}
	if !m.CoastFelt(s, "front_band") {
		t.Error("3-2 rolling out: the band is not felt")
	}
	for place, late := range map[string]string{"D/2-1": "front_band", "D/3-1": "front_clutch"} {
		s := downshiftAt(t, m, place)
		if !s.GapReaches || s.GapKeeps || s.Oncoming != nil {
			t.Errorf("%s: %+v", place, s)
		}
		if w := m.LateOff(s, late); w.Timing != Late {
			t.Errorf("%s with a late %s: %s", place, late, w.Timing)
		}
	}
}

// TestCarriedDownshift: in the published chart with the overdrive set ahead
// (od-simpson-4) 4-3 takes B0 off and C0 on. Between the two F0 locks the set:
// third by itself, so that a slow C0 is not noticed under power. Without F0
// nothing does, and the engine runs up freely.
//
// Rolling out, F0 runs free: C0 alone makes third turn the engine, so it is
// felt as it grips.
func TestCarriedDownshift(t *testing.T) {
	m := machineOf(t, tableUnit(t, "od-simpson-4"))
	s := downshiftAt(t, m, "D/4-3")
	if !s.GapReaches || !slices.Equal(s.Carriers, []string{"F0"}) {
		t.Errorf("4-3: %+v", s)
	}
	if w := m.SlowOn(s, "C0"); w.Timing != InTime {
		t.Errorf("4-3 with a slow C0: %q", w.Timing)
	}
	if w := m.InGap(s, Fault{"F0", Slips}); w.Timing != FlareUnbounded {
		t.Errorf("4-3 without F0: %q", w.Timing)
	}
	if !m.CoastFelt(s, "C0") {
		t.Error("4-3 rolling out: C0 is not felt")
	}
	// First runs free when rolling: whatever comes on in 2-1 is not felt.
	for _, e := range downshiftAt(t, m, "D/2-1").Oncoming {
		if m.CoastFelt(downshiftAt(t, m, "D/2-1"), e) {
			t.Errorf("2-1 rolling out: %s is felt", e)
		}
	}
}

// TestSkippedDownshift, on the published six-speed (lepelletier-6), where every
// gear has two elements: sixth is C2 and B1, fourth C1 and C2, fifth C2 and C3.
// 6-4 takes B1 off and brings C1 on with C2 on throughout, which alone drives
// nothing: a free run-up. C1, C2 and B1 hold three members: they tie up.
func TestSkippedDownshift(t *testing.T) {
	m := machineOf(t, tableUnit(t, "lepelletier-6"))
	s := downshiftAt(t, m, "D/6-4")
	if len(s.Oncoming) != 1 || len(s.Offgoing) != 1 {
		t.Fatalf("6-4: on %v, off %v", s.Oncoming, s.Offgoing)
	}
	if w := m.SlowOn(s, s.Oncoming[0]); w.Timing != FlareUnbounded {
		t.Errorf("slow %s: %q", s.Oncoming[0], w.Timing)
	}
	if w := m.LateOff(s, s.Offgoing[0]); w.Timing != Binds {
		t.Errorf("late %s: %q", s.Offgoing[0], w.Timing)
	}
	if n := len(m.Downshifts()); n != 5+4 {
		t.Errorf("%d downshifts, want five by one gear and four by two", n)
	}
}

// TestCoastGrabs: a forward one-way clutch in series with the forward clutch
// lets the engine idle in first and second. Seized, both turn the engine, and
// the coast-down 2-1 tears it up to first gear's speed. Train: a gearset with
// its ring driven through the one-way clutch, sun held for first (the output is
// the carrier, 1 + 30/70 = 1.43) and the whole locked for second; teeth invented.
func TestCoastGrabs(t *testing.T) {
	u := &engine.Unit{ID: "free", Train: engine.Train{Input: "in", Output: "carrier", Gearsets: []engine.Gearset{
		{Name: "a", Kind: engine.Single, Sun: "sun", Carrier: "carrier", Ring: "ring", SunTeeth: 30, RingTeeth: 70},
	}}}
	u.Elements = []engine.Element{
		{Name: "forward", Kind: engine.Clutch, A: "in", B: "race"},
		{Name: "free", Kind: engine.OneWay, A: "ring", B: "race"},
		{Name: "lock", Kind: engine.Clutch, A: "sun", B: "carrier"},
		{Name: "hold", Kind: engine.Brake, A: "sun", B: engine.CaseMember},
	}
	u.Rows = []engine.Row{
		{Range: "D", Gear: "1", Apply: []string{"forward", "hold"}},
		{Range: "D", Gear: "2", Apply: []string{"forward", "lock"}},
	}
	m := machineOf(t, u)
	s := downshiftAt(t, m, "D/2-1")
	if !m.CoastGrabs(s, Fault{"free", Seized}) || m.CoastGrabs(s) || m.CoastFelt(s, "hold") {
		t.Errorf("seized %v, sound %v, brake felt %v; want only the seized one felt", m.CoastGrabs(s, Fault{"free", Seized}), m.CoastGrabs(s), m.CoastFelt(s, "hold"))
	}
}

// TestServoRelease: where the oil that applies the front clutch pushes the
// band's servo back (three-speeds with a servo of two sides), a restriction
// holds both back together: the state meanwhile is second in 2-3 and third in
// 3-2, so the shift is late and cannot flare, while a clutch that is slow by
// itself lets the engine run up to first (TestShifts).
func TestServoRelease(t *testing.T) {
	m := mustNew(t, simpson())
	up, down := shiftAt(t, m, "D/2-3"), downshiftAt(t, m, "D/3-2")
	for _, s := range []Shift{up, down} {
		if w := m.Lag(s, "front_clutch", "front_band"); w.Timing != Late {
			t.Errorf("%s with both late: %q", s.Place(), w.Timing)
		}
	}
	if w := m.Lag(shiftAt(t, m, "D/1-2"), "front_clutch"); w.State != nil || w.Timing != InTime {
		t.Errorf("1-2 has no part for the front clutch: %+v", w)
	}
}

// TestOneSleeve: gears on parallel shafts. One clutch drives a hub, and a
// sleeve joins the hub to the fourth gear or to the reverse gear. Stuck at
// reverse it is not at fourth: fourth gives the reverse ratio, −44/20, where two
// elements on at once would tie up. Late in 3-4, with the clutch of third off by
// then, the hub drives the output backward for a moment.
func TestOneSleeve(t *testing.T) {
	unit := func(together bool) *engine.Unit {
		u := &engine.Unit{ID: "shafts", Train: engine.Train{Input: "main", Output: "counter", Gearsets: []engine.Gearset{
			{Name: "third", Kind: engine.Double, Sun: "main", Carrier: engine.CaseMember, Ring: "third_gear", SunTeeth: 30, RingTeeth: 36},
			{Name: "fourth", Kind: engine.Double, Sun: "hub", Carrier: engine.CaseMember, Ring: "fourth_gear", SunTeeth: 36, RingTeeth: 30},
			{Name: "reverse", Kind: engine.Single, Sun: "hub", Carrier: engine.CaseMember, Ring: "reverse_gear", SunTeeth: 20, RingTeeth: 44},
		}}}
		u.Elements = []engine.Element{
			{Name: "third_clutch", Kind: engine.Clutch, A: "third_gear", B: "counter"},
			{Name: "hub_clutch", Kind: engine.Clutch, A: "main", B: "hub"},
			{Name: "at_fourth", Kind: engine.Clutch, A: "fourth_gear", B: "counter"},
			{Name: "at_reverse", Kind: engine.Clutch, A: "reverse_gear", B: "counter"},
		}
		if together {
			u.Elements[3].MovedWith = []string{"at_fourth"}
		}
		u.Rows = []engine.Row{
			{Range: "R", Gear: "R", Apply: []string{"hub_clutch", "at_reverse"}},
			{Range: "D", Gear: "3", Apply: []string{"third_clutch", "at_reverse"}},
			{Range: "D", Gear: "4", Apply: []string{"hub_clutch", "at_fourth"}},
		}
		return u
	}
	m := machineOf(t, unit(true))
	fourth := m.RowIndex("D/4")
	c := m.Change(fourth, Fault{"at_reverse", StaysOn})
	if !c.Reverse || c.Ratio.FloatString(1) != "-2.2" {
		t.Errorf("fourth with the sleeve at reverse: %+v, want -2.2", c)
	}
	if c := machineOf(t, unit(false)).Change(fourth, Fault{"at_reverse", StaysOn}); c.Class != TieUp {
		t.Errorf("two elements of their own: %v, want a tie-up", c.Class)
	}
	// As third gives way to fourth the sleeve goes over: late at the one is late
	// at the other, whichever of the two is named.
	s := shiftAt(t, m, "D/3-4")
	on, off := m.SlowOn(s, "at_fourth"), m.LateOff(s, "at_reverse")
	if on.State != off.State || on.State == nil || on.State.Ratio.Sign() > 0 {
		t.Errorf("slow at fourth %+v, late at reverse %+v: want one state, in reverse", on, off)
	}
	u := unit(true)
	u.Rows[2].Apply = append(u.Rows[2].Apply, "at_reverse")
	if _, err := New(u); err == nil {
		t.Error("a row that has the sleeve at both ends is taken")
	}
}
