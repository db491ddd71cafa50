// Package casework is what is done with cases of the casebook: opened, written to,
// looked at, closed, printed, exported and brought back. Who works on a case can
// ask about it too.
package casework

import (
	"context"
	"log/slog"
	"time"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/load"
)

// Casework works on cases. It is safe for many requests at once.
type Casework struct {
	*asking.Asker

	load    *load.Loader
	log     *slog.Logger
	books   *books.Books
	library *library.Library
	by      string
	now     func() time.Time
}

// work is an opened case with its model, and what is noted of it.
type work struct {
	*asking.Work
}

// New makes one over the rules of a loader and a casebook. By is who enters what
// is entered, where nobody is named; now stamps a job sheet, nil for the clock.
func New(l *load.Loader, log *slog.Logger, b *books.Books, by string, now func() time.Time) *Casework {
	d := &Casework{load: l, log: log, books: b, library: library.New(l), by: by, now: now}
	d.Asker = asking.New(l, log, d.booked)
	return d
}

// open is Open with what is noted of a case.
func (d *Casework) open(ctx context.Context, ref asking.CaseRef) (*work, error) {
	w, err := d.Open(ctx, ref)
	if err != nil {
		return nil, err
	}
	return &work{w}, nil
}
