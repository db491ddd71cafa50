package geartrain

import (
	"slices"
	"testing"

	"slipcase/engine"
)

// TestRepairs: one slip of the pen in a published chart (od-simpson-4), each
// kind, is found as a smallest set; the chart as published needs none.
func TestRepairs(t *testing.T) {
	row := func(u *engine.Unit, name string) *engine.Row {
		for i := range u.Rows {
			if u.Rows[i].Name() == name {
				return &u.Rows[i]
			}
		}
		t.Fatal(name)
		return nil
	}
	for _, c := range []struct {
		what  string
		spoil func(*engine.Unit)
		want  Edit
	}{
		{"an element left out", func(u *engine.Unit) { r := row(u, "D/2"); r.Apply = []string{"C0", "C1"} }, Edit{Kind: EditApply, Row: "D/2", Name: "B2"}},
		{"an element too many", func(u *engine.Unit) { r := row(u, "R/R"); r.Apply = append(slices.Clone(r.Apply), "B1") }, Edit{Kind: EditRelease, Row: "R/R", Name: "B1"}},
		{"one element for another", func(u *engine.Unit) { r := row(u, "L/1"); r.Apply = []string{"C0", "C2", "B3"} }, Edit{Kind: EditReplace, Row: "L/1", Name: "C2", With: "C1"}},
		{"two rows exchanged", func(u *engine.Unit) {
			a, b := row(u, "D/3"), row(u, "D/4")
			a.Apply, b.Apply = b.Apply, a.Apply
		}, Edit{Kind: EditExchange, Row: "D/3", With: "D/4"}},
		{"a one-way clutch turned", func(u *engine.Unit) {
			for i := range u.Elements {
				if e := &u.Elements[i]; e.Name == "F2" {
					e.A, e.B = e.B, e.A
				}
			}
		}, Edit{Kind: EditTurn, Name: "F2"}},
		{"sun and ring exchanged", func(u *engine.Unit) { g := &u.Train.Gearsets[1]; g.Sun, g.Ring = g.Ring, g.Sun }, Edit{Kind: EditSwap}},
		{"a digit of a tooth count", func(u *engine.Unit) { u.Train.Gearsets[0].SunTeeth += 4 }, Edit{Kind: EditTeeth, Name: "first"}},
		{"a brake on another member", func(u *engine.Unit) {
			i := slices.IndexFunc(u.Elements, func(e engine.Element) bool { return e.Name == "B3" })
			j := slices.IndexFunc(u.Elements, func(e engine.Element) bool { return e.Name == "B0" })
			u.Elements[i].A = u.Elements[j].A
		}, Edit{Kind: EditMember, Name: "B3", With: "was"}},
		{"a digit of a ratio", func(u *engine.Unit) { declare(u, "D/4", "0.785") }, Edit{Kind: EditRatio, Row: "D/4"}},
	} {
		u := tableUnit(t, "od-simpson-4")
		if sets := Repairs(u, 20); sets != nil {
			t.Fatalf("the published chart: %v", sets)
		}
		want := c.want
		switch want.Kind {
		case EditSwap:
			want.Name = u.Train.Gearsets[1].Name
		case EditTeeth:
			want.Name = u.Train.Gearsets[0].Name
		case EditMember:
			want.With = u.Elements[slices.IndexFunc(u.Elements, func(e engine.Element) bool { return e.Name == want.Name })].A
		}
		c.spoil(u)
		sets := Repairs(u, 20)
		found := slices.ContainsFunc(sets, func(s []Edit) bool {
			return len(s) == 1 && s[0].Kind == want.Kind && s[0].Row == want.Row && s[0].Name == want.Name && s[0].With == want.With
		})
		if !found {
			t.Errorf("%s: %v, want %v among them", c.what, sets, want)
		}
		// Every set does what it says.
		for _, s := range sets {
			v := u
			for _, e := range s {
				v = Edited(v, e)
			}
			if bad := machineOf(t, v).Disagree(); len(bad) > 0 {
				t.Errorf("%s: after %v rows %v disagree", c.what, s, bad)
			}
		}
	}
}

// TestRepairsTwo: two rows wrong in two ways take two edits, not more; nothing
// is offered for a chart that no such set mends.
func TestRepairsTwo(t *testing.T) {
	u := tableUnit(t, "ravigneaux-transaxle-4")
	for i := range u.Rows {
		switch r := &u.Rows[i]; r.Name() {
		case "D/4":
			r.Apply = []string{"C2", "B2"}
		case "R/R":
			r.Apply = []string{"C1", "B3"}
		}
	}
	sets := Repairs(u, 20)
	if len(sets) == 0 {
		t.Fatal("none")
	}
	for _, s := range sets {
		if len(s) != 2 {
			t.Errorf("%v", s)
		}
	}
	u.Rows[0].Apply, u.Rows[1].Apply = nil, nil
	declare(u, u.Rows[0].Name(), "77.7")
	if sets := Repairs(u, 20); len(sets) > 0 {
		t.Errorf("a chart beyond repair: %v", sets)
	}
}
