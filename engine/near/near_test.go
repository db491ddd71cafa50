package near

import (
	"slices"
	"strings"
	"testing"

	"github.com/agext/levenshtein"
	"pgregory.net/rapid"
)

func TestNames(t *testing.T) {
	known := []string{"threshold_kpa", "burnt_friction", "cut_ring", "worn_pump", "slips", "lining_in_pan", "line_pressure_low", "D/3", "forward", "low"}
	for _, c := range []struct{ wrong, want string }{
		{"threshold", "threshold_kpa"},
		{"burnt_frictoin", "burnt_friction"},
		{"friction_burnt", "burnt_friction"},
		{"burned_friction", "burnt_friction"},
		{"Cut_Ring", "cut_ring"},
		{"slip", "slips"},
		{"pump_worn", "worn_pump"},
		{"line_pressure", "line_pressure_low"},
		{"fowrard", "forward"},
		{"slips", "slips"},
		{"D/3", "D/3"},
		// What deserves no suggestion.
		{"xyz", ""},
		{"reverse", ""},
		{"hot", ""},
		{"D/4", ""},
		{"no", ""},
		{"", ""},
		{strings.Repeat("slips", 20), ""},
	} {
		if got := strings.Join(Names(c.wrong, known, 1), ""); got != c.want {
			t.Errorf("near %q: %q, want %q", c.wrong, got, c.want)
		}
	}
	// Nearest first, ties by name, each once.
	got := Names("slips@D/3", []string{"slips@D/4", "slips@D/2", "slips@D/3:hot", "slip@D/3", "slips@D/3", "slips@D/2", "whines"}, 4)
	if want := []string{"slips@D/3", "slip@D/3", "slips@D/2", "slips@D/4"}; !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := Names("slips", known, 0); got != nil {
		t.Errorf("none asked for, got %v", got)
	}
}

// Whatever the order of the known names, the answer is the same, and no longer
// than asked for.
func TestNamesInAnyOrder(t *testing.T) {
	name := rapid.StringMatching(`[a-c_/1-3]{0,6}`)
	rapid.Check(t, func(t *rapid.T) {
		wrong, known := name.Draw(t, "wrong"), rapid.SliceOf(name).Draw(t, "known")
		n := rapid.IntRange(0, 4).Draw(t, "n")
		got := Names(wrong, known, n)
		if other := Names(wrong, rapid.Permutation(known).Draw(t, "other"), n); !slices.Equal(got, other) {
			t.Fatalf("%v and %v", got, other)
		}
		if len(got) > n {
			t.Fatalf("%d names, %d asked for", len(got), n)
		}
		if n > 0 && wrong != "" && slices.Contains(known, wrong) && got[0] != wrong {
			t.Fatalf("%q is known, %v comes first", wrong, got)
		}
	})
}

// A swap counts one where the plain edit distance counts two, and nothing else
// differs.
func TestDistance(t *testing.T) {
	word := rapid.StringMatching(`[ab]{0,7}`)
	rapid.Check(t, func(t *rapid.T) {
		a, b := word.Draw(t, "a"), word.Draw(t, "b")
		d, plain := distance(a, b, 10), levenshtein.Distance(a, b, nil)
		if d > plain || 2*d < plain || d != distance(b, a, 10) || (d == 0) != (a == b) {
			t.Fatalf("%q and %q: %d, plain %d", a, b, d, plain)
		}
		for limit := range 5 {
			if x := distance(a, b, limit); d <= limit && x != d || d > limit && x <= limit {
				t.Fatalf("%q and %q within %d: %d, not %d", a, b, limit, x, d)
			}
		}
	})
	if d := distance("fowrard", "forward", 3); d != 1 {
		t.Errorf("a swap counts %d", d)
	}
}

// A third of the letters of the shorter name may be wrong, one letter of a name
// of three to five, none of a shorter one; names of up to 64 bytes are compared.
func TestLimits(t *testing.T) {
	long := strings.Repeat("a", 62)
	for _, c := range []struct {
		wrong, known string
		near         bool
	}{
		{"xxxdefghi", "abcdefghi", true},
		{"xxxxefghi", "abcdefghi", false},
		{"xxcdefgh", "abcdefgh", true},
		{"xxxdefgh", "abcdefgh", false},
		{"xbc", "abc", true},
		{"xxc", "abc", false},
		{"xxcde", "abcde", false},
		{"xb", "ab", false},
		{"ab", "abc", false}, // too short to be the beginning of a name
		{long + "bb", long + "bc", true},
		{long + "bbb", long + "bb", false},
		{long + "bb", long + "bbb", false},
	} {
		if got := len(Names(c.wrong, []string{c.known}, 1)) == 1; got != c.near {
			t.Errorf("%q near %q: %v, want %v", c.wrong, c.known, got, c.near)
		}
	}
}
