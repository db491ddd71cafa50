package syntax

import (
	"bytes"
	"fmt"
	"unicode/utf8"
)

// foreign is what is known of the sign here, or nil.
func (g *guard) foreign() *foreigner {
	rest := g.src[g.at:]
	for i := range foreigners {
		if bytes.HasPrefix(rest, []byte(foreigners[i].text)) {
			return &foreigners[i]
		}
	}
	return nil
}

// refuseForeign refuses a sign that the rule language does not have.
func (g *guard) refuseForeign() bool {
	if f := g.foreign(); f != nil {
		return g.refuse(g.at, g.at+len(f.text), f.summary, f.detail)
	}
	r, n := utf8.DecodeRune(g.src[g.at:])
	return g.refuse(g.at, g.at+n, fmt.Sprintf("character %q", r), "It has no meaning here. Names are plain letters, digits, underscores and hyphens; other text goes in quotes.")
}

type foreigner struct{ text, summary, detail string }

var foreigners = []foreigner{
	{"(", "parenthesis", "The rule language has no function calls and needs no parentheses. Write the value itself."},
	{")", "parenthesis", "The rule language has no function calls and needs no parentheses."},
	{"<<", "heredoc", `Text over several lines is not used. Write it in quotes on one line, with \n where a line ends.`},
	{"...", "three dots", "The rule language has no for expressions and no expansion. Write the list out."},
	{"..", "two dots", "There are no ranges of values. Write the list out."},
	{"::", "two colons", "The rule language has no functions."},
	{"=>", "arrow", "The rule language has no objects and no for expressions. Use a block."},
	{"==", "operator ==", "Rules are plain data without operators. To set an argument write a single =."},
	{"!=", "operator !=", "Rules are plain data without operators."},
	{"&&", "operator &&", "Rules are plain data without operators."},
	{"||", "operator ||", "Rules are plain data without operators."},
	{"?", "conditional", "Rules are plain data without conditions. Write one value."},
	{":", "colon", `To set an argument write "="; a place or condition belongs inside the quotes of a name.`},
	{"*", "asterisk", `The rule language has no operators and no splats. "Every place" is written inside the quotes: "slips@*".`},
	{"+", "operator +", "Rules are plain data without operators. Write the result."},
	{"/", "operator /", "Rules are plain data without operators. Write the result; a row is text: \"D/3\"."},
	{"%", "operator %", "Rules are plain data without operators. Write a share as 0.25."},
	{"!", "operator !", "Rules are plain data without operators."},
	{"<", "operator <", "Rules are plain data without operators."},
	{">", "operator >", "Rules are plain data without operators."},
	{"&", "operator &", "Rules are plain data without operators."},
	{"|", "operator |", "Rules are plain data without operators."},
	{"^", "operator ^", "Rules are plain data without operators."},
	{"~", "operator ~", "Rules are plain data without operators."},
	{";", "semicolon", "Each argument has a line of its own, without a semicolon."},
	{"'", "single quote", `Text goes in double quotes: "like this".`},
	{"`", "back quote", `Text goes in double quotes: "like this".`},
	{"\u201c", "curly quote", `Text goes in straight double quotes: "like this".`},
	{"\u201d", "curly quote", `Text goes in straight double quotes: "like this".`},
}

// heredoc is the offset after the heredoc at i, or the end of the text where
// it has no end.
func heredoc(src []byte, i int) int {
	first, _, more := bytes.Cut(src[i+2:], []byte("\n"))
	word := bytes.TrimSpace(bytes.TrimPrefix(first, []byte("-")))
	for at := i + 3 + len(first); more; {
		var line []byte
		line, _, more = bytes.Cut(src[at:], []byte("\n"))
		if bytes.Equal(bytes.TrimSpace(line), word) {
			return at + len(line)
		}
		at += len(line) + 1
	}
	return len(src)
}

// longest is the longest name or number that a message repeats, in characters.
const longest = 40

// Clip shortens text for a message.
func Clip(text string) string {
	n := 0
	for i := range text {
		if n == longest {
			return text[:i] + "…"
		}
		n++
	}
	return text
}
