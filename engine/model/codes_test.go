package model_test

import (
	"os"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"slipcase/engine/model"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// A code for solenoid C is about the solenoid that the unit calls c; a code for
// a gear ratio is about that gear, in units that have it.
func TestCodesOfLettersAndGears(t *testing.T) {
	shop := fstest.MapFS{"units/lettered.hcl": {Data: []byte(`language = 1
unit "lettered" {
  like = "northfork-4"
  solenoid "c" {
    kind = shift
  }
  component "solenoid_c" {
    kind   = shift_solenoid
    serves = solenoid.c
    at     = "valve_body_off"
  }
}
`)}}
	parents := func(unit, code string) []string {
		k, diags := rules.Load(rules.Options{Layers: []rules.Layer{{Name: "knowledge", FS: os.DirFS("../../knowledge")}, {Name: "shop", FS: shop}}, Unit: unit})
		if diag.HasErrors(diags) {
			t.Fatal(diags)
		}
		m, err := model.Build(k, k.Unit(unit))
		if err != nil {
			t.Fatal(err)
		}
		i, ok := m.Lookup("code_" + code)
		if !ok {
			t.Fatalf("%s: no code %s", unit, code)
		}
		var out []string
		for _, l := range m.Net.Nodes[i].Links {
			out = append(out, strings.TrimRight(m.Nodes[l.Parent].Name, "§"))
		}
		return out
	}
	if got := parents("lettered", "P0761"); !slices.Contains(got, "c.stuck_off") {
		t.Errorf("P0761 where a solenoid is called c: %v", got)
	}
	if got := parents("northfork-4", "P0763"); slices.Contains(got, "resistance_off@c") || len(got) == 0 {
		t.Errorf("P0763 where none is: %v", got)
	}
	if got := parents("lepelletier-6", "P0735"); len(got) == 0 {
		t.Error("fifth gear has no code of its own")
	}
	if got := parents("northfork-4", "P0735"); len(got) != 0 {
		t.Errorf("a four-speed has a code of fifth gear: %v", got)
	}
}
