package records

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// Words are the words of a text as a search compares them: runs of letters and
// digits, small, without accents. It is what the word index of the casebook in
// a file does, for stores that have none.
func Words(text string) []string {
	var b strings.Builder
	for _, r := range norm.NFKD.String(strings.ToLower(text)) {
		switch {
		case unicode.Is(unicode.Mn, r):
		case unicode.IsLetter(r), unicode.IsNumber(r):
			b.WriteRune(r)
		default:
			b.WriteByte(' ')
		}
	}
	return strings.Fields(b.String())
}
