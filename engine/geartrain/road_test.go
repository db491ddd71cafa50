package geartrain

import (
	"cmp"
	"math/big"
	"slices"
	"testing"

	"slipcase/engine"
)

// simpson is the three-speed unit of the road-test analysis in
// testdata/geartrains (1986 factory service manual of a light truck): the
// chart as it states it, tooth counts invented near S/R = 0.45, which it does
// not give. Rows N/N and P/P apply nothing.
func simpson() *engine.Unit {
	u := &engine.Unit{ID: "simpson-3", Train: engine.Train{Input: "turbine", Output: "output", Gearsets: []engine.Gearset{
		{Name: "front", Kind: engine.Single, Sun: "sun", Carrier: "output", Ring: "front_ring", SunTeeth: 28, RingTeeth: 62},
		{Name: "rear", Kind: engine.Single, Sun: "sun", Carrier: "rear_carrier", Ring: "output", SunTeeth: 28, RingTeeth: 62},
	}}}
	u.Elements = []engine.Element{
		{Name: "front_clutch", Kind: engine.Clutch, A: "turbine", B: "sun"},
		{Name: "rear_clutch", Kind: engine.Clutch, A: "turbine", B: "front_ring"},
		{Name: "front_band", Kind: engine.Band, A: "sun", B: "case", Wraps: 1},
		{Name: "rear_band", Kind: engine.Band, A: "rear_carrier", B: "case", Wraps: 1},
		{Name: "overrunning_clutch", Kind: engine.OneWay, A: "rear_carrier", B: "case"},
	}
	for _, r := range []struct {
		rng, gear string
		apply     []string
	}{
		{"P", "P", nil},
		{"R", "R", []string{"front_clutch", "rear_band"}},
		{"N", "N", nil},
		{"D", "1", []string{"rear_clutch"}},
		{"D", "2", []string{"rear_clutch", "front_band"}},
		{"D", "3", []string{"rear_clutch", "front_clutch"}},
		{"2", "1", []string{"rear_clutch"}},
		{"2", "2", []string{"rear_clutch", "front_band"}},
		{"L", "1", []string{"rear_clutch", "rear_band"}},
	} {
		u.Rows = append(u.Rows, engine.Row{Range: r.rng, Gear: r.gear, Apply: r.apply})
	}
	return u
}

// slipsFirst ranks elements by a plain comparison with what was felt on the
// road: rows that slip must be among those that lose their ratio when the
// element is dead; after that, the fewer of its other rows were felt to be
// good, the better.
func slipsFirst(m *Machine, slips, good []string) []string {
	type suspect struct {
		name                string
		unexplained, denied int
	}
	var all []suspect
	for _, f := range m.Faults() {
		if f.Kind != Dead && f.Kind != Slips {
			continue
		}
		s := suspect{name: f.Name}
		for i := range m.Rows() {
			c := m.Change(i, f)
			hit := c.Class == NoDrive && m.Row(i).Class == Drives || c.Lower || c.Higher || c.Reverse
			switch name := m.RowName(i); {
			case slices.Contains(slips, name) && !hit:
				s.unexplained++
			case slices.Contains(good, name) && hit:
				s.denied++
			}
		}
		all = append(all, s)
	}
	slices.SortStableFunc(all, func(a, b suspect) int {
		return cmp.Or(a.unexplained-b.unexplained, a.denied-b.denied)
	})
	out := []string{all[0].name}
	for _, s := range all[1:] {
		if s.unexplained == all[0].unexplained && s.denied == all[0].denied {
			out = append(out, s.name)
		}
	}
	return out
}

