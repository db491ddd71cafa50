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
		{"other words for a case", "INSERT OR REPLACE INTO words (rowid, text) VALUES (" + first + ", 'nothing')"},
		{"a word less of a case", "INSERT OR REPLACE INTO words (rowid, text) SELECT rowid, title FROM cases WHERE row = " + first},
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
	odd := newBook(t)
	for _, text := range []string{"", "slips \"in\" 3rd, D3/2-1; it's hot — heiß, d'été…", "… — !?", "变速箱 𞤀𞤁 ½ ① \u0301a\u0301", strings.Repeat("slips hot * AND OR NOT ^x (y) ", 200), "a-b_c.d:e NEAR(x y, 2)"} {
		if _, err := odd.OpenCase(bg, engine.Opening{Unit: "northfork-4", Title: "t " + text, Words: text}); err != nil {
			t.Fatalf("%q: %v", text, err)
		}
	}
	if err := odd.Check(bg); err != nil {
		t.Errorf("odd words: the check says %v", err)
	}
	b := openBook(t, path, Options{Clock: steady})
	if err := b.Check(bg); err != nil {
		t.Errorf("nothing is wrong, and the check says %v", err)
	}
}
