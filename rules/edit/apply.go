package edit

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path"
	"path/filepath"
	"sort"
	"strconv"
	"strings"

	"slipcase/engine"
	"slipcase/engine/refine/rulepath"
	"slipcase/rules"
)

// Learned is the file of the shop's folder that takes numbers for which the
// folder has no block of its own, but for those of a unit, which stand in the
// unit's file.
const Learned = "rules/shop-learned.hcl"

// File is one file that an edit changes.
type File struct {
	Path   string // within the shop's folder, with slashes
	Before []byte // nil when the file is new
	After  []byte
}

// Plan works out the files that changes make, without writing anything. Each
// change goes to where its block stands in the shop's folder, or into a new
// one. The rules as a whole are read before and after, with the shop over
// lower: no number but those named may differ, and those must have their new
// value.
func Plan(shop string, lower []rules.Layer, changes []Change) ([]File, error) {
	seen := map[string]bool{}
	for _, c := range changes {
		if seen[c.Path.String()] {
			return nil, fmt.Errorf("edit: two changes of %s", c.Path)
		}
		seen[c.Path.String()] = true
	}
	texts, err := texts(shop)
	if err != nil {
		return nil, err
	}
	before := clone(texts)
	for _, c := range changes {
		if err := place(texts, c); err != nil {
			return nil, err
		}
	}
	var out []File
	for _, p := range names(texts) {
		if was, ok := before[p]; !ok || !bytes.Equal(was, texts[p]) {
			out = append(out, File{Path: p, Before: before[p], After: texts[p]})
		}
	}
	if err := proof(shop, lower, before, texts, changes); err != nil {
		return nil, err
	}
	return out, nil
}

// place puts one change into the text it belongs to.
func place(texts map[string][]byte, c Change) error {
	home := Learned
	if u := c.Path.Unit(); u != "" {
		home = "units/" + u + ".hcl"
	}
	for _, p := range names(texts) {
		out, done, err := Set(p, texts[p], c)
		if err != nil {
			return err
		}
		if done {
			texts[p] = out
			return nil
		}
	}
	out, err := Add(home, texts[home], c)
	if err != nil {
		return err
	}
	texts[home] = out
	return nil
}

// texts reads the rule files of a folder; one that is not there has none.
func texts(shop string) (map[string][]byte, error) {
	out := map[string][]byte{}
	folder, err := rules.OpenFolder(shop)
	if errors.Is(err, fs.ErrNotExist) {
		return out, nil
	}
	if err != nil {
		return nil, err
	}
	for _, dir := range rules.Folders {
		entries, err := fs.ReadDir(folder, dir)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err != nil {
			return nil, err
		}
		for _, e := range entries {
			if e.IsDir() || !strings.HasSuffix(e.Name(), ".hcl") || strings.HasPrefix(e.Name(), ".") {
				continue
			}
			p := path.Join(dir, e.Name())
			src, bad := rules.ReadFile(folder, p, p)
			if bad != nil {
				return nil, *bad
			}
			out[p] = src
		}
	}
	return out, nil
}

func clone(m map[string][]byte) map[string][]byte {
	out := make(map[string][]byte, len(m))
	for k, v := range m {
		out[k] = v
	}
	return out
}

func names(m map[string][]byte) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

// proof loads the rules before and after and compares every number.
func proof(shop string, lower []rules.Layer, before, after map[string][]byte, changes []Change) error {
	load := func(texts map[string][]byte) (*engine.Knowledge, error) {
		layers := append(append([]rules.Layer(nil), lower...), rules.Layer{Name: "shop", FS: memory(texts), Root: filepath.ToSlash(shop)})
		k, diags := rules.Load(rules.Options{Layers: layers})
		for _, d := range diags {
			if d.Severity == engine.Error {
				return nil, d
			}
		}
		return k, nil
	}
	old, err := load(before)
	if err != nil {
		return fmt.Errorf("the rules have an error already: %w", err)
	}
	now, err := load(after)
	if err != nil {
		return fmt.Errorf("edit: the rules would have an error: %w", err)
	}
	want := map[string]Change{}
	for _, c := range changes {
		want[c.Path.String()] = c
	}
	type value struct {
		v     float64
		basis engine.Basis
	}
	read := func(k *engine.Knowledge) map[string]value {
		out := map[string]value{}
		rulepath.Walk(k, func(p rulepath.Path, n *engine.Number) {
			x := value{v: n.Value}
			if n.Basis != nil {
				x.basis = *n.Basis
				x.basis.At = engine.Range{}
			}
			out[p.String()] = x
		})
		return out
	}
	was, is := read(old), read(now)
	var list []string
	for p := range is {
		list = append(list, p)
	}
	sort.Strings(list)
	for _, p := range list {
		c, ok := want[p]
		delete(want, p)
		if !ok {
			// Another number may have come along with a new value only where
			// it is the same number: a rate that a unit takes over by `like`.
			if was[p] != is[p] && !inherits(p, now, changes) {
				return fmt.Errorf("edit: %s would change too", p)
			}
			continue
		}
		v, _ := strconv.ParseFloat(c.Text, 64)
		if is[p].v != v || is[p].basis.Kind != engine.ShopRecord || is[p].basis.Cases != float64(c.Cases) {
			return fmt.Errorf("edit: %s would not take its new value; does another block of the shop's rules, or one under a former name, speak of it?", p)
		}
	}
	for _, c := range changes {
		if _, missing := want[c.Path.String()]; missing {
			return fmt.Errorf("edit: the rules have no %s", c.Path)
		}
	}
	return nil
}

// inherits tells whether a unit's number stands at the same place as one that
// is changed.
func inherits(p string, k *engine.Knowledge, changes []Change) bool {
	var at engine.Range
	wanted := map[string]bool{}
	for _, c := range changes {
		wanted[c.Path.String()] = true
	}
	places := map[engine.Range]bool{}
	rulepath.Walk(k, func(q rulepath.Path, n *engine.Number) {
		if q.String() == p && q.Unit() != "" {
			at = n.At
		}
		if wanted[q.String()] {
			places[n.At] = true
		}
	})
	return at.File != "" && places[at]
}
