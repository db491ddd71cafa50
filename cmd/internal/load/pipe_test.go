//go:build unix

package load

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"syscall"
	"testing"
	"time"

	"slipcase/cmd/internal/answer"
)

// A pipe among the shop's rules is refused by name and holds nobody up, and what a
// link leads to outside of the folder is shown in no message.
func TestPipeAndLinkInTheShop(t *testing.T) {
	dir := t.TempDir()
	secret := filepath.Join(dir, "secret.txt")
	shop := filepath.Join(dir, "shop")
	if err := os.MkdirAll(filepath.Join(shop, "rules"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(secret, []byte("nobody's business\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	link, pipe := filepath.Join(shop, "rules", "link.hcl"), filepath.Join(shop, "rules", "pipe.hcl")
	if err := os.Symlink(secret, link); err != nil {
		t.Fatal(err)
	}
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), time.Minute) // so that a hang ends
	defer cancel()
	l := New(shop, true, nil)
	_, err := l.Load(ctx, "harrow-3")
	if err == nil || ctx.Err() != nil {
		t.Fatalf("%v, %v", err, ctx.Err())
	}
	var named []string
	for _, m := range answer.AsFailure(err).Messages {
		named = append(named, m.Subject.File)
	}
	for _, file := range []string{link, pipe} {
		if !slices.Contains(named, filepath.ToSlash(file)) {
			t.Errorf("%s is not named: %v", file, named)
		}
		if src := l.Source(filepath.ToSlash(file)); src != nil {
			t.Errorf("%s is shown: %q", file, src)
		}
	}
}
