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
		{"with the words of another case", "UPDATE words SET text = 'slips when hot' WHERE rowid = " + first},
		{"with one word less", "UPDATE words SET text = (SELECT title FROM cases WHERE row = " + first + ") WHERE rowid = " + first},
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

// Signs of which Go and SQLite make different words are no damage, and what is
// wrong beside them is told.
func TestCheckKnowsRareSigns(t *testing.T) {
	path := filepath.Join(t.TempDir(), "cases.db")
	b := openBook(t, path, Options{Clock: steady})
	for _, title := range []string{"½ turn, ﬁlter № 3", "İçel’de Straße", "ａｂｃ ﷺ ㎏ ⅷ", "e\u0301te\u0301 \u1e9b\u0323", "\ue000\U000f0000 x", ""} {
		openCase(t, b, engine.Opening{Title: title})
	}
	if err := b.Check(bg); err != nil {
		t.Fatal(err)
	}
	b.Close()
	raw, err := sql.Open("sqlite", path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := raw.Exec("UPDATE words SET text = '½ turn, ﬁlter № 4' WHERE rowid = 1"); err != nil {
		t.Fatal(err)
	}
	raw.Close()
	b = openBook(t, path, Options{Clock: steady})
	if err := b.Check(bg); !errors.Is(err, engine.ErrDamaged) || !strings.Contains(err.Error(), "words of case 26-0001") {
		t.Errorf("the check says %v", err)
	}
}
