package sqlite

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
	"slipcase/knowledge/casebook/internal/records"
)

// maxPage bounds the cases on one page; defaultPage is what a page has when no
// limit is given.
const maxPage, defaultPage = 1000, 50

// List implements engine.Casebook.
func (b *Book) List(ctx context.Context, f engine.CaseFilter, p engine.CasePage) (engine.CaseList, error) {
	var list engine.CaseList
	limit := p.Limit
	if limit == 0 {
		limit = defaultPage
	}
	if limit < 0 || limit > maxPage {
		return list, fmt.Errorf("list cases: a page of %d cases cannot be given: ask for 1 to %d", limit, maxPage)
	}
	q, err := conditions(f)
	if err != nil {
		return list, fmt.Errorf("list cases: %w", err)
	}
	err = b.read(ctx, "list cases", func(tx *txn) error {
		var after keyset
		if p.After != "" {
			var n int
			if err := tx.QueryRowContext(ctx, "SELECT count(*) FROM cases WHERE id = ?", p.After).Scan(&n); err != nil {
				return err
			}
			if n == 0 {
				return b.absent(ctx, tx, p.After)
			}
			number, _ := records.CaseNumber(p.After)
			after = keyset{"(s.number, s.id) < (?, ?)", []any{number, p.After}}
		}
		rows, err := b.find(ctx, tx, q, after, limit+1, &list)
		if err != nil {
			return err
		}
		if err := b.counted(ctx, tx, f, p, len(rows), &list); err != nil {
			return err
		}
		more := len(rows) > limit
		if more {
			rows = rows[:limit]
		}
		for _, row := range rows {
			s, err := b.summary(ctx, tx, row)
			if err != nil {
				return err
			}
			if n := len(list.Cases); n > 0 && records.CompareIDs(list.Cases[n-1].ID, s.ID) <= 0 {
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

// counted holds what the indexes gave against what must be there: rows are never
// deleted, so that the newest row has the number of the cases, and a first page
// is full when the list has enough for it.
func (b *Book) counted(ctx context.Context, tx *txn, f engine.CaseFilter, p engine.CasePage, rows int, list *engine.CaseList) error {
	if f == (engine.CaseFilter{}) {
		var cases int
		if err := tx.QueryRowContext(ctx, `SELECT coalesce(max("row"), 0) FROM cases`).Scan(&cases); err != nil {
			return err
		}
		if cases != list.Total {
			return b.damaged(fmt.Sprintf("it holds %d cases, its index has %d", cases, list.Total))
		}
	}
	limit := p.Limit
	if limit == 0 {
		limit = defaultPage
	}
	if p.After == "" && rows < min(limit+1, list.Total) {
		return b.damaged(fmt.Sprintf("the list has %d cases, %d were found", list.Total, rows))
	}
	return nil
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

// summary reads one line of a list and checks both rows behind it.
func (b *Book) summary(ctx context.Context, tx *txn, row int64) (engine.CaseSummary, error) {
	h := &records.Held{Row: row}
	o := &h.Rec.Opening
	var d records.Derived
	var at, status string
	var key, earlier sql.NullString
	var caseSum, stateSum []byte
	where := fmt.Sprintf("row %d of the list", row)
	err := tx.QueryRowContext(ctx, `SELECT c.number, c.id, c.unit, c.title, c.vehicle, c.words, c.rules, c."by", c.at, c."key", c.sum,
			s.status, s.earlier, s.last_seq, s.last_at, s.culprits, s.last_sum, s.sum
		FROM cases c JOIN state s ON s."case" = c.row WHERE c.row = ?`, row).
		Scan(&h.Number, &h.Rec.ID, &o.Unit, &o.Title, &o.Vehicle, &o.Words, &o.RulesHash, &o.By, &at, &key, &caseSum,
			&status, &earlier, &d.LastSeq, &d.LastAt, &d.Culprits, &d.LastSum, &stateSum)
	var none engine.CaseSummary
	if errors.Is(err, sql.ErrNoRows) {
		return none, b.damaged(where + " has no case")
	}
	if err != nil {
		return none, b.rowFault(where, err)
	}
	id := h.Rec.ID
	d.Status, d.Earlier = engine.CaseStatus(status), earlier.String
	if o.At, err = records.ParseTime(at); err != nil {
		return none, b.damaged(fmt.Sprintf("the opening of case %s: %v", id, err))
	}
	sum := records.Checksum(nil, id, o.Unit, o.Title, o.Vehicle, o.Words, o.RulesHash, o.By, at, key.String)
	if !bytes.Equal(sum, caseSum) || !bytes.Equal(d.Sum(h), stateSum) {
		return none, b.damaged(fmt.Sprintf("the line of case %s in the list does not match its checksum", id))
	}
	s := engine.CaseSummary{ID: id, Unit: o.Unit, Title: o.Title, Vehicle: o.Vehicle, Status: d.Status, Earlier: d.Earlier,
		Entries: d.LastSeq, Opened: o.At}
	if s.Last, err = records.ParseTime(d.LastAt); err == nil {
		err = json.Unmarshal([]byte(d.Culprits), &s.Culprits)
	}
	if err != nil {
		return none, b.damaged(fmt.Sprintf("the state of case %s: %v", id, err))
	}
	return s, nil
}
