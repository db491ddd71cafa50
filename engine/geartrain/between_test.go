package geartrain

import (
	"math/big"
	"slices"
	"testing"

	"slipcase/engine"
)

// table by its id.
func tableUnit(t *testing.T, id string) *engine.Unit {
	t.Helper()
	for _, tb := range readTables(t) {
		if tb.ID == id {
			return tb.unit()
		}
	}
	t.Fatalf("no table %q", id)
	return nil
}

func machineOf(t *testing.T, u *engine.Unit) *Machine {
	t.Helper()
	m, err := New(u)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func shiftAt(t *testing.T, m *Machine, place string) Shift {
	t.Helper()
	for _, s := range m.Shifts() {
		if s.Place() == place {
			return s
		}
	}
	t.Fatalf("no shift %s", place)
	return Shift{}
}

// TestOneWayBetweenGears: in the published chart with the overdrive set ahead
// of a Simpson set (od-simpson-4) the overdrive one-way F0 lies beside the
// overdrive clutch C0. In 1, 2, 3 and R both lock sun to carrier, and C0 is
// taken to carry the torque; in 4 the brake B0 holds the sun and F0 overruns.
// So no row needs F0. From 3 to 4, C0 lets go before B0 holds: with C1, C2 and
// B2 alone the sun would run backward against the carrier, which F0 forbids,
// so the set still turns as a block, third gear. Without F0 nothing holds the
// sun: no drive, the engine runs up freely. Seized, F0 locks the set while B0
// holds the sun: fourth binds.
func TestOneWayBetweenGears(t *testing.T) {
	m := machineOf(t, tableUnit(t, "od-simpson-4"))
	s := shiftAt(t, m, "D/3-4")
	if !s.GapKeeps || !slices.Equal(s.Carriers, []string{"F0"}) {
		t.Errorf("3-4: gap keeps %v, carried by %v; want kept by F0", s.GapKeeps, s.Carriers)
	}
	for i := range m.Rows() {
		if slices.Contains(m.Row(i).Holding, "F0") {
			t.Errorf("row %s leans on F0 although C0 is on", m.RowName(i))
		}
		if c := m.Change(i, Fault{"F0", Slips}); !c.Same {
			t.Errorf("row %s changes without F0: %+v", m.RowName(i), c)
		}
	}
	if w := m.InGap(s, Fault{"F0", Slips}); w.Timing != FlareUnbounded {
		t.Errorf("3-4 without F0: %q, want an unbounded flare", w.Timing)
	}
	if w := m.InGap(s); w.Timing != InTime {
		t.Errorf("3-4 healthy: %q", w.Timing)
	}
	if c := m.Change(m.RowIndex("D/4"), Fault{"F0", Seized}); c.Class != TieUp {
		t.Errorf("fourth with F0 seized: class %v, want a tie-up", c.Class)
	}
	if c := m.Change(m.RowIndex("D/3"), Fault{"F0", Seized}); !c.Same {
		t.Errorf("third with F0 seized: %+v, want as before", c)
	}
	// The other shifts are carried by F1 and F2, which hold in the rows too.
	for _, place := range []string{"D/1-2", "D/2-3"} {
		if s := shiftAt(t, m, place); len(s.Carriers) > 0 || m.InGap(s, Fault{"F0", Slips}).Timing != InTime {
			t.Errorf("%s: carried by %v", place, s.Carriers)
		}
	}
}

// rearOverdrive is a Simpson set with an overdrive set behind it, cut down to
// third and fourth: the case that the 3-4 shift of such a unit is. The
// carrier is driven, the ring is the output; the direct clutch and the
// overrunning clutch both lock the set, the overdrive brake holds the sun.
// Teeth invented.
func rearOverdrive() *engine.Unit {
	u := &engine.Unit{ID: "rear-od", Train: engine.Train{Input: "mid", Output: "output", Gearsets: []engine.Gearset{
		{Name: "od", Kind: engine.Single, Sun: "od_sun", Carrier: "mid", Ring: "output", SunTeeth: 27, RingTeeth: 61},
	}}}
	u.Elements = []engine.Element{
		{Name: "od_direct", Kind: engine.Clutch, A: "mid", B: "od_sun"},
		{Name: "od_brake", Kind: engine.Brake, A: "od_sun", B: engine.CaseMember},
		// The output may run ahead of what drives it, never behind.
		{Name: "od_overrun", Kind: engine.OneWay, A: "output", B: "mid"},
	}
	u.Rows = []engine.Row{
		{Range: "D", Gear: "3", Apply: []string{"od_direct"}},
		{Range: "D", Gear: "4", Apply: []string{"od_brake"}},
	}
	return u
}

// TestRearOverdrive: with the direct clutch off, the drive would turn the sun
// and leave the output behind; the overrunning clutch forbids just that, so
// the gap of 3-4 keeps third. Without it the output stands: a free run-up. A
// direct clutch that stays on ties fourth up; the overrunning clutch seized
// does the same.
func TestRearOverdrive(t *testing.T) {
	m := machineOf(t, rearOverdrive())
	s := shiftAt(t, m, "D/3-4")
	if !s.GapKeeps || !slices.Equal(s.Carriers, []string{"od_overrun"}) {
		t.Errorf("gap keeps %v, carried by %v", s.GapKeeps, s.Carriers)
	}
	if w := m.InGap(s, Fault{"od_overrun", Slips}); w.Timing != FlareUnbounded {
		t.Errorf("without it: %q", w.Timing)
	}
	for _, f := range []Fault{{"od_overrun", Seized}, {"od_direct", StaysOn}} {
		if c := m.Change(m.RowIndex("D/4"), f); c.Class != TieUp {
			t.Errorf("fourth with %s: %v", f, c.Class)
		}
	}
}

// TestFoughtBand: one band, two rows with the same torque on it but in
// opposite sense, so the drum winds it on in one and off in the other; where
// it is fought it needs e^{μθ} = 1.93 times as much.
func TestFoughtBand(t *testing.T) {
	// Ravigneaux-like: the band holds the sun in second, with the carrier
	// driving, and in a low row, with the ring driving: its torque turns over.
	u := &engine.Unit{ID: "band", Train: engine.Train{Input: "in", Output: "out", Gearsets: []engine.Gearset{
		{Name: "a", Kind: engine.Single, Sun: "sun", Carrier: "carrier", Ring: "ring", SunTeeth: 30, RingTeeth: 70},
	}}}
	u.Elements = []engine.Element{
		{Name: "in_ring", Kind: engine.Clutch, A: "in", B: "ring"},
		{Name: "in_carrier", Kind: engine.Clutch, A: "in", B: "carrier"},
		{Name: "out_ring", Kind: engine.Clutch, A: "out", B: "ring"},
		{Name: "out_carrier", Kind: engine.Clutch, A: "out", B: "carrier"},
		{Name: "band", Kind: engine.Band, A: "sun", B: engine.CaseMember, Wraps: 1},
	}
	one := engine.Number{Text: "1", Value: 1}
	u.Rows = []engine.Row{
		{Range: "D", Gear: "1", Apply: []string{"in_ring", "out_carrier", "band"}, ConverterFactor: one},
		{Range: "D", Gear: "2", Apply: []string{"in_carrier", "out_ring", "band"}, ConverterFactor: one},
	}
	m := machineOf(t, u)
	// Torque on the sun per turbine torque: 30/70 with the ring driven, and
	// −30/100 with the carrier driven.
	low, high := m.Row(0).Torques["band"], m.Row(1).Torques["band"]
	if low.Sign()*high.Sign() >= 0 {
		t.Fatalf("band torques %v and %v: want opposite signs", low, high)
	}
	if m.BandHelped(0, "band")*m.BandHelped(1, "band") != -1 {
		t.Fatalf("helped %d and %d", m.BandHelped(0, "band"), m.BandHelped(1, "band"))
	}
	load := func(i int) *big.Rat {
		x := new(big.Rat).Abs(m.Row(i).Torques["band"])
		if m.BandHelped(i, "band") < 0 {
			x.Mul(x, big.NewRat(193, 100))
		}
		return x
	}
	top := load(0)
	if load(1).Cmp(top) > 0 {
		top = load(1)
	}
	for i := range 2 {
		if want := new(big.Rat).Quo(load(i), top); m.Demand(i, "band").Cmp(want) != 0 {
			t.Errorf("row %d: demand %v, want %v", i, m.Demand(i, "band"), want)
		}
	}
	u.Elements[4].Wraps = 0
	if d := machineOf(t, u).Demand(1, "band"); d.Cmp(big.NewRat(70, 100)) != 0 {
		t.Errorf("direction not said: %v, want (30/100)/(30/70) = 7/10", d)
	}
}

// TestUsualLaunch: where no row says a converter factor, rows that the vehicle
// starts in count double; one stated factor anywhere and nothing is assumed.
func TestUsualLaunch(t *testing.T) {
	u := tableUnit(t, "ravigneaux-transaxle-4")
	m := machineOf(t, u)
	// C1 carries turbine torque ×1 in D/1 (launch, ×2) and in D/2 (×1).
	if d := m.Demand(m.RowIndex("D/2"), "C1"); d.Cmp(big.NewRat(1, 2)) != 0 {
		t.Errorf("C1 in second: %v, want 1/2", d)
	}
	u.Rows[m.RowIndex("D/3")].ConverterFactor = engine.Number{Text: "1.0", Value: 1}
	m = machineOf(t, u)
	if d := m.Demand(m.RowIndex("D/2"), "C1"); d.Cmp(big.NewRat(1, 1)) != 0 {
		t.Errorf("C1 in second with factors stated: %v, want 1", d)
	}
}

// TestHeld: a solenoid per clutch on the published eight-speed chart
// (four-gearset-8). Clutch E normally released: stuck with current it is on in
// every row, so first (A, B, C) has four elements on and ties up; without
// current second (A, B, E) has only A and B, which drive nothing. Normally
// applied, the same the other way around.
func TestHeld(t *testing.T) {
	u := tableUnit(t, "four-gearset-8")
	u.Solenoids = []engine.Solenoid{{Name: "e", Kind: "clutch", Controls: []string{"E"}}}
	m := machineOf(t, u)
	first, second := m.RowIndex("D/1"), m.RowIndex("D/2")
	for _, applied := range []bool{false, true} {
		u.Solenoids[0].Applied = applied
		on, off := m.Held("e", !applied, first), m.Held("e", applied, second)
		if c := m.Change(first, on...); c.Class != TieUp {
			t.Errorf("applied at rest %v: first with E on: %v", applied, c.Class)
		}
		if c := m.Change(second, off...); c.Class != NoDrive {
			t.Errorf("applied at rest %v: second without E: %v", applied, c.Class)
		}
	}
	// In neutral the manual valve cuts off what neutral does not use; what it
	// uses it can lose.
	if n := m.RowIndex("N/N"); n >= 0 && (len(m.Held("e", false, n)) != 0 || len(m.Held("e", true, n)) != 0) {
		t.Errorf("neutral: %v", m.Held("e", false, n))
	}
	// One solenoid, two elements behind the manual valve: each only where its
	// range uses it.
	u = simpson()
	u.Solenoids = []engine.Solenoid{{Name: "x", Kind: "clutch", Controls: []string{"rear_clutch", "rear_band"}}}
	m = machineOf(t, u)
	for row, want := range map[string][]Fault{
		"R/R": {{"rear_band", StaysOn}}, "D/2": {{"rear_clutch", StaysOn}}, "L/1": {{"rear_clutch", StaysOn}, {"rear_band", StaysOn}}, "N/N": nil,
	} {
		if got := m.Held("x", true, m.RowIndex(row)); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", row, got, want)
		}
	}
}

