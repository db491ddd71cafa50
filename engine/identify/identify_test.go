package identify

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"slipcase/engine"
	"slipcase/engine/quantity"
)

func size(t testing.TB, text string) *quantity.Quantity {
	t.Helper()
	q, err := quantity.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return &q
}

// yokes is a rear-wheel-drive family: a light and a heavy yoke under one tag
// series, and a late one with the light yoke and another plug.
func yokes(t testing.TB) *engine.Family {
	in := func(feature, nominal string) engine.Has {
		return engine.Has{Feature: feature, Size: size(t, nominal), Tolerance: size(t, "0.005 in")}
	}
	return &engine.Family{
		Name: "four-speed",
		Features: []engine.Feature{
			{Name: "yoke", Kind: engine.FeatureSize, Minutes: number(12)},
			{Name: "bushing", Kind: engine.FeatureSize, Minutes: number(12)},
			{Name: "plug", Kind: engine.FeatureThere, Minutes: number(3)},
			{Name: "tag", Kind: engine.FeatureText, Minutes: number(2)},
			{Name: "year", Kind: engine.FeatureYear},
		},
		Variants: []engine.Variant{
			{Name: "light", Share: number(0.5), Has: []engine.Has{in("yoke", "1.500 in"), in("bushing", "1.505 in"), {Feature: "plug"},
				{Feature: "tag", Patterns: []string{"AB-1*"}}, {Feature: "year", From: 1990, To: 1997}}},
			{Name: "heavy", Share: number(0.25), Has: []engine.Has{in("yoke", "1.600 in"), in("bushing", "1.606 in"), {Feature: "plug"},
				{Feature: "tag", Patterns: []string{"AB-1*H"}}, {Feature: "year", From: 1992, To: 1999}}},
			{Name: "late", Share: number(0.25), Has: []engine.Has{in("yoke", "1.500 in"), in("bushing", "1.505 in"), {Feature: "plug", There: true},
				{Feature: "tag", Patterns: []string{"AB-2*"}}, {Feature: "year", From: 1998, To: 2003}}},
		},
		Fits: []engine.Fit{{Name: "yoke_in_bushing", Bore: "bushing", Shaft: "yoke"}},
	}
}

func number(v float64) engine.Number { return engine.Number{Value: v, Text: fmt.Sprint(v)} }

func left(r *Result) string {
	var out []string
	for _, c := range r.Candidates {
		if c.Fits() {
			out = append(out, c.Variant.Name)
		}
	}
	return strings.Join(out, " ")
}

func TestWhatFits(t *testing.T) {
	f := yokes(t)
	for _, x := range []struct {
		why     string
		answers []Answer
		left    string
		settled string
	}{
		{"nothing seen", nil, "light heavy late", ""},
		{"within its tolerance, in another unit of measure", []Answer{{Feature: "yoke", Size: *size(t, "40.7 mm")}}, "heavy", "heavy"}, // 1.6024 in
		{"a tag of two patterns", []Answer{{Feature: "tag", Text: "ab1 77h"}}, "light heavy", ""},
		{"the later answer counts", []Answer{{Feature: "plug", There: true}, {Feature: "plug"}}, "light heavy", ""},
		{"not known tells nothing", []Answer{{Feature: "plug", Unknown: true}}, "light heavy late", ""},
		{"the first and the last year belong to it", []Answer{{Feature: "year", Year: 1997}, {Feature: "tag", Text: "AB-12"}}, "light", "light"},
		{"a year that overlaps", []Answer{{Feature: "year", Year: 1998}}, "heavy late", ""},
		{"not the family's feature", []Answer{{Feature: "color", Text: "red"}}, "light heavy late", ""},
		{"a size of another dimension fits nothing", []Answer{{Feature: "yoke", Size: *size(t, "1.5 psi")}}, "", ""},
	} {
		r := Run(f, x.answers)
		settled := ""
		if r.Settled != nil {
			settled = r.Settled.Name
		}
		if left(r) != x.left || settled != x.settled {
			t.Errorf("%s: %q fits, %q settled; want %q and %q", x.why, left(r), settled, x.left, x.settled)
		}
	}
}

