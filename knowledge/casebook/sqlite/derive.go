package sqlite

import (
	"context"
	"slices"
	"strings"

	"slipcase/knowledge/casebook/internal/records"
)

// derive writes what follows from a case, where it changed. Before is nil for a
// case that was not there.
func derive(ctx context.Context, tx *txn, before, after *records.Held) error {
	d, err := records.DerivedOf(after)
	if err != nil {
		return err
	}
	old := &records.Derived{}
	if before != nil {
		if old, err = records.DerivedOf(before); err != nil {
			return err
		}
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO state ("case", number, id, unit, opened, status, earlier, last_seq, last_at, culprits, last_sum, sum)
		VALUES (?1, ?2, ?3, ?4, ?5, ?6, nullif(?7, ''), ?8, ?9, ?10, ?11, ?12)
		ON CONFLICT ("case") DO UPDATE SET status = ?6, earlier = nullif(?7, ''), last_seq = ?8, last_at = ?9, culprits = ?10, last_sum = ?11, sum = ?12`,
		after.Row, after.Number, after.Rec.ID, after.Rec.Opening.Unit, records.Seconds(after.Rec.Opening.At),
		string(d.Status), d.Earlier, d.LastSeq, d.LastAt, d.Culprits, d.LastSum, d.Sum(after))
	if err != nil {
		return err
	}
	if !slices.Equal(old.Present, d.Present) {
		if err := replaceRows(ctx, tx, after.Row, "present", len(d.Present), func(i int) []any {
			f := d.Present[i]
			return []any{f.Name, f.Place, string(f.Condition), after.Row}
		}); err != nil {
			return err
		}
	}
	if !slices.Equal(old.Failed, d.Failed) {
		if err := replaceRows(ctx, tx, after.Row, "failed", len(d.Failed), func(i int) []any {
			return []any{d.Failed[i][0], d.Failed[i][1], after.Row}
		}); err != nil {
			return err
		}
	}
	if before == nil || old.Text != d.Text {
		_, err = tx.ExecContext(ctx, "INSERT OR REPLACE INTO words (rowid, text) VALUES (?, ?)", after.Row, d.Text)
	}
	return err
}

// replaceRows writes the rows of one case in a derived table anew.
func replaceRows(ctx context.Context, tx *txn, row int64, table string, n int, values func(int) []any) error {
	if _, err := tx.ExecContext(ctx, `DELETE FROM `+table+` WHERE "case" = ?`, row); err != nil {
		return err
	}
	for i := range n {
		v := values(i)
		marks := strings.Repeat(", ?", len(v))[2:]
		if _, err := tx.ExecContext(ctx, "INSERT INTO "+table+" VALUES ("+marks+")", v...); err != nil {
			return err
		}
	}
	return nil
}