// The examples of the road-test analysis (testdata/geartrains,
// road_test_logic): the culprit comes first, alone.
func TestRoadTestLogic(t *testing.T) {
	m := mustNew(t, simpson())
	forward := map[string][]string{"1": {"D/1", "2/1"}, "2": {"D/2", "2/2"}, "3": {"D/3"}}
	two := func(a, b string) []string { return slices.Concat(forward[a], forward[b]) }
	for _, c := range []struct {
		observed    string
		slips, good []string
		culprit     string
	}{
		{"slips in first gear of D and 2, not in manual low", []string{"D/1", "2/1"}, []string{"L/1"}, "overrunning_clutch"},
		{"slips in two forward gears, 1 and 2", two("1", "2"), nil, "rear_clutch"},
		{"slips in two forward gears, 1 and 3", two("1", "3"), nil, "rear_clutch"},
		{"slips in two forward gears, 2 and 3", two("2", "3"), nil, "rear_clutch"},
		{"slips in third and in reverse", []string{"D/3", "R/R"}, nil, "front_clutch"},
		{"slips in third, not in reverse, and in the other forward gears", []string{"D/1", "D/2", "D/3"}, []string{"R/R"}, "rear_clutch"},
	} {
		if got := slipsFirst(m, c.slips, c.good); !slices.Equal(got, []string{c.culprit}) {
			t.Errorf("%s: %v, published %s", c.observed, got, c.culprit)
		}
	}
}

// What that manual states of its chart follows from the train: which rows
// change when an element is dead.
func TestSimpsonChart(t *testing.T) {
	m := mustNew(t, simpson())
	changed := func(f Fault, by func(Change) bool) []string {
		var out []string
		for i := range m.Rows() {
			if by(m.Change(i, f)) {
				out = append(out, m.RowName(i))
			}
		}
		return out
	}
	differs := func(c Change) bool { return !c.Same }
	for _, c := range []struct {
		fault Fault
		what  string
		by    func(Change) bool
		rows  []string
	}{
		{Fault{"rear_clutch", Dead}, "no drive", func(c Change) bool { return c.Class == NoDrive && !c.Same }, []string{"D/1", "D/2", "D/3", "2/1", "2/2", "L/1"}},
		{Fault{"overrunning_clutch", Slips}, "changed", differs, []string{"D/1", "2/1"}},
		{Fault{"rear_band", Dead}, "changed", differs, []string{"R/R", "L/1"}},
		{Fault{"rear_band", Dead}, "braking lost", func(c Change) bool { return c.LostBraking }, []string{"L/1"}},
		{Fault{"front_band", Dead}, "as first", func(c Change) bool { return c.ActsAs == "1" && c.Lower }, []string{"D/2", "2/2"}},
		{Fault{"front_clutch", Dead}, "as first", func(c Change) bool { return c.ActsAs == "1" && c.Lower }, []string{"D/3"}},
		{Fault{"front_clutch", Dead}, "no drive", func(c Change) bool { return c.Class == NoDrive && !c.Same }, []string{"R/R"}},
		{Fault{"overrunning_clutch", Seized}, "ties up", func(c Change) bool { return c.Class == TieUp }, []string{"D/2", "D/3", "2/2"}},
		{Fault{"overrunning_clutch", Seized}, "extra braking", func(c Change) bool { return c.ExtraBraking }, []string{"D/1", "2/1"}},
		{Fault{"overrunning_clutch", Reversed}, "ties up", func(c Change) bool { return c.Class == TieUp }, []string{"D/2", "D/3", "2/2"}},
		{Fault{"overrunning_clutch", Reversed}, "no drive", func(c Change) bool { return c.Class == NoDrive && !c.Same }, []string{"D/1", "2/1"}},
		// Creeps in N and ties up in R.
		{Fault{"rear_clutch", StaysOn}, "drives in neutral", func(c Change) bool { return c.DrivesInNeutral && c.ActsAs == "1" && c.Sense == 1 }, []string{"P/P", "N/N"}},
		{Fault{"rear_clutch", StaysOn}, "ties up", func(c Change) bool { return c.Class == TieUp }, []string{"R/R"}},
		{Fault{"rear_clutch", StaysOn}, "changed", differs, []string{"P/P", "R/R", "N/N"}},
		{Fault{"front_clutch", StaysOn}, "higher", func(c Change) bool { return c.Higher && c.ActsAs == "3" }, []string{"D/1", "2/1"}},
		{Fault{"front_clutch", StaysOn}, "ties up", func(c Change) bool { return c.Class == TieUp }, []string{"D/2", "2/2", "L/1"}},
		{Fault{"front_band", StaysOn}, "as second", func(c Change) bool { return c.Higher && c.ActsAs == "2" }, []string{"D/1", "2/1"}},
	} {
		if got := changed(c.fault, c.by); !slices.Equal(got, c.rows) {
			t.Errorf("%s, %s: %v, want %v", c.fault, c.what, got, c.rows)
		}
	}
}

