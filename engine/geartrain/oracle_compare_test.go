package geartrain

import (
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"slipcase/engine"
	sizes "slipcase/internal/size" // the package has a size of its own
)

// failer is what testing.T and rapid.T have in common here.
type failer interface {
	Helper()
	Fatalf(format string, args ...any)
}

// compare checks one row under one fault against the oracle.
func compare(t failer, u *engine.Unit, m *Machine, row int, f Fault) {
	t.Helper()
	st := m.Under(row, f)
	o := newOracle(u, u.Rows[row].Apply, f)
	v := o.solve()
	where := func() string { return u.ID + " " + u.Rows[row].Name() + " " + f.String() }
	if st.Class != v.class || st.OutputHeld != v.outputHeld {
		t.Fatalf("%s: %s (output held %v), oracle %s (%v)", where(), st.Class, st.OutputHeld, v.class, v.outputHeld)
	}
	if v.class == Drives && st.Ratio.Cmp(new(big.Rat).Inv(v.speed)) != 0 {
		t.Fatalf("%s: ratio %s, oracle's output speed %s", where(), st.Ratio, v.speed)
	}
	if v.class == Drives || v.class == TieUp && !v.outputHeld {
		var set uint64
		for i, n := range o.names {
			if slices.Contains(st.Holding, n) {
				set |= 1 << i
			}
		}
		if !slices.Contains(v.holds, set) {
			t.Fatalf("%s: holding %v is not consistent; sets that are: %b of %v", where(), st.Holding, v.holds, o.names)
		}
	}
	if st.Class == TieUp {
		return
	}
	var coast *big.Rat // forward first
	for _, c := range v.coasts {
		if v.class == Drives && c.Sign() != v.speed.Sign() {
			continue
		}
		if coast == nil || c.Sign() > 0 && coast.Sign() < 0 {
			coast = c
		}
	}
	if (coast == nil) != (st.CoastClass == NoDrive) || coast != nil && st.CoastRatio.Cmp(new(big.Rat).Inv(coast)) != 0 {
		t.Fatalf("%s: coasting %s at %v, oracle %v of %v", where(), st.CoastClass, st.CoastRatio, coast, v.coasts)
	}
	if braking := v.class == Drives && coast != nil && coast.Cmp(v.speed) == 0; braking != st.EngineBraking {
		t.Fatalf("%s: engine braking %v, oracle %v", where(), st.EngineBraking, braking)
	}
	o.checkSpeeds(t, where, st)
}

// checkSpeeds checks that a member's speed is given exactly when the equations
// with the held clutches settle it, and that it is the right one.
func (o *oracle) checkSpeeds(t failer, where func() string, st *State) {
	t.Helper()
	rows := append([][]*big.Rat(nil), o.rigid...)
	for i, n := range o.names {
		if slices.Contains(st.Holding, n) {
			rows = append(rows, o.oneWay[i])
		}
	}
	// A given speed s is right when unit − s·e_in is a combination of the
	// rows; a missing one when unit is none of rows and e_in.
	both := append(rows[:len(rows):len(rows)], o.in)
	alone, driven := rank(rows), rank(both)
	for name, c := range o.at {
		unit := make([]*big.Rat, o.n)
		for i := range unit {
			unit[i] = new(big.Rat)
		}
		unit[c].SetInt64(1)
		speed := st.Speeds[name]
		ok := false
		if speed == nil {
			ok = rank(append(both[:len(both):len(both)], unit)) > driven
		} else {
			for i := range unit {
				unit[i].Sub(unit[i], new(big.Rat).Mul(speed, o.in[i]))
			}
			ok = rank(append(rows[:len(rows):len(rows)], unit)) == alone
		}
		if !ok {
			t.Fatalf("%s: speed of %s is %v", where(), name, speed)
		}
	}
	// What stands still is implied by the rest, and only that.
	for i, n := range o.names {
		implied := rank(append(rows[:len(rows):len(rows)], o.oneWay[i])) == alone
		if implied != slices.Contains(slices.Concat(st.Holding, st.Standing), n) {
			t.Fatalf("%s: %s is implied by the rest: %v; holding %v, standing %v", where(), n, implied, st.Holding, st.Standing)
		}
	}
	for _, n := range st.Overrunning {
		if s := st.Slips[n]; s == nil || s.Sign() == 0 {
			t.Fatalf("%s: %s overruns with slip %v", where(), n, s)
		}
	}
}

func TestOracleOnPublishedUnits(t *testing.T) {
	states := 0
	for _, tb := range readTables(t) {
		u := tb.unit()
		m := mustNew(t, u)
		for i := range m.Rows() {
			for _, f := range rowFaults(m) {
				compare(t, u, m, i, f)
				states++
			}
		}
	}
	t.Logf("%d states", states)
}

func TestOracleOnRandomUnits(t *testing.T) {
	classes := map[Class]int{}
	rapid.Check(t, func(t *rapid.T) {
		u := drawUnit(t, rapid.SampledFrom([]int64{5, 120}).Draw(t, "most teeth"))
		m, err := New(u)
		if err != nil {
			t.Fatal(err)
		}
		row := rapid.IntRange(0, m.Rows()-1).Draw(t, "row")
		for _, f := range rowFaults(m) {
			compare(t, u, m, row, f)
			classes[m.Under(row, f).Class]++
		}
	})
	t.Logf("%v", classes)
	for _, c := range []Class{Drives, NoDrive, TieUp} {
		if classes[c] == 0 {
			t.Errorf("no state with class %s was compared", c)
		}
	}
}

func TestOracleOnDrivingUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u, m := drawDriven(t)
		row := rapid.IntRange(0, m.Rows()-1).Draw(t, "row")
		for i, f := range rowFaults(m) {
			if sizes.Of((i+row)%3 != 0, false, false) {
				continue
			}
			compare(t, u, m, row, f)
		}
	})
}
