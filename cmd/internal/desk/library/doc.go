// Package library is what is asked of units and rules without a case: the list of
// units, a chart under faults and its pictures, which variant it is, whether rule
// files are sound, their layout, and a unit in the making.
package library

import "slipcase/cmd/internal/load"

// Library answers from the rules alone. It is safe for many requests at once.
type Library struct {
	load *load.Loader
}

// New makes a library over what a loader gives.
func New(l *load.Loader) *Library { return &Library{l} }
