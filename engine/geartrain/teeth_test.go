package geartrain

import (
	"errors"
	"math/big"
	"slices"
	"testing"

	"slipcase/engine"
)

// TestFitTeethPublished: tooth counts taken out of a published table are found
// again from its printed ratios, within the bounds of the search; each set
// found prints the whole table.
func TestFitTeethPublished(t *testing.T) {
	for _, id := range []string{"od-simpson-4", "ravigneaux-transaxle-4", "lepelletier-6"} {
		u := tableUnit(t, id)
		want := make(Teeth, len(u.Train.Gearsets))
		for i := range u.Train.Gearsets {
			g := &u.Train.Gearsets[i]
			want[i] = [2]int64{g.SunTeeth, g.RingTeeth}
			g.SunTeeth, g.RingTeeth = 0, 0
		}
		sets, fits, err := FitTeeth(u, 100_000)
		if err != nil {
			t.Errorf("%s: %v", id, err)
			continue
		}
		t.Logf("%s: %d sets, first %v", id, fits, sets[:min(3, len(sets))])
		found := slices.ContainsFunc(sets, func(s Teeth) bool {
			for i := range s {
				if s[i][0]*want[i][1] != s[i][1]*want[i][0] {
					return false
				}
			}
			return true
		})
		if !found {
			t.Errorf("%s: none of %d sets has the proportions of %v", id, fits, want)
		}
		for n, s := range sets {
			if n%max(1, len(sets)/20) != 0 {
				continue
			}
			for i := range s {
				u.Train.Gearsets[i].SunTeeth, u.Train.Gearsets[i].RingTeeth = s[i][0], s[i][1]
			}
			m := machineOf(t, u)
			for i := range m.Rows() {
				if ok, got := m.RatioMatches(i); !ok {
					t.Errorf("%s with %v: %s gives %s, not %s", id, s, m.RowName(i), got, u.Rows[i].RatioText)
				}
			}
		}
	}
}

// TestFitTeethSimpson: of a common-sun Simpson set, second is 1 + S/R of the
// front gearset and reverse R/S of the rear one, so each printed digit narrows
// one gearset by itself: front S/R in [0.445, 0.46), rear R/S in [2.205, 2.22).
func TestFitTeethSimpson(t *testing.T) {
	u := simpson()
	declare(u, "D/1", "2.45")
	declare(u, "D/2", "1.45")
	declare(u, "R/R", "-2.21")
	for i := range u.Train.Gearsets {
		u.Train.Gearsets[i].SunTeeth, u.Train.Gearsets[i].RingTeeth = 0, 0
	}
	sets, fits, err := FitTeeth(u, 50)
	if err != nil || fits == 0 {
		t.Fatal(sets, err)
	}
	for i, s := range sets {
		front, rear := float64(s[0][0])/float64(s[0][1]), float64(s[1][1])/float64(s[1][0])
		if front < 0.445 || front >= 0.46 || rear < 2.205 || rear >= 2.22 {
			t.Errorf("%v: front %.4f, rear %.4f", s, front, rear)
		}
		if i == 0 && (!Plain(engine.Single, s[0][0], s[0][1]) || !Plain(engine.Single, s[1][0], s[1][1])) {
			t.Errorf("first is %v, which takes a correction", s)
		}
		if i > 0 && i < 5 && sets[i-1].sum() > s.sum() {
			t.Error("not fewest teeth first")
		}
	}
	// Teeth stated for one gearset stay.
	u.Train.Gearsets[0].SunTeeth, u.Train.Gearsets[0].RingTeeth = 28, 62
	sets, _, err = FitTeeth(u, 50)
	if err != nil || len(sets) == 0 || sets[0][0] != [2]int64{28, 62} {
		t.Errorf("%v %v", sets, err)
	}
	// Ratios that no gearset can give: none, and no error.
	declare(u, "R/R", "-9.99")
	if sets, fits, err = FitTeeth(u, 50); err != nil || fits != 0 || len(sets) != 0 {
		t.Errorf("%v %d %v", sets, fits, err)
	}
}

// TestFitTeethOpen: without a ratio nothing is narrowed.
func TestFitTeethOpen(t *testing.T) {
	u := simpson()
	for i := range u.Train.Gearsets {
		u.Train.Gearsets[i].SunTeeth, u.Train.Gearsets[i].RingTeeth = 0, 0
	}
	if _, _, err := FitTeeth(u, 5); !errors.Is(err, ErrManyTeeth) {
		t.Errorf("%v", err)
	}
}

func declare(u *engine.Unit, row, ratio string) {
	for i := range u.Rows {
		if u.Rows[i].Name() == row {
			u.Rows[i].RatioText = ratio
			u.Rows[i].Ratio, _ = new(big.Rat).SetString(ratio)
		}
	}
}

func (t Teeth) sum() (n int64) {
	for _, p := range t {
		n += p[0] + p[1]
	}
	return n
}

func BenchmarkFitTeeth(b *testing.B) {
	for _, tb := range readTables(b) {
		if tb.ID != "lepelletier-6" {
			continue
		}
		u := tb.unit()
		for i := range u.Train.Gearsets {
			u.Train.Gearsets[i].SunTeeth, u.Train.Gearsets[i].RingTeeth = 0, 0
		}
		for b.Loop() {
			if _, _, err := FitTeeth(u, 10); err != nil {
				b.Fatal(err)
			}
		}
	}
}
