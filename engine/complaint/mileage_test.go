package complaint_test

import (
	"testing"

	"slipcase/engine/complaint"
)

func TestMileage(t *testing.T) {
	for text, want := range map[string]string{
		"gray van, 138000 miles":           "138000 mi",
		"138,000 mi, white":                "138000 mi",
		"blue pickup with 90k miles on it": "90000 mi",
		"wagon, 210 thousand miles":        "210000 mi",
		"240.000 km":                       "240000 km",
		"2004 van":                         "",
		"3 mi from here":                   "",
		"138000 miles, engine 20000 miles": "",
		"99999999999999999999 miles":       "",
		"runs 12.5 miles":                  "",
		"":                                 "",
	} {
		q, ok := complaint.Mileage(text)
		if got := q.Text; ok != (want != "") || ok && got != want {
			t.Errorf("%q: %q, %v, want %q", text, got, ok, want)
		}
	}
}
