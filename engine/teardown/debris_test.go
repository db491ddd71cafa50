package teardown

import (
	"slices"
	"testing"

	"slipcase/engine"
)

// Lining and metal go through filter, converter, cooler and valve body, which are
// cleaned before the build (common practice); a hard lip sheds nothing.
func TestDebrisGoesThrough(t *testing.T) {
	for _, unit := range []string{"northfork-4", "harrow-3"} {
		m := unitModel(t, unit)
		soiled := map[string]bool{}
		for _, i := range m.Modes() {
			n := m.Nodes[i]
			parts := Soiled(m, Confirmed{Component: n.Component, Mode: n.Mode})
			var kinds []string
			for _, p := range parts {
				kinds = append(kinds, p.Kind)
			}
			slices.Sort(kinds)
			switch n.Mode.Name {
			case "burnt_friction", "band_burnt", "teeth_broken":
				if want := []string{"converter", "cooler", "filter", "valve_body"}; !slices.Equal(kinds, want) {
					t.Errorf("%s, %s: debris goes through %v", unit, n.Name, kinds)
				}
			case "lip_hardened", "cut_ring", "servo_seal_cut", "valve_varnished":
				if len(parts) > 0 {
					t.Errorf("%s, %s sheds nothing, and soils %v", unit, n.Name, kinds)
				}
			default:
				continue
			}
			soiled[n.Mode.Name] = true
		}
		if len(soiled) < 5 {
			t.Errorf("%s: only %v were looked at", unit, soiled)
		}
	}
	m := unitModel(t, "northfork-4")
	c := &engine.CaseFile{Unit: m.Unit.ID, Seen: []engine.Seen{{Component: "forward_frictions", Mode: "burnt_friction"}, {Component: "filter", Cleared: true}}}
	var w Why
	w.Confirmed = Found(m, c)
	w.related(m, c, map[string]float64{})
	how := map[string]string{}
	for _, r := range w.Look {
		if r.Relation == Debris {
			how[r.Component.Kind] = r.Clean
		}
	}
	if len(how) != 3 || how["cooler"] == "" || how["converter"] == "" || how["valve_body"] == "" {
		t.Errorf("with the filter seen, to be cleaned: %v", how)
	}
}
