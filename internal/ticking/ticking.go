// Package ticking gives tests a context that ends amid the work.
package ticking

import "context"

// Context ends when it has been asked Left times: wherever the work asks, a test can end it there, and count how often
// it was asked. Left goes on below zero.
type Context struct {
	context.Context
	Left *int
}

// Err is nil n times, then [context.Canceled].
func (c Context) Err() error {
	if *c.Left--; *c.Left < 0 {
		return context.Canceled
	}
	return nil
}
