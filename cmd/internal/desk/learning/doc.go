// Package learning works out what the confirmed cases of the casebook say about
// the numbers of the rules, and writes that to the shop's rules.
package learning

import (
	"log/slog"

	"slipcase/cmd/internal/desk/books"
	"slipcase/cmd/internal/load"
)

// Learning learns from a casebook.
type Learning struct {
	load  *load.Loader
	log   *slog.Logger
	books *books.Books
}

// New makes one over the rules of a loader and a casebook.
func New(l *load.Loader, log *slog.Logger, b *books.Books) *Learning { return &Learning{l, log, b} }