// What fits nothing is strange; what fits by itself and not together clashes,
// in the smallest sets; no variant is forced on either.
func TestContradictions(t *testing.T) {
	f := yokes(t)
	r := Run(f, []Answer{{Feature: "yoke", Size: *size(t, "1.550 in")}, {Feature: "plug", There: true}})
	if r.Settled != nil || r.Left() != 0 || !slices.Equal(r.Strange, []string{"yoke"}) || len(r.Clashes) != 0 {
		t.Errorf("an unknown yoke: %+v", r)
	}
	if got := r.Closest(); len(got) != 1 || got[0].Variant.Name != "late" {
		t.Errorf("closest: %v", got)
	}
	r = Run(f, []Answer{{Feature: "year", Year: 1998}, {Feature: "yoke", Size: *size(t, "1.600 in")}, {Feature: "tag", Text: "AB-2X"}, {Feature: "plug", There: true}})
	want := [][]string{{"yoke", "tag"}, {"yoke", "plug"}}
	if r.Settled != nil || len(r.Strange) != 0 || fmt.Sprint(r.Clashes) != fmt.Sprint(want) {
		t.Errorf("a heavy yoke on a late case: strange %v, clashes %v, want %v", r.Strange, r.Clashes, want)
	}
	if len(r.Next) != 0 {
		t.Errorf("nothing is asked of what fits nothing: %v", r.Next)
	}
	// Three answers, each pair of which some variant has: the clash is of three.
	three := &engine.Family{Features: []engine.Feature{{Name: "a", Kind: engine.FeatureThere}, {Name: "b", Kind: engine.FeatureThere}, {Name: "c", Kind: engine.FeatureThere}}}
	for i := range 3 {
		v := engine.Variant{Name: fmt.Sprint(i)}
		for j, n := range []string{"a", "b", "c"} {
			v.Has = append(v.Has, engine.Has{Feature: n, There: j != i})
		}
		three.Variants = append(three.Variants, v)
	}
	r = Run(three, []Answer{{Feature: "a", There: true}, {Feature: "b", There: true}, {Feature: "c", There: true}})
	if fmt.Sprint(r.Clashes) != "[[a b c]]" {
		t.Errorf("a clash of three: %v", r.Clashes)
	}
}

// TestInformation compares with figures worked by hand. Shares 1/2, 1/4, 1/4.
//
//	yoke: heavy against the others: H(1/4) = 0.8113 bit
//	plug: late against the others: the same 0.8113 bit
//	tag:  a tag of light fits light alone (its sample has no H); one of heavy fits
//	      light and heavy, one of late late: outcomes 1/2, 1/4, 1/4 tell the
//	      variant fully: H = 1.5 bit
//	year: light 1990–97, heavy 1992–99, late 1998–2003. Light: 1990–91 (2/8) alone,
//	      1992–97 (6/8) with heavy. Heavy: 6/8 with light, 2/8 with late. Late:
//	      1998–99 (2/6) with heavy, 4/6 alone. Outcomes: L 1/8, LH 3/8 + 3/16 = 9/16,
//	      HT 1/16 + 1/12 = 7/48, T 1/6. H(outcome) = 1.6778; H(outcome | variant) =
//	      1/2·0.8113 + 1/4·0.8113 + 1/4·0.9183 = 0.8380; the difference is 0.8398.
func TestInformation(t *testing.T) {
	f := yokes(t)
	got := map[string]float64{}
	r := Run(f, nil)
	for _, q := range r.Next {
		got[q.Feature.Name] = q.Bits
	}
	for name, want := range map[string]float64{"yoke": 0.8113, "plug": 0.8113, "tag": 1.5, "year": 0.8398} {
		if math.Abs(got[name]-want) > 0.0005 {
			t.Errorf("%s tells %.4f bit, want %.4f", name, got[name], want)
		}
	}
	// By the minute: year 0.8398/1, tag 1.5/2, plug 0.8113/3, sizes 0.8113/12.
	var order []string
	for _, q := range r.Next {
		order = append(order, q.Feature.Name)
	}
	if fmt.Sprint(order) != "[year tag plug yoke bushing]" {
		t.Errorf("order %v", order)
	}
	// What tells the remaining ones apart is asked, and nothing else is.
	r = Run(f, []Answer{{Feature: "yoke", Size: *size(t, "1.5 in")}, {Feature: "year", Year: 1998}})
	if r.Settled == nil || len(r.Next) != 0 {
		t.Errorf("settled, and %v asked", r.Next)
	}
	r = Run(f, []Answer{{Feature: "year", Year: 1998}, {Feature: "tag", Unknown: true}})
	for _, q := range r.Next {
		if q.Feature.Name == "tag" || q.Feature.Name == "year" {
			t.Errorf("%s is asked again", q.Feature.Name)
		}
	}
	// A variant that says nothing of a feature is not told by it.
	f.Variants[2].Has = f.Variants[2].Has[:2]
	for _, q := range Run(f, nil).Next {
		// Light and heavy both lack the plug and late does not say: no answer tells.
		if q.Feature.Name == "plug" {
			t.Errorf("the plug tells %v bit", q.Bits)
		}
	}
}

