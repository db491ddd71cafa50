// Package asking answers questions about a case: what may have failed and why,
// what to check next, in which order to take the unit apart, and what can be said
// of it. Nothing is written.
package asking

import (
	"context"
	"log/slog"

	"slipcase/cmd/internal/load"
)

// Asker answers. It is safe for many requests at once.
type Asker struct {
	load *load.Loader
	log  *slog.Logger
	// booked opens a case of the casebook: "" for the one that is worked on.
	booked func(ctx context.Context, in string) (*Work, error)
}

// New makes one that reads case files and demos, and has cases of a casebook
// opened by who keeps it.
func New(l *load.Loader, log *slog.Logger, booked func(ctx context.Context, in string) (*Work, error)) *Asker {
	return &Asker{l, log, booked}
}
