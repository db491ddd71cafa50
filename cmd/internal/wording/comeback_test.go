package wording

import "testing"

// The mileage of an earlier job is not that of its comeback.
func TestWithoutMiles(t *testing.T) {
	for text, want := range map[string]string{
		"gray van, 138000 miles":      "gray van",
		"gray van (138,000 mi)":       "gray van",
		"138k miles, gray van":        "gray van",
		"pickup at 90 000 miles, 4WD": "pickup, 4WD",
		"gray van":                    "gray van",
		"van 7":                       "van 7",
		"van 7, 12 minutes from here": "van 7, 12 minutes from here",
	} {
		if got := WithoutMiles(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
