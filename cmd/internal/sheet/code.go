package sheet

import (
	"fmt"
	"html/template"
	"strings"

	"rsc.io/qr"
)

// Code is the code of an address as a drawing, "" where it has none.
func Code(address string) template.HTML {
	c, err := qr.Encode(address, qr.M)
	if err != nil {
		return ""
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-4 -4 %d %d" width="120" height="120" role="img" aria-label="code of this case"><path d="`, c.Size+8, c.Size+8)
	for y := range c.Size {
		for x := range c.Size {
			if c.Black(x, y) {
				fmt.Fprintf(&b, "M%d %dh1v1h-1z", x, y)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return template.HTML(b.String()) // numbers only
}
