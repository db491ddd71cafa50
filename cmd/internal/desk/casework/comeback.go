package casework

import (
	"cmp"
	"context"

	"slipcase/cmd/internal/answer"
	"slipcase/cmd/internal/fault"
	"slipcase/cmd/internal/wording"
	"slipcase/engine"
)

// ofEarlier fills in the head of a comeback from the earlier job: the same unit
// and vehicle, without its mileage, which is another today.
func (j *job) ofEarlier(in OpenInput) (OpenInput, error) {
	if j.Case.Status == engine.CaseOpen {
		return in, fault.Conflict(wording.NotBackYet(in.Of), answer.Do(answer.CloseEarlierFirst))
	}
	if in.Unit != "" && in.Unit != j.Case.Unit {
		return in, fault.WrongUse(wording.EarlierUnit(in.Of, j.Case.Unit, in.Unit))
	}
	in.Unit = j.Case.Unit
	in.Vehicle = cmp.Or(in.Vehicle, wording.WithoutMiles(j.Case.Vehicle))
	in.Title = cmp.Or(in.Title, in.Words, wording.CameBack(wording.WithoutMiles(j.Case.Title)))
	return in, nil
}

// comebacks counts the comebacks of a case.
func (d *Casework) comebacks(ctx context.Context, id string) (int, error) {
	book, err := d.keeper.Books.Standing(ctx)
	if err != nil {
		return 0, err
	}
	back, err := book.List(ctx, engine.CaseFilter{Earlier: id}, engine.CasePage{Limit: 1})
	return back.Total, d.keeper.Books.Failure(err)
}
