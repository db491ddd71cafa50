package edit

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"

	"slipcase/rules/syntax"
)

// text is a file being edited: its bytes and their tree. Every change parses
// it again.
type text struct {
	name string
	src  []byte
	file *syntax.File
	nl   string // line end of the file
}

func read(name string, src []byte) (*text, error) {
	t := &text{name: name, src: src, nl: "\n"}
	if i := bytes.IndexByte(src, '\n'); i > 0 && src[i-1] == '\r' {
		t.nl = "\r\n"
	}
	return t, t.parse()
}

func (t *text) parse() error {
	f, bad := syntax.Parse(t.name, string(t.src))
	if len(bad.List) > 0 {
		return fmt.Errorf("%w; fix the file first", bad.List[0])
	}
	t.file = f
	return nil
}

// splice replaces the bytes from start to end.
func (t *text) splice(start, end int, with string) error {
	out := make([]byte, 0, len(t.src)+len(with))
	out = append(out, t.src[:start]...)
	out = append(out, with...)
	t.src = append(out, t.src[end:]...)
	if err := t.parse(); err != nil {
		return fmt.Errorf("the edit would damage the file: %w", err)
	}
	return nil
}

// lastLine is the start of the line on which the block's closing brace
// stands, where the block ends on a line of its own; 0 for a one-line block.
// Line ends within comments are not counted: HCL's own tokens tell.
func (t *text) lastLine(b *syntax.Block) int {
	at := 0
	tokens, _ := hclsyntax.LexConfig(t.src, t.name, hcl.InitialPos)
	for _, k := range tokens {
		// A comment of one line takes the line's end along.
		if (k.Type == hclsyntax.TokenNewline || k.Type == hclsyntax.TokenComment && k.Bytes[len(k.Bytes)-1] == '\n') &&
			b.Open.End.Byte <= k.Range.Start.Byte && k.Range.End.Byte <= b.Close.Start.Byte {
			at = k.Range.End.Byte
		}
	}
	return at
}

// indent is the white space at the start of the line of an offset.
func (t *text) indent(at int) string {
	start := bytes.LastIndexByte(t.src[:at], '\n') + 1
	if start == 0 && bytes.HasPrefix(t.src, []byte("\ufeff")) {
		start = 3
	}
	end := start
	for end < len(t.src) && (t.src[end] == ' ' || t.src[end] == '\t') {
		end++
	}
	return string(t.src[start:end])
}

// spread puts what is in a one-line block on a line of its own.
func (t *text) spread(find func() *syntax.Block) error {
	b := find()
	if t.lastLine(b) > 0 {
		return nil
	}
	open, shut := b.Open.Start.Byte, b.Close.Start.Byte
	in := t.indent(b.Head.Start.Byte)
	body := strings.TrimSpace(string(t.src[open+1 : shut]))
	with := t.nl + in
	if body != "" {
		with = t.nl + in + step + body + with
	}
	return t.splice(open+1, shut, with)
}

// step is the usual indent of a block's body.
const step = "  "

// insert adds lines at the end of a block, before the line of its closing
// brace. lines are without indent, separated by line feeds.
func (t *text) insert(find func() *syntax.Block, lines string) error {
	if err := t.spread(find); err != nil {
		return err
	}
	b := find()
	at := t.lastLine(b)
	return t.splice(at, at, t.layout(lines, t.inner(b)))
}

// inner is the indent of a block's body: that of its first item, where it
// starts a line, or one step in.
func (t *text) inner(b *syntax.Block) string {
	first := -1
	for i := range b.Body.Attrs {
		if s := b.Body.Attrs[i].At.Start.Byte; first < 0 || s < first {
			first = s
		}
	}
	for _, c := range b.Body.Blocks {
		if s := c.Head.Start.Byte; first < 0 || s < first {
			first = s
		}
	}
	if first >= 0 {
		start := bytes.LastIndexByte(t.src[:first], '\n') + 1
		if in := t.indent(first); start+len(in) == first {
			return in
		}
	}
	return t.indent(b.Head.Start.Byte) + step
}

// layout gives lines their indent and the file's line ends.
func (t *text) layout(lines, in string) string {
	var out strings.Builder
	for _, l := range strings.Split(strings.TrimRight(lines, "\n"), "\n") {
		if l != "" {
			out.WriteString(in + l)
		}
		out.WriteString(t.nl)
	}
	return out.String()
}

// attr is an argument of a body, or nil.
func attr(b *syntax.Body, name string) *syntax.Attr {
	for i := range b.Attrs {
		if b.Attrs[i].Name == name {
			return &b.Attrs[i]
		}
	}
	return nil
}

// put sets an argument of a block to a value as written.
func (t *text) put(find func() *syntax.Block, name, value string) error {
	if a := attr(&find().Body, name); a != nil {
		return t.splice(a.Value.At.Start.Byte, a.Value.At.End.Byte, value)
	}
	return t.insert(find, name+" = "+value)
}

// drop takes an argument out, with its line when nothing else stands on it.
func (t *text) drop(find func() *syntax.Block, name string) error {
	a := attr(&find().Body, name)
	if a == nil {
		return nil
	}
	start, end := a.At.Start.Byte, a.At.End.Byte
	from := bytes.LastIndexByte(t.src[:start], '\n') + 1
	to := end
	for to < len(t.src) && (t.src[to] == ' ' || t.src[to] == '\t' || t.src[to] == '\r') {
		to++
	}
	if to < len(t.src) && t.src[to] == '\n' && strings.TrimSpace(string(t.src[from:start])) == "" {
		start, end = from, to+1
	}
	return t.splice(start, end, "")
}
