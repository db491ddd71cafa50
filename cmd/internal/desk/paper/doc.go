// Package paper gathers what a job sheet shows of a case: complaint, reports,
// suspects, chart, drawings, plan and what to measure, in words.
package paper

import (
	"time"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/opened"
)

// Paper gathers job sheets. It is safe for many requests at once.
type Paper struct {
	asker  *asking.Asker
	keeper *opened.Keeper
	now    func() time.Time
}

// work is an opened case, for what a sheet tells of it.
type work struct{ *asking.Work }

// New makes one; now stamps a job sheet, nil for the clock.
func New(a *asking.Asker, k *opened.Keeper, now func() time.Time) *Paper { return &Paper{a, k, now} }
