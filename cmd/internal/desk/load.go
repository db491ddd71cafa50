package desk

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"sort"
	"strings"

	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/knowledge"
	"slipcase/rules"
)

// builtIn is the name of the embedded layer in messages.
const builtIn = "knowledge"

// layers are the embedded knowledge and, over it, the shop's folder.
func (d *Desk) layers() ([]rules.Layer, error) {
	layers := []rules.Layer{{Name: builtIn, FS: knowledge.FS}}
	shop, err := d.shopFS()
	if err != nil {
		return nil, err
	}
	if shop != nil {
		layers = append(layers, rules.Layer{Name: "shop", FS: shop, Root: filepath.ToSlash(d.shop)})
	}
	return layers, nil
}

// load reads the rules and one unit, or every unit for "". Errors in rule
// files are a failure.
func (d *Desk) load(unit string) (*engine.Knowledge, []engine.Diagnostic, error) {
	layers, err := d.layers()
	if err != nil {
		return nil, nil, err
	}
	if unit != "" {
		ids := rules.Units(layers)
		if !has(ids, unit) {
			return nil, nil, usage(fmt.Sprintf("there is no unit %q", unit), nearestOr(unit, ids, "slipcase units lists them"))
		}
	}
	k, diags := rules.Load(rules.Options{Layers: layers, Unit: unit})
	if rules.HasErrors(diags) {
		return nil, nil, &Failure{Rules: k.Hash, Diagnostics: diags}
	}
	d.log.Debug("knowledge is loaded", "units", len(k.Units), "modes", len(k.Modes), "findings", len(k.Findings), "rules", k.Hash)
	return k, diags, nil
}

func has(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// unit loads a unit by its id, or from a file of its own.
func (d *Desk) unit(name string) (*engine.Knowledge, *engine.Unit, []engine.Diagnostic, error) {
	if !isFile(name) {
		k, diags, err := d.load(name)
		if err != nil {
			return nil, nil, nil, err
		}
		return k, k.Unit(name), diags, nil
	}
	layers, err := d.layers()
	if err != nil {
		return nil, nil, nil, err
	}
	src, err := d.readFile(name)
	if err != nil {
		return nil, nil, nil, err
	}
	k, u, diags := rules.LoadUnitFile(rules.Options{Layers: layers}, rules.File{Name: name, Src: src})
	if rules.HasErrors(diags) || u == nil {
		f := &Failure{Rules: k.Hash, Diagnostics: diags}
		if u == nil && !rules.HasErrors(diags) {
			f.Diagnostics = append(f.Diagnostics, failed(name+" holds no unit", "a unit file holds one block: unit \"name\" {").Diagnostics...)
		}
		return nil, nil, nil, f
	}
	return k, u, diags, nil
}

// isFile tells a path from a unit's id: ids have no dot and no slash.
func isFile(name string) bool {
	return strings.HasSuffix(name, ".hcl") || strings.ContainsAny(name, `/\`)
}

// readFile reads a file that was named on the command line, and keeps its text
// for Source.
func (d *Desk) readFile(name string) ([]byte, error) {
	dir, base := filepath.Split(filepath.Clean(name))
	if dir == "" {
		dir = "."
	}
	src, bad := rules.ReadFile(os.DirFS(dir), base, name)
	if bad != nil {
		return nil, &Failure{Diagnostics: []engine.Diagnostic{*bad}}
	}
	d.texts[name] = src
	return src, nil
}

// work is an opened case with its model.
type work struct {
	k      *engine.Knowledge
	m      *model.Model
	c      *engine.CaseFile
	status engine.CaseStatus // "" where the case is not from the casebook
	diags  []engine.Diagnostic
	warn   []engine.Diagnostic // about the case: always told
}

// open reads a case, loads its unit and the rules, and makes the model.
func (d *Desk) open(ref CaseRef) (*work, error) {
	if ref.inBook() {
		return d.openBooked(ref.In)
	}
	c, diags, err := d.readCase(ref)
	if err != nil {
		return nil, err
	}
	k, more, err := d.loadFor(c)
	if err != nil {
		return nil, err
	}
	diags = append(diags, more...)
	diags = append(diags, rules.ResolveCase(k, c)...)
	if rules.HasErrors(diags) {
		return nil, &Failure{Rules: k.Hash, Diagnostics: diags}
	}
	m, err := model.Build(k, k.Unit(c.Unit))
	if err != nil {
		return nil, under(k, err)
	}
	d.log.Debug("the model is built", "unit", c.Unit, "nodes", len(m.Nodes), "suspects", len(m.Modes()))
	return &work{k: k, m: m, c: c, diags: diags}, nil
}

// loadFor loads the unit of a case; a unit that is not known is an error of
// the case file, at its place.
func (d *Desk) loadFor(c *engine.CaseFile) (*engine.Knowledge, []engine.Diagnostic, error) {
	k, diags, err := d.load(c.Unit)
	var f *Failure
	if errors.As(err, &f) && f.Usage {
		f.Usage = false
		f.Diagnostics[0].Subject = c.UnitAt
	}
	return k, diags, err
}

// readCase reads a case file or a demo.
func (d *Desk) readCase(ref CaseRef) (*engine.CaseFile, []engine.Diagnostic, error) {
	name := ref.File
	var src []byte
	var err error
	if ref.Demo != "" {
		name, src, err = demoSource(ref.Demo)
	} else {
		src, err = d.readFile(ref.File)
	}
	if err != nil {
		return nil, nil, err
	}
	c, diags := rules.LoadCase(name, src)
	if rules.HasErrors(diags) || c == nil {
		return nil, nil, &Failure{Diagnostics: diags}
	}
	return c, diags, nil
}

// Demo is a built-in case to try things on.
type Demo struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Unit  string `json:"unit"`
}

// Demos lists the built-in cases.
func (d *Desk) Demos() (Answer, error) {
	list := []Demo{}
	var diags []engine.Diagnostic
	for _, name := range demoNames() {
		c, found, err := d.readCase(CaseRef{Demo: name})
		if err != nil {
			return Answer{}, err
		}
		diags = append(diags, found...)
		list = append(list, Demo{name, c.Title, c.Unit})
	}
	return Answer{Data: list, Diagnostics: diags}, nil
}

const demoFolder = "cases"

func demoNames() []string {
	files, err := fs.Glob(knowledge.FS, demoFolder+"/*.hcl")
	if err != nil {
		panic(err) // a bad pattern: our own bug
	}
	var out []string
	for _, f := range files {
		out = append(out, strings.TrimSuffix(path.Base(f), ".hcl"))
	}
	sort.Strings(out)
	return out
}

func demoSource(name string) (show string, src []byte, err error) {
	names := demoNames()
	if !has(names, name) {
		return "", nil, usage(fmt.Sprintf("there is no demo %q", name), nearestOr(name, names, "slipcase demos lists them"))
	}
	file := demoFolder + "/" + name + ".hcl"
	src, err = knowledge.FS.ReadFile(file)
	return path.Join(builtIn, file), src, err
}

// Source is the text of a file that a diagnostic names, nil when it cannot be
// had: as it was read, as it is embedded, or as it stands on the disk.
func (d *Desk) Source(name string) []byte {
	if src, ok := d.texts[name]; ok {
		return src
	}
	if rest, ok := strings.CutPrefix(name, builtIn+"/"); ok {
		if src, err := knowledge.FS.ReadFile(rest); err == nil {
			return src
		}
	}
	src, err := d.readFile(name)
	if err != nil {
		return nil
	}
	return src
}
