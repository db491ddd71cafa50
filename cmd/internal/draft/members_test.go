package draft

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"slipcase/engine"
)

// tell answers the questions one by one.
func tell(t *testing.T, d *Draft, lines string) {
	t.Helper()
	for _, line := range strings.Split(lines, "\n") {
		if _, err := d.Answer(strings.TrimSpace(line)); err != nil {
			t.Fatalf("%s: %q: %v", d.Next().Kind, line, err)
		}
	}
}

// TestMemberByMember: the Simpson three-speed of the language page, told without
// a unit built alike and without teeth, becomes a unit that checks without a
// word; names stand as the manual writes them.
func TestMemberByMember(t *testing.T) {
	d := New("paper-4", units(t))
	tell(t, d, `none
		Paper three-speed



		front single sun output front_ring
		rear single sun rear_carrier output

		turbine output
		clutch Direct turbine sun
		clutch Forward turbine front_ring
		band Kickdown sun
		band Low rear_carrier
		one-way Low_OWC rear_carrier

		R/R = Direct, Low
		2.21
		P/P = none
		N/N = none
		D/1 = Forward
		2.45
		D/2 = Forward Kickdown
		1.45
		D/3 = FORWARD + Direct
		1.00
		1/1 = Forward, Low

		kickdown, direct, forward, low, low_owc`)
	if q := d.Next(); q.Kind != Done {
		t.Fatalf("%+v", q)
	}
	u, diags := load(t, "paper-4", d.Text())
	for _, x := range diags {
		t.Errorf("%v\n%s", x, d.Text())
	}
	if u == nil || len(u.Rows) != 7 || u.Rows[0].RatioText != "-2.21" || u.Rows[6].RatioText != "2.45" || u.MadeParts() < 40 {
		t.Errorf("%s", d.Text())
	}
	if g := u.Train.Gearsets[0]; g.SunTeeth*62 != g.RingTeeth*28 {
		t.Errorf("teeth %d, %d", g.SunTeeth, g.RingTeeth)
	}
}

// TestMembersRefused: what cannot be taken is refused, and the question stands.
func TestMembersRefused(t *testing.T) {
	d := New("paper-4", units(t))
	tell(t, d, "none\n\n\n\n")
	for _, x := range []struct{ bad, good string }{
		{"front single sun", "front single sun output ring"},
		{"rear triple sun carrier output", "rear single sun carrier output"},
		{"front single sun output ring", ""},
		{"turbine", "turbine output"},
		{"clutch forward turbine rign", "clutch forward turbine ring"},
		{"clutch forward turbine sun", "brake low carrier"},
	} {
		kind := d.Next().Kind
		_, err := d.Answer(x.bad)
		var bad *ErrAnswer
		if !errors.As(err, &bad) || d.Next().Kind != kind {
			t.Errorf("%q: %v", x.bad, err)
		}
		tell(t, d, x.good)
	}
}

// TestParallelShafts: gear pairs on fixed shafts are a unit like any other, each
// with its own clutch and drive.
func TestParallelShafts(t *testing.T) {
	d := New("shafts-4", append(units(t), ParallelShafts()))
	replies := play(t, d, map[string]string{"train": "parallel-shafts", "ratio R": "2.2", "ratio 1": "2.5", "ratio 2": "1.5", "ratio 3": "1.03", "ratio 4": "0.7"})
	for _, r := range replies {
		if len(r.Disagree) > 0 {
			t.Errorf("%v", r.Disagree)
		}
	}
	u, diags := load(t, "shafts-4", d.Text())
	for _, x := range diags {
		t.Errorf("%v", x)
	}
	if u == nil || !slices.Equal(u.Rows[3].Apply, []string{"first"}) || u.Rows[1].RatioText != "-2.2" || u.MadeParts() < 40 {
		t.Errorf("%s", d.Text())
	}
}

// Two members that drive are refused by name, as at every other question.
func TestTwoInputsMemberByMember(t *testing.T) {
	for text, why := range map[string]string{
		"turbine, sun, output": engine.TwoInputs, "turbine motor output": engine.TwoInputs, "hybrid": engine.TwoInputs,
		"turbine": "", "a b c d": "", "variator output": engine.VariableRatio,
	} {
		d := New("x", units(t))
		for d.Next().Kind != AskEnds {
			a := ""
			switch d.Next().Kind {
			case AskTrain:
				a = "none"
			case AskGearset:
				if len(d.u.Train.Gearsets) == 0 {
					a = "front single sun carrier ring"
				}
			}
			if _, err := d.Answer(a); err != nil {
				t.Fatal(d.Next().Kind, err)
			}
		}
		_, err := d.Answer(text)
		var bad *ErrAnswer
		if !errors.As(err, &bad) || bad.NotCovered != why {
			t.Errorf("%q: %v, want %q", text, err, why)
		}
	}
}

