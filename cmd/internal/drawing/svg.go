package drawing

import (
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
)

// Colors, told apart in gray as well.
const (
	ink    = "#111111" // what carries torque or is named
	accent = "#0b4f8a" // torque and applied elements: dark gray on paper
	faint  = "#6a6a6a" // what is released or runs free
	hair   = "#c4c4c4" // grid
	paper  = "#ffffff"
	alarm  = "#8a1c0b" // what a fault changed
)

// canvas writes one SVG document.
type canvas struct {
	b strings.Builder
}

// attrs are pairs of name and value. Numbers are written short.
type attrs []any

func (c *canvas) open(name string, a attrs) {
	c.b.WriteByte('<')
	c.b.WriteString(name)
	for i := 0; i+1 < len(a); i += 2 {
		c.b.WriteByte(' ')
		c.b.WriteString(a[i].(string))
		c.b.WriteString(`="`)
		c.escape(value(a[i+1]))
		c.b.WriteByte('"')
	}
}

// tag writes an element without content.
func (c *canvas) tag(name string, a ...any) {
	c.open(name, a)
	c.b.WriteString("/>\n")
}

// begin and end write an element around others.
func (c *canvas) begin(name string, a ...any) {
	c.open(name, a)
	c.b.WriteString(">\n")
}

func (c *canvas) end(name string) { c.b.WriteString("</" + name + ">\n") }

// text writes an element that holds text.
func (c *canvas) text(name, s string, a ...any) {
	c.open(name, a)
	c.b.WriteByte('>')
	c.escape(s)
	c.b.WriteString("</" + name + ">\n")
}

// escape writes text so that it is well formed whatever it holds: characters
// that XML cannot have become the replacement character.
func (c *canvas) escape(s string) {
	_ = xml.EscapeText(&c.b, []byte(s)) // a strings.Builder does not fail
}

func value(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case float64:
		s := strconv.FormatFloat(v, 'f', 3, 64)
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
		if s == "-0" {
			return "0"
		}
		return s
	}
	return fmt.Sprint(v)
}

// document puts head and frame around what was drawn. id tells this drawing from
// others on the same page.
func (c *canvas) document(id, title, desc string, w, h float64) string {
	var d canvas
	d.begin("svg", "xmlns", "http://www.w3.org/2000/svg", "viewBox", fmt.Sprintf("0 0 %s %s", value(w), value(h)),
		"width", w, "height", h, "role", "img", "aria-labelledby", id+"-title "+id+"-desc",
		"font-family", "Helvetica, Arial, sans-serif", "font-size", 13.0, "fill", ink)
	d.text("title", title, "id", id+"-title")
	d.text("desc", desc, "id", id+"-desc")
	d.tag("rect", "width", w, "height", h, "fill", paper)
	d.b.WriteString(c.b.String())
	d.end("svg")
	return d.b.String()
}

// label writes text at a point; more are further attributes.
func (c *canvas) label(x, y float64, s string, more ...any) {
	c.text("text", s, append([]any{"x", x, "y", y}, more...)...)
}

func (c *canvas) line(x1, y1, x2, y2, width float64, color string, more ...any) {
	c.tag("line", append([]any{"x1", x1, "y1", y1, "x2", x2, "y2", y2, "stroke", color, "stroke-width", width}, more...)...)
}

// path writes a closed outline.
func (c *canvas) path(fill, stroke string, width float64, points ...float64) {
	var b strings.Builder
	for i := 0; i+1 < len(points); i += 2 {
		op := "L"
		if i == 0 {
			op = "M"
		}
		fmt.Fprintf(&b, "%s%s %s ", op, value(points[i]), value(points[i+1]))
	}
	c.tag("path", "d", b.String()+"Z", "fill", fill, "stroke", stroke, "stroke-width", width)
}

// chevron marks a direction: dx, dy are -1, 0 or 1.
func (c *canvas) chevron(x, y, dx, dy float64) {
	const s = 5
	c.path(paper, accent, 1.2, x+dx*s, y+dy*s, x-dx*s-dy*s, y-dy*s-dx*s, x-dx*s/3, y-dy*s/3, x-dx*s+dy*s, y-dy*s+dx*s)
}

// ground draws the case below a point: a bar with hatching.
func (c *canvas) ground(x, y float64) {
	c.line(x-13, y, x+13, y, 2.5, ink)
	for i := -12.0; i <= 10; i += 5.5 {
		c.line(x+i+2, y, x+i-3, y+6, 1, ink)
	}
}

// wide is about how wide text stands.
func wide(s string, size float64) float64 { return 0.56 * size * float64(len([]rune(s))) }

// ident makes an id for a page out of any text.
func ident(parts ...string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9':
			return r
		}
		return '-'
	}, strings.Join(parts, "-"))
}
