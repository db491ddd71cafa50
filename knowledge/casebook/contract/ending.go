package contract

import (
	"context"
	"sync/atomic"
)

// Ending is a context that ends at the look at it after so many, so that a test
// can end work at every place where it looks.
type Ending struct {
	context.Context
	End  context.CancelFunc // ends it now
	left atomic.Int64
}

// EndsAfter is a context that may be looked at so often. Not every look is at the
// same place each time: the database looks on goroutines of its own.
func EndsAfter(looks int64) *Ending {
	c := &Ending{}
	c.Context, c.End = context.WithCancel(context.Background())
	c.left.Store(looks)
	return c
}

func (c *Ending) look() {
	if c.left.Add(-1) < 0 {
		c.End()
	}
}

// Err is a look.
func (c *Ending) Err() error {
	c.look()
	return c.Context.Err()
}

// Done is a look.
func (c *Ending) Done() <-chan struct{} {
	c.look()
	return c.Context.Done()
}
