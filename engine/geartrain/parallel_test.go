package geartrain

import (
	"math/big"
	"testing"

	"slipcase/engine"
)

// TestParallelShafts: gears on parallel shafts are gearsets whose carrier is the
// case. Willis' equation of a single-pinion set, S·ωs + R·ωr = (S+R)·ωc, is with
// ωc = 0 the mesh of two outer gears: ωr = −(S/R)·ωs. Either may have more
// teeth. Two such meshes through a countershaft turn the output with the input:
//
//	constant mesh 25:35      ω_lay = −25/35·ω_in
//	first   lay 18 : out 42  ω_out = −18/42·ω_lay   ratio (35/25)·(42/18) = 49/15
//	second  lay 30 : out 30  ω_out = −30/30·ω_lay   ratio 35/25 = 7/5
//	third   input joined to output                  ratio 1
//	reverse lay 16 : idler 20 : out 40: one mesh more, so the sense turns;
//	        ratio −(35/25)·(40/16) = −7/2, whatever the idler's teeth
func TestParallelShafts(t *testing.T) {
	mesh := func(name, a, b string, ta, tb int64) engine.Gearset {
		return engine.Gearset{Name: name, Kind: engine.Single, Sun: a, Carrier: engine.CaseMember, Ring: b, SunTeeth: ta, RingTeeth: tb}
	}
	clutch := func(name, a, b string) engine.Element {
		return engine.Element{Name: name, Kind: engine.Clutch, A: a, B: b}
	}
	row := func(rng, gear string, apply ...string) engine.Row {
		return engine.Row{Range: rng, Gear: gear, Apply: apply}
	}
	u := &engine.Unit{
		ID: "layshaft-3",
		Train: engine.Train{Input: "input", Output: "output", Gearsets: []engine.Gearset{
			mesh("constant", "input", "lay", 25, 35), mesh("mesh_first", "lay_first", "output", 18, 42), mesh("mesh_second", "lay_second", "output", 30, 30),
			mesh("idler_in", "lay_reverse", "idler", 16, 20), mesh("idler_out", "idler", "output", 20, 40),
		}},
		Elements: []engine.Element{
			clutch("first_hold", "lay", "lay_first"), clutch("second", "lay", "lay_second"), clutch("third", "input", "output"), clutch("reverse", "lay", "lay_reverse"),
		},
		Rows: []engine.Row{row("N", "N"), row("R", "R", "reverse"), row("D", "2", "second"), row("D", "3", "third"), row("L", "1", "first_hold")},
	}
	m := machineOf(t, u)
	for name, want := range map[string]*big.Rat{"R/R": big.NewRat(-7, 2), "D/2": big.NewRat(7, 5), "D/3": big.NewRat(1, 1), "L/1": big.NewRat(49, 15)} {
		st := m.Row(m.RowIndex(name))
		if st.Class != Drives || st.Ratio.Cmp(want) != 0 {
			t.Errorf("%s: %v %v, want %v", name, st.Class, st.Ratio, want)
		}
		if !st.EngineBraking {
			t.Errorf("%s: no engine braking with applied clutches alone", name)
		}
	}
	// Two gears at once lock the shafts.
	if st := m.Under(m.RowIndex("D/2"), Fault{"third", StaysOn}); st.Class != TieUp {
		t.Errorf("second and third at once: %v", st.Class)
	}
	// A stripped mesh is a broken joint of its own; a dead clutch leaves no drive.
	if st := m.Under(m.RowIndex("D/3"), Fault{"third", Dead}); st.Class == Drives && st.Ratio.Cmp(big.NewRat(1, 1)) == 0 {
		t.Errorf("third without its clutch: %v", st.Ratio)
	}
}
