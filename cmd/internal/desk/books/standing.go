package books

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
	book Book
	file os.FileInfo // what stood at its path when it was opened
}

// Standing gives the casebook that stays open; one that was replaced on the
// disk is opened again. Fails as Open does.
func (d *Books) Standing(ctx context.Context) (Book, error) {
	s := &d.stands
	s.mu.Lock()
	defer s.mu.Unlock()
	if d.server != "" {
		if s.book == nil {
			book, err := d.Open(ctx, false)
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
	book, err := d.Open(ctx, false)
	if err != nil {
		return nil, err
	}
	if now, err = os.Stat(d.book); err != nil {
		book.Close()
		return nil, d.Failure(err)
	}
	s.book, s.file = book, now
	return book, nil
}

// Close lets go of what stays open between questions. It fails with the error of
// the store.
func (d *Books) Close() error {
	d.stands.mu.Lock()
	defer d.stands.mu.Unlock()
	if d.stands.book == nil {
		return nil
	}
	err := d.stands.book.Close()
	d.stands.book = nil
	return err
}

// Print changes when the casebook does, its files or its server. Two changes of one moment may
// look alike: what is kept by it is not to be kept for long.
func (d *Books) Print(ctx context.Context) string {
	if d.server != "" {
		if b, err := d.Standing(ctx); err == nil {
			if print, err := b.(*postgres.Book).Print(ctx); err == nil {
				return print
			}
		}
		return NewKey() // not to be kept
	}
	out := ""
	for _, name := range []string{d.book, d.book + "-wal"} {
		if st, err := os.Stat(name); err == nil {
			out += fmt.Sprint(st.ModTime().UnixNano(), " ", st.Size(), " ")
		}
	}
	return out
}
