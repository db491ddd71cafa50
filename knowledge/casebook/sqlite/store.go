package sqlite

import (
	"bytes"
	"cmp"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/knowledge/casebook/internal/records"
)

// OpenCase implements engine.Casebook.
func (b *Book) OpenCase(ctx context.Context, o engine.Opening, entries ...engine.Entry) (id string, err error) {
	if err := records.CheckOpening(o); err != nil {
		return "", fmt.Errorf("open a case: %w: %w", engine.ErrBadEntry, err)
	}
	if err := records.CheckEntries("", entries); err != nil {
		return "", err
	}
	if o.At.IsZero() {
		o.At = b.opt.Clock()
	}
	err = b.write(ctx, "open a case", func(tx *txn) error {
		if id, err = b.openIn(ctx, tx, o); err != nil || len(entries) == 0 {
			return err
		}
		_, err := b.appendIn(ctx, tx, id, entries)
		return err
	})
	if err != nil {
		return "", err
	}
	return id, nil
}

// openIn is OpenCase within a transaction, for an opening that has its time.
func (b *Book) openIn(ctx context.Context, tx *txn, o engine.Opening) (string, error) {
	if o.Key != "" {
		if id, known, err := b.sameOpening(ctx, tx, o); known || err != nil {
			return id, err
		}
	}
	var last int64
	if err := tx.QueryRowContext(ctx, "SELECT coalesce(max(number), 0) FROM cases").Scan(&last); err != nil {
		return "", err
	}
	id := records.NewID(o.At, last+1)
	h, err := insertOpening(ctx, tx, id, o)
	if err != nil {
		return "", err
	}
	return id, derive(ctx, tx, nil, h)
}

// GoOn implements engine.Casebook.
func (b *Book) GoOn(ctx context.Context, from string, o engine.Opening, entries []engine.Entry, last func(string) []engine.Entry) (id string, err error) {
	if err := records.CheckOpening(o); err != nil {
		return "", fmt.Errorf("open a case: %w: %w", engine.ErrBadEntry, err)
	}
	if err := records.CheckEntries("", entries); err != nil {
		return "", err
	}
	if o.At.IsZero() {
		o.At = b.opt.Clock()
	}
	err = b.write(ctx, "go on with case "+from, func(tx *txn) error {
		if id, err = b.openIn(ctx, tx, o); err != nil {
			return err
		}
		if _, err := b.appendIn(ctx, tx, id, entries); err != nil {
			return err
		}
		closing := last(id)
		if err := records.CheckEntries(from, closing); err != nil {
			return err
		}
		_, err := b.appendIn(ctx, tx, from, closing)
		return err
	})
	if err != nil {
		return "", err
	}
	return id, nil
}

// sameOpening finds the case that was opened with the key before.
func (b *Book) sameOpening(ctx context.Context, tx *txn, o engine.Opening) (id string, known bool, err error) {
	err = tx.QueryRowContext(ctx, `SELECT id FROM cases WHERE "key" = ?`, o.Key).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return "", false, nil
	}
	if err != nil {
		return "", false, err
	}
	h, err := b.load(ctx, tx, id)
	if err != nil {
		return "", false, err
	}
	before := h.Rec.Opening
	before.At = o.At
	if before != o {
		return "", false, fmt.Errorf("open a case: %w: key %q opened case %s", engine.ErrKeyReused, o.Key, id)
	}
	return id, true, nil
}

// Append implements engine.Casebook.
func (b *Book) Append(ctx context.Context, id string, entries ...engine.Entry) ([]int64, error) {
	if err := records.CheckEntries(id, entries); err != nil {
		return nil, err
	}
	var seqs []int64
	err := b.write(ctx, "write to case "+id, func(tx *txn) (err error) {
		seqs, err = b.appendIn(ctx, tx, id, entries)
		return err
	})
	if err != nil {
		return nil, err
	}
	return seqs, nil
}

// appendIn is Append within a transaction, for entries that were checked.
func (b *Book) appendIn(ctx context.Context, tx *txn, id string, entries []engine.Entry) ([]int64, error) {
	before, err := b.load(ctx, tx, id)
	if err != nil {
		return nil, err
	}
	after, numbers, err := records.Grow(ctx, before, entries, b.opt.Clock,
		func(id string) (bool, error) { return known(ctx, tx, id) },
		func(h *records.Held, e engine.Entry) error { return insertEntry(ctx, tx, h, e) })
	if err != nil {
		return nil, err
	}
	if len(after.Rec.Entries) == len(before.Rec.Entries) {
		return numbers, nil
	}
	return numbers, derive(ctx, tx, before, after)
}

