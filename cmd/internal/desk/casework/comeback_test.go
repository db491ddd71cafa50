package casework

import (
	"testing"

	"slipcase/cmd/internal/desk/opened"
	"slipcase/engine"
	"slipcase/internal/size"
	"slipcase/knowledge/casebook/contract"
)

// A comeback that is interrupted while it is opened, wherever, is opened with its
// link to the earlier job or not at all.
func TestComebackIsOpenedWhole(t *testing.T) {
	d := shopDesk(t)
	one := openCase(t, d, "northfork-4")
	if _, err := d.CloseCase(t.Context(), opened.Ref{In: one}, CloseInput{Outcome: engine.CaseAbandoned}); err != nil {
		t.Fatal(err)
	}
	stopped, done := 0, 0
	for looks := int64(0); done < 3 && looks < 10_000; looks += 1 + looks/size.Of[int64](40, 1<<40, 1<<40) {
		ctx := contract.EndsAfter(looks)
		_, err := d.OpenCase(ctx, OpenInput{Of: one})
		ctx.End()
		if err == nil {
			done++ // not every look is at the same place each time
		} else {
			stopped++
		}
	}
	if stopped < 20 || done < 3 {
		t.Errorf("stopped %d times, opened %d: this shows nothing", stopped, done)
	}
	book, err := d.keeper.Books.Open(t.Context(), false)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	all, err := book.List(t.Context(), engine.CaseFilter{}, engine.CasePage{Limit: 1000})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range all.Cases {
		if c.ID != one && c.Earlier != one {
			t.Errorf("case %s was opened without its link, %d entries", c.ID, c.Entries)
		}
	}
}
