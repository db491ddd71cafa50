package table

import (
	"strings"
	"unicode"
)

// Clean replaces what does not belong into a text and could change what stands
// around it: control characters (escape sequences begin with one) and
// characters that change the direction of writing. Line breaks stay; a tab is
// two spaces. Titles, notes, names of files and lines of rules come from
// outside: everything that is printed goes through here.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r != '\n' && r != '\t' && Unsafe(r) {
			return unicode.ReplacementChar
		}
		return r
	}, strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\t", "  "))
}

// Unsafe tells a control character and one that changes the direction of
// writing (Unicode property Bidi_Control).
func Unsafe(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) }
