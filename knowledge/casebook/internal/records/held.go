package records

import (
	"errors"
	"fmt"
	"time"

	"slipcase/engine"
)

// Held is a case as it lies in a store, checked against its checksums.
type Held struct {
	Row     int64 // the store's own name for the case
	Number  int64 // the running number in the id
	Rec     engine.CaseRecord
	LastSum []byte // checksum of the newest entry, of the opening when there is none
}

// Clone shares nothing that growing the case changes.
func (h *Held) Clone() *Held {
	c := *h
	c.Rec.Entries = append([]engine.Entry(nil), h.Rec.Entries...)
	return &c
}

// FindKey is the number of the entry written with the same key before, or 0.
func FindKey(entries []engine.Entry, e engine.Entry) (int64, error) {
	if e.Key == "" {
		return 0, nil
	}
	for _, o := range entries {
		if o.Key != e.Key {
			continue
		}
		if o.By != e.By || !SameBody(o.Body, e.Body) {
			return 0, fmt.Errorf("%w: key %q is that of entry %d", engine.ErrKeyReused, e.Key, o.Seq)
		}
		return o.Seq, nil
	}
	return 0, nil
}

// CheckPlace checks what an entry refers to; known looks for another case.
func CheckPlace(id string, e engine.Entry, known func(id string) (bool, error)) error {
	if b, ok := e.Body.(engine.Retraction); ok && (b.Of < 1 || b.Of >= e.Seq) {
		return &FieldError{"body.of", fmt.Sprintf("the case has no entry %d to retract: its last is %d", b.Of, e.Seq-1)}
	}
	earlier := earlierOf(e.Body)
	if earlier == "" {
		return nil
	}
	if earlier == id {
		return &FieldError{"body.earlier", "a case cannot be the comeback of itself"}
	}
	found, err := known(earlier)
	if err != nil {
		return err
	}
	if !found {
		return &FieldError{"body.earlier", fmt.Sprintf("there is no case %q in the casebook", earlier)}
	}
	return nil
}

// CheckEntries is CheckEntry for entries that are to go to a case.
func CheckEntries(id string, entries []engine.Entry) error {
	for i, e := range entries {
		if err := CheckEntry(e); err != nil {
			return Refused(id, i, err)
		}
	}
	return nil
}

// earlierOf is the other case that a body refers to, "" for none.
func earlierOf(body engine.Body) string {
	switch b := body.(type) {
	case engine.Closing:
		return b.Earlier
	case engine.ComeBack:
		return b.Earlier
	}
	return ""
}

// Refused says which of the entries given could not be taken. Faults of the
// disk pass.
func Refused(id string, i int, err error) error {
	var f *FieldError
	switch {
	case errors.As(err, &f):
		return fmt.Errorf("case %s, entry %d of those given: %w: %w", id, i+1, engine.ErrBadEntry, err)
	case errors.Is(err, engine.ErrKeyReused):
		return fmt.Errorf("case %s, entry %d of those given: %w", id, i+1, err)
	}
	return err
}

// NoCase is the error for an id that is not in the casebook.
func NoCase(id string) error { return fmt.Errorf("case %q: %w", id, engine.ErrNoCase) }

// Seconds is the derived form of a time, NULL for none.
func Seconds(t time.Time) any {
	if t.IsZero() {
		return nil
	}
	return t.Unix()
}