// TestConverterClutchTold: a converter clutch is told member by member by its name
// alone, and its rows name it; where the unit built alike has none, or it goes by
// another name, lockup will do. The rows lock up, and check has nothing to say.
func TestConverterClutchTold(t *testing.T) {
	const simpson = `none
		Paper three-speed



		front single sun output front_ring
		rear single sun rear_carrier output

		turbine output
		clutch Direct turbine sun
		clutch Forward turbine front_ring
		band Kickdown sun
		band Low rear_carrier
		one-way Low_OWC rear_carrier
		CLUTCH

		R/R = Direct, Low
		2.21
		P/P = none
		D/1 = Forward
		2.45
		D/2 = Forward Kickdown
		1.45
		D/3 = Forward + Direct + LOCKUP
		1.00

		kickdown, direct, forward, low, low_owc`
	for said, called := range map[string][2]string{"converter-clutch TCC": {"TCC", "tcc"}, "converter_clutch TCC": {"lockup", "tcc"}, "": {"lockup", "lockup"}} {
		text := strings.ReplaceAll(strings.ReplaceAll(simpson, "CLUTCH", said), "LOCKUP", called[0])
		if said == "" {
			text = strings.Replace(text, "\t\t\n", "", 1)
		}
		d := New("paper-4", units(t))
		tell(t, d, text)
		u, diags := load(t, "paper-4", d.Text())
		for _, x := range diags {
			t.Errorf("%q: %v", said, x)
		}
		if u == nil {
			t.Fatalf("%q: no unit\n%s", said, d.Text())
		}
		for _, r := range u.Rows {
			if r.Lockup != (r.Name() == "D/3") {
				t.Errorf("%q: lockup in %s is %v", said, r.Name(), r.Lockup)
			}
		}
		at := slices.IndexFunc(u.Elements, func(e engine.Element) bool { return e.Kind == engine.ConverterClutch })
		if at < 0 || u.Elements[at].Name != called[1] || slices.Contains(u.Rows[len(u.Rows)-1].Apply, called[1]) {
			t.Errorf("%q: %+v", said, u.Elements)
		}
		// Its parts are made, and its faults show in the row that it is on in.
		if !slices.ContainsFunc(u.Components, func(c engine.Component) bool {
			return slices.ContainsFunc(c.Serves, func(t engine.Target) bool { return t.Name == called[1] })
		}) {
			t.Errorf("%q: no part serves it", said)
		}
	}
	// One unit has one.
	d := New("paper-4", units(t))
	tell(t, d, "none\n\n\n\n\nfront single sun carrier ring\n\nring carrier\nconverter-clutch TCC")
	if _, err := d.Answer("converter-clutch Other"); err == nil {
		t.Error("a second converter clutch was taken")
	}
	// Of a unit built alike that has none, a row says that it is there.
	d = New("shop-3", units(t))
	tell(t, d, "harrow-3")
	for d.Next().Kind != Done {
		text := ""
		if d.Next().Row == "D/3" {
			text = d.Next().Default + ", lockup"
		}
		tell(t, d, text)
	}
	u, diags := load(t, "shop-3", d.Text())
	if len(diags) > 0 || u == nil || !slices.ContainsFunc(u.Rows, func(r engine.Row) bool { return r.Lockup && r.Name() == "D/3" }) {
		t.Errorf("%v\n%s", diags, d.Text())
	}
}

// TestAgain: the first gear set, element and row are asked for with how each is
// written, the next ones in short.
func TestAgain(t *testing.T) {
	d := New("x", units(t))
	tell(t, d, "none\nx\n\n\n")
	for _, c := range []struct {
		kind Kind
		line string
	}{{AskGearset, "front single sun out ring 28 62"}, {AskElement, "clutch A turbine ring"}, {AskMore, "P/P = none"}} {
		if q := d.Next(); q.Kind != c.kind || q.Again {
			t.Fatalf("%+v, want the first %s", q, c.kind)
		}
		tell(t, d, c.line)
		if q := d.Next(); q.Kind != c.kind || !q.Again {
			t.Fatalf("%+v, want another %s", q, c.kind)
		}
		tell(t, d, map[Kind]string{AskGearset: "\nturbine out", AskElement: ""}[c.kind])
	}
}
