package sqlite

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/fold"
)

// derived is what lists and searches know of a case: a pure function of what
// was written.
type derived struct {
	status   engine.CaseStatus
	earlier  string
	lastSeq  int64
	lastAt   string
	culprits string // JSON array
	lastSum  []byte
	present  []engine.FindingName
	failed   [][2]string // component, mode
	text     string
}

// sum is the checksum of the row in state.
func (d *derived) sum(h *held) []byte {
	return checksum(d.lastSum, fmt.Sprint(h.number), h.rec.ID, h.rec.Opening.Unit, fmt.Sprint(seconds(h.rec.Opening.At)),
		string(d.status), d.earlier, fmt.Sprint(d.lastSeq), d.lastAt, d.culprits)
}

func derivedOf(h *held) (*derived, error) {
	c, err := fold.Fold(h.rec)
	if err != nil {
		return nil, err
	}
	d := &derived{status: c.Status, lastSeq: c.LastSeq, lastSum: h.lastSum}
	if c.Closing != nil {
		d.earlier = c.Closing.Earlier
	}
	if n := len(h.rec.Entries); n > 0 {
		if d.lastAt, err = timeText(h.rec.Entries[n-1].At); err != nil {
			return nil, err
		}
	}
	culprits := c.Culprits()
	if culprits == nil {
		culprits = []string{}
	}
	list, err := json.Marshal(culprits)
	if err != nil {
		return nil, err
	}
	d.culprits = string(list)
	for _, r := range c.Reports {
		if r.State == engine.Present {
			d.present = append(d.present, engine.ParseFindingName(r.Finding))
		}
	}
	for _, s := range c.Seen {
		if !s.Cleared {
			d.failed = append(d.failed, [2]string{s.Component, s.Mode})
		}
	}
	d.present = sortUnique(d.present, func(f engine.FindingName) string { return f.String() })
	d.failed = sortUnique(d.failed, func(f [2]string) string { return f[0] + "/" + f[1] })
	d.text = searchText(c)
	return d, nil
}

// searchText is what a search for words looks through.
func searchText(c *fold.Case) string {
	texts := []string{c.ID, c.Title, c.Vehicle, c.Words}
	for _, n := range c.Notes {
		texts = append(texts, n.Text)
	}
	for _, r := range c.Reports {
		texts = append(texts, r.Note)
	}
	for _, s := range c.Seen {
		texts = append(texts, s.Note)
	}
	for _, s := range c.Steps {
		texts = append(texts, s.Note)
	}
	if c.Closing != nil {
		texts = append(texts, c.Closing.Note)
	}
	return strings.Join(texts, "\n")
}

func sortUnique[T comparable](list []T, key func(T) string) []T {
	slices.SortFunc(list, func(a, b T) int { return strings.Compare(key(a), key(b)) })
	return slices.Compact(list)
}

// derive writes what follows from a case, where it changed. Before is nil for a
// case that was not there.
func derive(ctx context.Context, tx *txn, before, after *held) error {
	d, err := derivedOf(after)
	if err != nil {
		return err
	}
	old := &derived{}
	if before != nil {
		if old, err = derivedOf(before); err != nil {
			return err
		}
	}
	_, err = tx.ExecContext(ctx, `INSERT INTO state ("case", number, id, unit, opened, status, earlier, last_seq, last_at, culprits, last_sum, sum)
		VALUES (?1, ?2, ?3, ?4, ?5, ?6, nullif(?7, ''), ?8, ?9, ?10, ?11, ?12)
		ON CONFLICT ("case") DO UPDATE SET status = ?6, earlier = nullif(?7, ''), last_seq = ?8, last_at = ?9, culprits = ?10, last_sum = ?11, sum = ?12`,
		after.row, after.number, after.rec.ID, after.rec.Opening.Unit, seconds(after.rec.Opening.At),
		string(d.status), d.earlier, d.lastSeq, d.lastAt, d.culprits, d.lastSum, d.sum(after))
	if err != nil {
		return err
	}
	if !slices.Equal(old.present, d.present) {
		if err := replaceRows(ctx, tx, after.row, "present", len(d.present), func(i int) []any {
			f := d.present[i]
			return []any{f.Name, f.Place, string(f.Condition), after.row}
		}); err != nil {
			return err
		}
	}
	if !slices.Equal(old.failed, d.failed) {
		if err := replaceRows(ctx, tx, after.row, "failed", len(d.failed), func(i int) []any {
			return []any{d.failed[i][0], d.failed[i][1], after.row}
		}); err != nil {
			return err
		}
	}
	if before == nil || old.text != d.text {
		_, err = tx.ExecContext(ctx, "INSERT OR REPLACE INTO words (rowid, text) VALUES (?, ?)", after.row, d.text)
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
