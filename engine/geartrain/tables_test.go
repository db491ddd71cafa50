package geartrain

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/big"
	"os"
	"slices"
	"strings"
	"testing"

	"slipcase/engine"
)

// tables is testdata/geartrains/gear-tables.json: published gear tables and
// application charts. Each unit names its source there, and what in it was
// seen and what recalled.
type tables struct {
	Units []table `json:"units"`
}

type table struct {
	ID, Designation, Source, Input, Output string
	Gearsets                               []struct {
		Kind, Sun, Carrier, Ring string
		S, R                     int64
	}
	Clutches map[string][2]string
	Brakes   map[string]string
	OneWay   map[string][2]string `json:"one_way"`
	Rows     map[string]struct {
		Apply, Holding []string
		Ratio          json.Number
		EngineBraking  *bool `json:"engine_braking"`
		Solenoids      map[string]bool
	}
	Tolerance json.Number `json:"ratio_tolerance"`
}

func readTables(t testing.TB) []table {
	t.Helper()
	text, err := os.ReadFile("../../testdata/geartrains/gear-tables.json")
	if err != nil {
		t.Fatal(err)
	}
	var all tables
	if err := json.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	if len(all.Units) != 4 {
		t.Fatalf("%d units in the tables, want 4", len(all.Units))
	}
	return all.Units
}

// unit makes an engine.Unit of a table, elements and rows sorted by name.
func (tb table) unit() *engine.Unit {
	u := &engine.Unit{ID: tb.ID, Train: engine.Train{Input: tb.Input, Output: tb.Output}}
	for i, g := range tb.Gearsets {
		u.Train.Gearsets = append(u.Train.Gearsets, engine.Gearset{
			Name: fmt.Sprintf("set_%d", i+1), Kind: engine.GearsetKind(g.Kind),
			Sun: g.Sun, Carrier: g.Carrier, Ring: g.Ring, SunTeeth: g.S, RingTeeth: g.R,
		})
	}
	for _, n := range slices.Sorted(maps.Keys(tb.Clutches)) {
		u.Elements = append(u.Elements, engine.Element{Name: n, Kind: engine.Clutch, A: tb.Clutches[n][0], B: tb.Clutches[n][1]})
	}
	for _, n := range slices.Sorted(maps.Keys(tb.Brakes)) {
		u.Elements = append(u.Elements, engine.Element{Name: n, Kind: engine.Brake, A: tb.Brakes[n], B: engine.CaseMember})
	}
	for _, n := range slices.Sorted(maps.Keys(tb.OneWay)) {
		u.Elements = append(u.Elements, engine.Element{Name: n, Kind: engine.OneWay, A: tb.OneWay[n][0], B: tb.OneWay[n][1]})
	}
	solenoids := map[string]bool{}
	for _, n := range slices.Sorted(maps.Keys(tb.Rows)) {
		r := tb.Rows[n]
		ratio, _ := new(big.Rat).SetString(string(r.Ratio))
		rng, gear, _ := strings.Cut(n, "/")
		row := engine.Row{
			Range: rng, Gear: gear, Apply: r.Apply, Ratio: ratio, RatioText: string(r.Ratio),
			Holding: r.Holding, HoldingStated: r.Holding != nil, EngineBraking: r.EngineBraking,
			SolenoidsStated: r.Solenoids != nil,
		}
		for _, s := range slices.Sorted(maps.Keys(r.Solenoids)) {
			solenoids[s] = true
			if r.Solenoids[s] {
				row.Solenoids = append(row.Solenoids, s)
			}
		}
		u.Rows = append(u.Rows, row)
	}
	for _, s := range slices.Sorted(maps.Keys(solenoids)) {
		u.Solenoids = append(u.Solenoids, engine.Solenoid{Name: s, Kind: "shift"})
	}
	return u
}

func mustNew(t testing.TB, u *engine.Unit) *Machine {
	t.Helper()
	m, err := New(u)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func TestPublishedRows(t *testing.T) {
	rows := 0
	for _, tb := range readTables(t) {
		u := tb.unit()
		m := mustNew(t, u)
		tol, _ := new(big.Rat).SetString(string(tb.Tolerance))
		for i, r := range u.Rows {
			rows++
			st := m.Row(i)
			if st.Class != Drives {
				t.Errorf("%s %s: %s", tb.ID, r.Name(), st.Class)
				continue
			}
			off := new(big.Rat).Sub(st.Ratio, r.Ratio)
			if off.Abs(off).Cmp(tol) > 0 {
				t.Errorf("%s %s: ratio %s, published %s", tb.ID, r.Name(), st.Ratio.FloatString(4), r.RatioText)
			}
			if ok, got := m.RatioMatches(i); !ok {
				t.Logf("%s %s: %s is not %s, rounded or cut off", tb.ID, r.Name(), r.RatioText, got)
			}
			if r.HoldingStated && !slices.Equal(st.Holding, r.Holding) {
				t.Errorf("%s %s: holding %v, published %v", tb.ID, r.Name(), st.Holding, r.Holding)
			}
			// Beside the overdrive clutch its one-way clutch is not needed.
			if want := tb.ID == "od-simpson-4" && r.Gear != "4"; slices.Contains(st.Standing, "F0") != want {
				t.Errorf("%s %s: standing %v", tb.ID, r.Name(), st.Standing)
			}
			if r.EngineBraking != nil && st.EngineBraking != *r.EngineBraking {
				t.Errorf("%s %s: engine braking %v, published %v", tb.ID, r.Name(), st.EngineBraking, *r.EngineBraking)
			}
		}
	}
	if rows != 30 {
		t.Errorf("%d rows checked, want 30", rows)
	}
}
