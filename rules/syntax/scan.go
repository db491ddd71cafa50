package syntax

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/apparentlymart/go-textseg/v15/textseg"

	"slipcase/engine"
)

type tokenKind uint8

const (
	tEOF tokenKind = iota
	tNewline
	tIdent
	tNumber
	tString
	tOpenBrace
	tCloseBrace
	tOpenBracket
	tCloseBracket
	tEqual
	tComma
	tDot
	tMinus
	tOpenOther  // an opening parenthesis: not of the language
	tCloseOther // its end
	tBad        // not of the language; a diagnostic has been given
)

type token struct {
	kind tokenKind
	at   Span
	text string // identifier and number as written; string without quotes, escapes undone
}

// scanner cuts a file into the tokens of the rule language, one at a time.
type scanner struct {
	file  *File
	src   string
	pos   int32
	line  int  // index of the line that marked was last asked about
	quiet bool // skipping a part that has had its diagnostic
	diags Problems
}

// Problems collects the diagnostics of one file: the first MaxProblems are
// kept, the rest counted.
type Problems struct {
	List []engine.Diagnostic
	More int
}

func (p *Problems) add(d engine.Diagnostic) {
	if len(p.List) >= MaxProblems {
		p.More++
		return
	}
	p.List = append(p.List, d)
}

func (s *scanner) fault(at Span, summary, detail string) {
	if s.quiet {
		return
	}
	if len(s.diags.List) >= MaxProblems {
		s.diags.More++
		return
	}
	s.diags.add(engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail, Subject: s.file.Range(at)})
}

// newScanner strips a byte order mark, lays out the lines and checks the text
// as a whole: valid UTF-8, no control characters, no marks that turn the
// direction of the text.
func newScanner(name string, src string) *scanner {
	f := &File{Name: name, Src: src, ascii: true}
	s := &scanner{file: f, src: src}
	if strings.HasPrefix(src, "\ufeff") {
		s.pos = 3
	}
	f.lines = make([]int32, 1, 16+len(src)/24)
	f.lines[0] = s.pos
	for i := int(s.pos); i < len(src); i++ {
		if src[i] == '\n' {
			f.lines = append(f.lines, int32(i)+1)
		} else if src[i] >= utf8.RuneSelf {
			f.ascii = false
		}
	}
	return s
}

// sound reports the first thing that makes the text as a whole unreadable.
func (s *scanner) sound() bool {
	src := s.src
	for i := int(s.pos); i < len(src); {
		c := src[i]
		if c < utf8.RuneSelf {
			if c < ' ' && c != '\n' && c != '\t' && !(c == '\r' && i+1 < len(src) && src[i+1] == '\n') || c == 0x7f {
				at := Span{int32(i), int32(i) + 1}
				if c == '\r' {
					s.fault(at, "carriage return without line feed", "Lines end in a line feed, or carriage return and line feed. Save the file with one of these.")
				} else {
					s.fault(at, fmt.Sprintf("control character 0x%02x", c), "A rule file is plain text. This file looks damaged, or is not a rule file.")
				}
				return false
			}
			i++
			continue
		}
		r, n := utf8.DecodeRuneInString(src[i:])
		at := Span{int32(i), int32(i + n)}
		if r == utf8.RuneError && n == 1 {
			s.fault(at, "not UTF-8", "The file holds a byte that is not UTF-8 text. Save it as UTF-8, or see whether it is a rule file at all.")
			return false
		}
		if r >= 0x80 && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0x2028 || r == 0x2029 || r == 0xfeff {
			s.fault(at, fmt.Sprintf("invisible character U+%04X", r), "It can make a line read otherwise than it is. Delete it.")
			return false
		}
		i += n
	}
	return true
}

// marked notes the column at an offset on a line that holds more than ASCII,
// so that positions cost no second reading of a long line. Offsets come in
// rising order.
func (s *scanner) marked(offset int32) {
	f := s.file
	if f.ascii {
		return
	}
	line := s.lineStart(offset)
	from, column := line, int32(1)
	if n := len(f.marks); n > 0 {
		if last := f.marks[n-1]; last.offset >= offset {
			return
		} else if last.offset >= line {
			from, column = last.offset, last.column
		}
	}
	text := s.src[from:offset]
	plain := asciiPrefix(text)
	column += int32(plain)
	for rest := []byte(text[plain:]); len(rest) > 0; column++ {
		n, _, err := textseg.ScanGraphemeClusters(rest, true)
		if n <= 0 || err != nil {
			break
		}
		rest = rest[n:]
	}
	f.marks = append(f.marks, mark{offset, column})
}

