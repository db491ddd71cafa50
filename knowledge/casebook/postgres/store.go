package postgres

import (
	"bytes"
	"context"
	"errors"
	"fmt"

	"github.com/jackc/pgx/v5"

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
	err = b.write(ctx, "open a case", func(tx pgx.Tx) error {
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
func (b *Book) openIn(ctx context.Context, tx pgx.Tx, o engine.Opening) (string, error) {
	if o.Key != "" {
		if id, known, err := b.sameOpening(ctx, tx, o); known || err != nil {
			return id, err
		}
	}
	var last int64
	if err := tx.QueryRow(ctx, "SELECT coalesce(max(number), 0) FROM cases").Scan(&last); err != nil {
		return "", err
	}
	id := records.NewID(o.At, last+1)
	h, err := insertOpening(ctx, tx, id, o)
	if err != nil {
		return "", err
	}
	return id, derive(ctx, tx, h)
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
	err = b.write(ctx, "go on with case "+from, func(tx pgx.Tx) error {
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
func (b *Book) sameOpening(ctx context.Context, tx pgx.Tx, o engine.Opening) (id string, known bool, err error) {
	err = tx.QueryRow(ctx, `SELECT id FROM cases WHERE "key" = $1`, o.Key).Scan(&id)
	if errors.Is(err, pgx.ErrNoRows) {
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
func (b *Book) Append(ctx context.Context, id string, entries ...engine.Entry) (seqs []int64, err error) {
	if err := records.CheckEntries(id, entries); err != nil {
		return nil, err
	}
	err = b.write(ctx, "write to case "+id, func(tx pgx.Tx) (err error) {
		seqs, err = b.appendIn(ctx, tx, id, entries)
		return err
	})
	if err != nil {
		return nil, err
	}
	return seqs, nil
}

// appendIn is Append within a transaction, for entries that were checked.
func (b *Book) appendIn(ctx context.Context, tx pgx.Tx, id string, entries []engine.Entry) ([]int64, error) {
	before, err := b.load(ctx, tx, id)
	if err != nil {
		return nil, err
	}
	rows := &pgx.Batch{}
	after, numbers, err := records.Grow(ctx, before, entries, b.opt.Clock,
		func(id string) (bool, error) { return known(ctx, tx, id) },
		func(h *records.Held, e engine.Entry) error { return queueEntry(rows, h, e) })
	if err != nil {
		return nil, err
	}
	if rows.Len() == 0 {
		return numbers, nil
	}
	if err := tx.SendBatch(ctx, rows).Close(); err != nil {
		return nil, err
	}
	return numbers, derive(ctx, tx, after)
}

// Get implements engine.Casebook.
func (b *Book) Get(ctx context.Context, id string) (engine.CaseRecord, error) {
	var rec engine.CaseRecord
	err := b.readAgain(ctx, "read case "+id, func(tx pgx.Tx) error {
		h, err := b.load(ctx, tx, id)
		if err == nil {
			rec = h.Rec
		}
		return err
	})
	return rec, err
}

// Last implements engine.Casebook.
func (b *Book) Last(ctx context.Context, id string) (seq int64, err error) {
	err = b.readAgain(ctx, "read case "+id, func(tx pgx.Tx) error {
		err := tx.QueryRow(ctx, `SELECT coalesce((SELECT max(seq) FROM entries WHERE "case" = c."row"), 0) FROM cases c WHERE id = $1`, id).Scan(&seq)
		if errors.Is(err, pgx.ErrNoRows) {
			return records.NoCase(id)
		}
		return err
	})
	return seq, err
}

func known(ctx context.Context, tx pgx.Tx, id string) (known bool, err error) {
	err = tx.QueryRow(ctx, "SELECT EXISTS (SELECT FROM cases WHERE id = $1)", id).Scan(&known)
	return known, err
}

// insertOpening writes the head of a case whose id is free.
func insertOpening(ctx context.Context, tx pgx.Tx, id string, o engine.Opening) (*records.Held, error) {
	at, err := records.TimeText(o.At)
	if err != nil {
		return nil, err
	}
	number, ok := records.CaseNumber(id)
	if !ok {
		return nil, fmt.Errorf("casebook: %s is not a case id; its number has at most %d digits", id, records.MostDigits)
	}
	sum := records.OpeningSum(id, o, at)
	h := &records.Held{Number: number, Rec: engine.CaseRecord{ID: id, Opening: o}, LastSum: sum}
	err = tx.QueryRow(ctx, `INSERT INTO cases ("row", number, id, unit, title, vehicle, words, rules, "by", at, "key", sum)
		SELECT coalesce(max("row"), 0) + 1, $1::bigint, $2, $3, $4, $5, $6, $7, $8, $9, nullif($10, ''), $11::bytea FROM cases RETURNING "row"`,
		number, id, o.Unit, o.Title, o.Vehicle, o.Words, o.RulesHash, o.By, at, o.Key, sum).Scan(&h.Row)
	return h, err
}

// queueEntry adds an entry with its number to a case, and its row to those that
// are to be written.
func queueEntry(rows *pgx.Batch, h *records.Held, e engine.Entry) error {
	r, err := records.RowOf(h, e)
	if err != nil {
		return err
	}
	rows.Queue(`INSERT INTO entries ("case", seq, kind, "by", at, "key", body, sum) VALUES ($1, $2, $3, $4, $5, nullif($6, ''), $7, $8)`,
		h.Row, e.Seq, r.Kind, e.By, r.At, e.Key, r.Body, r.Sum)
	h.Rec.Entries = append(h.Rec.Entries, e)
	h.LastSum = r.Sum
	return nil
}

// derive writes what follows from a case.
func derive(ctx context.Context, tx pgx.Tx, h *records.Held) error {
	d, err := records.DerivedOf(h)
	if err != nil {
		return err
	}
	rows := &pgx.Batch{}
	rows.Queue(`INSERT INTO state ("case", number, id, unit, opened, status, earlier, last_seq, last_at, culprits, last_sum, sum)
		VALUES ($1, $2, $3, $4, $5, $6, nullif($7, ''), $8, $9, $10, $11, $12)
		ON CONFLICT ("case") DO UPDATE SET status = excluded.status, earlier = excluded.earlier, last_seq = excluded.last_seq,
			last_at = excluded.last_at, culprits = excluded.culprits, last_sum = excluded.last_sum, sum = excluded.sum`,
		h.Row, h.Number, h.Rec.ID, h.Rec.Opening.Unit, records.Seconds(h.Rec.Opening.At),
		string(d.Status), d.Earlier, d.LastSeq, d.LastAt, d.Culprits, d.LastSum, d.Sum(h))
	rows.Queue(`DELETE FROM present WHERE "case" = $1`, h.Row)
	for _, f := range d.Present {
		rows.Queue(`INSERT INTO present (name, place, condition, "case") VALUES ($1, $2, $3, $4)`, f.Name, f.Place, string(f.Condition), h.Row)
	}
	rows.Queue(`DELETE FROM failed WHERE "case" = $1`, h.Row)
	for _, f := range d.Failed {
		rows.Queue(`INSERT INTO failed (component, mode, "case") VALUES ($1, $2, $3)`, f[0], f[1], h.Row)
	}
	rows.Queue(`INSERT INTO words ("case", text) VALUES ($1, $2) ON CONFLICT ("case") DO UPDATE SET text = excluded.text`, h.Row, wordText(d.Text))
	return tx.SendBatch(ctx, rows).Close()
}

// load reads a case and checks every row of it.
func (b *Book) load(ctx context.Context, tx pgx.Tx, id string) (*records.Held, error) {
	got, err := b.loadAll(ctx, tx, "c.id = $1", id)
	if err != nil {
		return nil, err
	}
	if len(got) == 0 {
		return nil, records.NoCase(id)
	}
	return got[0].held, got[0].err
}

// loaded is a case as it was read; err says from where on it cannot be trusted.
type loaded struct {
	held  *records.Held
	whole bool // nothing of it can be trusted
	err   error

	seq *int64 // of the newest entry and its checksum, as the state has them
	sum []byte
}

// loadAll reads the cases that meet a condition, in the order of an export. The
// two questions cost the same for one case as for a thousand.
func (b *Book) loadAll(ctx context.Context, tx pgx.Tx, condition string, args ...any) ([]*loaded, error) {
	rows, err := tx.Query(ctx, `SELECT c."row", c.id, c.number, c.unit, c.title, c.vehicle, c.words, c.rules, c."by", c.at, coalesce(c."key", ''), c.sum,
			s.last_seq, s.last_sum
		FROM cases c LEFT JOIN state s ON s."case" = c."row" WHERE `+condition+` ORDER BY c.number, c.id`, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []*loaded
	var numbers []int64
	at := map[int64]*loaded{}
	for rows.Next() {
		h := &records.Held{}
		l := &loaded{held: h}
		o := &h.Rec.Opening
		var opened string
		var sum []byte
		if err := rows.Scan(&h.Row, &h.Rec.ID, &h.Number, &o.Unit, &o.Title, &o.Vehicle, &o.Words, &o.RulesHash, &o.By, &opened, &o.Key, &sum, &l.seq, &l.sum); err != nil {
			return nil, err
		}
		number, ok := records.CaseNumber(h.Rec.ID)
		h.LastSum = records.OpeningSum(h.Rec.ID, *o, opened)
		if !ok || number != h.Number || !bytes.Equal(sum, h.LastSum) {
			l.err = b.damaged(fmt.Sprintf("the opening of case %s does not match its checksum", h.Rec.ID))
		} else if o.At, err = records.ParseTime(opened); err != nil {
			l.err = b.damaged(fmt.Sprintf("the opening of case %s: %v", h.Rec.ID, err))
		}
		l.whole = l.err != nil
		out, numbers, at[h.Row] = append(out, l), append(numbers, h.Row), l
	}
	if err := rows.Err(); err != nil || len(out) == 0 {
		return nil, err
	}
	if err := b.loadEntries(ctx, tx, numbers, at); err != nil {
		return nil, err
	}
	for _, l := range out {
		if l.err == nil && (l.seq == nil || *l.seq != int64(len(l.held.Rec.Entries)) || !bytes.Equal(l.sum, l.held.LastSum)) {
			l.err = b.damaged(fmt.Sprintf("entries of case %s are missing", l.held.Rec.ID))
		}
	}
	return out, nil
}

func (b *Book) loadEntries(ctx context.Context, tx pgx.Tx, numbers []int64, at map[int64]*loaded) error {
	rows, err := tx.Query(ctx, `SELECT "case", seq, kind, "by", at, coalesce("key", ''), body, sum FROM entries WHERE "case" = ANY ($1) ORDER BY "case", seq`, numbers)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var row int64
		var e engine.Entry
		var r records.Row
		if err := rows.Scan(&row, &e.Seq, &r.Kind, &e.By, &r.At, &e.Key, &r.Body, &r.Sum); err != nil {
			return err
		}
		l := at[row]
		if l.err != nil {
			continue
		}
		h := l.held
		where := fmt.Sprintf("entry %d of case %s", len(h.Rec.Entries)+1, h.Rec.ID)
		sum := r.Checksum(h.LastSum, e)
		if e.Seq != int64(len(h.Rec.Entries)+1) || !bytes.Equal(sum, r.Sum) {
			l.err = b.damaged(where + " does not match its checksum")
			continue
		}
		if e.At, err = records.ParseTime(r.At); err == nil {
			e.Body, err = records.DecodeBody(engine.EntryKind(r.Kind), []byte(r.Body))
		}
		if err != nil {
			// The checksum is right, so it was written so: by a program that
			// knows more, or by a fault of ours.
			l.err = b.damaged(fmt.Sprintf("%s cannot be understood: %v", where, err))
			continue
		}
		h.Rec.Entries, h.LastSum = append(h.Rec.Entries, e), sum
	}
	return rows.Err()
}
