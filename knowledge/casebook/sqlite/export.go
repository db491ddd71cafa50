package sqlite

import (
	"bufio"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"slices"

	"slipcase/engine"
)

// An export is JSON Lines: a head that says how much follows, then each case
// as its opening and its entries, in order of number. A newer form has a
// higher number and is refused by this program.
const (
	exportKind   = "casebook"
	exportFormat = 1
	openingKind  = "case"
)

type headLine struct {
	Kind    string `json:"kind"`
	Format  int    `json:"format"`
	Cases   int64  `json:"cases"`
	Entries int64  `json:"entries"`
}

type openingLine struct {
	Kind    string `json:"kind"`
	ID      string `json:"id"`
	Unit    string `json:"unit"`
	Title   string `json:"title,omitempty"`
	Vehicle string `json:"vehicle,omitempty"`
	Words   string `json:"words,omitempty"`
	Rules   string `json:"rules,omitempty"`
	By      string `json:"by,omitempty"`
	At      string `json:"at,omitempty"`
	Key     string `json:"key,omitempty"`
}

type entryLine struct {
	Kind string          `json:"kind"`
	Case string          `json:"case"`
	Seq  int64           `json:"seq"`
	By   string          `json:"by,omitempty"`
	At   string          `json:"at,omitempty"`
	Key  string          `json:"key,omitempty"`
	Body json.RawMessage `json:"body"`
}

// Export implements engine.Casebook. What is written is counted against the
// tables themselves: a bad page of an index can hide cases, and a backup that
// lacks some of them must not look whole.
func (b *Book) Export(ctx context.Context, w io.Writer, ids ...string) error {
	return b.read(ctx, "export", func(tx *txn) error {
		head := headLine{Kind: exportKind, Format: exportFormat}
		each := func(f func(id string) error) error { return eachID(ctx, tx, f) }
		if len(ids) > 0 {
			chosen, err := inOrder(ids)
			if err != nil {
				return err
			}
			each = func(f func(id string) error) error {
				for _, id := range chosen {
					if err := f(id); err != nil {
						return err
					}
				}
				return nil
			}
			// Counted first; what is loaded twice is little.
			if err := each(func(id string) error {
				h, err := b.load(ctx, tx, id)
				if err == nil {
					head.Cases++
					head.Entries += int64(len(h.rec.Entries))
				}
				return err
			}); err != nil {
				return err
			}
		} else if err := tx.QueryRowContext(ctx, "SELECT (SELECT count(*) FROM cases NOT INDEXED), (SELECT count(*) FROM entries NOT INDEXED)").Scan(&head.Cases, &head.Entries); err != nil {
			return err
		}
		out := bufio.NewWriterSize(w, 1<<16)
		if err := writeLine(out, head); err != nil {
			return err
		}
		var cases, entries int64
		err := each(func(id string) error {
			h, err := b.load(ctx, tx, id)
			if err != nil {
				return err
			}
			cases++
			entries += int64(len(h.rec.Entries))
			return writeCase(out, h.rec)
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

// writeLine writes a value as a line.
func writeLine(out *bufio.Writer, v any) error {
	line, err := encodeLine(v)
	if err != nil {
		return err
	}
	out.Write(line)
	return out.WriteByte('\n')
}

// writeCase writes a case as an export has it.
func writeCase(out *bufio.Writer, rec engine.CaseRecord) error {
	lines, err := exportCase(rec)
	if err != nil {
		return err
	}
	for _, line := range lines {
		out.Write(line)
		if err := out.WriteByte('\n'); err != nil {
			return err
		}
	}
	return nil
}

// inOrder sorts ids as an export has them, each once.
func inOrder(ids []string) ([]string, error) {
	for _, id := range ids {
		if _, ok := caseNumber(id); !ok {
			return nil, noCase(id)
		}
	}
	out := slices.Clone(ids)
	slices.SortFunc(out, compareIDs)
	return slices.Compact(out), nil
}

func compareIDs(a, b string) int {
	x, _ := caseNumber(a)
	y, _ := caseNumber(b)
	switch {
	case x != y && x < y, x == y && a < b:
		return -1
	case a == b:
		return 0
	}
	return 1
}

// exportCase writes the lines of one case, without line ends.
func exportCase(rec engine.CaseRecord) ([][]byte, error) {
	o := rec.Opening
	at, err := timeText(o.At)
	if err != nil {
		return nil, err
	}
	line, err := encodeLine(openingLine{openingKind, rec.ID, o.Unit, o.Title, o.Vehicle, o.Words, o.RulesHash, o.By, at, o.Key})
	if err != nil {
		return nil, err
	}
	lines := [][]byte{line}
	for _, e := range rec.Entries {
		at, err := timeText(e.At)
		if err != nil {
			return nil, err
		}
		body, err := encodeBody(e.Body)
		if err != nil {
			return nil, fmt.Errorf("entry %d of case %s: %w", e.Seq, rec.ID, err)
		}
		// Joined by hand: marshalling a raw message would escape for HTML again.
		head, err := encodeLine(entryLine{string(e.Body.EntryKind()), rec.ID, e.Seq, e.By, at, e.Key, json.RawMessage("0")})
		if err != nil {
			return nil, err
		}
		lines = append(lines, slices.Concat(head[:len(head)-len("0}")], body, []byte("}")))
	}
	return lines, nil
}
