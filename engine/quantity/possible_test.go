package quantity

import "testing"

// The air pushes with 29.92 inHg (standard atmosphere): no gauge reads more
// vacuum.
func TestImpossible(t *testing.T) {
	for _, tc := range []struct {
		text   string
		vacuum bool
		want   Impossible
	}{
		{"18 inHg", true, ""},
		{"29.92 inHg", true, ""},
		{"-29.92 inHg", true, ""},
		{"30 inHg", true, BeyondVacuum},
		{"70 inHg", true, BeyondVacuum},
		{"-70 inHg", true, BeyondVacuum},
		{"150 kPa", true, BeyondVacuum},
		{"150 kPa", false, ""},
		{"0 psi", false, ""},
		{"-5 psi", false, BelowZero},
		{"-1 ohm", false, BelowZero},
		{"0 ohm", false, ""},
		{"-2 L/min", false, BelowZero},
		{"-0.1 mm", false, ""},
	} {
		q, err := Parse(tc.text)
		if err != nil {
			t.Fatal(err)
		}
		if got := q.Impossible(tc.vacuum); got != tc.want {
			t.Errorf("%s: %q, want %q", tc.text, got, tc.want)
		}
	}
}
