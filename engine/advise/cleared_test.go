package advise

import (
	"testing"

	"slipcase/engine"
)

// Of a fluid that was changed the pan tells less, and its look is worth less.
func TestChangedFluidLowersThePriceOfThePan(t *testing.T) {
	m, err := loadModel("northfork-4")
	if err != nil {
		t.Fatal(err)
	}
	a, err := New(m)
	if err != nil {
		t.Fatal(err)
	}
	bits := func(changed engine.State) float64 {
		c := &engine.CaseFile{Unit: "northfork-4", Reports: []engine.Report{
			{Finding: "slips@D/3", State: engine.Present, By: "driver"},
			{Finding: "history_fluid_changed", State: changed, By: "driver"},
		}}
		ad := price(t, a, c, Options{Only: func(x *engine.Check) bool { return x.Name == "pan_look" }})
		if len(ad.Checks) != 1 {
			t.Fatalf("%d checks", len(ad.Checks))
		}
		return ad.Checks[0].Bits
	}
	if old, changed := bits(engine.Absent), bits(engine.Present); !(changed < 0.6*old) {
		t.Errorf("the pan tells %v bits, of a changed fluid %v", old, changed)
	}
}
