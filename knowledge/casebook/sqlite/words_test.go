package sqlite

import (
	"database/sql"
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"slipcase/engine"
)

// The check tells a word index that is gone, that lost or gained a case, or whose
// own tables are damaged: a search would find nothing, or too little, and say so of
// no case.
func TestCheckTellsDamagedWordIndex(t *testing.T) {
	path, _, list := closedShop(t, 6)
	if n := len(list.Cases); n < 3 {
		t.Fatalf("%d cases", n)
	}
	const first = "(SELECT min(row) FROM cases)"
	for _, change := range []struct{ what, do string }{
		{"gone", "DROP TABLE words"},
		{"emptied", "INSERT INTO words (words) VALUES ('delete-all')"},
		{"one case less", "DELETE FROM words WHERE rowid = " + first},
		{"one case for another", "UPDATE words_docsize SET id = id + 1000 WHERE id = " + first},
		{"a case that is nowhere", "INSERT INTO words (rowid, text) VALUES (1000, 'slips')"},
		{"without its data", "DELETE FROM words_data"},
		{"without some of its data", "DELETE FROM words_data WHERE id > 10"},
		{"with other data", "UPDATE words_data SET block = x'00000000' WHERE id > 10"},
		{"without its sizes", "DROP TABLE words_docsize"},
		{"without its settings", "DROP TABLE words_config"},
		{"without its keys", "DROP TABLE words_idx"},
	} {
		broken := filepath.Join(t.TempDir(), "cases.db")
		writeFile(t, broken, readFile(t, path))
		raw, err := sql.Open("sqlite", broken)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := raw.Exec(change.do); err != nil {
			t.Fatalf("%s: %v", change.what, err)
		}
		raw.Close()
		b, err := Open(bg, broken, Options{Clock: steady})
		if err != nil {
			isDamage(t, 0, "open", err)
			continue
		}
		if err := b.Check(bg); !errors.Is(err, engine.ErrDamaged) || !strings.Contains(err.Error(), "word") {
			t.Errorf("word index %s: the check says %v", change.what, err)
		}
		b.Close()
	}
	b := openBook(t, path, Options{Clock: steady})
	if err := b.Check(bg); err != nil {
		t.Errorf("nothing is wrong, and the check says %v", err)
	}
}
