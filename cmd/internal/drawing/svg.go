package drawing

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"math/big"
	"strconv"
	"strings"
)

// The inks: what carries torque, what is there, what is not in use.
const (
	carrying = "#0b4f8a"
	present  = "#222222"
	idle     = "#8a8a8a"
	paper    = "#ffffff"
)

// picture collects the elements of an SVG.
type picture struct {
	body          bytes.Buffer
	width, height float64
}

// attrs are attributes in pairs of name and value.
type attrs []any

func (p *picture) open(name string, a attrs) {
	p.body.WriteString("<" + name)
	for i := 0; i+1 < len(a); i += 2 {
		p.body.WriteString(" " + a[i].(string) + `="`)
		switch v := a[i+1].(type) {
		case float64:
			p.body.WriteString(num(v))
		default:
			escape(&p.body, fmt.Sprint(v))
		}
		p.body.WriteString(`"`)
	}
}

// put adds an element without content.
func (p *picture) put(name string, a attrs) {
	p.open(name, a)
	p.body.WriteString("/>\n")
}

// write adds an element with text.
func (p *picture) write(name, text string, a attrs) {
	p.open(name, a)
	p.body.WriteString(">")
	escape(&p.body, text)
	p.body.WriteString("</" + name + ">\n")
}

func (p *picture) line(x1, y1, x2, y2, weight float64, ink string, more ...any) {
	p.put("line", append(attrs{"x1", x1, "y1", y1, "x2", x2, "y2", y2, "stroke", ink, "stroke-width", weight}, more...))
}

func (p *picture) text(x, y float64, anchor, ink, s string, more ...any) {
	p.write("text", s, append(attrs{"x", x, "y", y, "text-anchor", anchor, "fill", ink}, more...))
}

// svg wraps the picture: title and description are what a screen reader reads.
func (p *picture) svg(title, description string) []byte {
	var out bytes.Buffer
	fmt.Fprintf(&out, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %s %s" width="%[1]s" height="%[2]s" role="img" font-family="sans-serif" font-size="12">`+"\n", num(p.width), num(p.height))
	out.WriteString("<title>")
	escape(&out, title)
	out.WriteString("</title>\n<desc>")
	escape(&out, description)
	out.WriteString("</desc>\n")
	fmt.Fprintf(&out, `<rect x="0" y="0" width="%s" height="%s" fill="%s"/>`+"\n", num(p.width), num(p.height), paper)
	out.Write(p.body.Bytes())
	out.WriteString("</svg>\n")
	return out.Bytes()
}

func escape(out *bytes.Buffer, s string) {
	// The only error is that of the writer, which has none.
	_ = xml.EscapeText(out, []byte(s))
}

// num writes a length with two decimals at most.
func num(f float64) string {
	return strconv.FormatFloat(math.Round(f*100)/100, 'f', -1, 64)
}

// figure writes an exact number with two decimals at most.
func figure(r *big.Rat) string {
	s := r.FloatString(2)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	return s
}

func value(r *big.Rat) float64 {
	f, _ := r.Float64()
	return f
}

// plain is a name as a text: underscores are spaces.
func plain(name string) string { return strings.ReplaceAll(name, "_", " ") }
