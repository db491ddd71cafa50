package table

import (
	"fmt"
	"io"
	"strings"
)

// Style is how a text stands out on a terminal that can show it.
type Style int

// The styles.
const (
	Plain  Style = iota
	Strong       // headings, the sentence that counts
	Good         // as it should be
	Bad          // failed, changed, an error
	Warn         // doubt it
	Faint        // asides
)

var codes = map[Style]string{Strong: "1", Good: "32", Bad: "31", Warn: "33", Faint: "2"}

// Page prints to w. Nothing it prints is wider than Width columns.
type Page struct {
	w     io.Writer
	Width int
	Color bool
	err   error
	used  bool // something stands above
}

// NewPage makes a page. Width is clamped to 20 at least.
func NewPage(w io.Writer, width int, color bool) *Page {
	return &Page{w: w, Width: max(width, 20), Color: color}
}

// Err is the first error of writing.
func (p *Page) Err() error { return p.err }

func (p *Page) line(s string) {
	if p.err != nil {
		return
	}
	p.used = true
	_, p.err = fmt.Fprintln(p.w, strings.TrimRight(s, " "))
}

// paint gives a text a style, where color is on.
func (p *Page) paint(s string, style Style) string {
	if !p.Color || style == Plain || s == "" {
		return s
	}
	return "\x1b[" + codes[style] + "m" + s + "\x1b[0m"
}

// Space leaves one line free, unless the page is still empty.
func (p *Page) Space() {
	if p.used {
		p.line("")
	}
}

// Head prints a heading, with a free line above.
func (p *Page) Head(text string) {
	p.Space()
	p.Styled(text, Strong)
}

// Para prints a paragraph.
func (p *Page) Para(format string, args ...any) { p.Styled(sprintf(format, args), Plain) }

// Styled prints a paragraph in a style.
func (p *Page) Styled(text string, style Style) {
	for _, l := range Wrap(text, p.Width) {
		p.line(p.paint(l, style))
	}
}

// Item prints a paragraph with a mark before its first line; further lines
// stand under the text.
func (p *Page) Item(mark, format string, args ...any) {
	p.StyledItem(mark, sprintf(format, args), Plain)
}

// StyledItem is Item with a style for the text.
func (p *Page) StyledItem(mark, text string, style Style) {
	mark = Clean(mark)
	indent := strings.Repeat(" ", Width(mark))
	for i, l := range Wrap(text, p.Width-len(indent)) {
		if i > 0 {
			mark = indent
		}
		p.line(mark + p.paint(l, style))
	}
}

// Cut shortens a text to a width; what was cut off is shown by "~".
func Cut(s string, width int) string {
	s = Clean(s)
	if Width(s) <= width {
		return s
	}
	out, used := "", 0
	for _, r := range s {
		w := Width(string(r))
		if used+w > width-1 {
			break
		}
		out, used = out+string(r), used+w
	}
	return out + "~"
}

func sprintf(format string, args []any) string {
	if len(args) == 0 {
		return format
	}
	return fmt.Sprintf(format, args...)
}

// Span is a stretch of a line with its style.
type Span struct {
	Text  string
	Style Style
}

// Spans prints one line made of spans, cut at the page's width.
func (p *Page) Spans(spans []Span) {
	out, room := "", p.Width
	for _, s := range spans {
		text := Cut(s.Text, room)
		out += p.paint(text, s.Style)
		room -= Width(text)
		if text != s.Text || room <= 0 {
			break
		}
	}
	p.line(out)
}
