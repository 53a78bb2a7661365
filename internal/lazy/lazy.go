// Package lazy has values that are made when somebody asks for them. sync.OnceValue does the same, but makes its
// function when the program starts; a [Value] lies ready in the program, so that importing pithball costs nothing.
package lazy

import "sync"

// Value is made once, by the first [Value.Get], and safe for concurrent use. It must not be copied.
type Value[T any] struct {
	Make  func() T
	once  sync.Once
	value T
}

// Get returns the value.
func (v *Value[T]) Get() T {
	v.once.Do(func() { v.value = v.Make() })
	return v.value
}
