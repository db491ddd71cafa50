package casebook

import (
	"bytes"
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"unicode"

	"slipcase/engine"
)

// maxPage bounds the cases on one page.
const maxPage = 1000

// List implements engine.Casebook.
func (b *Book) List(ctx context.Context, f engine.CaseFilter, p engine.CasePage) (engine.CaseList, error) {
	var list engine.CaseList
	limit := p.Limit
	if limit == 0 {
		limit = 50
	}
	if limit < 0 || limit > maxPage {
		return list, fmt.Errorf("list cases: a page of %d cases cannot be given: ask for 1 to %d", limit, maxPage)
	}
	where, args, err := conditions(f)
	if err != nil {
		return list, fmt.Errorf("list cases: %w", err)
	}
	err = b.read(ctx, "list cases", func(tx *txn) error {
		if err := count(ctx, tx, where, args, &list); err != nil {
			return err
		}
		if p.After != "" {
			number, _ := caseNumber(p.After)
			var n int
			if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM cases WHERE id = ?", p.After).Scan(&n); err != nil {
				return err
			}
			if n == 0 {
				return noCase(p.After)
			}
			where = append(where, "(s.number, s.id) < (?, ?)")
			args = append(args, number, p.After)
		}
		ids, err := page(ctx, tx, where, append(args, limit+1))
		if err != nil {
			return err
		}
		more := len(ids) > limit
		if more {
			ids = ids[:limit]
		}
		for _, row := range ids {
			s, err := b.summary(ctx, tx, row)
			if err != nil {
				return err
			}
			if n := len(list.Cases); n > 0 && compareIDs(list.Cases[n-1].ID, s.ID) <= 0 {
				return b.damaged(fmt.Sprintf("case %s is out of order in the index", s.ID))
			}
			list.Cases = append(list.Cases, s)
		}
		if more {
			list.Next = list.Cases[limit-1].ID
		}
		return nil
	})
	if err != nil {
		return engine.CaseList{}, err
	}
	return list, nil
}

// conditions writes a filter in SQL over state s.
func conditions(f engine.CaseFilter) (where []string, args []any, err error) {
	add := func(sql string, a ...any) {
		where = append(where, sql)
		args = append(args, a...)
	}
	if f.Unit != "" {
		add("s.unit = ?", f.Unit)
	}
	if f.Status != "" {
		if err := oneOf("status", f.Status, engine.CaseStatuses...); err != nil {
			return nil, nil, err
		}
		add("s.status = ?", string(f.Status))
	}
	if f.Closed {
		add("s.status <> ?", string(engine.CaseOpen))
	}
	if f.Earlier != "" {
		add("s.earlier = ?", f.Earlier)
	}
	if !f.Since.IsZero() {
		add("s.opened >= ?", f.Since.Unix())
	}
	if f.Finding != "" {
		name := engine.ParseFindingName(f.Finding)
		sub, a := "name = ?", []any{name.Name}
		if name.Place != "" {
			sub, a = sub+" AND place = ?", append(a, name.Place)
		}
		if name.Condition != "" {
			sub, a = sub+" AND condition = ?", append(a, string(name.Condition))
		}
		add(`s."case" IN (SELECT "case" FROM present WHERE `+sub+`)`, a...)
	}
	if f.Culprit != "" {
		component, mode, both := strings.Cut(f.Culprit, "/")
		sub, a := "component = ?", []any{component}
		if both {
			sub, a = sub+" AND mode = ?", append(a, mode)
		}
		add(`s."case" IN (SELECT "case" FROM failed WHERE `+sub+`)`, a...)
	}
	if f.Text != "" {
		match := matchWords(f.Text)
		if match == "" {
			return nil, nil, fmt.Errorf("the text %q has no word to look for", f.Text)
		}
		add(`s."case" IN (SELECT rowid FROM words WHERE words MATCH ?)`, match)
	}
	return where, args, nil
}

// matchWords quotes the words of a search, each to begin a word of the text.
func matchWords(text string) string {
	var out []string
	for _, w := range strings.Fields(text) {
		if !strings.ContainsFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsNumber(r) }) {
			continue
		}
		w = strings.ReplaceAll(strings.ToValidUTF8(strings.ReplaceAll(w, "\x00", ""), ""), `"`, `""`)
		out = append(out, `"`+w+`"*`)
	}
	return strings.Join(out, " ")
}

func whereText(where []string) string {
	if len(where) == 0 {
		return ""
	}
	return " WHERE " + strings.Join(where, " AND ")
}

// count fills in the counts of the whole list.
func count(ctx context.Context, tx *txn, where []string, args []any, list *engine.CaseList) error {
	rows, err := tx.QueryContext(ctx, "SELECT s.status, count(*) FROM state s"+whereText(where)+" GROUP BY s.status", args...)
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

// page finds the rows of one page; the last argument is the limit.
func page(ctx context.Context, tx *txn, where []string, args []any) ([]int64, error) {
	rows, err := tx.QueryContext(ctx, `SELECT s."case" FROM state s`+whereText(where)+" ORDER BY s.number DESC, s.id DESC LIMIT ?", args...)
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

// summary reads one line of a list and checks both rows behind it.
func (b *Book) summary(ctx context.Context, tx *txn, row int64) (engine.CaseSummary, error) {
	h := &held{row: row}
	o := &h.rec.Opening
	var d derived
	var at, status string
	var key, earlier sql.NullString
	var caseSum, stateSum []byte
	where := fmt.Sprintf("row %d of the list", row)
	err := tx.QueryRowContext(ctx, `SELECT c.number, c.id, c.unit, c.title, c.vehicle, c.words, c.rules, c."by", c.at, c."key", c.sum,
			s.status, s.earlier, s.last_seq, s.last_at, s.culprits, s.last_sum, s.sum
		FROM cases c JOIN state s ON s."case" = c.row WHERE c.row = ?`, row).
		Scan(&h.number, &h.rec.ID, &o.Unit, &o.Title, &o.Vehicle, &o.Words, &o.RulesHash, &o.By, &at, &key, &caseSum,
			&status, &earlier, &d.lastSeq, &d.lastAt, &d.culprits, &d.lastSum, &stateSum)
	var none engine.CaseSummary
	if errors.Is(err, sql.ErrNoRows) {
		return none, b.damaged(where + " has no case")
	}
	if err != nil {
		return none, b.rowFault(where, err)
	}
	id := h.rec.ID
	d.status, d.earlier = engine.CaseStatus(status), earlier.String
	if o.At, err = parseTime(at); err != nil {
		return none, b.damaged(fmt.Sprintf("the opening of case %s: %v", id, err))
	}
	sum := checksum(nil, id, o.Unit, o.Title, o.Vehicle, o.Words, o.RulesHash, o.By, at, key.String)
	if !bytes.Equal(sum, caseSum) || !bytes.Equal(d.sum(h), stateSum) {
		return none, b.damaged(fmt.Sprintf("the line of case %s in the list does not match its checksum", id))
	}
	s := engine.CaseSummary{ID: id, Unit: o.Unit, Title: o.Title, Vehicle: o.Vehicle, Status: d.status, Earlier: d.earlier,
		Entries: d.lastSeq, Opened: o.At}
	if s.Last, err = parseTime(d.lastAt); err == nil {
		err = json.Unmarshal([]byte(d.culprits), &s.Culprits)
	}
	if err != nil {
		return none, b.damaged(fmt.Sprintf("the state of case %s: %v", id, err))
	}
	return s, nil
}
