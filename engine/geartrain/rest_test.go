package geartrain

import (
	"slices"
	"strings"
	"testing"

	"slipcase/engine"
)

// TestAtRest: the published six-speed chart (A and D first, A and C second, A
// and B third, A and E fourth, B and E fifth, C and E sixth, B and D reverse)
// with a solenoid for each clutch and brake.
//
// All released without current: nothing is on, so no gear that is said to be in
// force then drives. B and E on without current: in D that is fifth, so fifth
// agrees and third, which lacks A and has E besides, does not; B and E without
// A drive like fifth. In reverse B is on and D is not, which is no drive, unless
// the manual valve feeds D itself; E is no matter there, no row of R uses it.
// With C on at rest as well fifth has three on, which ties up.
func TestAtRest(t *testing.T) {
	u := tableUnit(t, "lepelletier-6")
	for _, e := range []string{"A", "B", "C", "D", "E"} {
		u.Solenoids = append(u.Solenoids, engine.Solenoid{Name: "of_" + e, Kind: "clutch", Controls: []string{e}})
	}
	for _, c := range []struct {
		applied, rng, gear string
		byValve            []string
		agrees             bool
		off, on            []string
		class              Class
		acts               string
	}{
		{"", "D", "3", nil, false, []string{"A", "B"}, nil, NoDrive, ""},
		{"BE", "D", "5", nil, true, nil, nil, Drives, ""},
		{"BE", "D", "3", nil, false, []string{"A"}, []string{"E"}, Drives, "5"},
		{"BE", "R", "R", nil, false, []string{"D"}, nil, NoDrive, ""},
		{"BE", "R", "R", []string{"D"}, true, nil, nil, Drives, ""},
		{"BCE", "D", "5", nil, false, nil, []string{"C"}, TieUp, ""},
	} {
		for i := range u.Solenoids {
			u.Solenoids[i].Applied = strings.Contains(c.applied, u.Solenoids[i].Controls[0])
		}
		u.Failsafe = map[string]engine.Failsafe{c.rng: {Gear: c.gear, ByValve: c.byValve}}
		m := machineOf(t, u)
		r, ok := m.AtRest(c.rng)
		if !ok || r.Agrees() != c.agrees || !slices.Equal(r.Off, c.off) || !slices.Equal(r.On, c.on) || r.Change.Class != c.class || r.Change.ActsAs != c.acts {
			t.Errorf("%q applied at rest, %s/%s: %+v, ok %v", c.applied, c.rng, c.gear, r, ok)
		}
		u.Failsafe[c.rng] = engine.Failsafe{Gear: c.gear, Powered: true}
		if r, ok := m.AtRest(c.rng); ok {
			t.Errorf("held with current, and yet at rest %+v", r)
		}
	}
	// Shift solenoids: with none on the table gives another row of the range.
	u = simpson()
	u.Solenoids = []engine.Solenoid{{Name: "a", Kind: "shift"}}
	for i, r := range u.Rows {
		u.Rows[i].SolenoidsStated = r.Range == "D"
		if r.Name() == "D/2" {
			u.Rows[i].Solenoids = []string{"a"}
		}
	}
	u.Failsafe = map[string]engine.Failsafe{"D": {Gear: "2"}}
	if r, ok := machineOf(t, u).AtRest("D"); !ok || r.Agrees() || r.Row == "" || r.Row == "D/2" {
		t.Errorf("second has a solenoid on: %+v, %v", r, ok)
	}
	u.Failsafe["D"] = engine.Failsafe{Gear: "3"}
	if r, ok := machineOf(t, u).AtRest("D"); !ok || !r.Agrees() {
		t.Errorf("third has none on: %+v, %v", r, ok)
	}
}
