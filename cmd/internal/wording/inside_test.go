package wording

import (
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/diagnose"
	"slipcase/engine/quantity"
)

func TestReadingsAreJudged(t *testing.T) {
	q := func(s string) *quantity.Quantity {
		x, err := quantity.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		return &x
	}
	both := engine.Bounds{Low: q("80 psi"), High: q("110 psi")}
	for _, c := range []struct {
		b           engine.Bounds
		value, want string
	}{
		{both, "62 psi", "62 psi (427 kPa): low, limit 80 to 110 psi"},
		{both, "80 psi", "80 psi (552 kPa): good, limit 80 to 110 psi"},
		{both, "110.1 psi", "110.1 psi (759.1 kPa): high, limit 80 to 110 psi"},
		{both, "600 kPa", "600 kPa (87.0 psi): good, limit 552 to 758 kPa"},
		{both, "4.3 bar", "4.3 bar (62.4 psi): low, limit 5.52 to 7.58 bar"},
		{engine.Bounds{High: q("0.12 mm")}, "0.005 in", "0.005 in (0.127 mm): high, limit at most 0.00472 in"},
		{engine.Bounds{Low: q("18 ohm")}, "17 ohm", "17 ohm: low, limit at least 18 ohm"},
	} {
		v := *q(c.value)
		if got := withOther(v) + ": " + judge(c.b, v); got != c.want {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestFirm(t *testing.T) {
	yes, no := true, false
	for _, c := range []struct {
		stands []*bool
		f      *diagnose.Firmness
		want   string
	}{
		{[]*bool{&yes}, nil, ""},
		{nil, &diagnose.Firmness{Tries: 32, Stays: 32}, ""},
		{[]*bool{nil}, &diagnose.Firmness{}, "Not tested whether"},
		{[]*bool{&yes, &yes}, &diagnose.Firmness{Tries: 32, Stays: 31, Worst: 0.4}, "it stayed first 31 times; at worst it had 40%."},
		{[]*bool{&no, &yes}, &diagnose.Firmness{Tries: 32, Stays: 1}, "The leader is not firm: in 32 tries with every number of the rules off by up to a factor of two, it stayed first once"},
		{[]*bool{&yes, &no}, &diagnose.Firmness{Tries: 32, Stays: 29}, "From place 2 on"},
		{[]*bool{&yes, nil}, &diagnose.Firmness{Tries: 32, Stays: 29}, "29 times"},
	} {
		var list []diagnose.Suspect
		for _, s := range c.stands {
			list = append(list, diagnose.Suspect{Component: &engine.Component{Name: "x"}, Stands: s})
		}
		if got := Firm(list, c.f); !strings.Contains(got, c.want) || (c.want == "") != (got == "") {
			t.Errorf("got %q, want %q", got, c.want)
		}
	}
}

func TestLearned(t *testing.T) {
	for want, x := range map[string]LearnedCounts{
		"No confirmed case in b.db: there is nothing to learn from yet.":                                                        {Book: "b.db"},
		"No confirmed case in b.db of unit u: there is nothing to learn from yet.":                                              {Book: "b.db", Unit: "u"},
		"1 confirmed case; no number would move, the rest stay because the cases cannot tell.":                                  {Cases: 1, Kept: 9},
		"12 confirmed cases; 3 numbers would move, the rest stay because the cases cannot tell.":                                {Cases: 12, Changes: 3, Kept: 9},
		"12 confirmed cases; 1 number moved, 1 stays because the cases agree with it, the rest because they cannot tell.":       {Applied: true, Cases: 12, Changes: 1, Kept: 9, Agree: 1},
		"12 confirmed cases; 1 number would move, 8 stay because the cases agree with them, the rest because they cannot tell.": {Cases: 12, Changes: 1, Kept: 9, Agree: 8},
		"12 confirmed cases; 1 number would move, the rest stay because the cases agree with them.":                             {Cases: 12, Changes: 1, Kept: 9, Agree: 9},
	} {
		if got := Learned(x); got != want {
			t.Errorf("got  %s\nwant %s", got, want)
		}
	}
}
