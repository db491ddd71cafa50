package rules

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/rules/syntax"
)

// stray warns of rule files that lie where nobody reads them: beside the
// folders, in folders within them, in a folder whose name is nearly right, or
// with an ending that is.
func (l *loader) stray(layer Layer) {
	said := func(p, detail string) {
		l.Warn(engine.Range{File: layer.show(p), Line: 1, Column: 1, EndLine: 1, EndColumn: 1}, "file is not read", detail)
	}
	for _, p := range list(layer.FS, ".") {
		said(p, fmt.Sprintf("Rule files go in the folders %s. %s", orList(Folders), belongs(layer, p)))
	}
	for _, dir := range subfolders(layer.FS, ".") {
		switch near := nearest(dir, Folders); {
		case slices.Contains(Folders, dir):
			for _, sub := range subfolders(layer.FS, dir) {
				for _, p := range list(layer.FS, sub) {
					said(p, fmt.Sprintf("Folders within %s are not read. Move it to %s.", dir, layer.show(path.Join(dir, path.Base(p)))))
				}
			}
			for _, p := range misspelled(layer.FS, dir) {
				said(p, fmt.Sprintf("The names of rule files end in .hcl. Rename it to %s.hcl.", strings.TrimSuffix(path.Base(p), path.Ext(p))))
			}
		case near != "":
			for _, p := range list(layer.FS, dir) {
				said(p, fmt.Sprintf("The folder %s is not read; did you mean %q? Move it to %s.", dir, near, layer.show(path.Join(near, path.Base(p)))))
			}
		}
	}
}

// belongs says where a file should lie, by what it holds.
func belongs(layer Layer, p string) string {
	to := func(dir, name string) string { return fmt.Sprintf("Move it to %s.", layer.show(path.Join(dir, name))) }
	src, bad := ReadFile(layer.FS, p, layer.show(p))
	if bad != nil {
		return "Move it."
	}
	file, _ := syntax.Parse(layer.show(p), string(src))
	only := "" // the kind of all its blocks, "rules" for several
	for _, b := range file.Body.Blocks {
		dir := "rules"
		switch b.Type {
		case "basis":
			continue
		case "case":
			return "It holds a case, which is not part of the rules. Keep it outside this folder."
		case "unit":
			if len(b.Labels) > 0 && idForm.fits(b.Labels[0].Text) {
				return to("units", b.Labels[0].Text+".hcl")
			}
		case "check", "caution":
			dir = b.Type + "s"
		case "withheld":
			dir = "checks"
		}
		if only != "" && only != dir {
			dir = "rules"
		}
		only = dir
	}
	if only == "" {
		only = "rules"
	}
	return to(only, p)
}

// subfolders gives the folders of a folder, hidden ones left out, sorted.
func subfolders(f fs.FS, dir string) []string {
	out, _ := names(f, dir, func(e fs.DirEntry) bool { return e.IsDir() })
	return out
}

// misspelled gives the files of a folder whose ending is .hcl in other letters.
func misspelled(f fs.FS, dir string) []string {
	out, _ := names(f, dir, func(e fs.DirEntry) bool {
		ext := path.Ext(e.Name())
		return !e.IsDir() && strings.EqualFold(ext, ".hcl") && ext != ".hcl"
	})
	return out
}
