// Package told is for tests: a diagnostic as a terminal without color shows it,
// with its lines from the files that were loaded.
package told

import (
	"cmp"
	"io/fs"
	"strings"

	"slipcase/engine"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// Render is a diagnostic at a width in columns. source is the text of the file
// that it is about, nil when it is not at hand.
func Render(d engine.Diagnostic, source []byte, width int) string {
	var b strings.Builder
	for _, p := range diag.Pieces(d, source, width) {
		if p.Role == diag.RoleDetail {
			b.WriteString("  ")
		}
		b.WriteString(p.Text)
	}
	return b.String()
}

// Source is the text of a file that a diagnostic names, nil where the options
// have no such file.
func Source(o rules.Options, file string) []byte {
	for _, f := range o.Extra {
		if f.Name == file {
			return f.Src
		}
	}
	for _, l := range o.Layers {
		if rest, ok := strings.CutPrefix(file, strings.TrimSuffix(cmp.Or(l.Root, l.Name), "/")+"/"); ok {
			if src, err := fs.ReadFile(l.FS, rest); err == nil {
				return src
			}
		}
	}
	return nil
}
