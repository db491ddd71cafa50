package tie

import (
	"testing"

	"pgregory.net/rapid"
)

// A tie is transitive: a sort may rely on it.
func TestTiesAreTransitive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		near := rapid.Float64Range(0, 3*Grain)
		a, b, c := 0.25+near.Draw(t, "a"), 0.25+near.Draw(t, "b"), 0.25+near.Draw(t, "c")
		if Compare(a, b) == 0 && Compare(b, c) == 0 && Compare(a, c) != 0 {
			t.Fatalf("%v = %v = %v, but not the first and the last", a, b, c)
		}
		if Compare(a, b) > 0 && Compare(b, c) >= 0 && Compare(a, c) <= 0 {
			t.Fatalf("%v, %v, %v are in no order", a, b, c)
		}
		if Compare(a, b) != -Compare(b, a) {
			t.Fatalf("%v, %v", a, b)
		}
	})
}

func TestMore(t *testing.T) {
	for _, c := range []struct {
		a, b float64
		want bool
	}{{0.5, 0.4, true}, {0.4, 0.5, false}, {0.5, 0.5, false}, {0.5 + 1e-13, 0.5, false}, {0.5 + 2e-9, 0.5, true}, {-1, -2, true}} {
		if got := More(c.a, c.b); got != c.want {
			t.Errorf("%v before %v: %v", c.a, c.b, got)
		}
	}
}
