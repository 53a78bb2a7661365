package humidity

import (
	"errors"
	"math"

	"example.org/pithball/units/known"
)

// Constant is the law of an inert material: humidity changes nothing. It is the
// default for a polymer that nobody has measured. It is immutable; the zero value
// gives NaN.
type Constant[Q Value] struct {
	v       Q
	decades float64
}

// NewConstant returns the law with the value and the spread of its log10, 0 to 3.
func NewConstant[Q Value](v Q, decades float64) (Constant[Q], error) { // decades [1]
	err := errors.Join(positive("v", v), known.InRange("decades", decades, 0, 3))
	if err != nil {
		return Constant[Q]{}, err
	}
	return Constant[Q]{v, decades}, nil
}

// Value returns the value.
func (c Constant[Q]) Value(a Air) Q {
	if !(c.v > 0) || !a.valid() {
		return Q(math.NaN())
	}
	return c.v
}

// Decades returns the spread.
func (c Constant[Q]) Decades(Air) float64 { // [1]
	if !(c.v > 0) {
		return math.NaN()
	}
	return c.decades
}

// Validity flags nothing but the zero value.
func (c Constant[Q]) Validity(Air) known.Validity {
	if !(c.v > 0) {
		return known.WrongShape
	}
	return known.Inside
}

// AtLeast is the law of a material of which only a lower limit is known, printed
// as "> 1e16 Ω": its value is the limit, it says nothing about how far above
// the truth lies, and its Validity is [known.LowerLimit] in every air. What
// follows from it is a limit too: a relaxation time is "at least". It is
// immutable; the zero value gives NaN.
type AtLeast[Q Value] struct{ limit Q }

// NewAtLeast returns the law with the limit, above 0.
func NewAtLeast[Q Value](limit Q) (AtLeast[Q], error) {
	if err := positive("limit", limit); err != nil {
		return AtLeast[Q]{}, err
	}
	return AtLeast[Q]{limit}, nil
}

// Value returns the limit.
func (l AtLeast[Q]) Value(a Air) Q {
	if !(l.limit > 0) || !a.valid() {
		return Q(math.NaN())
	}
	return l.limit
}

// Decades returns 0: the limit itself is sharp.
func (l AtLeast[Q]) Decades(Air) float64 { // [1]
	if !(l.limit > 0) {
		return math.NaN()
	}
	return 0
}

// Validity says that the value is a lower limit.
func (l AtLeast[Q]) Validity(Air) known.Validity {
	if !(l.limit > 0) {
		return known.WrongShape
	}
	return known.LowerLimit
}
