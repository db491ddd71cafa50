package desk

import (
	"context"
	"fmt"
	"os"
	"sync"

	"slipcase/knowledge/casebook/postgres"
)

// stayingBook is a casebook that stays open between questions: opening one takes
// longer than asking it.
type stayingBook struct {
	mu   sync.Mutex
	book book
	file os.FileInfo // what stood at its path when it was opened
}

// standingBook gives the casebook that stays open; one that was replaced on the
// disk is opened anew.
func (d *Desk) standingBook(ctx context.Context) (book, error) {
	s := &d.stands
	s.mu.Lock()
	defer s.mu.Unlock()
	if d.server != "" {
		if s.book == nil {
			book, err := d.openBook(ctx, false)
			if err != nil {
				return nil, err
			}
			s.book = book
		}
		return s.book, nil // it finds its way back to a server by itself
	}
	now, err := os.Stat(d.book)
	if s.book != nil {
		if err == nil && os.SameFile(now, s.file) {
			return s.book, nil
		}
		s.book.Close() // of a file that is gone
		s.book = nil
	}
	book, err := d.openBook(ctx, false)
	if err != nil {
		return nil, err
	}
	if now, err = os.Stat(d.book); err != nil {
		book.Close()
		return nil, d.bookFailure(err)
	}
	s.book, s.file = book, now
	return book, nil
}

// Close lets go of what stays open between questions.
func (d *Desk) Close() error {
	d.stands.mu.Lock()
	defer d.stands.mu.Unlock()
	if d.stands.book == nil {
		return nil
	}
	err := d.stands.book.Close()
	d.stands.book = nil
	return err
}

// Revision is what every answer to a case of the casebook depends on, its
// options aside.
type Revision struct {
	Last  int64  // number of its newest entry
	Rules string // fingerprint of the shop's rules as they are now; the built-in ones do not change
	// Comebacks of the case: other cases, that its pages show.
	Comebacks int
}

// BookPrint changes when the casebook does, its files or its server. Two changes of one moment may
// look alike: what is kept by it is not to be kept for long.
func (d *Desk) BookPrint(ctx context.Context) string {
	if d.server != "" {
		if b, err := d.standingBook(ctx); err == nil {
			if print, err := b.(*postgres.Book).Print(ctx); err == nil {
				return print
			}
		}
		return newKey() // not to be kept
	}
	out := ""
	for _, name := range []string{d.book, d.book + "-wal"} {
		if st, err := os.Stat(name); err == nil {
			out += fmt.Sprint(st.ModTime().UnixNano(), " ", st.Size(), " ")
		}
	}
	return out
}

// ShopPrint is a fingerprint of the shop's rules as they are now. Fails with
// Unavailable where they cannot be read.
func (d *Desk) ShopPrint() (string, error) { return d.load.ShopPrint() }

// Revision tells how a case stands. It is quick: a page that is looked at often
// need not be made anew while it has not changed. Fails as Stored does.
func (d *Desk) Revision(ctx context.Context, id string) (Revision, error) {
	rules, err := d.load.ShopPrint()
	if err != nil {
		return Revision{}, err
	}
	last, err := d.Last(ctx, id)
	if err != nil {
		return Revision{}, err
	}
	back, err := d.comebacks(ctx, id)
	return Revision{last, rules, back}, err
}