// Get implements engine.Casebook.
func (b *Book) Get(ctx context.Context, id string) (engine.CaseRecord, error) {
	var rec engine.CaseRecord
	err := b.read(ctx, "read case "+id, func(tx *txn) error {
		h, err := b.load(ctx, tx, id)
		if err == nil {
			rec = h.Rec
		}
		return err
	})
	return rec, err
}

// Each implements engine.Casebook. What is given is counted against the table
// itself, as in Export: nothing must be learned from a part of the cases only.
func (b *Book) Each(ctx context.Context, unit string, f func(c engine.CaseRecord, of int) error) error {
	var own error
	err := b.read(ctx, "read its cases", func(tx *txn) error {
		var of, given int
		if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM cases NOT INDEXED WHERE ? = '' OR unit = ?", unit, unit).Scan(&of); err != nil {
			return err
		}
		err := eachID(ctx, tx, unit, func(id string) error {
			h, err := b.load(ctx, tx, id)
			if err != nil {
				return err
			}
			given++
			own = f(h.Rec, of)
			return own
		})
		if err == nil && given != of {
			err = b.damaged(fmt.Sprintf("its table holds %d cases, %d of them were found", of, given))
		}
		return err
	})
	return cmp.Or(own, err)
}

// Last implements engine.Casebook.
func (b *Book) Last(ctx context.Context, id string) (seq int64, err error) {
	err = b.read(ctx, "read case "+id, func(tx *txn) error {
		// From the entries, not from the derived row: it has a key of its own.
		var row int64
		err := tx.QueryRowContext(ctx, "SELECT row FROM cases WHERE id = ?", id).Scan(&row)
		if errors.Is(err, sql.ErrNoRows) {
			return b.absent(ctx, tx, id)
		}
		if err != nil {
			return err
		}
		return tx.QueryRowContext(ctx, `SELECT coalesce(max(seq), 0) FROM entries WHERE "case" = ?`, row).Scan(&seq)
	})
	return seq, err
}

// absent is the error for a case that the index does not know. The table itself
// is asked too: a case must not be denied because a page of the index is bad.
func (b *Book) absent(ctx context.Context, tx *txn, id string) error {
	var n int
	if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM cases NOT INDEXED WHERE id = ?", id).Scan(&n); err != nil {
		return err
	}
	if n > 0 {
		return b.damaged(fmt.Sprintf("case %s is missing in the index", id))
	}
	return records.NoCase(id)
}

// insertOpening writes the head of a case whose id is free.
func insertOpening(ctx context.Context, tx *txn, id string, o engine.Opening) (*records.Held, error) {
	at, err := records.TimeText(o.At)
	if err != nil {
		return nil, err
	}
	number, ok := records.CaseNumber(id)
	if !ok {
		return nil, fmt.Errorf("casebook: %s is not a case id; its number has at most %d digits", id, records.MostDigits)
	}
	sum := records.OpeningSum(id, o, at)
	res, err := tx.ExecContext(ctx, `INSERT INTO cases (number, id, unit, title, vehicle, words, rules, "by", at, "key", sum)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, nullif(?, ''), ?)`,
		number, id, o.Unit, o.Title, o.Vehicle, o.Words, o.RulesHash, o.By, at, o.Key, sum)
	if err != nil {
		return nil, err
	}
	row, err := res.LastInsertId()
	return &records.Held{Row: row, Number: number, Rec: engine.CaseRecord{ID: id, Opening: o}, LastSum: sum}, err
}

