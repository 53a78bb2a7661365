// Package progress lets a long computation tell how far it is to whoever gave it its context.
package progress

import "context"

type key struct{}

// With returns a context with which a computation calls f with the share of its work that is done, 0 … 1, from the
// goroutine that computes.
func With(ctx context.Context, f func(share float64)) context.Context {
	return context.WithValue(ctx, key{}, f)
}

// Tell calls what [With] left, if anything.
func Tell(ctx context.Context, share float64) { // [1]
	if f, ok := ctx.Value(key{}).(func(float64)); ok {
		f(share)
	}
}

// Part returns the context of a part of the work, from the share from to the share to of the whole.
func Part(ctx context.Context, from, to float64) context.Context { // [1]
	f, ok := ctx.Value(key{}).(func(float64))
	if !ok {
		return ctx
	}
	return With(ctx, func(share float64) { f(from + (to-from)*share) })
}
