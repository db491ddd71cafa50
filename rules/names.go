package rules

import (
	"fmt"
	"sort"
	"strings"
)

// nameForm is what a name may look like.
type nameForm uint8

const (
	plainName   nameForm = iota // lower-case words with underscores
	idForm                      // the same, hyphens too
	gearForm                    // D, R, 3, L1
	codeForm                    // P0741
	findingForm                 // name[@place][:condition]
	anyText                     // not empty
)

func (f nameForm) String() string {
	switch f {
	case plainName:
		return "lower-case letters, digits and underscores, a letter first"
	case idForm:
		return "lower-case letters, digits, underscores and hyphens, a letter first"
	case gearForm:
		return "letters and digits, as on the selector: D, R, 3"
	case codeForm:
		return "a capital letter and four digits, as a scan tool shows it: P0741"
	case findingForm:
		return "a finding, with its place after @ and its condition after a colon where it has them: slips@D/3:hot"
	}
	return "some text"
}

// fits tells whether a name looks as it should.
func (f nameForm) fits(s string) bool {
	if s == "" || len(s) > 120 {
		return false
	}
	for i := 0; i < len(s); i++ {
		c := s[i]
		lower := c >= 'a' && c <= 'z'
		upper := c >= 'A' && c <= 'Z'
		digit := c >= '0' && c <= '9'
		ok := true
		switch f {
		case plainName:
			ok = lower || i > 0 && (digit || c == '_')
		case idForm:
			ok = lower || i > 0 && (digit || c == '_' || c == '-')
		case gearForm:
			ok = lower || upper || digit
		case codeForm:
			ok = digit || upper
		case findingForm:
			ok = lower || upper || digit || strings.IndexByte("_@/:*-", c) >= 0
		}
		if !ok {
			return false
		}
	}
	return f != gearForm || len(s) <= 4
}

// nearest gives the known name that a wrong one was most likely meant to be,
// or "". A name that begins with the other counts (threshold for
// threshold_kpa), and so do the same words in another order.
func nearest(wrong string, known []string) string {
	if len(wrong) > 64 || wrong == "" {
		return ""
	}
	best, bestCost := "", 1<<30
	lower := strings.ToLower(wrong)
	words := sortedWords(lower)
	for _, k := range known {
		if k == "" || k == wrong || len(k) > 64 || otherNumber(wrong, k) {
			continue
		}
		lk := strings.ToLower(k)
		cost := 1 << 30
		switch {
		case lk == lower:
			cost = 0
		case len(lower) >= 3 && sortedWords(lk) == words:
			cost = 1
		default:
			limit := max(1, min(len(lower), len(lk))/3)
			if len(lower) < 3 || len(lk) < 3 {
				limit = 0 // one letter of two is no slip of the pen
			}
			if d := distance(lower, lk, limit); d <= limit {
				cost = 2 * d
			} else if len(lower) >= 3 && strings.HasPrefix(lk, lower) || len(lk) >= 3 && strings.HasPrefix(lower, lk) {
				cost = 2*limit + 1 + abs(len(lower)-len(lk))
			}
		}
		if cost < bestCost || cost == bestCost && cost < 1<<30 && k < best {
			best, bestCost = k, cost
		}
	}
	return best
}

// otherNumber tells short names that differ in a digit alone: D/5 was not meant
// to be D/4.
func otherNumber(a, b string) bool {
	if len(a) != len(b) || len(a) > 6 {
		return false
	}
	differ := false
	for i := range len(a) {
		if a[i] == b[i] {
			continue
		}
		if a[i] < '0' || a[i] > '9' || b[i] < '0' || b[i] > '9' {
			return false
		}
		differ = true
	}
	return differ
}

func sortedWords(s string) string {
	if !strings.Contains(s, "_") {
		return s
	}
	w := strings.Split(s, "_")
	sort.Strings(w)
	return strings.Join(w, "_")
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// distance is the number of letters to insert, delete, change or swap with
// the next to make a into b, or more than limit when it is more.
func distance(a, b string, limit int) int {
	if abs(len(a)-len(b)) > limit {
		return limit + 1
	}
	before, prev, row := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(prev[j]+1, row[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, prev, row = prev, row, before
	}
	return prev[len(b)]
}

// didYouMean is the sentence that offers a near name, or lists what there is
// when that is little, or nothing.
func didYouMean(wrong string, known []string) string {
	if n := nearest(wrong, known); n != "" {
		return fmt.Sprintf("Did you mean %q?", n)
	}
	if len(known) > 0 && len(known) <= 12 {
		return "It may be " + orList(known) + "."
	}
	return ""
}

// orList is "a", "a or b", "a, b or c".
func orList(list []string) string {
	switch len(list) {
	case 0:
		return ""
	case 1:
		return list[0]
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}
