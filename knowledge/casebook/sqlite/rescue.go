package sqlite

import (
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
		saved, res.Lost = records.WithEarlier(saved, res.Lost)
		res.Cases, res.Entries, err = records.WriteCases(w, saved)
		return err
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