// TestMultiplex: one solenoid behind a valve feeds B in the low gears and E in
// the high ones of the published eight-speed chart (four-gearset-8; first A B C,
// second A B E, fifth B C D, sixth C D E, seventh A C D). In second both are
// applied: both stay. In first only B is: B, and E is not reached. Seventh has
// neither, and both are used in D: it is not clear, and nothing is claimed,
// until a shift solenoid that stands in seventh as in sixth tells that the valve
// is where it feeds E. Stuck with current E is then on in seventh with A, C, D:
// four of five elements tie up.
func TestMultiplex(t *testing.T) {
	u := tableUnit(t, "four-gearset-8")
	u.Solenoids = []engine.Solenoid{{Name: "x", Kind: "clutch", Controls: []string{"B", "E"}}, {Name: "select", Kind: "shift"}}
	m := machineOf(t, u)
	row := func(gear string) int { return m.RowIndex("D/" + gear) }
	for gear, want := range map[string][]Fault{"1": {{"B", StaysOn}}, "2": {{"B", StaysOn}, {"E", StaysOn}}, "6": {{"E", StaysOn}}, "7": nil} {
		if got := m.Held("x", true, row(gear)); !slices.Equal(got, want) {
			t.Errorf("gear %s: %v, want %v", gear, got, want)
		}
	}
	if got := m.Unclear("x", row("7")); !slices.Equal(got, []string{"B", "E"}) {
		t.Errorf("seventh may feed %v", got)
	}
	if got := m.Unclear("x", row("2")); got != nil {
		t.Errorf("second is clear, and yet %v", got)
	}
	for i := range u.Rows {
		if r := &u.Rows[i]; r.Range == "D" {
			r.SolenoidsStated = true
			if r.Gear == "6" || r.Gear == "7" {
				r.Solenoids = []string{"select"}
			}
		}
	}
	m = machineOf(t, u)
	if got := m.Held("x", true, row("7")); !slices.Equal(got, []Fault{{"E", StaysOn}}) || m.Unclear("x", row("7")) != nil {
		t.Errorf("seventh with its valve told: %v", got)
	}
	if c := m.Change(row("7"), m.Held("x", true, row("7"))...); c.Class != TieUp {
		t.Errorf("seventh with E on: %v", c.Class)
	}
}

