package diag

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/apparentlymart/go-textseg/v15/textseg"
	"golang.org/x/text/width"

	"slipcase/engine"
)

// Role says what a piece of a rendered diagnostic is, for color.
type Role uint8

// The roles of pieces.
const (
	RolePlain    Role = iota
	RolePlace         // file:line:col
	RoleSeverity      // error, warning
	RoleSummary
	RoleGutter // line numbers and the bar beside the source
	RoleSource
	RoleMark // carets under the words at fault
	RoleDetail
)

// Piece is a stretch of rendered text with its role.
type Piece struct {
	Text string
	Role Role
}

// leastWidth is the narrowest text that Pieces makes.
const leastWidth = 30

// Pieces is a diagnostic as a compiler writes it, cut by role: place, severity,
// what is wrong, the line with carets under the words at fault, and what to do.
// source is the text of the file that the diagnostic is about, nil when it is
// not at hand; width is the widest line of it in columns. What to do is one
// piece: who prints it breaks it into lines and indents them. The text ends in a
// newline and holds no control characters of the source.
func Pieces(d engine.Diagnostic, source []byte, width int) []Piece {
	width = max(width, leastWidth)
	r := renderer{width: width}
	if place := d.Subject.String(); place != "" {
		r.put(RolePlace, place)
		r.put(RolePlain, ": ")
	}
	r.put(RoleSeverity, string(d.Severity))
	r.put(RolePlain, ": ")
	r.put(RoleSummary, visible(d.Summary))
	r.put(RolePlain, "\n")
	if source != nil && d.Subject.Line > 0 {
		r.excerpt(d, strings.TrimPrefix(string(source), "\ufeff"))
	}
	if d.Detail != "" {
		r.put(RoleDetail, visible(d.Detail))
		r.put(RolePlain, "\n")
	}
	return r.pieces
}

type renderer struct {
	width  int
	pieces []Piece
}

func (r *renderer) put(role Role, text string) {
	if text != "" {
		r.pieces = append(r.pieces, Piece{text, role})
	}
}

// excerpt shows the head of the block around the fault, then the lines of the
// fault, three at most, and a second place in the same file.
func (r *renderer) excerpt(d engine.Diagnostic, source string) {
	lines := strings.Split(source, "\n")
	s := d.Subject
	if s.Line > len(lines) || strings.TrimSpace(lines[s.Line-1]) == "" && s.Line == s.EndLine && s.Column == 1 && len(lines) == 1 {
		return
	}
	end := min(max(s.EndLine, s.Line), len(lines))
	digits := len(fmt.Sprint(max(end, d.Context.Line, d.Also.Line)))
	same := func(x engine.Range) bool { return x.File == s.File && x.Line > 0 && x.Line <= len(lines) }
	if same(d.Also) && d.Also.Line < s.Line {
		r.line(digits, d.Also.Line, lines[d.Also.Line-1], d.Also, '-')
	}
	if same(d.Context) && d.Context.Line < s.Line {
		r.line(digits, d.Context.Line, lines[d.Context.Line-1], engine.Range{}, 0)
		if d.Context.Line < s.Line-1 {
			r.put(RoleGutter, fmt.Sprintf("  %*s", digits, "..."))
			r.put(RolePlain, "\n")
		}
	}
	const most = 3
	for n := s.Line; n <= end; n++ {
		if n == s.Line+most-1 && end > n {
			r.put(RoleGutter, fmt.Sprintf("  %*s ", digits, "..."))
			r.put(RoleMark, fmt.Sprintf("up to line %d", end))
			r.put(RolePlain, "\n")
			break
		}
		r.line(digits, n, lines[n-1], s, '^')
	}
	if same(d.Also) && d.Also.Line > s.Line {
		r.line(digits, d.Also.Line, lines[d.Also.Line-1], d.Also, '-')
	}
}

func (r *renderer) gutter(digits int, what string) {
	r.put(RoleGutter, fmt.Sprintf("  %*s | ", digits, what))
}