// insertEntry writes an entry with its number at the end of the case.
func insertEntry(ctx context.Context, tx *txn, h *records.Held, e engine.Entry) error {
	r, err := records.RowOf(h, e)
	if err != nil {
		return err
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO entries ("case", seq, kind, "by", at, "key", body, sum) VALUES (?, ?, ?, ?, ?, nullif(?, ''), ?, ?)`,
		h.Row, e.Seq, r.Kind, e.By, r.At, e.Key, r.Body, r.Sum)
	h.Rec.Entries = append(h.Rec.Entries, e)
	h.LastSum = r.Sum
	return err
}

// load reads a case and checks every row of it.
func (b *Book) load(ctx context.Context, tx *txn, id string) (*records.Held, error) {
	h, err := b.loadOpening(ctx, tx, "id = ?", id)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, b.absent(ctx, tx, id)
	}
	if err == nil {
		err = b.loadEntries(ctx, tx, h)
	}
	if err == nil {
		err = b.complete(ctx, tx, h)
	}
	if err != nil {
		return nil, err
	}
	return h, nil
}

// loadOpening reads the head of the one case that meets a condition and checks
// it. What could be read of it is returned with an error too.
func (b *Book) loadOpening(ctx context.Context, tx *txn, condition string, arg any) (*records.Held, error) {
	h := &records.Held{}
	var at string
	var key sql.NullString
	var sum []byte
	o := &h.Rec.Opening
	err := tx.QueryRowContext(ctx, `SELECT row, id, number, unit, title, vehicle, words, rules, "by", at, "key", sum FROM cases WHERE `+condition, arg).
		Scan(&h.Row, &h.Rec.ID, &h.Number, &o.Unit, &o.Title, &o.Vehicle, &o.Words, &o.RulesHash, &o.By, &at, &key, &sum)
	if errors.Is(err, sql.ErrNoRows) {
		return h, err
	}
	if err != nil {
		return h, b.rowFault(fmt.Sprintf("the opening of case %v", arg), err)
	}
	id := h.Rec.ID
	o.Key = key.String
	number, ok := records.CaseNumber(id)
	h.LastSum = records.OpeningSum(id, *o, at)
	if !ok || number != h.Number || !bytes.Equal(sum, h.LastSum) {
		return h, b.damaged(fmt.Sprintf("the opening of case %s does not match its checksum", id))
	}
	if o.At, err = records.ParseTime(at); err != nil {
		return h, b.damaged(fmt.Sprintf("the opening of case %s: %v", id, err))
	}
	return h, nil
}

// complete checks that all entries of a case were found: the derived row knows
// how many there must be.
func (b *Book) complete(ctx context.Context, tx *txn, h *records.Held) error {
	id := h.Rec.ID
	var seq int64
	var last []byte
	err := tx.QueryRowContext(ctx, `SELECT last_seq, last_sum FROM state WHERE "case" = ?`, h.Row).Scan(&seq, &last)
	if errors.Is(err, sql.ErrNoRows) || err == nil && (seq != int64(len(h.Rec.Entries)) || !bytes.Equal(last, h.LastSum)) {
		return b.damaged(fmt.Sprintf("entries of case %s are missing", id))
	}
	if err != nil {
		return b.rowFault("the state of case "+id, err)
	}
	return nil
}

func (b *Book) loadEntries(ctx context.Context, tx *txn, h *records.Held) error {
	id := h.Rec.ID
	rows, err := tx.QueryContext(ctx, `SELECT seq, kind, "by", at, "key", body, sum FROM entries WHERE "case" = ? ORDER BY seq`, h.Row)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var e engine.Entry
		var kind, at, body string
		var key sql.NullString
		var sum []byte
		where := fmt.Sprintf("entry %d of case %s", len(h.Rec.Entries)+1, id)
		if err := rows.Scan(&e.Seq, &kind, &e.By, &at, &key, &body, &sum); err != nil {
			return b.rowFault(where, err)
		}
		e.Key = key.String
		h.LastSum = records.Row{Kind: kind, At: at, Body: body}.Checksum(h.LastSum, e)
		if e.Seq != int64(len(h.Rec.Entries)+1) || !bytes.Equal(sum, h.LastSum) {
			return b.damaged(where + " does not match its checksum")
		}
		if e.At, err = records.ParseTime(at); err == nil {
			e.Body, err = records.DecodeBody(engine.EntryKind(kind), []byte(body))
		}
		if err != nil {
			// The checksum is right, so it was written so: by a program that
			// knows more, or by a fault of ours.
			return b.damaged(fmt.Sprintf("%s cannot be understood: %v", where, err))
		}
		h.Rec.Entries = append(h.Rec.Entries, e)
	}
	return rows.Err()
}

// rowFault is for a row that could be found but not read: SQLite's own errors
// keep their meaning, a value of a wrong type is damage.
func (b *Book) rowFault(where string, err error) error {
	if faultKind(err) != nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	if strings.Contains(err.Error(), "Scan error") {
		return b.damaged(where + " holds a value of a wrong type")
	}
	return err
}