// TestStuckMultiplex: the eight-speed again, a solenoid each for A, C and D, one
// behind the valve of a shift solenoid for B or E. Sixth is C, D, E: its valve
// stuck where first to fifth have it, the oil of E goes to B, and B, C, D are
// fifth. Seventh (A, C, D) has that solenoid off: no row of the other state has
// only the other three on, so nothing is claimed; nor in first (A, B, C) with the
// valve stuck the other way, where A, C, E are no row.
func TestStuckMultiplex(t *testing.T) {
	u := tableUnit(t, "four-gearset-8")
	u.Solenoids = []engine.Solenoid{{Name: "select", Kind: "shift"}, {Name: "x", Kind: "clutch", Controls: []string{"B", "E"}},
		{Name: "a", Kind: "clutch", Controls: []string{"A"}, Applied: true}, {Name: "c", Kind: "clutch", Controls: []string{"C"}}, {Name: "d", Kind: "clutch", Controls: []string{"D"}}}
	for i := range u.Rows {
		if r := &u.Rows[i]; r.Range == "D" {
			r.SolenoidsStated = true
			if r.Gear == "6" || r.Gear == "7" {
				r.Solenoids = []string{"select"}
			}
		}
	}
	m := machineOf(t, u)
	for _, x := range []struct {
		row  string
		on   bool
		want string
	}{{"D/6", false, "D/5"}, {"D/7", false, ""}, {"D/5", true, "D/6"}, {"D/1", true, ""}, {"D/6", true, "D/6"}} {
		if got := m.Stuck("select", x.on)[m.RowIndex(x.row)]; got != x.want {
			t.Errorf("%s, stuck on %v: %q, want %q", x.row, x.on, got, x.want)
		}
	}
}
