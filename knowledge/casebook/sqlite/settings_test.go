package sqlite

import (
	"database/sql"
	"path/filepath"
	"testing"
)

// What a casebook asks of SQLite is in force on its connections: read back, since
// SQLite says nothing of a setting that it does not know.
func TestSettings(t *testing.T) {
	b := openBook(t, filepath.Join(t.TempDir(), "a.db"), Options{})
	for setting, want := range map[string]string{
		"synchronous":     "2", // FULL: the log is synced before a write is acknowledged
		"foreign_keys":    "1",
		"fullfsync":       "1",
		"cell_size_check": "1",
		"journal_mode":    "wal",
		"busy_timeout":    "10000", // milliseconds, what Options.Wait is when nothing is said
	} {
		for name, db := range map[string]*sql.DB{"reader": b.reader, "writer": b.writer} {
			var got string
			if err := db.QueryRowContext(bg, "PRAGMA "+setting).Scan(&got); err != nil || got != want {
				t.Errorf("%s of the %s is %q, want %q, %v", setting, name, got, want, err)
			}
		}
	}
}
