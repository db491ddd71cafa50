// Package casework is what is written to cases of the casebook: opened, reported,
// measured, ticked off, found, settled, taken back, closed. Who works on a case can
// ask about it too.
package casework

import (
	"context"

	"slipcase/cmd/internal/desk/asking"
	"slipcase/cmd/internal/desk/library"
	"slipcase/cmd/internal/desk/opened"
)

// Casework works on cases. It is safe for many requests at once.
type Casework struct {
	*asking.Asker

	keeper  *opened.Keeper
	library *library.Library
}

// New makes one over the rules and the casebook of a keeper.
func New(a *asking.Asker, k *opened.Keeper) *Casework {
	return &Casework{Asker: a, keeper: k, library: library.New(k.Load)}
}

// work is an opened case with its model, and what is noted of it.
type work struct {
	*asking.Work
}

// open is Open with what is noted of a case.
func (d *Casework) open(ctx context.Context, ref asking.CaseRef) (*work, error) {
	w, err := d.Open(ctx, ref)
	if err != nil {
		return nil, err
	}
	return &work{w}, nil
}

// job is a case of the casebook with what is noted of it.
type job struct {
	*opened.Job
	d *Casework
	w *work // nil until there is a model
}

func (d *Casework) job(ctx context.Context, ref opened.Ref) (*job, error) {
	j, err := d.keeper.Job(ctx, ref)
	if err != nil {
		return nil, err
	}
	return &job{Job: j, d: d}, nil
}

// model makes the model of a case that was opened without one.
func (j *job) model() error {
	if err := j.Model(); err != nil {
		return err
	}
	j.w = &work{j.Work}
	return nil
}

func (d *Casework) forWriting(ctx context.Context, ref opened.Ref) (*job, error) {
	j, err := d.keeper.ForWriting(ctx, ref)
	if err != nil {
		return nil, err
	}
	return &job{j, d, &work{j.Work}}, nil
}
