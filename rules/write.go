package rules

import (
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/rules/diag"
	"slipcase/rules/syntax"
)

// WriteUnit gives a unit whole, as one file for editing: what its own file, the
// shop's, what it is like and the usual parts say of it, each block as it
// holds. Comments are not kept. The text is nil where the unit cannot be read;
// the diagnostics say why.
func WriteUnit(opt Options) ([]byte, []engine.Diagnostic) {
	l := &loader{opt: opt, keep: map[string]*node{}}
	_, diags := l.run()
	n := l.keep[opt.Unit]
	if n == nil || diag.HasErrors(diags) {
		return nil, diags
	}
	w := &strings.Builder{}
	fmt.Fprintf(w, "# Unit %s, complete: every part is written here, none is added from the chart.\n", n.label(0))
	fmt.Fprintf(w, "language = %d\n", LanguageVersion)
	writeNode(w, n, nil, 0)
	text, err := Format(n.label(0)+".hcl", []byte(w.String()))
	if err != nil {
		return nil, append(diags, engine.Diagnostic{Severity: engine.Error, Summary: "unit cannot be written out", Detail: err.Error(), Subject: n.at()})
	}
	return text, diags
}

func writeNode(w *strings.Builder, n *node, outer *engine.Basis, depth int) {
	in := strings.Repeat("  ", depth)
	fmt.Fprintf(w, "%s%s {\n", in, head(n.spec.name, n.labels))
	if b := n.basis; b != nil && (outer == nil || b.Kind != outer.Kind || b.Note != outer.Note || b.Cite != outer.Cite) {
		fmt.Fprintf(w, "%s  basis %q {\n", in, string(b.Kind))
		if b.Note != "" {
			fmt.Fprintf(w, "%s    note = %s\n", in, syntax.Quote(b.Note))
		}
		if b.Cite != "" {
			fmt.Fprintf(w, "%s    cite = %s\n", in, syntax.Quote(b.Cite))
		}
		if b.Cases > 0 {
			fmt.Fprintf(w, "%s    cases = %g\n", in, b.Cases)
		}
		fmt.Fprintf(w, "%s  }\n", in)
		outer = b
	}
	for i := range n.attrs {
		a := &n.attrs[i]
		if n.spec == unitSpec && slices.Contains([]string{"parts", "like", "front_to_back"}, a.Name) {
			continue // what they bring stands here itself
		}
		if a.Name == "in_place_of" {
			continue
		}
		at := a.Value.At
		fmt.Fprintf(w, "%s  %s = %s\n", in, a.Name, a.src.file.Src[at.Start.Byte:at.End.Byte])
	}
	for _, c := range n.blocks {
		writeNode(w, c, outer, depth+1)
	}
	fmt.Fprintf(w, "%s}\n", in)
}
