package model_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"slipcase/engine/model"
	"slipcase/rules"
	"slipcase/rules/diag"
)

func built(t *testing.T, unit string) *model.Model {
	t.Helper()
	k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}}, Unit: unit})
	if diag.HasErrors(diags) {
		t.Fatal(diags)
	}
	m, err := model.Build(k, k.Unit(unit))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// parents are the effects behind a finding; none where the unit has no such
// finding.
func parents(m *model.Model, finding string) []string {
	at := slices.IndexFunc(m.Nodes, func(n model.Node) bool { return n.Name == finding })
	if at < 0 {
		return nil
	}
	var out []string
	for _, l := range m.Net.Nodes[at].Links {
		name := m.Nodes[l.Parent].Name
		if strings.Contains(name, "§") { // what the finding is about, whether or not someone notices
			return parents(m, name)
		}
		out = append(out, name)
	}
	return out
}

// TestDownshiftFindings: on the Simpson three-speed 3-2 takes the front clutch
// off and the front band on. What the band does shows there under power and
// rolling out; what the clutch does as it comes on does not. Its oil pushes the
// band's servo back, so that restricted it holds both back, up and down: late,
// and no flare.
func TestDownshiftFindings(t *testing.T) {
	m := built(t, "harrow-3")
	for _, x := range []struct {
		finding, effect string
		want            bool
	}{
		{"flare@D/3-2", "front_band.slips", true},
		{"flare@D/3-2", "front_band.applies_late", true},
		{"flare@D/3-2", "front_clutch.slips", false},
		{"flare@D/2-1", "front_band.slips", false}, // the overrunning clutch catches first
		{"bind_shift@D/3-2", "front_clutch.releases_late", true},
		{"late_shift@D/2-3", "front_clutch_feed.restricted", true},
		{"late_shift@D/3-2", "front_clutch_feed.restricted", true},
		{"flare@D/2-3", "front_clutch_feed.restricted", false},
		{"flare@D/2-3", "front_clutch.slips", true},
		{"harsh_shift@D/3-2", "1-2.harsh", true}, // what cushions the band in 1-2
		{"coast_clunk@D/3-2", "1-2.harsh", true},
		{"coast_clunk@D/2-1", "1-2.harsh", false}, // first runs free
	} {
		if got := slices.Contains(parents(m, x.finding), x.effect); got != x.want {
			t.Errorf("%s behind %s: %v, want %v", x.effect, x.finding, got, x.want)
		}
	}
	// Only findings that speak of downshifts have their places.
	for name, want := range map[string]bool{"flare@D/3-1": true, "coast_clunk@D/2-3": false, "early_shift@D/3-2": false, "no_shift@D/3-2": false} {
		if m.HasFinding(name) != want {
			t.Errorf("%s is there: %v, want %v", name, !want, want)
		}
	}
	for set, want := range map[string][]string{
		"flare@up": {"flare@D/1-2", "flare@D/2-3", "flare@2/1-2"}, "flare@down": {"flare@D/2-1", "flare@D/3-2", "flare@2/2-1"}, "flare@skip": {"flare@D/3-1"},
	} {
		got := m.Match(set)
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", set, got, want)
		}
	}
	// Good rows speak of the upshift into them.
	if good := m.Good("D/2", "driver"); !slices.Contains(good, "flare@D/1-2") || slices.Contains(good, "flare@D/3-2") {
		t.Errorf("second is good: %v", good)
	}
}

// TestCarriedBothWays: the one-way clutch of the overdrive set carries 3-4 and
// 4-3; slipping it flares on both and spoils no gear.
func TestCarriedBothWays(t *testing.T) {
	m := built(t, "od-simpson-4")
	for _, f := range []string{"flare@D/3-4", "flare@D/4-3"} {
		if !slices.Contains(parents(m, f), "od_one_way.slips") {
			t.Errorf("%s: %v lack od_one_way.slips", f, parents(m, f))
		}
	}
	if p := parents(m, "flare@D/4-3"); slices.Contains(p, "od_direct.applies_late") {
		t.Errorf("a slow overdrive direct clutch flares on 4-3, where the one-way clutch catches third: %v", p)
	}
}

// TestGaugeWithoutTable: a unit that states no line pressures has the findings of
// the gauge all the same, at idle in every range and loaded in those that drive,
// behind them what lowers or raises the pressure; a value has nothing to be
// compared with, and is refused with what it could be.
func TestGaugeWithoutTable(t *testing.T) {
	m := built(t, "lepelletier-6")
	for _, p := range m.Unit.Pressures {
		if p.Low != nil || p.High != nil {
			t.Fatalf("%s has limits; take a unit without", p.Place())
		}
	}
	for _, x := range []struct {
		finding string
		effects []string
	}{
		{"line_pressure_low@idle/R", []string{"line.low", "three_five_reverse_feed.leaks", "low_reverse_feed.low"}},
		{"line_pressure_low@load/D", []string{"line.low", "one_to_four_feed.leaks"}},
		{"line_pressure_low@idle/N", []string{"line.low"}},
		{"line_pressure_high@idle/D", []string{"line.high"}},
	} {
		got := parents(m, x.finding)
		for _, e := range x.effects {
			if !slices.Contains(got, e) {
				t.Errorf("%s: %s is not behind it but %v", x.finding, e, got)
			}
		}
	}
	if m.HasFinding("line_pressure_low@load/N") {
		t.Error("loaded in neutral")
	}
	if slices.Contains(parents(m, "line_pressure_low@idle/R"), "four_to_six_feed.leaks") {
		t.Error("a clutch that reverse does not apply lowers its pressure")
	}
	if _, ok := m.Unit.Bounds("line_pressure", "idle/R"); ok {
		t.Error("limits come from nowhere")
	}
}

// TestPedalDown: what is low with the pedal down shows on the gauge under load,
// whatever condition is stated, and neither at idle nor in an engagement.
func TestPedalDown(t *testing.T) {
	m := built(t, "harrow-3")
	const low = "line.low:heavy_foot"
	for finding, want := range map[string]bool{
		"line_pressure_low@load/D": true, "line_pressure_low@idle/D": false, "late_engagement@D": false, "slips@D/1": true, "slips@D/1:heavy_foot": true,
	} {
		if got := slices.Contains(parents(m, finding), low); got != want {
			t.Errorf("%s behind %s: %v, want %v", low, finding, got, want)
		}
	}
	if slices.ContainsFunc(m.Nodes, func(n model.Node) bool { return n.Name == "line_pressure_low@load/D:heavy_foot" }) {
		t.Error("pressure under load is told apart by the pedal")
	}
}
