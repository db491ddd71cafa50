package records

import (
	"context"
	"fmt"
	"time"

	"slipcase/engine"
)

// Grow adds entries to a copy of a case, in a transaction of a store, and gives
// the copy with the numbers of the entries. An entry whose key is known is not
// added again. Known looks for another case, add writes an entry at the end of
// a case as Target.Add does.
func Grow(ctx context.Context, before *Held, entries []engine.Entry, clock func() time.Time,
	known func(id string) (bool, error), add func(h *Held, e engine.Entry) error) (after *Held, seqs []int64, err error) {
	id := before.Rec.ID
	after = before.Clone()
	for i, e := range entries {
		if err := ctx.Err(); err != nil {
			return nil, nil, err
		}
		if e.At.IsZero() {
			e.At = clock()
		}
		old, err := FindKey(after.Rec.Entries, e)
		if err != nil {
			return nil, nil, Refused(id, i, err)
		}
		if old > 0 {
			seqs = append(seqs, old)
			continue
		}
		e.Seq = int64(len(after.Rec.Entries)) + 1
		if err := CheckPlace(id, e, known); err != nil {
			return nil, nil, Refused(id, i, err)
		}
		if err := add(after, e); err != nil {
			return nil, nil, Refused(id, i, err)
		}
		seqs = append(seqs, e.Seq)
	}
	return after, seqs, nil
}

// Row is an entry as a store keeps it.
type Row struct {
	Kind, At, Body string
	Sum            []byte // follows that of the entry before, or of the opening
}

// RowOf is the row of an entry that comes next in a case; FieldError when it is
// too large.
func RowOf(h *Held, e engine.Entry) (Row, error) {
	at, err := TimeText(e.At)
	if err != nil {
		return Row{}, err
	}
	body, err := EncodeBody(e.Body)
	if err != nil {
		return Row{}, err
	}
	if len(body) > MaxBody {
		return Row{}, &FieldError{Field: "body", What: fmt.Sprintf("it has %d bytes, the most is %d", len(body), MaxBody)}
	}
	r := Row{Kind: string(e.Body.EntryKind()), At: at, Body: string(body)}
	r.Sum = r.Checksum(h.LastSum, e)
	return r, nil
}

// Checksum of a row that follows the checksum before it.
func (r Row) Checksum(before []byte, e engine.Entry) []byte {
	return Checksum(before, fmt.Sprint(e.Seq), r.Kind, e.By, r.At, e.Key, r.Body)
}

// OpeningSum is the checksum of the head of a case; at is its time as text.
func OpeningSum(id string, o engine.Opening, at string) []byte {
	return Checksum(nil, id, o.Unit, o.Title, o.Vehicle, o.Words, o.RulesHash, o.By, at, o.Key)
}

// NewID is the id of a case with a running number. The number alone tells cases
// apart and orders them; the year is for the reader, and wrong without harm
// when the clock is.
func NewID(at time.Time, number int64) string {
	return fmt.Sprintf("%02d-%04d", at.Year()%100, number)
}
