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
