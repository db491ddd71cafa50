// Package near makes near-name suggestions: the known names that a wrong one may
// have been meant to be. It knows nothing of what is named.
package near

import (
	"sort"
	"strings"
)

// longest is up to how many bytes a name is compared.
const longest = 64

// Names lists up to n known names near the one given, the nearest first, ties
// by name; a name that is known comes first itself. Near is a slip of the pen:
// up to a third of the letters inserted, left out, changed or swapped with the
// next. So is a name that begins with the other (threshold for threshold_kpa),
// and the same words in another order. A short name that differs in a digit
// alone is another one: D/5 was not meant to be D/4.
func Names(wrong string, known []string, n int) []string {
	if wrong == "" || len(wrong) > longest || n <= 0 {
		return nil
	}
	type scored struct {
		name string
		cost int
	}
	var all []scored
	lower := strings.ToLower(wrong)
	words := sortedWords(lower)
	for _, k := range known {
		if k == "" || len(k) > longest || k != wrong && otherNumber(wrong, k) {
			continue
		}
		if c, ok := cost(lower, words, strings.ToLower(k)); ok {
			if k == wrong {
				c = -1
			}
			all = append(all, scored{k, c})
		}
	}
	sort.Slice(all, func(i, j int) bool {
		if all[i].cost != all[j].cost {
			return all[i].cost < all[j].cost
		}
		return all[i].name < all[j].name
	})
	var out []string
	for _, x := range all {
		if len(out) < n && (len(out) == 0 || out[len(out)-1] != x.name) {
			out = append(out, x.name)
		}
	}
	return out
}

// cost is how far apart two names are, both in lower case and words the sorted
// words of the first; false when they are not near.
func cost(a, words, b string) (int, bool) {
	if a == b {
		return 0, true
	}
	if len(a) >= 3 && sortedWords(b) == words {
		return 1, true
	}
	limit := max(1, min(len(a), len(b))/3)
	if len(a) < 3 || len(b) < 3 {
		limit = 0 // one letter of two is no slip of the pen
	}
	if d := distance(a, b, limit); d <= limit {
		return 2 * d, true
	}
	if len(a) >= 3 && strings.HasPrefix(b, a) || len(b) >= 3 && strings.HasPrefix(a, b) {
		return 2*limit + 1 + abs(len(a)-len(b)), true
	}
	return 0, false
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
