// Package progress lets a long computation tell how far it is to whoever gave it its context.
package progress

import (
	"context"
	"math"
)

type key struct{}

type listener = func(part string, share float64)

// With returns a context with which a computation calls f, from the goroutine that computes, with the part of its work
// that it is at, empty where it has one only, and the share of that part that is done, 0 … 1; NaN where nobody can know
// that.
func With(ctx context.Context, f func(part string, share float64)) context.Context {
	return context.WithValue(ctx, key{}, f)
}

// Asked says whether anybody wants to know.
func Asked(ctx context.Context) bool {
	return ctx.Value(key{}) != nil
}

// Tell calls what [With] left, if anything, about work of one part.
func Tell(ctx context.Context, share float64) { // [1]
	if f, ok := ctx.Value(key{}).(listener); ok {
		f("", share)
	}
}

// Part returns the context of a part of the work, from the share from to the share to of the whole.
func Part(ctx context.Context, from, to float64) context.Context { // [1]
	f, ok := ctx.Value(key{}).(listener)
	if !ok {
		return ctx
	}
	return With(ctx, func(part string, share float64) { f(part, from+(to-from)*share) })
}

// Counter counts the steps of a part. A nil one counts nothing, for work that nobody asks about.
type Counter struct {
	tell     listener
	part     string
	done, of int
}

// Begin tells that a part begins which has so many steps, 0: nobody knows how many. It returns nil where nobody asks.
func Begin(ctx context.Context, part string, steps int) *Counter {
	f, ok := ctx.Value(key{}).(listener)
	if !ok {
		return nil
	}
	c := &Counter{tell: f, part: part, of: steps}
	c.say()
	return c
}

// Next tells that a step is done.
func (c *Counter) Next() {
	if c == nil {
		return
	}
	c.done++
	c.say()
}

func (c *Counter) say() {
	share := math.NaN()
	if c.of > 0 {
		share = min(float64(c.done)/float64(c.of), 1)
	}
	c.tell(c.part, share)
}