// A stuck forward clutch creeps in neutral and ties up reverse on the
// published four-speed units too (trade practice).
func TestForwardClutchStuckOn(t *testing.T) {
	tabs := readTables(t)
	for id, forward := range map[string]string{"ravigneaux-transaxle-4": "C1", "od-simpson-4": "C1"} {
		u := tabs[slices.IndexFunc(tabs, func(tb table) bool { return tb.ID == id })].unit()
		var idle []string
		if id == "od-simpson-4" {
			idle = []string{"C0"} // the overdrive clutch is on with the engine running
		}
		u.Rows = append(u.Rows, engine.Row{Range: "N", Gear: "N", Apply: idle}, engine.Row{Range: "P", Gear: "P", Apply: idle})
		m := mustNew(t, u)
		f := Fault{forward, StaysOn}
		for _, n := range []string{"N/N", "P/P"} {
			if c := m.Change(m.RowIndex(n), f); !c.DrivesInNeutral || c.ActsAs != "1" || c.Same {
				t.Errorf("%s %s: %+v", id, n, c)
			}
		}
		if c := m.Change(m.RowIndex("R/R"), f); c.Class != TieUp {
			t.Errorf("%s R/R: %+v", id, c)
		}
	}
}

// What holds against an element that stays on, on the published three-speed: letting
// go the rear clutch leaves the front band and the front clutch on one drum.
func TestAgainst(t *testing.T) {
	m := mustNew(t, simpson())
	for element, want := range map[string][]string{
		"front_band":         {"front_clutch", "rear_band"},
		"rear_clutch":        {"front_clutch", "rear_band"},
		"overrunning_clutch": {"front_band", "front_clutch", "rear_clutch"},
		"nobody":             nil,
	} {
		got := m.Against(element)
		slices.Sort(got)
		if !slices.Equal(got, want) {
			t.Errorf("%s on: %v, want %v", element, got, want)
		}
	}
}

func TestShifts(t *testing.T) {
	m := mustNew(t, simpson())
	var places []string
	for _, s := range m.Shifts() {
		places = append(places, s.Place())
	}
	if want := []string{"D/1-2", "D/2-3", "2/1-2"}; !slices.Equal(places, want) {
		t.Fatalf("shifts %v, want %v", places, want)
	}
	// 1-2: the one-way clutch hands over, so a slow band only delays. 2-3: band
	// off, clutch not yet on, leaves first gear; both on tie up.
	first, second := m.Shifts()[0], m.Shifts()[1]
	if !first.GapKeeps || first.FlareUnbounded || first.OverlapTies || !slices.Equal(first.Oncoming, []string{"front_band"}) || first.Offgoing != nil {
		t.Errorf("1-2: %+v", first)
	}
	if w := m.SlowOn(first, "front_band"); w.Timing != Late {
		t.Errorf("1-2 with a slow band: %s", w.Timing)
	}
	if second.GapKeeps || second.FlareUnbounded || !equal(second.GapRatio, m.Gear("1")) || !second.OverlapTies {
		t.Errorf("2-3: %+v", second)
	}
	if w := m.SlowOn(second, "front_clutch"); w.Timing != FlareBounded || !equal(w.State.Ratio, m.Gear("1")) {
		t.Errorf("2-3 with a slow clutch: %s", w.Timing)
	}
	if w := m.LateOff(second, "front_band"); w.Timing != Binds {
		t.Errorf("2-3 with a late band: %s", w.Timing)
	}
	if w := m.SlowOn(second, "rear_clutch"); w.Timing != InTime || w.State != nil {
		t.Errorf("2-3 with an element that takes no part: %+v", w)
	}
}

