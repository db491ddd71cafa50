package sqlite

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"slipcase/engine"
	"slipcase/knowledge/casebook/internal/records"
)

// selection is a filter in SQL, by the tables that answer it.
type selection struct {
	status condition   // over state s, what an index by status answers
	state  condition   // over state s, all else
	sets   []condition // each a whole query that gives rows of cases, see gather
}

// condition is SQL that must hold, with its arguments; "" always holds. One of
// selection.sets has the query before it.
type condition struct {
	sql  string
	args []any
}

// keyset is the condition for the rows behind a page.
type keyset = condition

func (c *condition) add(sql string, args ...any) {
	if c.sql != "" {
		c.sql += " AND "
	}
	c.sql += sql
	c.args = append(c.args, args...)
}

// where puts conditions together.
func where(list ...condition) (sql string, args []any) {
	var all condition
	for _, c := range list {
		if c.sql != "" {
			all.add(c.sql, c.args...)
		}
	}
	if all.sql == "" {
		return "", nil
	}
	return " WHERE " + all.sql, all.args
}

// conditions writes a filter in SQL.
func conditions(f engine.CaseFilter) (*selection, error) {
	q := &selection{}
	if f.Status != "" {
		if err := records.OneOf("status", f.Status, engine.CaseStatuses...); err != nil {
			return nil, err
		}
		q.status.add("s.status = ?", string(f.Status))
	}
	if f.Closed {
		q.status.add("s.status <> ?", string(engine.CaseOpen))
	}
	if f.Unit != "" {
		q.state.add("s.unit = ?", f.Unit)
	}
	if f.Earlier != "" {
		q.state.add("s.earlier = ?", f.Earlier)
	}
	if !f.Since.IsZero() {
		q.state.add("s.opened >= ?", f.Since.Unix())
	}
	if f.Finding != "" {
		name := engine.ParseFindingName(f.Finding)
		c := condition{`SELECT group_concat("case") FROM present WHERE name = ?`, []any{name.Name}}
		if name.Place != "" {
			c.add("place = ?", name.Place)
		}
		if name.Condition != "" {
			c.add("condition = ?", string(name.Condition))
		}
		q.sets = append(q.sets, c)
	}
	if f.Culprit != "" {
		component, mode, both := strings.Cut(f.Culprit, "/")
		c := condition{`SELECT group_concat("case") FROM failed WHERE component = ?`, []any{component}}
		if both {
			c.add("mode = ?", mode)
		}
		q.sets = append(q.sets, c)
	}
	if f.Text != "" {
		match := matchWords(f.Text)
		if match == "" {
			return nil, fmt.Errorf("the text %q has no word to look for", f.Text)
		}
		q.sets = append(q.sets, condition{"SELECT group_concat(rowid) FROM words WHERE words MATCH ?", []any{match}})
	}
	return q, nil
}

// find counts what a filter selects and gives the first rows of it behind
// after, newest first, limit at most.
//
// What lies in the table of states alone is left to SQLite. Findings, culprits
// and words have tables of their own, where one name may be in one case or in
// every one, and joining them the wrong way around costs much. So each of these
// gives its set of rows, and the sets are put together here: the cost hardly
// depends on what is in them.
func (b *Book) find(ctx context.Context, tx *txn, q *selection, after keyset, limit int, list *engine.CaseList) ([]int64, error) {
	if len(q.sets) == 0 {
		if err := count(ctx, tx, list, q.state, q.status); err != nil {
			return nil, err
		}
		return page(ctx, tx, limit, q.state, q.status, after)
	}
	var top int64
	if err := tx.QueryRowContext(ctx, `SELECT coalesce(max("case"), 0) FROM state`).Scan(&top); err != nil {
		return nil, err
	}
	var set rowSet
	for _, c := range q.sets {
		s, err := b.gather(ctx, tx, top, c.sql, c.args...)
		if err != nil {
			return nil, err
		}
		if set == nil {
			set = s
		}
		set.and(s)
	}
	if n := set.len(); n <= b.narrow() {
		rows, err := json.Marshal(set.rows())
		if err != nil {
			return nil, err
		}
		in := condition{`s."case" IN (SELECT value FROM json_each(?))`, []any{string(rows)}}
		if err := count(ctx, tx, list, in, q.state, q.status); err != nil {
			return nil, err
		}
		return page(ctx, tx, limit, in, q.state, q.status, after)
	}
	if q.state.sql != "" {
		sql, args := where(q.state)
		s, err := b.gather(ctx, tx, top, `SELECT group_concat("case") FROM state s`+sql, args...)
		if err != nil {
			return nil, err
		}
		set.and(s)
	}
	set, err := b.countSet(ctx, tx, top, set, q.status, list)
	if err != nil {
		return nil, err
	}
	return b.walk(ctx, tx, set, after, limit)
}

