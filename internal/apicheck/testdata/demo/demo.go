// Package demo is a package with faults for the test of apicheck.
package demo

// Area is called.
func Area(x float64) float64 { return x * x }

// Lost is called by nothing.
func Lost() {}

// Claimed is called outside the registry only.
func Claimed() {}

// Exempted is exempt.
func Exempted() {}

// Box is a type with methods.
type Box[T any] struct{ v T }

// Side is called by the registry.
func (b *Box[T]) Side() T { return b.v }

// Hidden is called by nothing.
func (b Box[T]) Hidden() {}

// String is plumbing.
func (b Box[T]) String() string { return "box" }

// Sized is what Computations asks.
type Sized interface{ Size() float64 }

// Cube has its size asked through Sized.
type Cube float64

// Size is called through the interface.
func (c Cube) Size() float64 { return float64(c * c * c) }

// NewCube makes a cube.
func NewCube() Cube { return 2 }

// Ball has a size too, but nobody makes one.
type Ball float64

// Size is called for cubes only.
func (b Ball) Size() float64 { return float64(b) }

// AreaContext is reached by its form without a context.
func AreaContext(x float64) float64 { return Area(x) }
