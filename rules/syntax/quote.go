package syntax

import (
	"strconv"
	"strings"
	"unicode"
)

// Quote is a text as the language writes it, the only place that does: without
// template, and without anything that a terminal would act on.
func Quote(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.In(r, unicode.Cf) {
			return ' '
		}
		return r
	}, s)
	return strconv.Quote(strings.NewReplacer("${", "$ {", "%{", "% {").Replace(s))
}
