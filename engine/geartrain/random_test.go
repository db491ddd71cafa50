package geartrain

import (
	"fmt"
	"slices"

	"pgregory.net/rapid"

	"slipcase/engine"
)

// drawUnit makes a random unit: gearsets over few members, so that they share
// some; clutches, brakes, bands, one-way clutches and joints among them; rows
// that apply some elements. maxTeeth bounds the ring.
func drawUnit(t *rapid.T, maxTeeth int64) *engine.Unit {
	members := []string{engine.CaseMember}
	for i := range rapid.IntRange(4, 8).Draw(t, "members") {
		members = append(members, fmt.Sprintf("m%d", i))
	}
	pair := func(what string) (string, string) {
		a := rapid.IntRange(1, len(members)-1).Draw(t, what+" a")
		b := rapid.IntRange(0, len(members)-2).Draw(t, what+" b")
		if b >= a {
			b++
		}
		return members[a], members[b]
	}
	u := &engine.Unit{ID: "random"}
	used := map[string]bool{}
	for i := range rapid.IntRange(1, 3).Draw(t, "gearsets") {
		three := rapid.Permutation(members).Draw(t, "set")[:3]
		s := rapid.Int64Range(1, maxTeeth-1).Draw(t, "sun teeth")
		u.Train.Gearsets = append(u.Train.Gearsets, engine.Gearset{
			Name: fmt.Sprintf("set_%d", i),
			Kind: rapid.SampledFrom([]engine.GearsetKind{engine.Single, engine.Double}).Draw(t, "kind"),
			Sun:  three[0], Carrier: three[1], Ring: three[2],
			SunTeeth: s, RingTeeth: rapid.Int64Range(s+1, maxTeeth).Draw(t, "ring teeth"),
		})
		for _, m := range three {
			used[m] = true
		}
	}
	var turning []string
	for _, m := range members[1:] {
		if used[m] {
			turning = append(turning, m)
		}
	}
	ends := rapid.Permutation(turning).Draw(t, "ends")
	u.Train.Input, u.Train.Output = ends[0], ends[1]
	var names []string
	element := func(kind engine.ElementKind, n int) {
		for range n {
			e := engine.Element{Name: fmt.Sprintf("e%d", len(u.Elements)), Kind: kind}
			e.A, e.B = pair(string(kind))
			if kind == engine.Brake || kind == engine.Band {
				e.B = engine.CaseMember
				e.Wraps = rapid.IntRange(-1, 1).Draw(t, "wraps")
			}
			if kind != engine.OneWay {
				names = append(names, e.Name)
			}
			u.Elements = append(u.Elements, e)
		}
	}
	element(engine.Clutch, rapid.IntRange(1, 3).Draw(t, "clutches"))
	element(engine.Brake, rapid.IntRange(0, 2).Draw(t, "brakes"))
	element(engine.Band, rapid.IntRange(0, 1).Draw(t, "bands"))
	element(engine.OneWay, rapid.IntRange(0, 3).Draw(t, "one-way clutches"))
	for i := range rapid.IntRange(0, 2).Draw(t, "joints") {
		a, b := pair("joint")
		u.Joints = append(u.Joints, engine.Joint{Name: fmt.Sprintf("j%d", i), A: a, B: b})
	}
	for i := range rapid.IntRange(1, 5).Draw(t, "rows") {
		r := engine.Row{Range: "D", Gear: fmt.Sprint(i + 1)}
		for _, n := range names {
			if rapid.Bool().Draw(t, n) {
				r.Apply = append(r.Apply, n)
			}
		}
		u.Rows = append(u.Rows, r)
	}
	return u
}

// drawDriven draws a unit with at least one row that drives: three quarters
// of the plain ones do not.
func drawDriven(t *rapid.T) (*engine.Unit, *Machine) {
	u := drawUnit(t, 120)
	m, err := New(u)
	if err != nil {
		t.Fatal(err)
	}
	// Rows of every set of applied elements; keep the ones that drive.
	var names []string
	for _, e := range u.Elements {
		if e.Kind != engine.OneWay {
			names = append(names, e.Name)
		}
	}
	u.Rows = nil
	for set := range 1 << len(names) {
		var apply []string
		for i, n := range names {
			if set>>i&1 == 1 {
				apply = append(apply, n)
			}
		}
		if m.With(apply).Class == Drives {
			u.Rows = append(u.Rows, engine.Row{Range: "D", Gear: fmt.Sprint(set), Apply: apply})
		}
	}
	if len(u.Rows) == 0 {
		t.Skip("no set of elements drives")
	}
	if m, err = New(u); err != nil {
		t.Fatal(err)
	}
	return u, m
}

// rowFaults is no fault, then every single one.
func rowFaults(m *Machine) []Fault {
	return slices.Concat([]Fault{{}}, m.Faults())
}
