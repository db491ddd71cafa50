package records

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"slipcase/engine"
	"slipcase/engine/fold"
)

// Derived is what lists and searches know of a case: a pure function of what
// was written.
type Derived struct {
	Status   engine.CaseStatus
	Earlier  string
	LastSeq  int64
	LastAt   string
	Culprits string // JSON array
	LastSum  []byte
	Present  []engine.FindingName
	Failed   [][2]string // component, mode
	Text     string
}

// Sum is the checksum of the row in state.
func (d *Derived) Sum(h *Held) []byte {
	return Checksum(d.LastSum, fmt.Sprint(h.Number), h.Rec.ID, h.Rec.Opening.Unit, fmt.Sprint(Seconds(h.Rec.Opening.At)),
		string(d.Status), d.Earlier, fmt.Sprint(d.LastSeq), d.LastAt, d.Culprits)
}

// DerivedOf works out what follows from a case.
func DerivedOf(h *Held) (*Derived, error) {
	c, err := fold.Fold(h.Rec)
	if err != nil {
		return nil, err
	}
	d := &Derived{Status: c.Status, Earlier: c.Earlier(), LastSeq: c.LastSeq, LastSum: h.LastSum}
	if n := len(h.Rec.Entries); n > 0 {
		if d.LastAt, err = TimeText(h.Rec.Entries[n-1].At); err != nil {
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
	d.Culprits = string(list)
	for _, r := range c.Reports {
		if r.State == engine.Present {
			d.Present = append(d.Present, engine.ParseFindingName(r.Finding))
		}
	}
	for _, s := range c.Seen {
		if !s.Cleared {
			d.Failed = append(d.Failed, [2]string{s.Component, s.Mode})
		}
	}
	d.Present = SortUnique(d.Present, func(f engine.FindingName) string { return f.String() })
	d.Failed = SortUnique(d.Failed, func(f [2]string) string { return f[0] + "/" + f[1] })
	d.Text = SearchText(c)
	return d, nil
}

// SearchText is what a search for words looks through.
func SearchText(c *fold.Case) string {
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
	if c.Back != nil {
		texts = append(texts, c.Back.Note)
	}
	if c.Closing != nil {
		texts = append(texts, c.Closing.Note)
	}
	return strings.Join(texts, "\n")
}

// SortUnique sorts a list by key, each once, in place.
func SortUnique[T comparable](list []T, key func(T) string) []T {
	slices.SortFunc(list, func(a, b T) int { return strings.Compare(key(a), key(b)) })
	return slices.Compact(list)
}
