package records

import (
	"bufio"
	"encoding/json"
	"fmt"
	"slices"

	"slipcase/engine"
)

// An export is JSON Lines: a head that says how much follows, then each case
// as its opening and its entries, in order of number. A newer form has a
// higher number and is refused by this program.
const (
	ExportKind   = "casebook"
	ExportFormat = 1
	openingKind  = "case"
)

// HeadLine is the first line of an export: how much follows.
type HeadLine struct {
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

// WriteLine writes a value as a line.
func WriteLine(out *bufio.Writer, v any) error {
	line, err := EncodeLine(v)
	if err != nil {
		return err
	}
	out.Write(line)
	return out.WriteByte('\n')
}

// WriteCase writes a case as an export has it.
func WriteCase(out *bufio.Writer, rec engine.CaseRecord) error {
	lines, err := ExportCase(rec)
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

// InOrder sorts ids as an export has them, each once.
func InOrder(ids []string) ([]string, error) {
	for _, id := range ids {
		if _, ok := CaseNumber(id); !ok {
			return nil, NoCase(id)
		}
	}
	out := slices.Clone(ids)
	slices.SortFunc(out, CompareIDs)
	return slices.Compact(out), nil
}

// CompareIDs orders ids as an export has them.
func CompareIDs(a, b string) int {
	x, _ := CaseNumber(a)
	y, _ := CaseNumber(b)
	switch {
	case x != y && x < y, x == y && a < b:
		return -1
	case a == b:
		return 0
	}
	return 1
}

// ExportCase writes the lines of one case, without line ends.
func ExportCase(rec engine.CaseRecord) ([][]byte, error) {
	o := rec.Opening
	at, err := TimeText(o.At)
	if err != nil {
		return nil, err
	}
	line, err := EncodeLine(openingLine{openingKind, rec.ID, o.Unit, o.Title, o.Vehicle, o.Words, o.RulesHash, o.By, at, o.Key})
	if err != nil {
		return nil, err
	}
	lines := [][]byte{line}
	for _, e := range rec.Entries {
		at, err := TimeText(e.At)
		if err != nil {
			return nil, err
		}
		body, err := EncodeBody(e.Body)
		if err != nil {
			return nil, fmt.Errorf("entry %d of case %s: %w", e.Seq, rec.ID, err)
		}
		// Joined by hand: marshalling a raw message would escape for HTML again.
		head, err := EncodeLine(entryLine{string(e.Body.EntryKind()), rec.ID, e.Seq, e.By, at, e.Key, json.RawMessage("0")})
		if err != nil {
			return nil, err
		}
		lines = append(lines, slices.Concat(head[:len(head)-len("0}")], body, []byte("}")))
	}
	return lines, nil
}
