// Package demo has zero values of every kind for the test of zerocheck.
package demo

import (
	"errors"
	"math"

	"example.org/pithball/units/known"
)

// Good gives NaN, an error or a flag.
type Good struct{ made bool }

// NewGood makes one.
func NewGood() (Good, error) { return Good{true}, nil }

// Value is NaN.
func (g Good) Value(x float64) float64 { return math.NaN() * x }

// Try fails.
func (g *Good) Try(f func(float64) float64, s []float64) (float64, error) {
	return f(s[0]), errors.New("not made")
}

// Flagged flags.
func (g Good) Flagged() (float64, known.Validity) { return 1, known.WrongShape }

// Bad gives a number and panics.
type Bad struct{ p *float64 }

// NewBad makes one.
func NewBad() *Bad { return &Bad{new(float64)} }

// Value is finite.
func (b Bad) Value() struct{ A, B float64 } { return struct{ A, B float64 }{math.NaN(), 2} }

// Panic panics.
func (b *Bad) Panic() float64 { return *b.p }

// Sure claims to be inside.
func (b Bad) Sure() known.Validity { return known.Inside }

// Missed is not tried.
type Missed struct{}

// NewMissed makes one.
func NewMissed() Missed { return Missed{} }

// Closed is made by a function of another name, and is not tried.
type Closed struct{ x float64 }

// Read makes one.
func Read() *Closed { return &Closed{1} }

// Value is finite.
func (c *Closed) Value() float64 { return c.x }
