// Package demo is a package with faults for the test of apicheck.
package demo

// Area is covered and called.
func Area(x float64) float64 { return x * x }

// Lost is covered by nothing.
func Lost() {}

// Claimed is listed by an entry but never called.
func Claimed() {}

// Exempted is exempt.
func Exempted() {}

// Box is a type with methods.
type Box[T any] struct{ v T }

// Side is called through a package variable.
func (b *Box[T]) Side() T { return b.v }

// Hidden is covered by nothing.
func (b Box[T]) Hidden() {}

// String is plumbing.
func (b Box[T]) String() string { return "box" }

var viaVariable = func() float64 { return (&Box[float64]{}).Side() }

func helper() float64 { return Area(2) + viaVariable() }

// Computations is the registry.
func Computations() float64 { return helper() }
