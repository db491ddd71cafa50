package postgres

import (
	"bufio"
	"bytes"
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/jackc/pgx/v5"

	"slipcase/engine"
	"slipcase/knowledge/casebook/internal/records"
)

// batch is how many cases are read at once; tests read fewer.
var batch = 500

// place is a case in the order of an export; the zero value is before the first.
type place struct {
	number int64
	id     string
}

// each goes through all cases in the order of an export.
func (b *Book) each(ctx context.Context, tx pgx.Tx, f func(*loaded) error) error {
	return b.eachBehind(ctx, tx, &place{}, "", f)
}

// eachBehind goes through the cases of a unit, or with "" all, behind a place,
// which it moves along.
func (b *Book) eachBehind(ctx context.Context, tx pgx.Tx, p *place, unit string, f func(*loaded) error) error {
	return b.batches(ctx, tx, *p, unit, func(got []*loaded) error {
		for _, l := range got {
			if err := f(l); err != nil {
				return err
			}
			p.number, p.id = l.held.Number, l.held.Rec.ID
		}
		return nil
	})
}

// batches goes through the cases of a unit, or with "" all, behind a place, with
// as many at a time as are read at once.
func (b *Book) batches(ctx context.Context, tx pgx.Tx, p place, unit string, f func([]*loaded) error) error {
	for {
		got, err := b.loadAll(ctx, tx, fmt.Sprintf(`c."row" IN (SELECT "row" FROM cases
			WHERE (number, id) > ($1, $2) AND ($3 = '' OR unit = $3) ORDER BY number, id LIMIT %d)`, batch), p.number, p.id, unit)
		if err != nil {
			return err
		}
		if len(got) == 0 {
			return nil
		}
		if err := f(got); err != nil {
			return err
		}
		if len(got) < batch {
			return nil
		}
		last := got[len(got)-1].held
		p = place{last.Number, last.Rec.ID}
	}
}

// Each implements engine.Casebook. A case that came in with a smaller number
// while the line was broken is left for the next time.
func (b *Book) Each(ctx context.Context, unit string, f func(c engine.CaseRecord, of int) error) error {
	var own error
	var at place
	given, tries := 0, 0
	err := b.readAgain(ctx, "read its cases", func(tx pgx.Tx) error {
		tries++
		var of int
		if err := tx.QueryRow(ctx, "SELECT count(*) FROM cases WHERE $1 = '' OR unit = $1", unit).Scan(&of); err != nil {
			return err
		}
		err := b.eachBehind(ctx, tx, &at, unit, func(l *loaded) error {
			if l.err != nil {
				return l.err
			}
			given++
			own = f(l.held.Rec, of)
			return own
		})
		if err == nil && tries == 1 && given != of {
			err = b.damaged(fmt.Sprintf("its table holds %d cases, %d of them were found", of, given))
		}
		return err
	})
	return cmp.Or(own, err)
}

// Export implements engine.Casebook.
func (b *Book) Export(ctx context.Context, w io.Writer, ids ...string) error {
	return b.read(ctx, "export", func(tx pgx.Tx) error {
		head := records.HeadLine{Kind: records.ExportKind, Format: records.ExportFormat}
		out := bufio.NewWriterSize(w, 1<<16)
		if len(ids) > 0 {
			chosen, err := records.InOrder(ids)
			if err != nil {
				return err
			}
			got, err := b.loadAll(ctx, tx, "c.id = ANY ($1)", chosen)
			if err != nil {
				return err
			}
			here := map[string]bool{}
			for _, l := range got {
				if l.err != nil {
					return l.err
				}
				here[l.held.Rec.ID] = true
				head.Cases++
				head.Entries += int64(len(l.held.Rec.Entries))
			}
			for _, id := range chosen {
				if !here[id] {
					return records.NoCase(id)
				}
			}
			if err := records.WriteLine(out, head); err != nil {
				return err
			}
			for _, l := range got {
				if err := records.WriteCase(out, l.held.Rec); err != nil {
					return err
				}
			}
			return out.Flush()
		}
		if err := tx.QueryRow(ctx, "SELECT (SELECT count(*) FROM cases), (SELECT count(*) FROM entries)").Scan(&head.Cases, &head.Entries); err != nil {
			return err
		}
		if err := records.WriteLine(out, head); err != nil {
			return err
		}
		var cases, entries int64
		err := b.each(ctx, tx, func(l *loaded) error {
			if l.err != nil {
				return l.err
			}
			cases++
			entries += int64(len(l.held.Rec.Entries))
			return records.WriteCase(out, l.held.Rec)
		})
		if err == nil && (cases != head.Cases || entries != head.Entries) {
			err = b.damaged(fmt.Sprintf("its tables hold %d cases with %d entries, %d with %d were found", head.Cases, head.Entries, cases, entries))
		}
		if err != nil {
			return err
		}
		return out.Flush()
	})
}

