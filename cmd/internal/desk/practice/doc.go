// Package practice works on vehicles that were drawn from the rules instead of
// driven in: the drill that a student plays, and the trial that tells how often
// the suspects are right.
package practice

import "slipcase/cmd/internal/load"

// Practice draws vehicles of the units that a loader gives.
type Practice struct {
	load *load.Loader
}

// New makes one.
func New(l *load.Loader) *Practice { return &Practice{l} }
