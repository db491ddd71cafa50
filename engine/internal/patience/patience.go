// Package patience is for tests: a context that ends after it was asked so many
// times.
package patience

import (
	"context"
	"sync/atomic"
)

// Context ends once it was asked as often as New allows.
type Context struct {
	context.Context
	left atomic.Int64
}

// New is a context that ends after it was asked n times.
func New(n int64) *Context {
	p := &Context{Context: context.Background()}
	p.left.Store(n)
	return p
}

// Err is context.Canceled once it was asked too often.
func (p *Context) Err() error {
	if p.left.Add(-1) < 0 {
		return context.Canceled
	}
	return nil
}

// Left is how often it may be asked yet; below zero once it has ended.
func (p *Context) Left() int64 { return p.left.Load() }
