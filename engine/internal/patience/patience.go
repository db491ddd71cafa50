// Package patience is for tests: a context that ends after it was asked so many
// times, so that a test ends work at every place where it looks.
package patience

import (
	"context"
	"sync"
	"sync/atomic"
)

// Context ends once it was asked as often as New allows.
type Context struct {
	context.Context
	left  atomic.Int64
	ended chan struct{}
	once  sync.Once
}

// New is a context that ends after it was asked n times.
func New(n int64) *Context {
	p := &Context{Context: context.Background(), ended: make(chan struct{})}
	p.left.Store(n)
	return p
}

// Err is context.Canceled once it was asked too often.
func (p *Context) Err() error {
	if p.left.Add(-1) < 0 {
		p.once.Do(func() { close(p.ended) })
		return context.Canceled
	}
	return nil
}

// Done is a look too. Its channel closes at the look that is too often.
func (p *Context) Done() <-chan struct{} {
	p.Err()
	return p.ended
}

// Left is how often it may be asked yet; below zero once it has ended.
func (p *Context) Left() int64 { return p.left.Load() }