// narrow is up to how many cases are looked up one by one instead of being
// met on the way through all of them.
func (b *Book) narrow() int {
	if b.opt.narrow != 0 {
		return max(b.opt.narrow, 0)
	}
	return 1000
}

// count fills in the counts of the whole list.
func count(ctx context.Context, tx *txn, list *engine.CaseList, conditions ...condition) error {
	sql, args := where(conditions...)
	rows, err := tx.QueryContext(ctx, "SELECT s.status, count(*) FROM state s"+sql+" GROUP BY s.status", args...)
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var status string
		var n int
		if err := rows.Scan(&status, &n); err != nil {
			return err
		}
		for i, s := range engine.CaseStatuses {
			if string(s) == status {
				list.Counts[i] = n
			}
		}
		list.Total += n
	}
	return rows.Err()
}

// page finds the rows of one page.
func page(ctx context.Context, tx *txn, limit int, conditions ...condition) ([]int64, error) {
	sql, args := where(conditions...)
	rows, err := tx.QueryContext(ctx, `SELECT s."case" FROM state s`+sql+" ORDER BY s.number DESC, s.id DESC LIMIT ?", append(args, limit)...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []int64
	for rows.Next() {
		var row int64
		if err := rows.Scan(&row); err != nil {
			return nil, err
		}
		out = append(out, row)
	}
	return out, rows.Err()
}

// countSet counts a set by status and gives the part of it whose status is
// selected. The fixed cases, nearly all, are what is in no other state.
func (b *Book) countSet(ctx context.Context, tx *txn, top int64, set rowSet, status condition, list *engine.CaseList) (rowSet, error) {
	if status.sql != "" {
		sql, args := where(status)
		s, err := b.gather(ctx, tx, top, `SELECT group_concat("case") FROM state s`+sql, args...)
		if err != nil {
			return nil, err
		}
		set.and(s)
	}
	rest := append(rowSet(nil), set...)
	list.Total = set.len()
	for i, name := range engine.CaseStatuses {
		if name == engine.CaseFixed {
			continue
		}
		s, err := b.gather(ctx, tx, top, `SELECT group_concat("case") FROM state WHERE status = ?`, string(name))
		if err != nil {
			return nil, err
		}
		s.and(set)
		list.Counts[i] = s.len()
		rest.without(s)
	}
	for i, name := range engine.CaseStatuses {
		if name == engine.CaseFixed {
			list.Counts[i] = rest.len()
		}
	}
	return set, nil
}

// walk goes through all cases, newest first, until enough of the set are met.
// The pieces grow, so that a page that is full soon costs little and one that
// is not costs no more than a few statements.
func (b *Book) walk(ctx context.Context, tx *txn, set rowSet, after keyset, limit int) ([]int64, error) {
	var out []int64
	for piece := 4 * limit; ; piece *= 4 {
		sql, args := where(after)
		var list []byte
		var met int
		var number, id any
		// The last of the piece is the least of it.
		err := tx.QueryRowContext(ctx, `WITH piece AS MATERIALIZED (SELECT s.number, s.id, s."case" AS "row" FROM state s INDEXED BY state_number`+sql+
			` ORDER BY s.number DESC, s.id DESC LIMIT ?)
			SELECT count(*), group_concat("row" ORDER BY number DESC, id DESC),
				(SELECT number FROM piece ORDER BY number, id LIMIT 1), (SELECT id FROM piece ORDER BY number, id LIMIT 1) FROM piece`,
			append(args, piece)...).Scan(&met, &list, &number, &id)
		if err != nil {
			return nil, err
		}
		enough := errors.New("enough")
		err = b.eachRow(list, func(row int64) error {
			if set.has(row) {
				if out = append(out, row); len(out) == limit {
					return enough
				}
			}
			return nil
		})
		if err == enough || err == nil && met < piece {
			return out, nil
		}
		if err != nil {
			return nil, err
		}
		after = keyset{"(s.number, s.id) < (?, ?)", []any{number, id}}
	}
}
