// Package archive is the casebook as a whole: its cases listed, searched and shown,
// exported and imported with their pictures, checked, and saved from a damaged file.
package archive

import "slipcase/cmd/internal/desk/opened"

// Archive looks into the casebook. It is safe for many requests at once.
type Archive struct{ keeper *opened.Keeper }

// New makes one.
func New(k *opened.Keeper) *Archive { return &Archive{k} }
