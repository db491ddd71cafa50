package sqlite

import (
	"bufio"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"slices"

	"slipcase/engine"
	"slipcase/knowledge/casebook/internal/records"
)

// Rescue implements engine.Casebook.
func (b *Book) Rescue(ctx context.Context, w io.Writer) (engine.RescueResult, error) {
	var res engine.RescueResult
	err := b.read(ctx, "rescue", func(tx *txn) error {
		head := records.HeadLine{Kind: records.ExportKind, Format: records.ExportFormat}
		var saved []engine.CaseRecord
		rows, err := b.rowsOfCases(ctx, tx)
		if err != nil {
			return err
		}
		for _, row := range rows {
			rec, lost, err := b.rescueCase(ctx, tx, row)
			if stops(err) {
				return err
			}
			if lost != (engine.RescueLoss{}) {
				res.Lost = append(res.Lost, lost)
			}
			if err == nil {
				saved = append(saved, rec)
			}
		}
		saved, res.Lost = withEarlier(saved, res.Lost)
		slices.SortFunc(saved, func(a, b engine.CaseRecord) int { return records.CompareIDs(a.ID, b.ID) })
		for _, rec := range saved {
			head.Cases++
			head.Entries += int64(len(rec.Entries))
		}
		res.Cases, res.Entries = int(head.Cases), int(head.Entries)
		out := bufio.NewWriterSize(w, 1<<16)
		if err := records.WriteLine(out, head); err != nil {
			return err
		}
		for _, rec := range saved {
			if err := records.WriteCase(out, rec); err != nil {
				return err
			}
		}
		return out.Flush()
	})
	return res, err
}

// stops tells an error that ends a rescue from one that loses a case.
func stops(err error) bool {
	return err != nil && !errors.Is(err, engine.ErrDamaged)
}

// rowsOfCases gives the rows of all cases from the table itself. Where a page
// of the table cannot be read, what stands before it and, found from the end,
// behind it is given.
func (b *Book) rowsOfCases(ctx context.Context, tx *txn) ([]int64, error) {
	seen := map[int64]bool{}
	for _, query := range []string{
		`SELECT "row" FROM cases NOT INDEXED ORDER BY "row"`,
		`SELECT "row" FROM cases NOT INDEXED ORDER BY "row" DESC`,
		`SELECT "case" FROM state NOT INDEXED`,
	} {
		if err := rowNumbers(ctx, tx, query, seen); stops(b.fault("rescue", err)) {
			return nil, err
		}
	}
	out := make([]int64, 0, len(seen))
	for row := range seen {
		out = append(out, row)
	}
	slices.Sort(out)
	return out, nil
}

func rowNumbers(ctx context.Context, tx *txn, query string, seen map[int64]bool) error {
	rows, err := tx.QueryContext(ctx, query)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var row int64
		if err := rows.Scan(&row); err != nil {
			return err
		}
		seen[row] = true
	}
	return rows.Err()
}

// rescueCase reads what can be trusted of a case: its opening, and its entries
// up to the first that does not match its checksum. Each checksum covers the
// entry before, so that nothing behind a bad entry can be trusted. The error is
// ErrDamaged when not even the opening is whole.
func (b *Book) rescueCase(ctx context.Context, tx *txn, row int64) (engine.CaseRecord, engine.RescueLoss, error) {
	h, err := b.loadOpening(ctx, tx, `"row" = ?`, row)
	if errors.Is(err, sql.ErrNoRows) {
		err = b.damaged(fmt.Sprintf("the opening of row %d of the table of cases is missing", row))
	}
	if err != nil {
		err = b.fault("rescue", err)
		return h.Rec, engine.RescueLoss{ID: h.Rec.ID, Row: row, Whole: true, Why: reason(err)}, err
	}
	if err = b.loadEntries(ctx, tx, h); err == nil {
		err = b.complete(ctx, tx, h)
	}
	if err = b.fault("rescue", err); stops(err) {
		return h.Rec, engine.RescueLoss{}, err
	}
	if err != nil {
		return h.Rec, engine.RescueLoss{ID: h.Rec.ID, Row: row, After: int64(len(h.Rec.Entries)), Why: reason(err)}, nil
	}
	return h.Rec, engine.RescueLoss{}, nil
}

// reason is what is wrong, without the file's name and the advice.
func reason(err error) string {
	var d *damage
	if errors.As(err, &d) {
		return d.what
	}
	return err.Error()
}

// withEarlier ends a case before the entry that refers to a case which is lost:
// no casebook would take it.
func withEarlier(saved []engine.CaseRecord, lost []engine.RescueLoss) ([]engine.CaseRecord, []engine.RescueLoss) {
	here := map[string]bool{}
	for _, rec := range saved {
		here[rec.ID] = true
	}
	for i, rec := range saved {
		for j, e := range rec.Entries {
			c, ok := e.Body.(engine.Closing)
			if ok && c.Earlier != "" && !here[c.Earlier] {
				saved[i].Entries = rec.Entries[:j]
				lost = append(lost, engine.RescueLoss{ID: rec.ID, After: int64(j), Why: fmt.Sprintf("it was closed as a come-back of case %s, which is lost", c.Earlier)})
				break
			}
		}
	}
	return saved, lost
}
