package check

import (
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/geartrain"
)

// Every way in which a train cannot be built is said in words, with the names in
// them, at its place, and with what to do.
func TestTrainProblemsInWords(t *testing.T) {
	at := engine.Range{File: "units/x.hcl", Line: 7, Column: 3}
	for _, c := range []struct {
		p    geartrain.Problem
		want string
	}{
		{geartrain.Problem{Kind: geartrain.NoUnit}, "no unit"},
		{geartrain.Problem{Kind: geartrain.NoName, What: "element"}, "element without a name"},
		{geartrain.Problem{Kind: geartrain.NameTaken, What: "joint", Name: "rear", Other: "element"}, `joint "rear" is not the only one of that name`},
		{geartrain.Problem{Kind: geartrain.NoGearset, Name: "x"}, "train without a gearset"},
		{geartrain.Problem{Kind: geartrain.GearsetKind, Name: "front", Other: "triple"}, `gearset "front" is of kind "triple"`},
		{geartrain.Problem{Kind: geartrain.LacksMember, What: "gearset", Name: "rear"}, `gearset "rear" lacks a member`},
		{geartrain.Problem{Kind: geartrain.LacksMember, What: "one_way", Name: "low"}, `one-way "low" lacks a member`},
		{geartrain.Problem{Kind: geartrain.MemberTwice, Name: "rear"}, `gearset "rear" names one member twice`},
		{geartrain.Problem{Kind: geartrain.BadTeeth, Name: "front", Sun: 80, Ring: 62, Most: 9}, `gearset "front" has teeth [80, 62]`},
		{geartrain.Problem{Kind: geartrain.ToItself, What: "one_way", Name: "low", Other: "carrier"}, `one-way "low" joins "carrier" to itself`},
		{geartrain.Problem{Kind: geartrain.ManyLinks, Most: 64}, "too many elements and joints"},
		{geartrain.Problem{Kind: geartrain.ManyOneWays, Most: 12}, "too many one-way clutches"},
		{geartrain.Problem{Kind: geartrain.ManyMembers, Number: 300, Most: 256}, "too many members"},
		{geartrain.Problem{Kind: geartrain.KindOfElement, Name: "low", Other: "magnet"}, `element "low" is of kind "magnet"`},
		{geartrain.Problem{Kind: geartrain.MovedWith, Name: "low", Other: "sun"}, `"low" is moved with "sun"`},
		{geartrain.Problem{Kind: geartrain.NoEnd, What: "output"}, "train without output"},
		{geartrain.Problem{Kind: geartrain.UnknownEnd, What: "input", Name: "turbin", Names: []string{"turbine"}}, `unknown member "turbin" as input`},
		{geartrain.Problem{Kind: geartrain.CaseAsEnd, What: "output"}, "the case as output"},
		{geartrain.Problem{Kind: geartrain.OneEnd, Name: "turbine"}, `"turbine" is both input and output`},
		{geartrain.Problem{Kind: geartrain.NoRows, Name: "x"}, `unit "x" has no rows`},
		{geartrain.Problem{Kind: geartrain.RowTwice, Name: "D/1"}, "two rows D/1"},
		{geartrain.Problem{Kind: geartrain.NotElement, Name: "D/2", Other: "bnad", Names: []string{"band"}}, `row D/2 applies "bnad", which is not an element`},
		{geartrain.Problem{Kind: geartrain.AppliesOneWay, Name: "D/1", Other: "low"}, `row D/1 applies the one-way clutch "low"`},
		{geartrain.Problem{Kind: geartrain.AppliesBoth, Name: "D/1", Names: []string{"high", "low"}}, `row D/1 applies "high" and "low"`},
		{geartrain.Problem{Kind: geartrain.NotOneWay, Name: "D/1", Other: "rear"}, `row D/1 holds "rear", which is not a one-way clutch`},
		{geartrain.Problem{Kind: geartrain.BadFactor, What: "pressure", Name: "D/1", Other: "0"}, `row D/1 has the pressure factor "0"`},
	} {
		c.p.At = at
		d := Train(geartrain.Problems{c.p})[0]
		if d.Summary != c.want || d.Detail == "" || d.Subject != at || d.Severity != engine.Error {
			t.Errorf("%s: %+v, want %q", c.p.Kind, d, c.want)
		}
		for _, n := range c.p.Names {
			if !strings.Contains(d.Summary+d.Detail, n) {
				t.Errorf("%s: %q is not named", c.p.Kind, n)
			}
		}
	}
}
