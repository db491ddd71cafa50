package wording

import "testing"

// The mileage of an earlier job is not that of its comeback.
func TestWithoutMiles(t *testing.T) {
	for text, want := range map[string]string{
		"grey van, 138000 miles":      "grey van",
		"grey van (138,000 mi)":       "grey van",
		"138k miles, grey van":        "grey van",
		"pickup at 90 000 miles, 4WD": "pickup, 4WD",
		"grey van":                    "grey van",
		"van 7":                       "van 7",
		"van 7, 12 minutes from here": "van 7, 12 minutes from here",
	} {
		if got := WithoutMiles(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}
