package wholefile

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"
)

// is checks what a file holds, and that nothing else lies beside it.
func is(t *testing.T, name, want string, files int) {
	t.Helper()
	got, err := os.ReadFile(name)
	if err != nil || string(got) != want {
		t.Errorf("%s holds %q, %v; want %q", filepath.Base(name), got, err, want)
	}
	list, err := os.ReadDir(filepath.Dir(name))
	if err != nil || len(list) != files {
		t.Errorf("%d files lie there, %v; want %d", len(list), err, files)
	}
}

func mode(t *testing.T, name string, want fs.FileMode) {
	t.Helper()
	if runtime.GOOS == "windows" {
		return // has no permissions of this kind
	}
	if info, err := os.Stat(name); err != nil || info.Mode().Perm() != want {
		t.Errorf("%s: %v, %v; want %v", filepath.Base(name), info.Mode(), err, want)
	}
}

func TestReplacesAndKeepsPermissions(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a")
	if err := Bytes(name, Options{}, []byte("one")); err != nil {
		t.Fatal(err)
	}
	is(t, name, "one", 1)
	mode(t, name, 0o600)
	if err := os.Chmod(name, 0o640); err != nil {
		t.Fatal(err)
	}
	if err := Bytes(name, Options{KeepMode: true, Mode: 0o644}, []byte("two")); err != nil {
		t.Fatal(err)
	}
	is(t, name, "two", 1)
	mode(t, name, 0o640)
	if err := Bytes(name, Options{Mode: 0o644}, []byte("three")); err != nil {
		t.Fatal(err)
	}
	mode(t, name, 0o644)
}

func TestMakesTheFolder(t *testing.T) {
	name := filepath.Join(t.TempDir(), "b", "c", "a")
	if err := Bytes(name, Options{}, nil); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v; want that there is no such folder", err)
	}
	if err := Bytes(name, Options{MakeFolder: true}, []byte("one")); err != nil {
		t.Fatal(err)
	}
	is(t, name, "one", 1)
}

func TestLinks(t *testing.T) {
	dir := t.TempDir()
	name, link := filepath.Join(dir, "a"), filepath.Join(dir, "link")
	if err := os.WriteFile(name, []byte("one"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(name, link); err != nil {
		if runtime.GOOS == "windows" {
			return // links need a right there
		}
		t.Fatal(err)
	}
	if err := Bytes(link, Options{Follow: true}, []byte("two")); err != nil {
		t.Fatal(err)
	}
	is(t, name, "two", 2)
	if err := Bytes(link, Options{New: true}, []byte("three")); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a link was replaced: %v", err)
	}
	if err := Bytes(link, Options{}, []byte("three")); err != nil {
		t.Fatal(err)
	}
	is(t, name, "two", 2)
	is(t, link, "three", 2)
}

func TestNewReplacesNothing(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a")
	came := func(w io.Writer) error { // while the text is being written
		io.WriteString(w, "ours")
		return os.WriteFile(name, []byte("theirs"), 0o600)
	}
	if err := Write(name, Options{New: true}, came); !errors.Is(err, fs.ErrExist) {
		t.Errorf("%v; want that it is there", err)
	}
	is(t, name, "theirs", 1)
	never := func(io.Writer) error { t.Error("it was written all the same"); return nil }
	if err := Write(name, Options{New: true}, never); !errors.Is(err, fs.ErrExist) {
		t.Errorf("%v; want that it is there", err)
	}
	is(t, name, "theirs", 1)
}

func TestHalfWrittenLeavesTheOld(t *testing.T) {
	name := filepath.Join(t.TempDir(), "a")
	if err := os.WriteFile(name, []byte("old"), 0o600); err != nil {
		t.Fatal(err)
	}
	full := errors.New("disk full")
	for _, o := range []Options{{}, {Follow: true, KeepMode: true}} {
		err := Write(name, o, func(w io.Writer) error { io.WriteString(w, "ne"); return full })
		if err != full {
			t.Errorf("%v; want the error of who writes", err)
		}
		is(t, name, "old", 1)
	}
}
