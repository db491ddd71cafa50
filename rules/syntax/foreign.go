package syntax

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// foreign reports a token that HCL or nobody knows, and takes it.
func (s *scanner) foreign() token {
	rest := s.src[s.pos:]
	start := s.pos
	for _, f := range foreigners {
		if !strings.HasPrefix(rest, f.text) {
			continue
		}
		s.fault(Span{start, start + int32(len(f.text))}, f.summary, f.detail)
		if f.text == "<<" {
			return s.heredoc()
		}
		s.pos += int32(len(f.text))
		return token{kind: tBad, at: Span{start, s.pos}}
	}
	r, n := utf8.DecodeRuneInString(rest)
	s.fault(Span{start, start + int32(n)}, fmt.Sprintf("character %q", r), "It has no meaning here. Names are plain letters, digits, underscores and hyphens; other text goes in quotes.")
	s.pos += int32(n)
	return token{kind: tBad, at: Span{start, s.pos}}
}

var foreigners = []struct{ text, summary, detail string }{
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

// heredoc passes over a heredoc, or over the rest of the file where it has no
// end: one search in either case.
func (s *scanner) heredoc() token {
	start := s.pos
	rest := s.src[s.pos:]
	eol := strings.IndexByte(rest, '\n')
	if eol < 0 {
		s.pos = int32(len(s.src))
		return token{kind: tBad, at: Span{start, s.pos}}
	}
	word := strings.TrimSpace(strings.TrimPrefix(rest[2:eol], "-"))
	at := eol + 1
	for at < len(rest) {
		end := strings.IndexByte(rest[at:], '\n')
		line := rest[at:]
		if end >= 0 {
			line = rest[at : at+end]
		}
		if strings.TrimSpace(line) == word {
			s.pos += int32(at + len(line))
			return token{kind: tBad, at: Span{start, s.pos}}
		}
		if end < 0 {
			break
		}
		at += end + 1
	}
	s.pos = int32(len(s.src))
	return token{kind: tBad, at: Span{start, s.pos}}
}

// clip shortens text for a message.
func clip(text string) string {
	if len(text) <= 24 {
		return text
	}
	cut := 24
	for cut > 0 && !utf8.RuneStart(text[cut]) {
		cut--
	}
	return text[:cut] + "…"
}
