package sqlite

import (
	"bytes"
	"context"
	"database/sql"
	"fmt"
	"hash/maphash"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/knowledge/casebook/internal/records"
)

// Check implements engine.Casebook.
func (b *Book) Check(ctx context.Context) error { return b.check(ctx, true) }

// check reads the whole file: SQLite's own check, references, and, when the
// file has the newest form, every row against its checksum and every derived
// row against what it follows from.
func (b *Book) check(ctx context.Context, newest bool) error {
	// A connection of its own, for the table that the word index is read through:
	// it is temporary, and made before the transaction because that only reads.
	db := b.connect("")
	defer db.Close()
	db.SetMaxOpenConns(1)
	err := b.readFrom(ctx, db, "check it", func(tx *txn) error {
		what, err := integrity(ctx, tx)
		if err == nil && what == "" {
			what, err = references(ctx, tx)
		}
		if err == nil && what != "" {
			err = b.damaged(what)
		}
		return err
	})
	if err != nil || !newest {
		return err
	}
	if _, err := db.ExecContext(ctx, vocabulary); err != nil {
		return b.fault("check it", err)
	}
	return b.readFrom(ctx, db, "check it", func(tx *txn) error { return b.checkCases(ctx, tx) })
}

type querier interface {
	QueryContext(ctx context.Context, query string, args ...any) (*sql.Rows, error)
}

// integrity runs SQLite's check, which covers tables, indexes and the word
// index; it gives what is wrong, "" when nothing is.
func integrity(ctx context.Context, q querier) (string, error) {
	found, err := texts(ctx, q, "PRAGMA integrity_check(5)")
	if err != nil {
		return "", err
	}
	if len(found) == 1 && found[0] == "ok" {
		return "", nil
	}
	return strings.Join(found, "; "), nil
}

func references(ctx context.Context, q querier) (string, error) {
	found, err := texts(ctx, q, `SELECT "table" || ' row ' || coalesce(rowid, '?') || ' refers to no ' || parent FROM pragma_foreign_key_check LIMIT 5`)
	return strings.Join(found, "; "), err
}

func texts(ctx context.Context, q querier, query string, args ...any) ([]string, error) {
	rows, err := q.QueryContext(ctx, query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, rows.Err()
}

// checkCases reads every case, and the word index once.
func (b *Book) checkCases(ctx context.Context, tx *txn) error {
	var states, entries, indexed, stray, top int64
	err := tx.QueryRowContext(ctx, `SELECT (SELECT count(*) FROM state), (SELECT count(*) FROM entries), (SELECT coalesce(max(row), 0) FROM cases),
		(SELECT count(*) FROM words), (SELECT count(*) FROM words WHERE rowid NOT IN (SELECT row FROM cases))`).Scan(&states, &entries, &top, &indexed, &stray)
	if err != nil {
		return err
	}
	if top != states { // rows are never deleted
		return b.damaged(fmt.Sprintf("its newest case is in row %d, and it has %d states", top, states))
	}
	words, err := b.indexed(ctx, tx, maphash.MakeSeed(), top)
	if err != nil {
		return err
	}
	var doubts []doubtful
	var cases, read int64
	err = eachID(ctx, tx, "", func(id string) error {
		h, err := b.load(ctx, tx, id)
		if err != nil {
			return err
		}
		cases++
		read += int64(len(h.Rec.Entries))
		text, err := b.checkDerived(ctx, tx, h)
		if err != nil {
			return err
		}
		if d, yes := words.differs(h, text); yes {
			doubts = append(doubts, d)
		}
		return nil
	})
	if err != nil {
		return err
	}
	if cases != states || read != entries {
		return b.damaged(fmt.Sprintf("it has %d cases with %d entries, and %d states with %d entries", cases, read, states, entries))
	}
	if indexed != cases || stray > 0 {
		return b.damaged(fmt.Sprintf("it has %d cases, and the word index has %d, of which %d are not here", cases, indexed, stray))
	}
	return b.settle(ctx, words, doubts)
}

// eachID goes through the ids of a unit's cases, of all with "", in the order of
// an export.
func eachID(ctx context.Context, tx *txn, unit string, f func(id string) error) error {
	const batch = 1000
	var number int64
	var id string
	for {
		rows, err := tx.QueryContext(ctx, "SELECT number, id FROM cases WHERE (number, id) > (?, ?) AND (? = '' OR unit = ?) ORDER BY number, id LIMIT ?", number, id, unit, unit, batch)
		if err != nil {
			return err
		}
		var ids []string
		for rows.Next() {
			if err := rows.Scan(&number, &id); err != nil {
				rows.Close()
				return err
			}
			ids = append(ids, id)
		}
		if err := rows.Err(); err != nil {
			return err
		}
		for _, id := range ids {
			if err := f(id); err != nil {
				return err
			}
		}
		if len(ids) < batch {
			return nil
		}
	}
}

// checkDerived compares the derived rows of a case with what they follow from,
// and gives the text that its words are of.
func (b *Book) checkDerived(ctx context.Context, tx *txn, h *records.Held) (text string, err error) {
	id := h.Rec.ID
	want, err := records.DerivedOf(h)
	if err != nil {
		return "", b.damaged(err.Error())
	}
	s, err := b.summary(ctx, tx, h.Row)
	if err != nil {
		return "", err
	}
	got := &records.Derived{Status: s.Status, Earlier: s.Earlier, LastSeq: s.Entries}
	var stateSum []byte
	if err := tx.QueryRowContext(ctx, `SELECT sum FROM state WHERE "case" = ?`, h.Row).Scan(&stateSum); err != nil {
		return "", err
	}
	present, err := b.findings(ctx, tx, h.Row)
	if err != nil {
		return "", err
	}
	failed, err := texts(ctx, tx, `SELECT component || '/' || mode FROM failed WHERE "case" = ? ORDER BY 1`, h.Row)
	if err != nil {
		return "", err
	}
	var wantFailed []string
	for _, f := range want.Failed {
		wantFailed = append(wantFailed, f[0]+"/"+f[1])
	}
	switch {
	case got.Status != want.Status || got.Earlier != want.Earlier || got.LastSeq != want.LastSeq || !bytes.Equal(stateSum, want.Sum(h)):
		return "", b.damaged(fmt.Sprintf("the state of case %s does not follow from its entries", id))
	case !slices.Equal(present, want.Present) || !slices.Equal(failed, wantFailed):
		return "", b.damaged(fmt.Sprintf("the findings listed for case %s do not follow from its entries", id))
	}
	return want.Text, nil
}

func (b *Book) findings(ctx context.Context, tx *txn, row int64) ([]engine.FindingName, error) {
	rows, err := tx.QueryContext(ctx, `SELECT name, place, condition FROM present WHERE "case" = ?`, row)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []engine.FindingName
	for rows.Next() {
		var f engine.FindingName
		var condition string
		if err := rows.Scan(&f.Name, &f.Place, &condition); err != nil {
			return nil, b.rowFault("a finding", err)
		}
		f.Condition = engine.Condition(condition)
		out = append(out, f)
	}
	return records.SortUnique(out, func(f engine.FindingName) string { return f.String() }), rows.Err()
}
