package desk

import (
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestDataFolder(t *testing.T) {
	if d := New(Options{Home: "/bench"}); d.books.Home() != "/bench" || d.books.Name() != filepath.Join("/bench", "casebook.db") {
		t.Errorf("got %s, %s", d.books.Home(), d.books.Name())
	}
	if d := New(Options{}); filepath.Base(d.books.Home()) != "slipcase" || !filepath.IsAbs(d.books.Home()) {
		t.Errorf("got %s", d.books.Home())
	}
}

func TestShopFolder(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, shop, home string
		layers           int
		err              string
	}{
		{"none", "", filepath.Join(dir, "nohome"), 1, ""},
		{"stated and there", dir, "", 2, ""},
		{"stated and missing", filepath.Join(dir, "nowhere"), "", 0, "there is no folder"},
		{"a file", file, "", 0, "is a file"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := New(Options{Shop: c.shop, Home: c.home})
			layers, err := d.load.Layers()
			if c.err != "" {
				if err == nil || !strings.Contains(err.Error(), c.err) {
					t.Errorf("got %v", err)
				}
				return
			}
			if err != nil || len(layers) != c.layers {
				t.Errorf("%d layers, %v", len(layers), err)
			}
			for _, l := range layers {
				if _, err := fs.ReadDir(l.FS, "."); err != nil {
					t.Error(err)
				}
			}
		})
	}
}