// line shows one line of the source, cut to the width around the marked
// columns, and a line of marks below it where the range touches it.
func (r *renderer) line(digits, n int, text string, mark engine.Range, sign byte) {
	cells := layOut(strings.TrimSuffix(text, "\r"))
	from, to := 0, 0 // marked cells
	if mark.Line > 0 {
		if mark.Line == n {
			from = mark.Column - 1
		} else {
			from = indent(cells)
		}
		to = len(cells)
		if mark.EndLine == n {
			to = mark.EndColumn - 1
		}
		from = min(max(from, 0), len(cells))
		to = min(max(to, from+1), max(len(cells), from+1))
	}
	room := r.width - digits - 5
	start, stop, before, after := window(cells, from, room)
	var shown strings.Builder
	shown.WriteString(before)
	for _, c := range cells[start:stop] {
		shown.WriteString(c.text)
	}
	shown.WriteString(after)
	r.gutter(digits, fmt.Sprint(n))
	r.put(RoleSource, strings.TrimRight(shown.String(), " "))
	r.put(RolePlain, "\n")
	if mark.Line == 0 {
		return
	}
	blank := len(before) / 3 // the ellipsis is three bytes and one column
	for _, c := range cells[start:min(from, stop)] {
		blank += c.width
	}
	marks := 0
	for i := from; i < to; i++ {
		switch {
		case i >= stop && i > from:
		case i < len(cells):
			marks += cells[i].width
		default:
			marks++
		}
	}
	r.gutter(digits, "")
	r.put(RolePlain, strings.Repeat(" ", blank))
	r.put(RoleMark, strings.Repeat(string(sign), max(1, marks)))
	r.put(RolePlain, "\n")
}

// cell is one column position of a source line: a character with what joins
// it, as it is shown, and its width.
type cell struct {
	text  string
	width int
}

func indent(cells []cell) int {
	for i, c := range cells {
		if strings.TrimSpace(c.text) != "" {
			return i
		}
	}
	return 0
}

// layOut cuts a line into cells, one for each visible character as columns
// count them; a tab is shown as two spaces, a control character or broken byte
// as a replacement character, a joiner not at all.
func layOut(s string) []cell {
	if len(s) > 1<<14 {
		s = s[:1<<14]
	}
	cells := make([]cell, 0, len(s))
	for rest := []byte(s); len(rest) > 0; {
		n, cluster, err := textseg.ScanGraphemeClusters(rest, true)
		if n <= 0 || err != nil {
			break
		}
		rest = rest[n:]
		cells = append(cells, show(string(cluster)))
	}
	return cells
}

func show(cluster string) cell {
	if cluster == "\t" {
		return cell{"  ", 2}
	}
	var c cell
	for i, r := range cluster {
		switch {
		case unicode.In(r, unicode.Mn, unicode.Me):
			if i == 0 {
				c.text, c.width = " ", 1
			}
			c.text += string(r)
		case unicode.In(r, unicode.Cf) && i > 0:
		case r == utf8.RuneError || !unicode.IsPrint(r) && r != ' ':
			c.text += "\ufffd"
			c.width++
		default:
			c.text += string(r)
			c.width++
			if k := width.LookupRune(r).Kind(); k == width.EastAsianWide || k == width.EastAsianFullwidth {
				c.width++
			}
		}
	}
	return c
}

// window chooses which cells of a long line are shown, with an ellipsis where
// something is left out.
func window(cells []cell, focus, room int) (start, stop int, before, after string) {
	total := 0
	for _, c := range cells {
		total += c.width
	}
	if total <= room {
		return 0, len(cells), "", ""
	}
	// A third of the room stands before the fault.
	left := 0
	for start = min(focus, len(cells)); start > 0 && left+cells[start-1].width <= room/3; start-- {
		left += cells[start-1].width
	}
	if start > 0 {
		before = "…"
	}
	used := len(before) / 3
	for stop = start; stop < len(cells) && used+cells[stop].width <= room-1; stop++ {
		used += cells[stop].width
	}
	if stop < len(cells) {
		after = "…"
	}
	return start, stop, before, after
}

// visible takes out what would steer a terminal.
func visible(s string) string {
	return strings.Map(func(c rune) rune {
		if c == '\n' || c == '\t' {
			return ' '
		}
		if unicode.IsControl(c) || unicode.In(c, unicode.Cf) {
			return '\ufffd'
		}
		return c
	}, s)
}
