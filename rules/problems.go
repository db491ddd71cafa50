package rules

import "slipcase/rules/diag"

// problems are the diagnostics of a load.
type problems struct{ diag.Collector }

// Source gives the text of a file that a diagnostic names, as Load read it, so
// that Render can show its lines; nil when it cannot be read.
func (o Options) Source(file string) []byte {
	for i := range o.Extra {
		if o.Extra[i].Name == file {
			return o.Extra[i].Src
		}
	}
	for _, l := range o.Layers {
		for _, dir := range append([]string{"."}, Folders...) {
			for _, p := range list(l.FS, dir) {
				if l.show(p) != file {
					continue
				}
				src, bad := ReadFile(l.FS, p, file)
				if bad != nil {
					return nil
				}
				return src
			}
		}
	}
	return nil
}
