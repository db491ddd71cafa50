package model_test

import (
	"slices"
	"testing"
)

// TestSkipAndLeverFindings: on the Simpson three-speed (derivation in
// engine/geartrain/skip_test.go) 1-3 has only the front clutch coming on, over
// first: slow it is late and cannot flare. The lever from D to L in second lets
// the front band go and brings the rear band on: the one late binds, the other
// is felt rolling where line pressure is high.
func TestSkipAndLeverFindings(t *testing.T) {
	m := built(t, "harrow-3")
	for _, x := range []struct {
		finding, effect string
		want            bool
	}{
		{"late_shift@D/1-3", "front_clutch.applies_late", true},
		{"late_shift@D/1-3", "front_band.applies_late", false},
		{"bind_shift@D/2-L/1", "front_band.releases_late", true},
		{"bind_shift@D/2-1", "front_band.releases_late", false},
		{"coast_clunk@D/2-L/1", "line.high", true}, // the rear band comes on with all of it
		{"coast_clunk@D/2-1", "line.high", false},  // nothing comes on
		{"late_shift@D/2-L/1", "rear_band.applies_late", false},
	} {
		if got := slices.Contains(parents(m, x.finding), x.effect); got != x.want {
			t.Errorf("%s behind %s: %v, want %v; there are %v", x.effect, x.finding, got, x.want, parents(m, x.finding))
		}
	}
	// Where nothing shows that single shifts do not show there is no finding.
	for name, want := range map[string]bool{"flare@D/1-3": false, "no_shift@D/1-3": false, "harsh_shift@D/1-3": true, "late_shift@D/2-L/1": false, "harsh_shift@D/2-L/1": true} {
		if m.HasFinding(name) != want {
			t.Errorf("%s is there: %v, want %v", name, !want, want)
		}
	}
	if got := m.Match("harsh_shift@skip_up"); !slices.Equal(got, []string{"harsh_shift@D/1-3"}) {
		t.Errorf("@skip_up: %v", got)
	}
	if got := m.Match("harsh_shift@lever"); !slices.Equal(got, []string{"harsh_shift@D/2-L/1"}) {
		t.Errorf("@lever: %v", got)
	}
	if got := m.Match("harsh_shift@up"); slices.Contains(got, "harsh_shift@D/1-3") {
		t.Errorf("@up: %v", got)
	}
	// A good row speaks of the upshift by one gear into it.
	if good := m.Good("D/3", "driver"); slices.Contains(good, "flare@D/1-3") || !slices.Contains(good, "flare@D/2-3") {
		t.Errorf("third is good: %v", good)
	}
}