// One variant is left only because it says nothing: that is no match.
func TestNotForced(t *testing.T) {
	f := yokes(t)
	f.Variants[2].Has = []engine.Has{{Feature: "plug", There: true}}
	r := Run(f, []Answer{{Feature: "yoke", Size: *size(t, "1.700 in")}})
	if r.Settled != nil || left(r) != "late" {
		t.Errorf("settled %v, left %q", r.Settled, left(r))
	}
	if len(r.Next) != 1 || r.Next[0].Feature.Name != "plug" {
		t.Errorf("what would speak for it: %v", r.Next)
	}
}

// TestNominalFit is a check value of the trade: a 1.606 in bushing bore over a
// 1.600 in yoke leaves 0.006 in of nominal sizes. It is the difference of two
// sizes, exact in their decimals, and is called nominal; no limit is held
// against it, none is made of it, and measured sizes are not called nominal.
func TestNominalFit(t *testing.T) {
	f := yokes(t)
	r := Run(f, []Answer{{Feature: "bushing", Size: *size(t, "1.606 in")}, {Feature: "yoke", Size: *size(t, "1.600 in")}})
	if len(r.Fits) != 1 || r.Fits[0].Left.String() != "0.006 in" || !r.Fits[0].Nominal || r.Fits[0].Fit.Limit != "" {
		t.Fatalf("%+v", r.Fits)
	}
	if r.Settled == nil || r.Settled.Name != "heavy" {
		t.Errorf("settled %v", r.Settled)
	}
	r = Run(f, []Answer{{Feature: "bushing", Size: *size(t, "1.6095 in")}, {Feature: "yoke", Size: *size(t, "1.600 in")}})
	if len(r.Fits) != 1 || r.Fits[0].Left.String() != "0.0095 in" || r.Fits[0].Nominal {
		t.Errorf("a measured bore: %+v", r.Fits)
	}
	if r = Run(f, []Answer{{Feature: "bushing", Size: *size(t, "1.606 in")}}); len(r.Fits) != 0 {
		t.Errorf("a bore without its shaft: %+v", r.Fits)
	}
	// Mixed units of measure: 1.606 in is 40.7924 mm; 40.64 mm is 1.600 in.
	if q, ok := Between(*size(t, "1.606 in"), *size(t, "40.64 mm")); !ok || q.String() != "0.006 in" {
		t.Errorf("%v", q)
	}
	if _, ok := Between(*size(t, "1 psi"), *size(t, "1 mm")); ok {
		t.Error("a pressure has no clearance")
	}
}

func TestMatches(t *testing.T) {
	for _, x := range []struct {
		pattern, text string
		want          bool
	}{
		{"NF4-1*", "nf4 17b", true}, {"NF4-1*", "NF4-2", false}, {"NF4-1*H", "NF4-1H", true}, {"NF4-1*H", "NF4-1HX", false},
		{"A?C", "abc", true}, {"A?C", "ac", false}, {"*7*", "1 27 3", true}, {"", "", true}, {"*", "", true}, {"A*B*C", "AxBxxBC", true}, {"A*B", "AB.", true},
	} {
		if got := Matches(x.pattern, x.text); got != x.want {
			t.Errorf("%q on %q: %v", x.pattern, x.text, got)
		}
	}
}

func TestFollow(t *testing.T) {
	base := &engine.Unit{
		Rows:       []engine.Row{{Range: "D", Gear: "1", Apply: []string{"a", "b"}}, {Range: "D", Gear: "2", Apply: []string{"a"}}},
		Failsafe:   map[string]engine.Failsafe{"D": {Gear: "1"}},
		Components: []engine.Component{{Name: "pump"}, {Name: "seal"}},
		Limits:     []engine.Limit{{Name: "play", High: size(t, "1 mm")}},
	}
	other := &engine.Unit{
		Rows:       []engine.Row{{Range: "D", Gear: "1", Apply: []string{"b", "a"}}, {Range: "D", Gear: "2", Apply: []string{"b"}}, {Range: "D", Gear: "3"}},
		Failsafe:   map[string]engine.Failsafe{"D": {Gear: "2"}},
		Components: []engine.Component{{Name: "pump"}, {Name: "sensor"}},
		Limits:     []engine.Limit{{Name: "play", High: size(t, "1.2 mm")}},
	}
	want := []Change{{OfRow, "D/2", Changed}, {OfRow, "D/3", Added}, {OfFailsafe, "D", Changed}, {OfPart, "seal", Dropped}, {OfPart, "sensor", Added}, {OfDimension, "play", Changed}}
	if got := Follow(base, other); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got := Follow(base, base); len(got) != 0 {
		t.Errorf("a unit against itself: %v", got)
	}
}
