package books

import (
	"log/slog"
	"os"
	"path/filepath"
	"testing"
	"time"

	"slipcase/engine"
)

// The check after an unclean exit may take longer than the wait for another
// program: only the wait is bounded.
func TestCheckMayTakeLongerThanTheWait(t *testing.T) {
	log := slog.New(slog.DiscardHandler)
	first := New(Where{Home: t.TempDir(), Log: log})
	b, err := first.Open(t.Context(), true)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := b.OpenCase(t.Context(), engine.Opening{Unit: "harrow-3"}); err != nil {
		t.Fatal(err)
	}
	second := New(Where{Home: t.TempDir(), Log: log}) // as the first would be after a loss of power
	for _, end := range []string{"", "-wal"} {
		text, err := os.ReadFile(first.Name() + end)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(second.Home(), "casebook.db"+end), text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	b.Close()
	old := patience
	patience = time.Nanosecond
	defer func() { patience = old }()
	b, err = second.Open(t.Context(), false)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	if !b.Recovered() {
		t.Error("nothing was checked")
	}
}
