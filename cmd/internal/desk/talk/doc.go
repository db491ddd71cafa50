// Package talk is the interview as a face holds it: one question at a time, what
// was answered kept in the casebook as it is given, left and taken up again.
package talk

import (
	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
)

// Talk holds interviews. It is safe for many requests at once.
type Talk struct {
	asker  *asking.Asker
	keeper *opened.Keeper
}

// New makes one that asks about cases of the keeper's casebook and others.
func New(a *asking.Asker, k *opened.Keeper) *Talk { return &Talk{a, k} }
