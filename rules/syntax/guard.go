package syntax

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/apparentlymart/go-textseg/v15/textseg"
	"github.com/hashicorp/hcl/v2"

	"slipcase/engine"
	"slipcase/rules/diag"
)

// Limits of a file. A file beyond them is refused, not cut.
const (
	MaxBytes    = 256 << 10 // length of a file
	MaxDepth    = 32        // blocks and lists within one another
	MaxExponent = 30        // powers of ten in a number
	MaxDigits   = 40        // characters of a number
	MaxProblems = 100       // diagnostics kept for a file; the rest are counted
)

const maxLabels = 4 // more than any block of the language has

// guard reads the bytes of a file once, before HCL's parser sees them: depth,
// numbers, strings and every sign that the rule language does not use. It
// knows where an argument or block begins and ends, so that one with a fault
// is blanked out (same length, same lines) and all others are still read.
type guard struct {
	name string
	src  []byte
	out  []byte // what the parser gets: src, or a copy with blanks
	diag.Collector
	without []string // types of top-level blocks to pass over
	bad     []Attr   // arguments that were blanked out
	starts  []int    // where arguments and blocks begin

	at    int
	item  int      // start of the one being read; -1 between them
	equal bool     // its equals sign was read
	words int      // type and labels of a block so far
	steps int      // dots and brackets after the first word of a reference
	end   int      // end of the last token
	last  byte     // its first byte
	open  [][2]int // heads of the blocks open
	lists []int    // brackets open in the value being read
}

func newGuard(name, src string) *guard {
	g := &guard{name: name, src: []byte(src), item: -1, Collector: diag.Collector{Bound: MaxProblems}}
	g.out = g.src
	if strings.HasPrefix(src, "\ufeff") {
		g.at = 3
	}
	return g
}

// Hidden tells whether a character makes a line read otherwise than it is:
// controls, marks that turn the direction of the text, and marks of no width.
func Hidden(r rune) bool {
	return r < ' ' && r != '\n' && r != '\t' || r >= 0x7f && r < 0xa0 || r == 0x061c || r == 0x200b || r == 0x200e || r == 0x200f ||
		r >= 0x2028 && r <= 0x202e || r >= 0x2060 && r <= 0x2069 || r == 0xfeff
}

// sound reports the first thing that makes the text as a whole unreadable.
func (g *guard) sound() bool {
	src := g.src
	for i := g.at; i < len(src); {
		if c := src[i]; c >= ' ' && c < 0x7f || c == '\n' || c == '\t' || c == '\r' && i+1 < len(src) && src[i+1] == '\n' {
			i++
			continue
		}
		r, n := utf8.DecodeRune(src[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			g.fault(i, i+1, "not UTF-8", "The file holds a byte that is not UTF-8 text. Save it as UTF-8, or see whether it is a rule file at all.")
		case r == '\r':
			g.fault(i, i+1, "carriage return without line feed", "Lines end in a line feed, or carriage return and line feed. Save the file with one of these.")
		case r < 0x80:
			g.fault(i, i+1, fmt.Sprintf("control character 0x%02x", r), "A rule file is plain text. This file looks damaged, or is not a rule file.")
		case Hidden(r):
			g.fault(i, i+n, fmt.Sprintf("invisible character U+%04X", r), "It can make a line look different from what it says. Delete it.")
		default:
			i += n
			continue
		}
		return false
	}
	return true
}

func (g *guard) fault(start, end int, summary, detail string) {
	if g.Full() { // then its place is not worked out
		g.More++
		return
	}
	g.Add(engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail, Subject: Range(g.span(start, end))})
}

// span gives offsets their lines and columns, as HCL counts them.
func (g *guard) span(start, end int) hcl.Range {
	return hcl.Range{Filename: g.name, Start: g.pos(start), End: g.pos(end)}
}

func (g *guard) pos(offset int) hcl.Pos {
	before := g.src[:offset]
	line := bytes.LastIndexByte(before, '\n') + 1
	text := bytes.TrimPrefix(before[line:], []byte("\ufeff"))
	column := 1
	for len(text) > 0 {
		n, _, err := textseg.ScanGraphemeClusters(text, true)
		if n <= 0 || err != nil {
			break
		}
		text = text[n:]
		column++
	}
	return hcl.Pos{Byte: offset, Line: bytes.Count(before, []byte{'\n'}) + 1, Column: column}
}