// Clutch-to-clutch shifts of the published six-speed: every gap leaves no
// drive, every overlap ties up.
func TestClutchToClutchShifts(t *testing.T) {
	tabs := readTables(t)
	m := mustNew(t, tabs[slices.IndexFunc(tabs, func(tb table) bool { return tb.ID == "lepelletier-6" })].unit())
	if len(m.Shifts()) != 5 {
		t.Fatalf("%d shifts, want 5", len(m.Shifts()))
	}
	for _, s := range m.Shifts() {
		if !s.FlareUnbounded || s.GapKeeps || !s.OverlapTies || len(s.Oncoming) != 1 || len(s.Offgoing) != 1 {
			t.Errorf("%s: %+v", s.Place(), s)
			continue
		}
		if w := m.SlowOn(s, s.Oncoming[0]); w.Timing != FlareUnbounded {
			t.Errorf("%s, slow on: %s", s.Place(), w.Timing)
		}
		if w := m.LateOff(s, s.Offgoing[0]); w.Timing != Binds {
			t.Errorf("%s, late off: %s", s.Place(), w.Timing)
		}
	}
}

func TestEngagements(t *testing.T) {
	m := mustNew(t, simpson())
	want := []Engagement{
		{"R", 1, []string{"front_clutch", "rear_band"}},
		{"D", 3, []string{"rear_clutch"}},
		{"2", 6, []string{"rear_clutch"}},
		{"L", 8, []string{"rear_clutch", "rear_band"}},
	}
	got := m.Engagements()
	if !slices.EqualFunc(got, want, func(a, b Engagement) bool {
		return a.Range == b.Range && a.Row == b.Row && slices.Equal(a.Oncoming, b.Oncoming)
	}) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// Solenoid patterns: testdata/geartrains, solenoid_patterns. The gears left
// are published; the state table A/B 1 on/off, 2 off/off, 3 off/on, 4 on/on is
// recalled. The train is that of another unit: it has no part in this.
func TestSolenoidPatterns(t *testing.T) {
	u := readTables(t)[0].unit()
	u.Solenoids = []engine.Solenoid{{Name: "a", Kind: "shift"}, {Name: "b", Kind: "shift"}, {Name: "lock", Kind: "converter"}}
	// Row 2/2, ahead of D in the list, shows that only the own range counts.
	on := map[string][]string{"D/1": {"a"}, "D/2": nil, "D/3": {"b", "lock"}, "D/4": {"a", "b"}, "2/2": {"a", "b"}}
	for i, r := range u.Rows {
		u.Rows[i].Solenoids, u.Rows[i].SolenoidsStated = on[r.Name()], r.Range == "D" || r.Range == "2"
	}
	u.Failsafe = map[string]engine.Failsafe{"D": {Gear: "2"}, "L": {Gear: "2"}}
	m := mustNew(t, u)
	pick := func(rows []string) []string {
		var out []string
		for _, n := range []string{"D/1", "D/2", "D/3", "D/4"} {
			out = append(out, rows[m.RowIndex(n)])
		}
		return out
	}
	for _, c := range []struct {
		solenoid string
		on       bool
		want     []string
	}{
		{"b", false, []string{"D/1", "D/2", "D/2", "D/1"}}, // 1st and 2nd only
		{"b", true, []string{"D/4", "D/3", "D/3", "D/4"}},  // 3rd and 4th only
		{"a", false, []string{"D/2", "D/2", "D/3", "D/3"}},
		{"a", true, []string{"D/1", "D/1", "D/4", "D/4"}},
		{"lock", true, []string{"D/1", "D/2", "D/3", "D/4"}}, // moves no element
		{"none", true, []string{"D/1", "D/2", "D/3", "D/4"}},
	} {
		got := m.Stuck(c.solenoid, c.on)
		if !slices.Equal(pick(got), c.want) {
			t.Errorf("%s stuck, on %v: %v, want %v", c.solenoid, c.on, pick(got), c.want)
		}
		for i, n := range got {
			if !u.Rows[i].SolenoidsStated && n != m.RowName(i) {
				t.Errorf("%s stuck: %s, which states no solenoids, became %q", c.solenoid, m.RowName(i), n)
			}
		}
	}
	if got := m.Stuck("b", false)[m.RowIndex("2/2")]; got != "" {
		t.Errorf("on/off is in no row of range 2, yet 2/2 became %q", got)
	}
	// Both off leaves 2nd only: without power.
	rows := m.Unpowered()
	if !slices.Equal(pick(rows), []string{"D/2", "D/2", "D/2", "D/2"}) {
		t.Errorf("without power: %v", rows)
	}
	if rows[m.RowIndex("R/R")] != "R/R" || rows[m.RowIndex("L/1")] != "" {
		t.Errorf("without power: R/R %q, L/1 %q", rows[m.RowIndex("R/R")], rows[m.RowIndex("L/1")])
	}
	// A state that is in no row.
	u.Rows[m.RowIndex("D/4")].SolenoidsStated = false
	m = mustNew(t, u)
	if got := m.Stuck("b", true)[m.RowIndex("D/1")]; got != "" {
		t.Errorf("on/on is in no row, yet D/1 became %q", got)
	}
}

func TestLoads(t *testing.T) {
	u := simpson()
	u.Rows[3].ConverterFactor = engine.Number{Value: 2, Text: "2.0"} // D/1
	u.Rows[1].ConverterFactor = engine.Number{Value: 2, Text: "2.0"} // R
	u.Rows[1].PressureFactor = engine.Number{Value: 1.6, Text: "1.6"}
	// A row that ties up, whatever its torques and factors, counts for
	// nothing.
	u.Rows = append(u.Rows, engine.Row{Range: "X", Gear: "X", Apply: []string{"rear_clutch", "front_clutch", "rear_band"}, ConverterFactor: engine.Number{Value: 9, Text: "9"}})
	m := mustNew(t, u)
	row := func(n string) int { return m.RowIndex(n) }
	rat := big.NewRat
	demand := func(n, e string, want *big.Rat) {
		t.Helper()
		if got := m.Demand(row(n), e); !equal(got, want) {
			t.Errorf("demand on %s in %s: %v, want %v", e, n, got, want)
		}
	}
	// The rear clutch carries the whole turbine torque in 1 and 2, and shares it
	// with the front clutch in direct: the output carrier takes S+R = 90 of
	// the front set, its ring 62.
	demand("D/1", "rear_clutch", rat(1, 1))
	demand("D/2", "rear_clutch", rat(1, 2))
	demand("D/3", "rear_clutch", rat(62, 180))
	demand("R/R", "rear_clutch", nil)
	demand("N/N", "rear_clutch", nil)
	demand("R/R", "front_clutch", rat(1, 1)) // 2.0 ÷ 1.6 against 28/90
	demand("D/3", "front_clutch", new(big.Rat).Quo(rat(28, 90), rat(20, 16)))
	demand("D/1", "no such element", nil)
	demand("R/R", "rear_band", rat(1, 1))
	demand("X/X", "rear_band", nil)
	if got := m.Row(row("X/X")); got.Class != TieUp || got.Torques["rear_band"] == nil {
		t.Errorf("X/X: %s, rear band %v", got.Class, got.Torques["rear_band"])
	}
	// The rear band holds the carrier backward in L (with the one-way clutch
	// beside it) and forward in R.
	if a, b := m.Row(row("R/R")).Torques["rear_band"], m.Row(row("L/1")).Torques["rear_band"]; a.Sign() >= 0 || b.Sign() <= 0 {
		t.Errorf("rear band: torque %s in R, %s in L", a, b)
	}
	if a, b := m.BandHelped(row("R/R"), "rear_band"), m.BandHelped(row("L/1"), "rear_band"); a != 1 || b != -1 {
		t.Errorf("rear band is helped %d in R, %d in L", a, b)
	}
	if a, b := m.BandHelped(row("D/1"), "rear_band"), m.BandHelped(row("D/1"), "rear_clutch"); a != 0 || b != 0 {
		t.Errorf("a band that is off, and a clutch, are helped %d and %d", a, b)
	}
	// A whine in 1 and 2 that goes away in 3 (public study guide for the
	// technician exam).
	for n, want := range map[string]bool{"D/1": true, "D/2": true, "D/3": false, "R/R": true, "N/N": false} {
		if got := m.GearsetTurns(row(n), "front"); got != want {
			t.Errorf("front gearset turns in %s: %v", n, got)
		}
	}
	// In 1 the front clutch slips by 1 − ω_sun, and the rear set, its carrier
	// held, turns the sun backward: ω_sun = −62/28·ω_out.
	out := new(big.Rat).Inv(m.Row(row("D/1")).Ratio)
	want := new(big.Rat).Add(rat(1, 1), new(big.Rat).Mul(rat(62, 28), out))
	if got := m.RelativeSpeed(row("D/1"), "front_clutch"); !equal(got, want) {
		t.Errorf("front clutch in D/1: %v, want %v", got, want)
	}
	if got := m.RelativeSpeed(row("D/1"), "rear_clutch"); got == nil || got.Sign() != 0 {
		t.Errorf("rear clutch in D/1: %v", got)
	}
	if got := m.RelativeSpeed(row("N/N"), "rear_clutch"); got != nil {
		t.Errorf("rear clutch in N: %v", got)
	}
}

// Two elements in parallel share the load as statics cannot tell; demand is
// then 1.
func TestUnsettled(t *testing.T) {
	u := simpson()
	u.Elements = append(u.Elements, engine.Element{Name: "low_brake", Kind: engine.Brake, A: "rear_carrier", B: "case"})
	u.Rows[8].Apply = append(u.Rows[8].Apply, "low_brake")
	m := mustNew(t, u)
	if got := m.Unsettled(8); !slices.Equal(got, []string{"rear_band", "low_brake"}) {
		t.Errorf("unsettled: %v", got)
	}
	if got := m.Demand(8, "low_brake"); !equal(got, big.NewRat(1, 1)) {
		t.Errorf("demand %v", got)
	}
	p := m.PowerPath(8)
	if !slices.Equal(p.Unsettled, []string{"rear_band", "low_brake"}) || !slices.Equal(p.Elements, []string{"rear_clutch"}) {
		t.Errorf("path %+v", p)
	}
}

// ActsAs names the gear as the row's own range calls it.
func TestActsAsInOwnRange(t *testing.T) {
	u := simpson()
	u.Rows[6].Gear = "crawl" // 2/crawl is D/1
	m := mustNew(t, u)
	f := Fault{"front_band", Dead}
	if got := m.Change(m.RowIndex("2/2"), f).ActsAs; got != "crawl" {
		t.Errorf("2/2 acts as %q", got)
	}
	if got := m.Change(m.RowIndex("D/2"), f).ActsAs; got != "1" {
		t.Errorf("D/2 acts as %q", got)
	}
}

// A brake or band needs no second member: it is the case.
func TestBrakeToTheCase(t *testing.T) {
	u, v := simpson(), simpson()
	v.Elements[2].B, v.Elements[3].B = "", ""
	m, n := mustNew(t, u), mustNew(t, v)
	for i := range m.Rows() {
		if !identical(m.Row(i), n.Row(i)) {
			t.Errorf("%s differs", m.RowName(i))
		}
	}
}

// A joint breaks the rows whose power runs through it: the sun shell that
// joins the two suns of a Simpson train.
func TestBrokenJoint(t *testing.T) {
	u := simpson()
	u.Train.Gearsets[1].Sun = "rear_sun"
	u.Joints = []engine.Joint{{Name: "shell", A: "sun", B: "rear_sun"}}
	m := mustNew(t, u)
	var path, changed []string
	for i := range m.Rows() {
		if slices.Contains(m.PowerPath(i).Joints, "shell") {
			path = append(path, m.RowName(i))
		}
		if !m.Change(i, Fault{"shell", Broken}).Same {
			changed = append(changed, m.RowName(i))
		}
	}
	// Not in second and third: the front set alone gives them.
	want := []string{"R/R", "D/1", "2/1", "L/1"}
	if !slices.Equal(path, want) || !slices.Equal(changed, want) {
		t.Errorf("shell in the path of %v, broken changes %v, want %v", path, changed, want)
	}
}
