// Package load brings rules, units, demos and files named by the asker into
// memory, and keeps what it has loaded and compiled for the next request: by
// the bytes of the rules, so that a changed file is seen at once. It is safe
// for many requests at once.
package load

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
	"slipcase/engine/model"
	"slipcase/knowledge"
	"slipcase/rules"
	"slipcase/rules/diag"
)

// BuiltIn is the name of the embedded layer in messages.
const BuiltIn = "knowledge"

// Loader loads. Make one with New.
type Loader struct {
	shop   string
	stated bool // the shop folder was asked for: it must be there
	log    *slog.Logger

	shelf *shelf

	mu    sync.Mutex
	texts map[string][]byte // files read by name
}

// shelf holds what was loaded. Every loader of the process takes from the same
// one: what was read for one desk need not be read for the next.
type shelf struct {
	mu    sync.Mutex
	kept  map[key]*Loaded
	order []key // of kept, oldest first
}

var shared = newShelf()

func newShelf() *shelf { return &shelf{kept: map[key]*Loaded{}} }

// key is what knowledge is kept by: the shop's folder, which messages name, its
// bytes, and the unit. Without a folder there is none in it.
type key struct {
	folder string
	shop   [sha256.Size]byte
	unit   string
}

// mostKept bounds what is kept: a unit with its rules takes some ten MB.
const mostKept = 8

// mostTexts bounds the files whose text is kept for messages.
const mostTexts = 64

// New makes a loader over the shop's folder; stated says that the asker named
// it, so that it must be there. A nil log says nothing.
func New(shop string, stated bool, log *slog.Logger) *Loader {
	if log == nil {
		log = slog.New(slog.DiscardHandler)
	}
	return &Loader{shop: shop, stated: stated, log: log, shelf: shared, texts: map[string][]byte{}}
}

// Shop is the folder of the shop's rules, there or not.
func (l *Loader) Shop() string { return l.shop }

// ShopIsThere tells whether the shop has rules of its own.
func (l *Loader) ShopIsThere() bool {
	st, err := os.Stat(l.shop)
	return err == nil && st.IsDir()
}

// shopFS is the shop's folder, nil when there is none.
func (l *Loader) shopFS() (fs.FS, error) {
	st, err := os.Stat(l.shop)
	switch {
	case err == nil && st.IsDir():
		l.log.Debug("the shop's rules override the built-in ones", "folder", l.shop)
		return rules.OpenFolder(l.shop)
	case err == nil:
		return nil, fault.Fail(answer.Unavailable, wording.ShopIsFile(l.shop), answer.Do(answer.ShopIsFolder))
	case os.IsNotExist(err) && !l.stated:
		l.log.Debug("no folder of shop rules: built-in rules only", "folder", l.shop)
		return nil, nil
	case os.IsNotExist(err):
		return nil, fault.Fail(answer.Unavailable, wording.NoShop(l.shop), answer.Do(answer.NameShop))
	}
	return nil, fault.Fail(answer.Unavailable, wording.ShopNotRead(err), answer.Do(answer.ShopPermissions)).Because(err)
}

// Layers are the embedded knowledge and, over it, the shop's folder.
// Fails with Unavailable where the shop's folder cannot be read.
func (l *Loader) Layers() ([]rules.Layer, error) {
	layers := []rules.Layer{{Name: BuiltIn, FS: knowledge.FS}}
	shop, err := l.shopFS()
	if err != nil {
		return nil, err
	}
	if shop != nil {
		layers = append(layers, rules.Layer{Name: "shop", FS: shop, Root: filepath.ToSlash(l.shop)})
	}
	return layers, nil
}

// ShopPrint is a fingerprint of the shop's rules as they are now. Fails as
// Layers does.
func (l *Loader) ShopPrint() (string, error) {
	layers, err := l.Layers()
	if err != nil {
		return "", err
	}
	print := fingerprint(layers[1:])
	return hex.EncodeToString(print[:]), nil
}

// Loaded is knowledge in memory: the rules and one unit, or all units. It is
// shared between requests: nobody changes it.
type Loaded struct {
	Knowledge   *engine.Knowledge
	Diagnostics []engine.Diagnostic // warnings about the rules

	ready    chan struct{} // closed when the rest is filled in
	panicked any           // what loading panicked with, nil for nothing
	err      error
	mu       sync.Mutex
	models   map[string]func() (*model.Model, error)
}

