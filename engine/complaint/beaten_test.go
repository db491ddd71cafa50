package complaint

import "testing"

// A finding that explains words which another explains too is left out where it
// is heard less than four fifths as clearly (invented): not where the two share no
// word, or only the place.
func TestBeaten(t *testing.T) {
	list := []token{{idea: "slips"}, {idea: "cold"}, {idea: "hot"}, {place: &place{kind: gear, name: "3"}}}
	better := []hit{{used: map[int]bool{0: true, 1: true, 3: true}, weight: 10}}
	for name, c := range map[string]struct {
		h    hit
		want bool
	}{
		"a little less clear":    {hit{used: map[int]bool{0: true, 2: true}, weight: 8}, false},
		"much less clear":        {hit{used: map[int]bool{0: true, 2: true}, weight: 7.9}, true},
		"half as clear":          {hit{used: map[int]bool{0: true, 2: true}, weight: 5}, true},
		"no word in common":      {hit{used: map[int]bool{2: true}, weight: 1}, false},
		"the place in common":    {hit{used: map[int]bool{2: true, 3: true}, weight: 1}, false},
		"nothing of its own":     {hit{used: map[int]bool{0: true}, weight: 10}, true},
		"absent, the same words": {hit{used: map[int]bool{0: true, 1: true, 3: true}, weight: 10, absent: true}, true},
		"the opposite was said":  {hit{used: map[int]bool{2: true}, weight: 10, weakly: true, absent: true}, true},
	} {
		if got := beaten(list, c.h, better); got != c.want {
			t.Errorf("%s: beaten %v", name, got)
		}
	}
}
