package sqlite

import (
	"context"
	"database/sql"
	"fmt"
	"hash/maphash"

	"slipcase/knowledge/casebook/internal/records"
)

// The word index keeps no text, so that SQLite's own check of it (integrity-check
// of FTS5, which PRAGMA integrity_check runs) tells a damaged tree and not wrong
// words under a right row. To ask it for the words of every case takes seven times
// as long as all the rest; to read it once from end to end takes a twentieth:
// each case gets a sum of its words and their places, which is held against that
// of the text that follows from its entries.

// vocabulary is what has to stand on a connection to read the index through.
const vocabulary = "CREATE VIRTUAL TABLE temp.vocabulary USING fts5vocab('main', 'words', 'instance')"

// placeBits are the bits of a word's number in its text; a text has at most some
// records.MaxText words for each of its pieces.
const placeBits = 28

// wordSums are sums over the words of each case, by its row.
type wordSums struct {
	seed maphash.Seed
	of   []uint64
}

func (w *wordSums) add(row int64, term uint64, place int64) {
	x := term + uint64(place+1)*0x9e3779b97f4a7c15 // an odd number: places do not cancel
	x ^= x >> 31
	x *= 0xbf58476d1ce4e5b9
	w.of[row] += x ^ x>>29
}

// sum is what the words of a text come to.
func (w *wordSums) sum(words []string) uint64 {
	one := wordSums{w.seed, []uint64{0}}
	for i, word := range words {
		one.add(0, maphash.String(w.seed, word), int64(i))
	}
	return one.of[0]
}

// indexed reads the word index; top is the largest row of a case.
func (b *Book) indexed(ctx context.Context, q querier, seed maphash.Seed, top int64) (*wordSums, error) {
	w := &wordSums{seed, make([]uint64, top+1)}
	rows, err := q.QueryContext(ctx, fmt.Sprintf("SELECT term, group_concat(doc << %d | offset) FROM temp.vocabulary GROUP BY term", placeBits))
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var term, list []byte
		if err := rows.Scan(&term, &list); err != nil {
			return nil, b.rowFault("a word of the index", err)
		}
		h := maphash.Bytes(seed, term)
		err := b.eachRow(list, func(at int64) error {
			row := at >> placeBits
			if row > top {
				return b.damaged(fmt.Sprintf("the word index names row %d of %d cases", row, top))
			}
			w.add(row, h, at&(1<<placeBits-1))
			return nil
		})
		if err != nil {
			return nil, err
		}
	}
	return w, rows.Err()
}

// doubtful is a case whose words are not those that Go makes of its text.
type doubtful struct {
	row      int64
	id, text string
}

// settle asks SQLite itself what words the doubtful cases have: for signs that
// are seldom met, Go and SQLite differ in what is a letter.
func (b *Book) settle(ctx context.Context, w *wordSums, list []doubtful) error {
	if len(list) == 0 {
		return nil
	}
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		return err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	for _, do := range []string{"CREATE VIRTUAL TABLE words USING fts5 (text, content = '', contentless_delete = 1, tokenize = 'unicode61 remove_diacritics 2')", vocabulary} {
		if _, err := db.ExecContext(ctx, do); err != nil {
			return err
		}
	}
	for i, d := range list {
		if _, err := db.ExecContext(ctx, "INSERT INTO words (rowid, text) VALUES (?, ?)", i, d.text); err != nil {
			return err
		}
	}
	want, err := b.indexed(ctx, db, w.seed, int64(len(list)))
	if err != nil {
		return err
	}
	for i, d := range list {
		if w.of[d.row] != want.of[i] {
			return b.damaged(fmt.Sprintf("the word index does not have the words of case %s", d.id))
		}
	}
	return nil
}

// differs notes a case whose words do not come to the sum of the index.
func (w *wordSums) differs(h *records.Held, text string) (doubtful, bool) {
	return doubtful{h.Row, h.Rec.ID, text}, w.of[h.Row] != w.sum(records.Words(text))
}