// Model compiles a unit, once. A unit that cannot be compiled fails with Rules.
func (x *Loaded) Model(unit string) (*model.Model, error) {
	if u := x.Knowledge.Unit(unit); u != nil && len(u.Components) == 0 {
		return nil, (&answer.Failure{Code: answer.Rules, Messages: answer.Messages([]engine.Diagnostic{{
			Severity: engine.Error, Summary: wording.NoParts(unit).What, Detail: wording.NoParts(unit).Help, Subject: u.At,
		}})}).Under(x.Knowledge.Hash)
	}
	x.mu.Lock()
	build := x.models[unit]
	if build == nil {
		build = sync.OnceValues(func() (*model.Model, error) { return model.Build(x.Knowledge, x.Knowledge.Unit(unit)) })
		if x.models == nil {
			x.models = map[string]func() (*model.Model, error){}
		}
		x.models[unit] = build
	}
	x.mu.Unlock()
	m, err := build()
	if err != nil {
		return nil, answer.Fail(answer.Rules, err.Error(), "").Because(err).Under(x.Knowledge.Hash)
	}
	return m, nil
}

// Load reads the rules and one unit, or every unit for "". A unit that is not
// known fails with NotFound, errors in rule files with Rules, a shop's folder
// that cannot be read as Layers says.
func (l *Loader) Load(ctx context.Context, unit string) (*Loaded, error) {
	if err := ctx.Err(); err != nil {
		return nil, answer.AsFailure(err)
	}
	layers, err := l.Layers()
	if err != nil {
		return nil, err
	}
	if unit != "" {
		if ids := rules.Units(layers); !slices.Contains(ids, unit) {
			return nil, NoUnit(unit, ids)
		}
	}
	k := key{"", fingerprint(layers[1:]), unit}
	if len(layers) > 1 {
		k.folder = l.shop
	}
	x, mine := l.shelf.claim(k)
	if mine {
		// On its own: who asked may leave, and the next one has it.
		go l.fill(k, x, layers)
	}
	select {
	case <-x.ready:
		if x.panicked != nil {
			panic(x.panicked)
		}
		return x, x.err
	case <-ctx.Done():
		return nil, answer.AsFailure(ctx.Err())
	}
}

// fill loads what a key stands for. A panic is kept for who waits.
func (l *Loader) fill(k key, x *Loaded, layers []rules.Layer) {
	defer func() {
		if r := recover(); r != nil {
			x.panicked = r
			l.shelf.drop(k)
			close(x.ready)
		}
	}()
	knowledge, diags := rules.Load(rules.Options{Layers: layers, Unit: k.unit, NoExamples: true})
	if fingerprint(layers[1:]) != k.shop {
		l.shelf.drop(k) // a file changed meanwhile: good for this request only
	}
	x.fill(knowledge, diags)
	if x.err == nil {
		l.log.Debug("knowledge is loaded", "units", len(knowledge.Units), "modes", len(knowledge.Modes), "findings", len(knowledge.Findings), "rules", knowledge.Hash)
	}
}

// Meanwhile returns what f returns, for an f that looks at no context and may take a
// while. Fails with Canceled when ctx ends first; f then runs on unheard. A panic of f
// is passed on to the caller.
func Meanwhile[T any](ctx context.Context, f func() T) (T, error) {
	var out T
	var panicked any
	done := make(chan struct{})
	go func() {
		defer func() {
			panicked = recover()
			close(done)
		}()
		out = f()
	}()
	select {
	case <-done:
		if panicked != nil {
			panic(panicked)
		}
		return out, nil
	case <-ctx.Done():
		var none T
		return none, answer.AsFailure(ctx.Err())
	}
}

// NoUnit is the failure for a unit that is not known.
func NoUnit(unit string, known []string) *answer.Failure {
	return Unknown(wording.NoUnit(unit), unit, known, answer.Do(answer.ListUnits))
}

// Unknown is the failure for a name that is not known: it names those near it,
// or gives the hint.
func Unknown(summary, name string, known []string, otherwise answer.Hint) *answer.Failure {
	if near := wording.Nearest(name, known); near != "" {
		return answer.Fail(answer.NotFound, summary, near)
	}
	return answer.Fail(answer.NotFound, summary, "", otherwise)
}

// claim gives what is kept, or a place for it that the caller is to fill.
func (s *shelf) claim(k key) (x *Loaded, mine bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if x := s.kept[k]; x != nil {
		return x, false
	}
	x = &Loaded{ready: make(chan struct{})}
	s.kept[k] = x
	s.order = append(s.order, k)
	if len(s.order) > mostKept {
		delete(s.kept, s.order[0])
		s.order = s.order[1:]
	}
	return x, true
}

func (s *shelf) drop(k key) {
	s.mu.Lock()
	defer s.mu.Unlock()
	delete(s.kept, k)
	s.order = slices.DeleteFunc(s.order, func(o key) bool { return o == k })
}

func (x *Loaded) fill(k *engine.Knowledge, diags []engine.Diagnostic) {
	defer close(x.ready)
	x.Knowledge, x.Diagnostics = k, slices.Clip(diags)
	if diag.HasErrors(diags) {
		x.err = &answer.Failure{Code: answer.Rules, Rules: k.Hash, Messages: answer.Messages(diags)}
	}
}

