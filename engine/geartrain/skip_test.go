package geartrain

import (
	"slices"
	"testing"
)

func placesOf(list []Shift) (out []string) {
	for _, s := range list {
		out = append(out, s.Place())
	}
	return out
}

// TestSkipUps, on the Simpson three-speed: first is the rear clutch on the
// overrunning clutch, second the front band besides, third the front clutch
// instead of the band.
//
//	1-3  only the front clutch comes on and nothing goes off. Between the two the
//	     rear clutch is on alone, which is first: a slow front clutch keeps first,
//	     and cannot flare. In 2-3 the same clutch flares, for there the gap is
//	     first below second. So 1-3 tells a slow clutch from a hasty band, and is
//	     a place of its own.
//
// On the published six-speed (lepelletier-6) every upshift takes one of two
// elements off and brings one on. 1-3 takes D off and B on with A alone between
// them, no drive, as in 2-3 where B comes on, and a late D binds as in 1-2: the
// two single shifts say all of it, and no skip is a place.
func TestSkipUps(t *testing.T) {
	m := mustNew(t, simpson())
	if got := placesOf(m.SkipUps()); !slices.Equal(got, []string{"D/1-3"}) {
		t.Fatalf("skips up %v", got)
	}
	s := m.SkipUps()[0]
	if s.Down || !s.GapKeeps || s.Offgoing != nil || !slices.Equal(s.Oncoming, []string{"front_clutch"}) {
		t.Errorf("1-3: %+v", s)
	}
	if w := m.SlowOn(s, "front_clutch"); w.Timing != Late || !equal(w.State.Ratio, m.Gear("1")) {
		t.Errorf("1-3 with a slow clutch: %q", w.Timing)
	}
	for _, two := range m.Shifts() {
		if w := m.SlowOn(two, "front_clutch"); two.Place() == "D/2-3" && w.Timing != FlareBounded {
			t.Errorf("2-3 with a slow clutch: %q", w.Timing)
		}
	}
	if got := placesOf(machineOf(t, tableUnit(t, "lepelletier-6")).SkipUps()); got != nil {
		t.Errorf("six-speed: %v", got)
	}
}

// TestLeverShifts, on the same three-speed. Its range 2 applies in second what D
// does, so that pulling the lever to 2 in third is the 3-2 of D and no place.
// Pulling it to L in second takes the front band off and brings the rear band
// on. Between them the rear clutch is on alone: first, by the overrunning
// clutch, so that a slow rear band is not noticed under power. Both bands
// together hold the sun and the rear carrier: a late front band binds, where in
// 2-1 of D it only keeps second. With the throttle closed first turns the engine
// in L, by the rear band alone: it is felt as it grips.
func TestLeverShifts(t *testing.T) {
	m := mustNew(t, simpson())
	if got := placesOf(m.LeverShifts()); !slices.Equal(got, []string{"D/2-L/1"}) {
		t.Fatalf("by the lever %v", got)
	}
	s := m.LeverShifts()[0]
	if !s.Down || !s.GapReaches || !s.OverlapTies {
		t.Errorf("2 to L: %+v", s)
	}
	if w := m.SlowOn(s, "rear_band"); w.Timing != InTime {
		t.Errorf("2 to L with a slow rear band: %q", w.Timing)
	}
	if w := m.LateOff(s, "front_band"); w.Timing != Binds {
		t.Errorf("2 to L with a late front band: %q", w.Timing)
	}
	if w := m.LateOff(downshiftAt(t, m, "D/2-1"), "front_band"); w.Timing != Late {
		t.Errorf("2-1 with a late front band: %q", w.Timing)
	}
	if !m.CoastFelt(s, "rear_band") {
		t.Error("2 to L rolling: the rear band is not felt")
	}
}
