package cli

import (
	"strings"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/table"
	"slipcase/engine"
	"slipcase/rules/diag"
)

var roleStyles = map[diag.Role]table.Style{
	diag.RoleSummary: table.Strong, diag.RoleGutter: table.Faint, diag.RoleMark: table.Bad,
}

// messages prints messages with the lines at fault, a free line between two
// that show lines.
func (a *app) messages(p *table.Page, list []answer.Message) {
	list = worded(list)
	for i, d := range list {
		if i > 0 && (d.Subject.File != "" || list[i-1].Subject.File != "") {
			p.Space()
		}
		var src []byte
		if d.Subject.File != "" {
			src = a.desk().Source(d.Subject.File)
		}
		// Wrapped by hand where the place and the summary are too long for one
		// line: the words must not be cut.
		pieces := diag.Pieces(d.Diagnostic, src, p.Width)
		head := ""
		for len(pieces) > 0 {
			piece := pieces[0]
			pieces = pieces[1:]
			if piece.Text == "\n" {
				break
			}
			head += piece.Text
		}
		style := table.Bad
		if d.Severity == engine.Warning {
			style = table.Warn
		}
		p.Styled(head, style)
		var spans []table.Span
		for _, piece := range pieces {
			if piece.Role == diag.RoleDetail {
				p.StyledItem("  ", piece.Text, roleStyles[piece.Role])
				break
			}
			if piece.Text == "\n" {
				p.Spans(spans)
				spans = nil
				continue
			}
			spans = append(spans, table.Span{Text: strings.TrimSuffix(piece.Text, "\n"), Style: roleStyles[piece.Role]})
			if strings.HasSuffix(piece.Text, "\n") {
				p.Spans(spans)
				spans = nil
			}
		}
		if len(spans) > 0 {
			p.Spans(spans)
		}
	}
}
