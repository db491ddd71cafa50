package sqlite

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"slipcase/engine"
	"slipcase/knowledge/casebook/internal/records"
)

// What customers said is readable by the owner of the file alone, in a new
// casebook and in one that was made more openly.
func TestPrivate(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("Windows keeps rights in another way")
	}
	path := filepath.Join(t.TempDir(), "book.db")
	for range 2 {
		b, err := Open(context.Background(), path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		if _, err := b.OpenCase(context.Background(), engine.Opening{Unit: "u", Title: "t", At: time.Now()}); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{path, path + "-wal", path + "-shm"} {
			if st, err := os.Stat(name); err == nil && st.Mode().Perm() != 0o600 {
				t.Errorf("%s: %v", filepath.Base(name), st.Mode())
			}
		}
		if err := b.Close(); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(path, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// A huge number in a stranger's export is refused; in a casebook that has one
// already, opening a case fails with words, not with a panic.
func TestHugeNumber(t *testing.T) {
	if _, ok := records.CaseNumber("26-999999999999999"); ok {
		t.Error("fifteen digits are an id")
	}
	if n, ok := records.CaseNumber("26-999999999"); !ok || n != 999999999 {
		t.Error("nine digits are none")
	}
	b, err := Open(context.Background(), filepath.Join(t.TempDir(), "book.db"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	ctx := context.Background()
	if err := b.write(ctx, "test", func(tx *txn) error {
		h, err := insertOpening(ctx, tx, "26-999999999", engine.Opening{Unit: "u", Title: "t", At: time.Now()})
		if err != nil {
			return err
		}
		return derive(ctx, tx, nil, h)
	}); err != nil {
		t.Fatal(err)
	}
	if _, err := b.OpenCase(ctx, engine.Opening{Unit: "u", Title: "t", At: time.Now()}); err == nil || !strings.Contains(err.Error(), "digits") {
		t.Errorf("a case past the last number: %v", err)
	}
}
