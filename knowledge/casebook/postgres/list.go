package postgres

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"strings"

	"github.com/jackc/pgx/v5"

	"slipcase/engine"
	"slipcase/knowledge/casebook/internal/records"
)

// maxPage bounds the cases on one page; defaultPage is what a page has when no
// limit is given.
const maxPage, defaultPage = 1000, 50

// wordText is the text that a search looks through: a space before each word.
func wordText(text string) string {
	words := records.Words(text)
	if len(words) == 0 {
		return ""
	}
	return " " + strings.Join(words, " ")
}

// condition is SQL over state s with its arguments, $1 the first.
type condition struct {
	sql  string
	args []any
}

// add joins what must hold too; each ? is one of the arguments.
func (c *condition) add(sql string, args ...any) {
	if c.sql != "" {
		c.sql += " AND "
	}
	for _, a := range args {
		c.args = append(c.args, a)
		sql = strings.Replace(sql, "?", fmt.Sprintf("$%d", len(c.args)), 1)
	}
	c.sql += sql
}

func (c *condition) where() string {
	if c.sql == "" {
		return ""
	}
	return " WHERE " + c.sql
}

// conditions writes a filter in SQL.
func conditions(f engine.CaseFilter) (*condition, error) {
	c := &condition{}
	if f.Status != "" {
		if err := records.OneOf("status", f.Status, engine.CaseStatuses...); err != nil {
			return nil, err
		}
		c.add("s.status = ?", string(f.Status))
	}
	if f.Closed {
		c.add("s.status <> ?", string(engine.CaseOpen))
	}
	if f.Unit != "" {
		c.add("s.unit = ?", f.Unit)
	}
	if f.Earlier != "" {
		c.add("s.earlier = ?", f.Earlier)
	}
	if !f.Since.IsZero() {
		c.add("s.opened >= ?", f.Since.Unix())
	}
	if f.Finding != "" {
		name := engine.ParseFindingName(f.Finding)
		c.add(`EXISTS (SELECT FROM present p WHERE p."case" = s."case" AND p.name = ? AND (? = '' OR p.place = ?) AND (? = '' OR p.condition = ?))`,
			name.Name, name.Place, name.Place, string(name.Condition), string(name.Condition))
	}
	if f.Culprit != "" {
		component, mode, _ := strings.Cut(f.Culprit, "/")
		c.add(`EXISTS (SELECT FROM failed p WHERE p."case" = s."case" AND p.component = ? AND (? = '' OR p.mode = ?))`, component, mode, mode)
	}
	if f.Text != "" {
		found := false
		for _, w := range strings.Fields(strings.ToValidUTF8(f.Text, "")) {
			// A word with a sign in it is words one after the other. They are
			// letters and digits only, so that none means anything to LIKE.
			if text := wordText(w); text != "" {
				c.add(`EXISTS (SELECT FROM words w WHERE w."case" = s."case" AND w.text LIKE ?)`, "%"+text+"%")
				found = true
			}
		}
		if !found {
			return nil, fmt.Errorf("the text %q has no word to look for", f.Text)
		}
	}
	return c, nil
}

// List implements engine.Casebook.
func (b *Book) List(ctx context.Context, f engine.CaseFilter, p engine.CasePage) (engine.CaseList, error) {
	limit := p.Limit
	if limit == 0 {
		limit = defaultPage
	}
	if limit < 0 || limit > maxPage {
		return engine.CaseList{}, fmt.Errorf("list cases: a page of %d cases cannot be given: ask for 1 to %d", limit, maxPage)
	}
	var list engine.CaseList
	err := b.readAgain(ctx, "list cases", func(tx pgx.Tx) error {
		list = engine.CaseList{}
		c, err := conditions(f)
		if err != nil {
			return fmt.Errorf("list cases: %w", err)
		}
		if err := count(ctx, tx, c, &list); err != nil {
			return err
		}
		if p.After != "" {
			if ok, err := known(ctx, tx, p.After); err != nil {
				return err
			} else if !ok {
				return records.NoCase(p.After)
			}
			number, _ := records.CaseNumber(p.After)
			c.add("(s.number, s.id) < (?, ?)", number, p.After)
		}
		list.Cases, err = b.summaries(ctx, tx, c.where()+fmt.Sprintf(" ORDER BY s.number DESC, s.id DESC LIMIT %d", limit+1), c.args...)
		if err != nil {
			return err
		}
		if len(list.Cases) > limit {
			list.Cases = list.Cases[:limit]
			list.Next = list.Cases[limit-1].ID
		}
		return nil
	})
	if err != nil {
		return engine.CaseList{}, err
	}
	return list, nil
}

// count fills in the counts of the whole list.
func count(ctx context.Context, tx pgx.Tx, c *condition, list *engine.CaseList) error {
	rows, err := tx.Query(ctx, "SELECT s.status, count(*) FROM state s"+c.where()+" GROUP BY s.status", c.args...)
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

// summaries reads lines of a list and checks both rows behind each.
func (b *Book) summaries(ctx context.Context, tx pgx.Tx, tail string, args ...any) ([]engine.CaseSummary, error) {
	rows, err := tx.Query(ctx, `SELECT c."row", c.number, c.id, c.unit, c.title, c.vehicle, c.words, c.rules, c."by", c.at, coalesce(c."key", ''), c.sum,
			s.status, coalesce(s.earlier, ''), s.last_seq, s.last_at, s.culprits, s.last_sum, s.sum
		FROM state s JOIN cases c ON c."row" = s."case"`+tail, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []engine.CaseSummary
	for rows.Next() {
		h := &records.Held{}
		o := &h.Rec.Opening
		var d records.Derived
		var at, status string
		var caseSum, stateSum []byte
		if err := rows.Scan(&h.Row, &h.Number, &h.Rec.ID, &o.Unit, &o.Title, &o.Vehicle, &o.Words, &o.RulesHash, &o.By, &at, &o.Key, &caseSum,
			&status, &d.Earlier, &d.LastSeq, &d.LastAt, &d.Culprits, &d.LastSum, &stateSum); err != nil {
			return nil, err
		}
		id := h.Rec.ID
		d.Status = engine.CaseStatus(status)
		if o.At, err = records.ParseTime(at); err != nil {
			return nil, b.damaged(fmt.Sprintf("the opening of case %s: %v", id, err))
		}
		if !bytes.Equal(records.OpeningSum(id, *o, at), caseSum) || !bytes.Equal(d.Sum(h), stateSum) {
			return nil, b.damaged(fmt.Sprintf("the line of case %s in the list does not match its checksum", id))
		}
		s := engine.CaseSummary{ID: id, Unit: o.Unit, Title: o.Title, Vehicle: o.Vehicle, Status: d.Status, Earlier: d.Earlier, Entries: d.LastSeq, Opened: o.At}
		if s.Last, err = records.ParseTime(d.LastAt); err == nil {
			err = json.Unmarshal([]byte(d.Culprits), &s.Culprits)
		}
		if err != nil {
			return nil, b.damaged(fmt.Sprintf("the state of case %s: %v", id, err))
		}
		out = append(out, s)
	}
	return out, rows.Err()
}
