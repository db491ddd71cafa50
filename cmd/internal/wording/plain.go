package wording

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"slipcase/engine"
	"slipcase/engine/near"
)

// Name makes a name readable: "low_fluid" is "low fluid".
func Name(name string) string { return engine.Spaced(name) }

// Title is a title, or else the name made readable.
func Title(title, name string) string { return engine.TitleOr(title, name) }

// Clause is a sentence as a message puts it: without capital and full stop.
func Clause(sentence string) string {
	r, n := utf8.DecodeRuneInString(sentence)
	if n == 0 {
		return ""
	}
	return string(unicode.ToLower(r)) + strings.TrimSuffix(sentence[n:], ".")
}

// Count is a number of things: "1 step", "3 steps".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Minutes is a time in words: "1 minute", "35 minutes".
func Minutes(n float64) string {
	switch text := fmt.Sprintf("%.0f", n); {
	case text == "1":
		return "1 minute"
	case text == "0" && n > 0:
		return "less than a minute"
	case text == "-0":
		return "0 minutes"
	default:
		return text + " minutes"
	}
}

// YesNo is an answer in a word.
func YesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

// State is what a report says of a finding, in a word or two.
func State(s engine.State) string {
	switch s {
	case engine.Present:
		return "yes"
	case engine.Absent:
		return "no"
	}
	return "not known"
}

// Says is who says something, as the end of a phrase: ", says road test".
func Says(by string) string {
	if by == "" {
		return ""
	}
	return ", says " + Name(by)
}

// Status is how a case stands: "comeback".
func Status(s engine.CaseStatus) string { return strings.ReplaceAll(string(s), "_", "") }

// At is a name with its place, as it is typed: "slips@D/3".
func At(name, place string) string {
	if place == "" {
		return name
	}
	return name + "@" + place
}

// Nearest is "did you mean X, Y?" for a name that is not known, or "".
func Nearest(name string, known []string) string {
	names := near.Names(name, known, 3)
	if len(names) == 0 {
		return ""
	}
	return "did you mean " + strings.Join(names, ", ") + "?"
}
