package syntax

import (
	"fmt"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/hashicorp/hcl/v2"
	"github.com/hashicorp/hcl/v2/hclsyntax"
	"github.com/zclconf/go-cty/cty"

	"slipcase/engine"
	"slipcase/rules/diag"
)

// Parse reads one file: the guard first, then HCL's own parser. The tree holds
// all that could be read; what could not has a diagnostic and is left out, or
// is a value of kind Bad. Blocks of the types in without are passed over where
// they stand at the top of the file, at little cost.
func Parse(name, src string, without ...string) (*File, diag.Collector) {
	f := &File{Name: name, Src: src, Refused: true}
	if len(src) > MaxBytes {
		f.Src = ""
		return f, diag.Collector{List: []engine.Diagnostic{TooLong(name, int64(len(src)))}}
	}
	g := newGuard(name, src)
	if !g.sound() {
		return f, g.Collector
	}
	g.without = without
	if g.run(); g.Full() {
		return f, g.Collector
	}
	f.Refused = false
	r := reader{g}
	r.body(&f.Body, g.parse())
	for _, a := range g.bad {
		f.Body.insert(a)
	}
	sort.SliceStable(g.List, func(i, j int) bool { return g.List[i].Subject.Byte < g.List[j].Subject.Byte })
	return f, g.Collector
}

// TooLong is the diagnostic for a file over MaxBytes, which need not be read.
func TooLong(name string, size int64) engine.Diagnostic {
	return engine.Diagnostic{
		Severity: engine.Error,
		Summary:  "file too long",
		Detail:   fmt.Sprintf("A file of rules has at most %d KiB; this one has %d KiB. Split it.", MaxBytes>>10, (size+1023)>>10),
		Subject:  engine.Range{File: name, Line: 1, Column: 1, EndLine: 1, EndColumn: 1},
	}
}

// parse hands the file to HCL's parser. After an error that parser is often
// lost for the rest of the file, so the item with the first error is blanked
// out and the file parsed again, a bounded number of times.
func (g *guard) parse() *hclsyntax.Body {
	rounds := min(MaxProblems, 8+(1<<20)/(len(g.out)+1))
	for done := -1; ; rounds-- {
		file, diags := hclsyntax.ParseConfig(g.out, g.name, hcl.InitialPos)
		body := file.Body.(*hclsyntax.Body)
		first := -1
		for i, d := range diags {
			switch {
			case d.Severity != hcl.DiagError || d.Subject == nil:
			case d.Summary == "Attribute redefined":
				if at := d.Subject.Start.Byte; at > done {
					done = at
					g.report(d)
				}
			case first < 0 || d.Subject.Start.Byte < diags[first].Subject.Start.Byte:
				first = i
			}
		}
		if first < 0 {
			return body
		}
		g.report(diags[first])
		at := diags[first].Subject.Start.Byte
		start := sort.SearchInts(g.starts, at+1) - 1
		if rounds <= 0 || g.Full() || start < 0 || g.out[g.starts[start]] == ' ' {
			return body
		}
		g.item, g.lists = g.starts[start], nil
		g.blank(g.item)
	}
}

// plainer says in the words of the rule language what HCL says of a fault.
var plainer = map[string][2]string{
	"Missing item separator":                   {"comma missing in a list", "Separate the items of a list with commas, and end the list with ]."},
	"Unexpected comma after argument":          {"comma after argument", "One argument per line, without a comma."},
	"Missing newline after argument":           {"line goes on after argument", "One argument per line; a block's closing brace ends its line."},
	"Missing newline after block definition":   {"line goes on after block", "A block's closing brace ends its line."},
	"Invalid single-argument block definition": {"one-line block goes on", "A block on one line holds one argument and closes at once. Put each on a line of its own."},
	"Argument definition required":             {"block within a one-line block", "A block on one line holds one argument at most. Put each on a line of its own."},
	"Invalid expression":                       {"not a value", "After = comes a value: text in quotes, a number, a word or a list."},
	"Invalid escape sequence":                  {"unknown escape", `After \ comes one of n, t, r, ", \, u and four hex digits, U and eight.`},
}

func (g *guard) report(d *hcl.Diagnostic) {
	if g.Full() {
		g.More++
		return
	}
	out := engine.Diagnostic{Severity: engine.Error, Summary: strings.ToLower(d.Summary[:1]) + d.Summary[1:], Detail: d.Detail, Subject: Range(*d.Subject)}
	if p, ok := plainer[d.Summary]; ok {
		out.Summary, out.Detail = p[0], p[1]
	}
	if d.Summary == "Attribute redefined" {
		out.Summary = fmt.Sprintf("argument %q given twice", Clip(string(g.src[d.Subject.Start.Byte:d.Subject.End.Byte])))
		out.Detail = "Delete one of the two."
	}
	if r := &out.Subject; r.EndLine > r.Line {
		r.EndLine, r.EndColumn, r.EndByte = r.Line, r.Column, r.Byte
	}
	g.Add(out)
}