func isIdentStart(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_'
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func (g *guard) peek(n int) byte {
	if g.at+n < len(g.src) {
		return g.src[g.at+n]
	}
	return 0
}

// run reads the whole file, or up to MaxProblems faults.
func (g *guard) run() {
	for g.at < len(g.src) && !g.Full() {
		c := g.src[g.at]
		switch {
		case c == '\n':
			if len(g.lists) == 0 {
				g.finish()
			}
			if g.at < len(g.src) {
				g.at++
			}
		case c == ' ' || c == '\t' || c == '\r':
			g.at++
		case comment(g.src[g.at:]):
			next := step(g.src, g.at)
			if next == len(g.src) && c == '/' && g.peek(1) == '*' && !bytes.HasSuffix(g.src[g.at+2:], []byte("*/")) {
				g.fault(g.at, g.at+2, "comment without end", `This comment needs its closing "*/".`)
				g.blank(g.at)
			}
			g.at = max(g.at, next)
		default:
			g.token(c)
		}
	}
	if g.Full() {
		return
	}
	if len(g.lists) > 0 {
		g.unclosed()
	}
	g.finish()
	for _, head := range g.open {
		g.fault(head[0], head[1], "block without end", "The file ends before the } that closes this block.")
		g.out = append(bytes.Clone(g.out), "\n}"...)
	}
}

// token takes one token, or blanks out the item that it spoils.
func (g *guard) token(c byte) {
	start := g.at
	if g.item < 0 && c != '}' {
		g.item, g.equal, g.words = start, false, 0
		g.starts = append(g.starts, start)
		switch {
		case c == '"':
			g.refuse(start, start+1, "text where an argument or block begins", "A line begins with the name of an argument or block, without quotes.")
			return
		case !isIdentStart(c) && g.foreign() == nil:
			g.refuse(start, start+1, "not an argument or block", `A line is "name = value" or opens a block: type "name" {`)
			return
		}
	}
	ok := true
	switch {
	case isIdentStart(c):
		for isIdentStart(g.peek(0)) || isDigit(g.peek(0)) || g.peek(0) == '-' {
			g.at++
		}
		if g.equal && string(g.src[start:g.at]) == "for" {
			ok = g.refuse(start, g.at, "for expression", "The rule language has no for. Write the list out.")
		} else {
			ok = g.label(start)
		}
	case isDigit(c):
		ok = g.number()
	case c == '"':
		ok = g.quoted() && g.label(start)
	case c == '{':
		ok = g.openBlock()
	case c == '}':
		ok = g.closeBlock()
	case c == '[':
		index := g.last == ']' || g.last == '"' || isIdentStart(g.last)
		g.at++
		g.lists = append(g.lists, start)
		if g.steps++; !index {
			g.steps = 0
		}
		switch {
		case g.steps > 1:
			ok = g.refuse(start, start+1, "nothing more belongs here", twoWords)
		case !g.equal:
			ok = g.refuse(start, start+1, "not an argument or block", `A line is "name = value" or opens a block: type "name" {`)
		case len(g.open)+len(g.lists) > MaxDepth:
			ok = g.deep(start)
		}
	case c == ']':
		g.at++
		g.lists = g.lists[:max(0, len(g.lists)-1)]
	case c == ',':
		g.at++
		g.steps = 0
	case c == '=' && g.peek(1) != '=' && g.peek(1) != '>':
		g.at++
		g.equal = g.equal || g.words == 1
		g.steps = 0
	case c == '.' && g.peek(1) != '.':
		g.at++
		if g.steps++; g.steps > 1 {
			ok = g.refuse(start, g.at, "nothing more belongs here", twoWords)
		}
	case c == '-':
		ok = g.minus()
	default:
		ok = g.refuseForeign()
	}
	if ok {
		g.end, g.last = g.at, c
	}
}

// refuse reports a fault in the item being read and blanks the item out.
func (g *guard) refuse(start, end int, summary, detail string) bool {
	g.fault(start, end, summary, detail)
	g.blank(start)
	return false
}

// blank blanks out the item being read, whose fault is at offset at, and goes
// on after it: at the end of its line, or of the line where the brackets
// opened on it are closed, or before the brace that closes the block around it.
func (g *guard) blank(at int) {
	if g.item < 0 {
		g.item, g.equal = at, false
	}
	braces, brackets := 0, len(g.lists)
	if at < len(g.src) && g.src[at] == '[' && brackets > 0 && g.lists[brackets-1] == at {
		brackets-- // it is counted below
	}
	i := at
loop:
	for i < len(g.src) {
		switch g.src[i] {
		case '{':
			braces++
		case '[', '(':
			brackets++
		case ']', ')':
			brackets = max(0, brackets-1)
		case '}':
			if braces == 0 {
				break loop
			}
			braces--
		case '\n':
			if braces == 0 && brackets == 0 {
				break loop
			}
		case '<':
			if bytes.HasPrefix(g.src[i:], []byte("<<")) {
				i = heredoc(g.src, i)
				continue
			}
		}
		i = step(g.src, i)
	}
	g.erase(g.item, i)
	g.at, g.item, g.lists = i, -1, nil
}

// erase blanks bytes out in what the parser gets. An argument among them
// leaves its name, so that it does not count as missing.
func (g *guard) erase(from, to int) {
	n := from
	for n < to && (isIdentStart(g.src[n]) || isDigit(g.src[n]) || g.src[n] == '-') {
		n++
	}
	if rest := bytes.TrimLeft(g.src[n:to], " \t"); n > from && len(rest) > 0 && rest[0] == '=' {
		g.bad = append(g.bad, Attr{Name: string(g.src[from:n]), NameAt: g.span(from, n), At: g.span(from, to), Value: Value{At: g.span(from, to)}})
	}
	if &g.out[0] == &g.src[0] {
		g.out = bytes.Clone(g.src)
	}
	for i := from; i < to; i++ {
		if g.out[i] != '\n' {
			g.out[i] = ' '
		}
	}
}

// finish ends an item at the end of its line, of its block or of the file.
func (g *guard) finish() {
	if g.item < 0 {
		return
	}
	if g.equal {
		if g.last == '=' {
			g.refuse(g.end, g.end, "value missing", "After = comes a value: text in quotes, a number, a word or a list.")
		}
		g.item = -1
		return
	}
	next := g.at
	for next < len(g.src) && (g.src[next] == '\n' || g.src[next] == '\r' || g.src[next] == ' ' || g.src[next] == '\t') {
		next++
	}
	switch {
	case next < len(g.src) && next > g.at && g.src[next] == '{':
		g.refuse(next, next+1, "brace on the next line", "The opening { belongs on the line of the block's type and labels.")
	case g.words == 1:
		g.fault(g.item, g.end, fmt.Sprintf("%q alone", Clip(string(g.src[g.item:g.end]))), `Write "name = value" for an argument, or type "name" { for a block.`)
		g.blank(g.at)
	default:
		g.fault(g.item, g.end, "block without opening brace", "The opening { belongs on the line of the block's type and labels.")
		g.blank(g.at)
	}
}

func (g *guard) label(start int) bool {
	if g.equal {
		return true
	}
	if g.words++; g.words > 1+maxLabels {
		return g.refuse(start, g.at, "too many labels", "No block of the language has so many labels.")
	}
	return true
}

func (g *guard) deep(at int) bool {
	return g.refuse(at, at+1, "nested too deep", fmt.Sprintf("Blocks and lists go at most %d deep.", MaxDepth))
}

func (g *guard) openBlock() bool {
	if g.equal {
		return g.refuse(g.at, g.at+1, "object", "The rule language has no objects. Use a block: the name, then { on the same line, without =.")
	}
	if len(g.open) == 0 && len(g.without) > 0 && g.unwanted() {
		g.blank(g.at)
		return false
	}
	if len(g.open) >= MaxDepth {
		return g.deep(g.at)
	}
	g.open = append(g.open, [2]int{g.item, g.end})
	g.at++
	g.item = -1
	return true
}

// unwanted tells whether the block that opens here is one to pass over.
func (g *guard) unwanted() bool {
	for _, w := range g.without {
		if rest, ok := bytes.CutPrefix(g.src[g.item:g.at], []byte(w)); ok && !isIdentStart(rest[0]) && !isDigit(rest[0]) && rest[0] != '-' {
			return true
		}
	}
	return false
}

func (g *guard) closeBlock() bool {
	if len(g.lists) > 0 {
		g.unclosed()
		return false
	}
	if g.finish(); g.src[g.at] != '}' {
		return false
	}
	if len(g.open) == 0 {
		g.fault(g.at, g.at+1, "unexpected }", "No block is open here.")
		g.erase(g.at, g.at+1)
		g.at++
		return false
	}
	g.open = g.open[:len(g.open)-1]
	g.at++
	return true
}

// unclosed reports a list without end, before a brace or the end of the file.
func (g *guard) unclosed() {
	at := g.lists[0]
	g.fault(at, at+1, "list without end", "The ] that closes this list is missing.")
	g.lists = nil
	g.blank(g.at)
}

func (g *guard) minus() bool {
	operand := g.last == '=' || g.last == '[' || g.last == ','
	if operand && isDigit(g.peek(1)) {
		g.at++
		return true
	}
	if !operand {
		return g.refuse(g.at, g.at+1, "operator -", "Rules are plain data without operators. Write the result.")
	}
	return g.refuse(g.at, min(g.at+2, len(g.src)), "minus without a number", "A minus is allowed only before a number.")
}

// number takes all that HCL takes as one number.
func (g *guard) number() bool {
	start := g.at
	for {
		c := g.peek(0)
		switch e := c == 'e' || c == 'E'; {
		case isDigit(c) || c == '.' && isDigit(g.peek(1)):
			g.at++
			continue
		case e && isDigit(g.peek(1)):
			g.at += 2
			continue
		case e && (g.peek(1) == '+' || g.peek(1) == '-') && isDigit(g.peek(2)):
			g.at += 3
			continue
		}
		break
	}
	text := string(g.src[start:g.at])
	mantissa, exponent := text, ""
	if i := strings.IndexAny(text, "eE"); i >= 0 {
		mantissa, exponent = text[:i], strings.TrimLeft(text[i+1:], "+-")
	}
	switch {
	case !g.equal:
		return g.refuse(start, g.at, "number where a name belongs", "Names start with a letter; a label that starts with a digit goes in quotes.")
	case strings.Count(mantissa, ".") > 1 || strings.ContainsAny(exponent, ".eE"):
		return g.refuse(start, g.at, "not a number", fmt.Sprintf("A number has one decimal point and one exponent at most; %s has more.", Clip(text)))
	case len(text) > MaxDigits:
		return g.refuse(start, g.at, "number too long", fmt.Sprintf("A number has at most %d characters; this one has %d.", MaxDigits, len(text)))
	case len(exponent) > 6 || atoi(exponent) > MaxExponent:
		return g.refuse(start, g.at, "exponent too large", fmt.Sprintf("Powers of ten go up to %d.", MaxExponent))
	case isIdentStart(g.peek(0)):
		end := g.at
		for end < len(g.src) && isIdentStart(g.src[end]) {
			end++
		}
		return g.refuse(start, end, "number with a unit outside quotes", fmt.Sprintf("A quantity is text: %q.", Clip(text)+" "+Clip(string(g.src[g.at:end]))))
	}
	return true
}

func atoi(s string) int {
	n := 0
	for i := 0; i < len(s); i++ {
		n = n*10 + int(s[i]-'0')
	}
	return n
}

// quoted takes a string, which ends on its own line.
func (g *guard) quoted() bool {
	start := g.at
	for g.at++; ; g.at++ {
		switch c := g.peek(0); c {
		case '"':
			g.at++
			return true
		case '\\':
			if c := g.peek(1); c == 'u' || c == 'U' {
				if r := escape(g.src[g.at+1:]); Hidden(r) {
					return g.refuse(g.at, g.at+2, fmt.Sprintf("invisible character U+%04X", r), "Written as an escape it can still make a line look different from what it says. Delete it.")
				}
			}
			if c := g.peek(1); c != '\n' && c != '\r' {
				g.at++
			}
		case '$', '%':
			if g.peek(1) == '{' {
				at := g.at
				g.fault(at, at+2, "template in a string", fmt.Sprintf("Text is taken literally; %q has no meaning here. Write the text out.", g.src[at:at+2]))
				g.blank(start)
				return false
			}
		case '\n', '\r', 0:
			g.fault(start, min(g.at, len(g.src)), "string without end", `A string ends with " on the line where it began.`)
			g.blank(start)
			return false
		}
	}
}

// escape reads what follows the backslash of \uXXXX or \UXXXXXXXX; a space
// when it is not a whole escape, which the parser reports.
func escape(s []byte) (r rune) {
	n := 5
	if s[0] == 'U' {
		n = 9
	}
	if len(s) < n {
		return ' '
	}
	for _, c := range s[1:n] {
		d := bytes.IndexByte([]byte("0123456789abcdef"), c|0x20)
		if d < 0 || d < 10 && c > '9' {
			return ' '
		}
		r = r<<4 | rune(d)
	}
	return r
}

// comment tells whether a comment begins here.
func comment(s []byte) bool {
	return s[0] == '#' || len(s) > 1 && s[0] == '/' && (s[1] == '/' || s[1] == '*')
}

// step is the offset after the comment, string or byte at i. Strings end on
// their line; the line end after a comment is not part of it.
func step(src []byte, i int) int {
	rest := src[i:]
	switch {
	case !comment(rest) && rest[0] != '"':
		return i + 1
	case bytes.HasPrefix(rest, []byte("/*")):
		if n := bytes.Index(rest[2:], []byte("*/")); n >= 0 {
			return i + n + 4
		}
		return len(src)
	case rest[0] == '"':
		for j := 1; j < len(rest); j++ {
			switch rest[j] {
			case '\\':
				if j+1 < len(rest) && rest[j+1] != '\n' {
					j++
				}
			case '"':
				return i + j + 1
			case '\n':
				return i + j
			}
		}
		return len(src)
	}
	if n := bytes.IndexByte(rest, '\n'); n >= 0 {
		return i + n
	}
	return len(src)
}