// fingerprint is of every byte that the layers hold as HCL, with its name.
func fingerprint(layers []rules.Layer) (out [sha256.Size]byte) {
	const most = 64 << 20 // of a file; what is longer is refused by the reader
	h := sha256.New()
	for _, layer := range layers {
		// What cannot be read is told by the reader.
		fs.WalkDir(layer.FS, ".", func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return nil
			}
			fmt.Fprintf(h, "%q ", name)
			if path.Ext(name) == ".hcl" {
				if f, err := layer.FS.Open(name); err == nil {
					if info, err := f.Stat(); err == nil && info.Mode().IsRegular() { // a pipe never ends
						n, err := io.Copy(h, io.LimitReader(f, most))
						fmt.Fprint(h, " ", n, err)
					}
					f.Close()
				}
			}
			return nil
		})
	}
	copy(out[:], h.Sum(nil))
	return out
}

// Unit loads a unit by its id, or from a file of its own. Fails as Load and
// File do.
func (l *Loader) Unit(ctx context.Context, name string) (*Loaded, *engine.Unit, error) {
	if !IsFile(name) {
		if name == "" {
			return nil, nil, fault.WrongUse(wording.NoUnitNamed(), answer.Do(answer.ListUnits))
		}
		x, err := l.Load(ctx, name)
		if err != nil {
			return nil, nil, err
		}
		return x, x.Knowledge.Unit(name), nil
	}
	layers, err := l.Layers()
	if err != nil {
		return nil, nil, err
	}
	src, err := l.File(name)
	if err != nil {
		return nil, nil, err
	}
	k, u, diags := rules.LoadUnitFile(rules.Options{Layers: layers, NoExamples: true}, rules.File{Name: name, Src: src})
	x := &Loaded{ready: make(chan struct{})}
	x.fill(k, diags)
	if x.err == nil && u == nil {
		x.err = fault.Fail(answer.Rules, wording.NoUnitIn(name)).Under(k.Hash)
	}
	return x, u, x.err
}

// IsFile tells a path from a unit's id: ids have no dot and no slash.
func IsFile(name string) bool {
	return strings.HasSuffix(name, ".hcl") || strings.ContainsAny(name, `/\`)
}

// File reads a file that the asker named, and keeps its text for Source. One
// that cannot be read fails with Unavailable.
func (l *Loader) File(name string) ([]byte, error) {
	dir, base := filepath.Split(filepath.Clean(name))
	if dir == "" {
		dir = "."
	}
	src, bad := rules.ReadFile(os.DirFS(dir), base, name)
	if bad != nil {
		return nil, &answer.Failure{Code: answer.Unavailable, Messages: answer.Messages([]engine.Diagnostic{*bad})}
	}
	l.Keep(name, src)
	return src, nil
}

// Keep keeps a text for Source under a name.
func (l *Loader) Keep(name string, src []byte) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if len(l.texts) >= mostTexts {
		clear(l.texts)
	}
	l.texts[name] = src
}

// Source is the text of a file that a message names, nil when it cannot be
// had: as it was read, as it is embedded, or as it stands on the disk.
func (l *Loader) Source(name string) []byte {
	l.mu.Lock()
	src, ok := l.texts[name]
	l.mu.Unlock()
	if ok {
		return src
	}
	if rest, ok := strings.CutPrefix(name, BuiltIn+"/"); ok {
		if src, err := knowledge.FS.ReadFile(rest); err == nil {
			return src
		}
	}
	// A link that leads out of the shop's folder is not followed here either.
	if rest, ok := strings.CutPrefix(name, filepath.ToSlash(l.shop)+"/"); ok {
		shop, err := rules.OpenFolder(l.shop)
		if err != nil {
			return nil
		}
		src, _ := rules.ReadFile(shop, rest, name)
		return src
	}
	src, err := l.File(name)
	if err != nil {
		return nil
	}
	return src
}

const demoFolder = "cases"

// Demos are the names of the built-in cases, sorted.
func Demos() []string {
	files, err := fs.Glob(knowledge.FS, demoFolder+"/*.hcl")
	if err != nil {
		panic(err) // a bad pattern: our own bug
	}
	var out []string
	for _, f := range files {
		out = append(out, strings.TrimSuffix(path.Base(f), ".hcl"))
	}
	slices.Sort(out)
	return out
}

// Demo is the text of a built-in case, and how its file is called in messages.
// One that is not there fails with NotFound.
func Demo(name string) (show string, src []byte, err error) {
	if names := Demos(); !slices.Contains(names, name) {
		return "", nil, Unknown(wording.NoDemo(name), name, names, answer.Do(answer.ListDemos))
	}
	file := demoFolder + "/" + name + ".hcl"
	src, err = knowledge.FS.ReadFile(file)
	return path.Join(BuiltIn, file), src, err
}