// insert puts an argument that could not be read into the block it stands in.
func (b *Body) insert(a Attr) {
	for _, c := range b.Blocks {
		if c.Open.Start.Byte < a.At.Start.Byte && a.At.End.Byte <= c.Close.Start.Byte {
			c.Body.insert(a)
			return
		}
	}
	for i := range b.Attrs {
		if b.Attrs[i].Name == a.Name {
			return
		}
	}
	i := sort.Search(len(b.Attrs), func(i int) bool { return b.Attrs[i].At.Start.Byte > a.At.Start.Byte })
	b.Attrs = append(b.Attrs, Attr{})
	copy(b.Attrs[i+1:], b.Attrs[i:])
	b.Attrs[i] = a
}

// reader turns HCL's tree into ours, which holds what the rule language has:
// numbers, and strings where nothing is escaped, are cut from the source.
type reader struct{ *guard }

func (r reader) body(out *Body, in *hclsyntax.Body) {
	if in == nil {
		return
	}
	out.Attrs = make([]Attr, 0, len(in.Attributes))
	for _, a := range in.Attributes {
		if a != nil {
			out.Attrs = append(out.Attrs, Attr{Name: a.Name, NameAt: a.NameRange, At: a.SrcRange})
		}
	}
	sort.Slice(out.Attrs, func(i, j int) bool { return out.Attrs[i].At.Start.Byte < out.Attrs[j].At.Start.Byte })
	for i := range out.Attrs {
		a := &out.Attrs[i]
		a.Value = r.value(in.Attributes[a.Name].Expr, a.At)
	}
	out.Blocks = make([]*Block, 0, len(in.Blocks))
	for _, b := range in.Blocks {
		block := &Block{Type: b.Type, TypeAt: b.TypeRange, Open: b.OpenBraceRange, Close: b.CloseBraceRange, Head: b.TypeRange}
		for i, l := range b.Labels {
			block.Labels = append(block.Labels, Label{l, b.LabelRanges[i]})
			block.Head.End = b.LabelRanges[i].End
		}
		r.body(&block.Body, b.Body)
		out.Blocks = append(out.Blocks, block)
	}
}

func (r reader) text(at hcl.Range) string { return string(r.src[at.Start.Byte:at.End.Byte]) }

func (r reader) refused(at hcl.Range, summary, detail string) Value {
	r.Add(engine.Diagnostic{Severity: engine.Error, Summary: summary, Detail: detail, Subject: Range(at)})
	return Value{At: at}
}

const twoWords = `A reference is two words: element.forward or shift["1-2"].`

// value reads an expression; at is the place of its argument, for one that
// HCL could not read.
func (r reader) value(e hclsyntax.Expression, at hcl.Range) Value {
	if e == nil {
		return Value{At: at}
	}
	at = e.Range()
	v := Value{At: at}
	switch e := e.(type) {
	case *hclsyntax.TemplateExpr:
		raw := r.text(at)
		if v.Kind = String; !strings.ContainsFunc(raw, func(c rune) bool { return c == '\\' || c >= utf8.RuneSelf }) {
			v.Text = raw[1 : len(raw)-1]
			return v
		}
		s, diags := e.Value(nil)
		if diags.HasErrors() || s.Type() != cty.String {
			return Value{At: at}
		}
		v.Text = s.AsString()
	case *hclsyntax.LiteralValueExpr:
		switch {
		case e.Val.IsNull():
			return r.refused(at, "null", "There is no null. Leave the argument out.")
		case e.Val.Type() == cty.Number:
			v.Kind, v.Text = Number, r.text(at)
		case e.Val.Type() == cty.Bool:
			v.Kind, v.Text = Word, r.text(at)
		default:
			return Value{At: at}
		}
	case *hclsyntax.UnaryOpExpr:
		if v = r.value(e.Val, at); v.Kind != Number {
			return r.refused(at, "minus without a number", "A minus is allowed only before a number.")
		}
		v.Text, v.At = "-"+v.Text, at
	case *hclsyntax.ScopeTraversalExpr:
		return r.words(e, v)
	case *hclsyntax.RelativeTraversalExpr:
		return r.refused(e.Traversal.SourceRange(), "nothing more belongs here", twoWords)
	case *hclsyntax.IndexExpr:
		return r.refused(e.BracketRange, "index without a name", `Between the brackets goes one name in quotes: shift["1-2"].`)
	case *hclsyntax.TupleConsExpr:
		v.Kind, v.Items = List, make([]Value, 0, len(e.Exprs))
		for _, item := range e.Exprs {
			v.Items = append(v.Items, r.value(item, at))
		}
	default:
		return r.refused(at, "not a value", "A value is text in quotes, a number, a word or a list.")
	}
	return v
}

// words reads a bare word or a reference of two.
func (r reader) words(e *hclsyntax.ScopeTraversalExpr, v Value) Value {
	t := e.Traversal
	v.Kind, v.Text = Word, t.RootName()
	if len(t) == 1 {
		return v
	}
	if len(t) > 2 {
		return r.refused(t[2:].SourceRange(), "nothing more belongs here", twoWords)
	}
	v.Kind = Ref
	switch key := t[1].(type) {
	case hcl.TraverseAttr:
		v.Key = key.Name
	case hcl.TraverseIndex:
		if key.Key.Type() != cty.String {
			return r.refused(key.SrcRange, "index without a name", `Between the brackets goes one name in quotes: shift["1-2"].`)
		}
		v.Key = key.Key.AsString()
	default:
		return r.refused(key.(interface{ SourceRange() hcl.Range }).SourceRange(), "nothing more belongs here", twoWords)
	}
	return v
}
