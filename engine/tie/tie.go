// Package tie ranks numbers that were computed, where a difference in the last
// digits means nothing and the next key, a name, is to decide.
package tie

import (
	"cmp"
	"math"
)

// Grain is the difference below which numbers are not told apart: far above the
// rounding of the exact engine (1e-16 of a probability), far below what is
// shown (one in a thousand of a probability, a hundredth of a bit or minute).
const Grain = 1e-9

// Compare sets two numbers beside each other on the grain's own grid, so that
// ties are transitive, as a sort needs it: with "differ by less than a grain" a
// could tie with b and b with c, and a stand before c.
func Compare(a, b float64) int {
	return cmp.Compare(math.Round(a/Grain), math.Round(b/Grain))
}

// More tells whether a ranks before b by size.
func More(a, b float64) bool { return Compare(a, b) > 0 }
