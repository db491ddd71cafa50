//go:build unix

package rules_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"golang.org/x/sys/unix"

	"slipcase/rules"
)

// TestFolderOfAStranger: links out of the folder, pipes and devices are
// refused by name, without waiting; a link within the folder is followed.
func TestFolderOfAStranger(t *testing.T) {
	out, dir := t.TempDir(), t.TempDir()
	write := func(p, s string) {
		t.Helper()
		if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, []byte(s), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	link := func(to, name string) {
		t.Helper()
		if err := os.Symlink(to, filepath.Join(dir, "rules", name)); err != nil {
			t.Fatal(err)
		}
	}
	write(filepath.Join(out, "secret.hcl"), "language = 1\n")
	write(filepath.Join(dir, "kept", "good.hcl"), "language = 1\nstress \"linked\" {\n}\n")
	write(filepath.Join(dir, "rules", "a.hcl"), "language = 1\n")
	link(filepath.Join("..", "kept", "good.hcl"), "good.hcl")
	link(filepath.Join(out, "secret.hcl"), "out.hcl")
	link("/dev/zero", "device.hcl")
	link("nowhere.hcl", "dangling.hcl")
	if err := unix.Mkfifo(filepath.Join(dir, "rules", "pipe.hcl"), 0o644); err != nil {
		t.Skip(err)
	}
	folder, err := rules.OpenFolder(dir)
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan map[string]string)
	go func() {
		k, diags := rules.Load(rules.Options{Layers: []rules.Layer{base, {Name: "shop", FS: folder}}})
		got := map[string]string{}
		for _, d := range diags {
			if d.Summary == "file cannot be read" {
				got[filepath.Base(d.Subject.File)] = d.Detail
			}
		}
		for _, s := range k.Stresses {
			got[s.Name] = "read"
		}
		done <- got
	}()
	select {
	case got := <-done:
		for name, want := range map[string]string{"out.hcl": "leads out of the folder", "device.hcl": "leads out of the folder", "pipe.hcl": "not a regular file", "dangling.hcl": "no such file", "linked": "read"} {
			if !strings.Contains(strings.ToLower(got[name]), want) {
				t.Errorf("%s: %q, want %q", name, got[name], want)
			}
		}
	case <-time.After(20 * time.Second):
		t.Fatal("waits for a pipe")
	}
}
