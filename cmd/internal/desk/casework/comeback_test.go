package casework

import (
	"context"
	"sync/atomic"
	"testing"

	"slipcase/engine"
)

// ending is a context that ends at the look at it after so many.
type ending struct {
	context.Context
	end  context.CancelFunc
	left atomic.Int64
}

func endingAfter(looks int64) *ending {
	c := &ending{}
	c.Context, c.end = context.WithCancel(context.Background())
	c.left.Store(looks)
	return c
}

func (c *ending) look() {
	if c.left.Add(-1) < 0 {
		c.end()
	}
}

func (c *ending) Err() error            { c.look(); return c.Context.Err() }
func (c *ending) Done() <-chan struct{} { c.look(); return c.Context.Done() }

// A comeback that is interrupted while it is opened, wherever, is opened with its
// link to the earlier job or not at all.
func TestComebackIsOpenedWhole(t *testing.T) {
	d := shopDesk(t)
	one := opened(t, d, "northfork-4")
	if _, err := d.CloseCase(t.Context(), JobRef{In: one}, CloseInput{Outcome: engine.CaseAbandoned}); err != nil {
		t.Fatal(err)
	}
	stopped, done := 0, 0
	for looks := int64(0); done < 3 && looks < 10_000; looks++ {
		ctx := endingAfter(looks)
		_, err := d.OpenCase(ctx, OpenInput{Of: one})
		ctx.end()
		if err == nil {
			done++ // not every look is at the same place each time
		} else {
			stopped++
		}
	}
	if stopped < 20 || done < 3 {
		t.Errorf("stopped %d times, opened %d: this shows nothing", stopped, done)
	}
	book, err := d.books.Open(t.Context(), false)
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
