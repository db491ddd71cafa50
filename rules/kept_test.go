package rules

import (
	"crypto/sha256"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"slipcase/knowledge"
	"slipcase/rules/syntax"
)

// What was read twice is not parsed again; other bytes, another name and what has
// something wrong are, and what is kept is bounded.
func TestTreesAreKept(t *testing.T) {
	k := kept{seen: map[text]*syntax.File{}}
	read := func(name, src string, without ...string) *syntax.File {
		f, _ := k.parse(name, src, sha256.Sum256([]byte(src)), without)
		return f
	}
	const src = "kind \"plate\" {\n}\nexample \"x\" {\n}\n"
	first, second := read("a.hcl", src), read("a.hcl", src)
	if first == second {
		t.Error("kept at the first reading")
	}
	if read("a.hcl", src) != second {
		t.Error("parsed a third time")
	}
	if f := read("b.hcl", src); f == second || f.Name != "b.hcl" {
		t.Error("the tree of another file")
	}
	for range 3 {
		if f := read("a.hcl", src, "example"); len(f.Body.Blocks) != 1 {
			t.Errorf("%d blocks where one is passed over", len(f.Body.Blocks))
		}
		if f := read("a.hcl", src+"kind \"ring\" {\n}\n"); len(f.Body.Blocks) != 3 {
			t.Errorf("%d blocks of the changed file", len(f.Body.Blocks))
		}
		if _, found := k.parse("bad.hcl", "kind {{", sha256.Sum256([]byte("kind {{")), nil); len(found.List) == 0 {
			t.Error("what is wrong is not told again")
		}
	}
	for i := range 2 * mostSeen {
		read(fmt.Sprint(i), "")
	}
	long := "#" + strings.Repeat("x", syntax.MaxBytes-2) + "\n"
	for i := range 2 * mostSource / len(long) {
		for range 3 {
			read(fmt.Sprint("long", i), long)
		}
	}
	if len(k.seen) > mostSeen || k.source > mostSource+len(long) {
		t.Errorf("%d texts and %d bytes are kept", len(k.seen), k.source)
	}
}

// Nothing that loads or checks rules changes a tree: a shop's folder that is laid over
// the built-in rules leaves them as they are parsed.
func TestNobodyChangesATree(t *testing.T) {
	for range 3 {
		Load(Options{Layers: []Layer{{Name: "knowledge", FS: knowledge.FS}}, Extra: []File{{Name: "own.hcl", Src: []byte("language = 1\nmode \"burnt_friction\" {\n  drop = true\n}\n")}}})
	}
	trees.mu.Lock()
	defer trees.mu.Unlock()
	n := 0
	for x, file := range trees.seen {
		if file == nil {
			continue
		}
		n++
		fresh, _ := syntax.Parse(x.name, file.Src, strings.Fields(x.without)...)
		if !reflect.DeepEqual(file, fresh) {
			t.Errorf("%s was changed", x.name)
		}
	}
	if n < 40 {
		t.Errorf("%d trees are kept", n)
	}
}