// Import implements engine.Casebook. It is read into memory first, for it may
// have to be done again; other writers are kept out from the first line to the
// last.
func (b *Book) Import(ctx context.Context, name string, r io.Reader) (engine.ImportResult, error) {
	if name == "" {
		name = "import"
	}
	text, err := io.ReadAll(r)
	if err != nil {
		return engine.ImportResult{}, fmt.Errorf("reading %s: %w", name, err)
	}
	var result engine.ImportResult
	err = b.write(ctx, "import "+name, func(tx pgx.Tx) (err error) {
		result, err = records.ReadExport(ctx, name, bytes.NewReader(text), &target{ctx: ctx, b: b, tx: tx})
		return err
	})
	if err != nil {
		return engine.ImportResult{}, err
	}
	return result, nil
}

// target is a transaction that an import writes to. Entries are sent with what
// follows from their case.
type target struct {
	ctx  context.Context
	b    *Book
	tx   pgx.Tx
	rows pgx.Batch
}

// Known implements records.Target.
func (t *target) Known(id string) (bool, error) { return known(t.ctx, t.tx, id) }

// Load implements records.Target.
func (t *target) Load(id string) (*records.Held, error) { return t.b.load(t.ctx, t.tx, id) }

// OpenedWith implements records.Target.
func (t *target) OpenedWith(key string) (id string, err error) {
	err = t.tx.QueryRow(t.ctx, `SELECT id FROM cases WHERE "key" = $1`, key).Scan(&id)
	if errors.Is(err, pgx.ErrNoRows) {
		return "", nil
	}
	return id, err
}

// Insert implements records.Target.
func (t *target) Insert(id string, o engine.Opening) (*records.Held, error) {
	return insertOpening(t.ctx, t.tx, id, o)
}

// Add implements records.Target.
func (t *target) Add(h *records.Held, e engine.Entry) error { return queueEntry(&t.rows, h, e) }

// Derive implements records.Target.
func (t *target) Derive(h *records.Held) error {
	if t.rows.Len() > 0 {
		if err := t.tx.SendBatch(t.ctx, &t.rows).Close(); err != nil {
			return err
		}
		t.rows = pgx.Batch{}
	}
	return derive(t.ctx, t.tx, h)
}

// Check implements engine.Casebook: every row against its checksum, everything
// derived against what it follows from. Indexes and pages are the server's
// business (pg_amcheck).
func (b *Book) Check(ctx context.Context) error {
	return b.read(ctx, "check it", func(tx pgx.Tx) error {
		var want, got [3]int64
		err := tx.QueryRow(ctx, "SELECT (SELECT count(*) FROM state), (SELECT count(*) FROM entries), (SELECT count(*) FROM words)").Scan(&want[0], &want[1], &want[2])
		if err != nil {
			return err
		}
		err = b.batches(ctx, tx, place{}, "", func(cases []*loaded) error {
			for _, l := range cases {
				if l.err != nil {
					return l.err
				}
				got[0]++
				got[1] += int64(len(l.held.Rec.Entries))
				got[2]++
			}
			return b.checkDerived(ctx, tx, cases)
		})
		if err == nil && want != got {
			err = b.damaged(fmt.Sprintf("%d cases with %d entries were found; of states, entries and words it holds %v", got[0], got[1], want))
		}
		if err != nil {
			return err
		}
		return b.checkPhotos(ctx, tx)
	})
}

