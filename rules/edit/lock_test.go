package edit

import (
	"errors"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"slipcase/rules"
)

// TestApplyAndUndoAtOnce: whoever comes first, each is whole. After the last
// of them either nothing is applied, or what is applied can be undone.
func TestApplyAndUndoAtOnce(t *testing.T) {
	shop := folder(t, map[string]string{"rules/own.hcl": "language = 1\n"})
	was := contents(t, shop)
	change := []Change{with(rate)}
	lower := []rules.Layer{{Name: "lower", FS: memory(map[string][]byte{"rules/x.hcl": []byte("language = 1\nbasis \"invented\" {\n}\nkind \"plates\" {\n}\nmode \"burnt\" {\n  of = [plates]\n  frequency = 0.1\n}\n")})}}
	for range 8 {
		var wg sync.WaitGroup
		var faults [2]error
		wg.Add(2)
		go func() { defer wg.Done(); _, faults[0] = Apply(shop, lower, change) }()
		go func() { defer wg.Done(); _, faults[1] = Undo(shop) }()
		wg.Wait()
		if faults[0] != nil || faults[1] != nil && !errors.Is(faults[1], ErrNothingToUndo) {
			t.Fatal(faults)
		}
		if _, err := Undo(shop); err != nil && !errors.Is(err, ErrNothingToUndo) {
			t.Fatal(err)
		}
		if now := contents(t, shop); len(now) != len(was) || now["rules/own.hcl"] != was["rules/own.hcl"] {
			t.Fatalf("the undo is lost: %v", now)
		}
	}
}

// TestLockWaits: one at a time, also over a folder that comes and goes.
func TestLockWaits(t *testing.T) {
	shop := filepath.Join(t.TempDir(), "shop")
	var wg sync.WaitGroup
	var mu sync.Mutex
	inside := 0
	for range 8 {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for range 5 {
				release, _, err := lock(shop)
				if err != nil {
					t.Error(err)
					return
				}
				mu.Lock()
				if inside++; inside > 1 {
					t.Error("two at once")
				}
				mu.Unlock()
				os.Stat(shop)
				mu.Lock()
				inside--
				mu.Unlock()
				release()
			}
		}()
	}
	wg.Wait()
	// Who comes while the folder is being taken away keeps it alive: then the
	// lock file is all that may be left.
	if entries, err := os.ReadDir(shop); err == nil && (len(entries) != 1 || entries[0].Name() != lockFile) {
		t.Errorf("left behind: %v", entries)
	}
}