// asciiPrefix is the length of the part of text that is ASCII and not followed
// by a mark that could join its last character.
func asciiPrefix(text string) int {
	for i := 0; i < len(text); i++ {
		if text[i] >= utf8.RuneSelf {
			if i > 0 {
				i--
			}
			return i
		}
	}
	return len(text)
}

// lineStart is the offset of the line that holds offset. Offsets rise.
func (s *scanner) lineStart(offset int32) int32 {
	lines := s.file.lines
	for s.line+1 < len(lines) && lines[s.line+1] <= offset {
		s.line++
	}
	return lines[s.line]
}

func isIdentStart(c byte) bool {
	return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c == '_'
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// next gives the next token; newlines count, comments and spaces do not.
func (s *scanner) next() token {
	t := s.scan()
	s.marked(t.at.Start)
	if t.kind == tString {
		// The quotes are characters of their own, whatever stands beside them.
		s.marked(t.at.Start + 1)
		s.marked(t.at.End - 1)
	}
	s.marked(t.at.End)
	return t
}

func (s *scanner) scan() token {
	src := s.src
	for int(s.pos) < len(src) {
		start := s.pos
		c := src[s.pos]
		one := func(k tokenKind) token {
			s.pos++
			return token{kind: k, at: Span{start, s.pos}}
		}
		switch {
		case c == ' ' || c == '\t':
			s.pos++
			continue
		case c == '\r' || c == '\n':
			if c == '\r' {
				s.pos++
			}
			return one(tNewline)
		case c == '#' || c == '/' && s.peek(1) == '/':
			i := strings.IndexByte(src[s.pos:], '\n')
			if i < 0 {
				s.pos = int32(len(src))
			} else {
				s.pos += int32(i)
			}
			continue
		case c == '/' && s.peek(1) == '*':
			i := strings.Index(src[s.pos+2:], "*/")
			if i < 0 {
				s.fault(Span{start, start + 2}, "comment without end", `This comment needs its closing "*/".`)
				s.pos = int32(len(src))
				continue
			}
			s.pos += int32(i) + 4
			continue
		case isIdentStart(c):
			for int(s.pos) < len(src) && (isIdentStart(src[s.pos]) || isDigit(src[s.pos]) || src[s.pos] == '-') {
				s.pos++
			}
			return token{kind: tIdent, at: Span{start, s.pos}, text: src[start:s.pos]}
		case isDigit(c):
			return s.number()
		case c == '"':
			return s.quoted()
		}
		switch c {
		case '{':
			return one(tOpenBrace)
		case '}':
			return one(tCloseBrace)
		case '[':
			return one(tOpenBracket)
		case ']':
			return one(tCloseBracket)
		case ',':
			return one(tComma)
		case '=':
			if n := s.peek(1); n != '=' && n != '>' {
				return one(tEqual)
			}
		case '.':
			if s.peek(1) != '.' {
				return one(tDot)
			}
		case '-':
			return one(tMinus)
		case '(':
			s.fault(Span{start, start + 1}, "parenthesis", "The rule language has no function calls and needs no parentheses. Write the value itself.")
			return one(tOpenOther)
		case ')':
			s.fault(Span{start, start + 1}, "parenthesis", "The rule language has no function calls and needs no parentheses.")
			return one(tCloseOther)
		}
		return s.foreign()
	}
	return token{kind: tEOF, at: Span{s.pos, s.pos}}
}

func (s *scanner) peek(n int32) byte {
	if int(s.pos+n) < len(s.src) {
		return s.src[s.pos+n]
	}
	return 0
}

// number takes all that HCL would take as one number literal.
func (s *scanner) number() token {
	src, start := s.src, s.pos
	for int(s.pos) < len(src) {
		c := src[s.pos]
		switch {
		case isDigit(c) || c == '.' && isDigit(s.peek(1)):
			s.pos++
			continue
		case (c == 'e' || c == 'E') && isDigit(s.peek(1)):
			s.pos += 2
			continue
		case (c == 'e' || c == 'E') && (s.peek(1) == '+' || s.peek(1) == '-') && isDigit(s.peek(2)):
			s.pos += 3
			continue
		}
		break
	}
	at := Span{start, s.pos}
	text := src[start:s.pos]
	t := token{kind: tNumber, at: at, text: text}
	mantissa, exponent := text, ""
	if i := strings.IndexAny(text, "eE"); i >= 0 {
		mantissa, exponent = text[:i], strings.TrimLeft(text[i+1:], "+-")
	}
	switch {
	case strings.Count(mantissa, ".") > 1 || strings.ContainsAny(exponent, ".eE"):
		s.fault(at, "not a number", fmt.Sprintf("A number has one decimal point and one exponent at most; %s has more.", clip(text)))
	case len(text) > MaxDigits:
		s.fault(at, "number too long", fmt.Sprintf("A number has at most %d characters; this one has %d.", MaxDigits, len(text)))
	case len(exponent) > 6 || atoi(exponent) > MaxExponent:
		s.fault(at, "exponent too large", fmt.Sprintf("Powers of ten go up to %d.", MaxExponent))
	default:
		if int(s.pos) < len(src) && isIdentStart(src[s.pos]) {
			end := s.pos
			for int(end) < len(src) && isIdentStart(src[end]) {
				end++
			}
			s.fault(Span{start, end}, "number with a unit outside quotes", fmt.Sprintf("A quantity is text: %q.", clip(text)+" "+clip(src[s.pos:end])))
			s.pos = end
			t.kind = tBad
		}
		return t
	}
	t.kind = tBad
	return t
}

func atoi(s string) int {
	n := 0
	for i := 0; i < len(s); i++ {
		n = n*10 + int(s[i]-'0')
	}
	return n
}

// quoted takes a string. It ends on its own line, always: after a fault the
// rest of the line is passed over.
func (s *scanner) quoted() token {
	src, start := s.src, s.pos
	escaped := false
	for i := start + 1; int(i) < len(src); i++ {
		switch c := src[i]; c {
		case '"':
			s.pos = i + 1
			t := token{kind: tString, at: Span{start, s.pos}, text: src[start+1 : i]}
			if escaped {
				return s.unescape(t)
			}
			return t
		case '\\':
			escaped = true
			if int(i)+1 < len(src) && src[i+1] != '\n' && src[i+1] != '\r' {
				i++
			}
		case '$', '%':
			if int(i)+1 < len(src) && src[i+1] == '{' {
				s.fault(Span{i, i + 2}, "template in a string", fmt.Sprintf("Text is taken as it stands; %q has no meaning here. Write the text out.", src[i:i+2]))
				return s.skipLine(start)
			}
		case '\n', '\r':
			s.fault(Span{start, i}, "string without end", `A string ends with " on the line where it began.`)
			s.pos = i
			return token{kind: tBad, at: Span{start, i}}
		}
	}
	s.fault(Span{start, int32(len(src))}, "string without end", `A string ends with " on the line where it began.`)
	s.pos = int32(len(src))
	return token{kind: tBad, at: Span{start, s.pos}}
}

func (s *scanner) unescape(t token) token {
	raw := t.text
	out := make([]byte, 0, len(raw))
	for i := 0; i < len(raw); i++ {
		if raw[i] != '\\' {
			out = append(out, raw[i])
			continue
		}
		i++
		digits := 0
		switch raw[i] {
		case 'n':
			out = append(out, '\n')
		case 't':
			out = append(out, '\t')
		case 'r':
			out = append(out, '\r')
		case '"', '\\':
			out = append(out, raw[i])
		case 'u':
			digits = 4
		case 'U':
			digits = 8
		default:
			at := t.at.Start + 1 + int32(i)
			s.fault(Span{at - 1, at + 1}, "unknown escape", `After \ comes one of n, t, r, ", \, u and four hex digits, U and eight.`)
			t.kind = tBad
			return t
		}
		if digits == 0 {
			continue
		}
		var r rune
		ok := i+digits < len(raw)
		for k := 1; ok && k <= digits; k++ {
			d := strings.IndexByte("0123456789abcdef", raw[i+k]|0x20)
			ok = d >= 0 && (d > 9 || raw[i+k] <= '9')
			r = r<<4 | rune(d)
		}
		if !ok || !utf8.ValidRune(r) || r < ' ' && r != '\n' && r != '\t' && r != '\r' {
			at := t.at.Start + int32(i)
			s.fault(Span{at, at + 2}, "unknown escape", `\u takes four hex digits, \U eight, of a character that exists and can be seen.`)
			t.kind = tBad
			return t
		}
		out = utf8.AppendRune(out, r)
		i += digits
	}
	t.text = string(out)
	return t
}

// skipLine gives a bad token from start to the end of the line.
func (s *scanner) skipLine(start int32) token {
	i := strings.IndexByte(s.src[s.pos:], '\n')
	if i < 0 {
		s.pos = int32(len(s.src))
	} else {
		s.pos += int32(i)
		if s.pos > start && s.src[s.pos-1] == '\r' {
			s.pos--
		}
	}
	return token{kind: tBad, at: Span{start, s.pos}}
}