// checkDerived compares the derived rows of some cases with what they follow
// from, in two queries.
func (b *Book) checkDerived(ctx context.Context, tx pgx.Tx, cases []*loaded) error {
	held := make(map[int64]*records.Held, len(cases))
	rowsOf := make([]int64, 0, len(cases))
	for _, l := range cases {
		held[l.held.Row] = l.held
		rowsOf = append(rowsOf, l.held.Row)
	}
	rows, err := tx.Query(ctx, `SELECT s."case", s.sum, coalesce((SELECT w.text FROM words w WHERE w."case" = s."case"), ''),
			ARRAY (SELECT p.name || '|' || p.place || '|' || p.condition FROM present p WHERE p."case" = s."case"),
			ARRAY (SELECT f.component || '/' || f.mode FROM failed f WHERE f."case" = s."case")
		FROM state s WHERE s."case" = ANY ($1)`, rowsOf)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var row int64
		var sum []byte
		var text string
		var present, failed []string
		if err := rows.Scan(&row, &sum, &text, &present, &failed); err != nil {
			return err
		}
		h := held[row]
		delete(held, row)
		if err := b.follows(h, sum, text, present, failed); err != nil {
			return err
		}
	}
	if err := rows.Err(); err != nil {
		return err
	}
	for _, l := range cases {
		if held[l.held.Row] != nil {
			return b.damaged(fmt.Sprintf("case %s has no state", l.held.Rec.ID))
		}
	}
	_, err = b.summaries(ctx, tx, ` WHERE s."case" = ANY ($1)`, rowsOf)
	return err
}

// follows tells whether what is derived of a case follows from its entries.
func (b *Book) follows(h *records.Held, sum []byte, text string, present, failed []string) error {
	want, err := records.DerivedOf(h)
	if err != nil {
		return b.damaged(err.Error())
	}
	var wantPresent, wantFailed []string
	for _, f := range want.Present {
		wantPresent = append(wantPresent, f.Name+"|"+f.Place+"|"+string(f.Condition))
	}
	for _, f := range want.Failed {
		wantFailed = append(wantFailed, f[0]+"/"+f[1])
	}
	for _, list := range [][]string{present, failed, wantPresent, wantFailed} {
		slices.Sort(list)
	}
	switch {
	case !bytes.Equal(sum, want.Sum(h)):
		return b.damaged(fmt.Sprintf("the state of case %s does not follow from its entries", h.Rec.ID))
	case !slices.Equal(present, wantPresent) || !slices.Equal(failed, wantFailed) || text != wordText(want.Text):
		return b.damaged(fmt.Sprintf("the findings listed for case %s do not follow from its entries", h.Rec.ID))
	}
	return nil
}

// Rescue implements engine.Casebook.
func (b *Book) Rescue(ctx context.Context, w io.Writer) (engine.RescueResult, error) {
	var res engine.RescueResult
	err := b.read(ctx, "rescue", func(tx pgx.Tx) error {
		var saved []engine.CaseRecord
		err := b.each(ctx, tx, func(l *loaded) error {
			h := l.held
			if !l.whole {
				saved = append(saved, h.Rec)
			}
			if l.err != nil {
				loss := engine.RescueLoss{ID: h.Rec.ID, Row: h.Row, Whole: l.whole, Why: l.err.Error()}
				if d := (*damage)(nil); errors.As(l.err, &d) {
					loss.Why = d.what
				}
				if !l.whole {
					loss.After = int64(len(h.Rec.Entries))
				}
				res.Lost = append(res.Lost, loss)
			}
			return nil
		})
		if err != nil {
			return err
		}
		saved, res.Lost = records.WithEarlier(saved, res.Lost)
		res.Cases, res.Entries, err = records.WriteCases(w, saved)
		return err
	})
	return res, err
}
