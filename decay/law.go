package decay

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Law is a decay of charge, voltage or field: the fraction of the start value
// that is left after a time. Every law of this package gives 1 at and before
// t = 0 (the decay has not begun), never rises, stays between 0 and 1 unless it says
// otherwise, jumps at 0 if anywhere, and gives NaN for NaN; its zero value, made by
// no constructor, gives NaN and errors only. Package decaytest checks a law of your
// own on this.
//
// A constant ([Constant]) and a closure ([Function]) are laws too. Laws that
// know more implement [Rater], [Timer] or [Checker].
type Law interface {
	// Fraction returns V(t)/V(0).
	Fraction(t units.Time) float64 // [1]
}

// Rater is a law that knows its derivative in closed form.
type Rater interface {
	Law
	// Rate returns d(V/V0)/dt, zero or negative; 0 before t = 0.
	Rate(t units.Time) float64 // [1/s]
}

// Timer is a law that knows its inverse.
type Timer interface {
	Law
	// TimeTo returns the time after which the fraction is left, for 0 < f <= 1.
	// Errors are [*known.FieldError] for f outside that range and [*NeverError]
	// where the law stays above f.
	TimeTo(f float64) (units.Time, error) // f [1]
}

// Checker is a law that holds for a part of its decay only.
type Checker interface {
	Law
	// Validity flags a time at which the law is outside its range.
	Validity(t units.Time) known.Validity
}

// NeverError says that a law does not reach a fraction, however long one waits.
type NeverError struct {
	Fraction float64 // [1] asked for
	Floor    float64 // [1] what the law stays at or above
}

// Error says both fractions.
func (e *NeverError) Error() string {
	return fmt.Sprintf("the decay never reaches %g of its start value: it stays at or above %g", e.Fraction, e.Floor)
}

// Constant is the law of a charge that does not leak: the same fraction at all
// times after the start. Constant(1) is the charge without a path to earth.
type Constant float64

// Fraction returns 1 up to t = 0 and the constant after it; NaN for NaN.
func (c Constant) Fraction(t units.Time) float64 { // [1]
	switch {
	case math.IsNaN(float64(t)):
		return float64(t)
	case t <= 0:
		return 1
	}
	return float64(c)
}

// Function makes a law of a closure. The closure must accept every t; see
// [Law] for what is expected of it.
type Function func(t units.Time) float64 // [1]

// Fraction calls the closure; NaN without one.
func (f Function) Fraction(t units.Time) float64 { // [1]
	if f == nil {
		return math.NaN()
	}
	return f(t)
}

// checkFraction accepts 0 < f <= 1.
func checkFraction(f float64) error {
	if f > 0 && f <= 1 {
		return nil
	}
	return known.Wrong("fraction", f, "more than 0 and at most 1")
}

// checkTimeTo accepts what TimeTo of a law needs: parameters that a constructor
// gave, and 0 < f <= 1.
func checkTimeTo(law string, made bool, f float64) error {
	if !made {
		return notMade(law)
	}
	return checkFraction(f)
}

// notMade refuses the zero value of a type.
func notMade(typ string) error {
	return known.Wrong(typ, "the zero "+typ, "one made by its constructor")
}

// made returns a parameter that no constructor lets be 0, and NaN for the zero
// value of a type.
func made(x float64) float64 {
	if x == 0 {
		return math.NaN()
	}
	return x
}

// searchEnd is the longest time that TimeTo looks at when a law gives no
// inverse: 1e20 s, about 200 times the age of the universe.
const searchEnd = 1e20

// TimeTo returns the time after which the fraction f of the start value is left
// (0 < f <= 1). It uses the law's own inverse ([Timer]) where there is one.
// Else it brackets the crossing on a scale of powers of two from 1e-15 s to
// 1e20 s and finds it by Brent's method to 4 ulp; for a law that jumps over f it
// returns the place of the jump, for one that rises again the first crossing
// that the scale resolves.
//
// Errors: [*known.FieldError] for f out of range or a law that returns NaN;
// [*NeverError] if the law is still above f after 1e20 s.
func TimeTo(law Law, f float64) (units.Time, error) { // f [1]
	if t, ok := law.(Timer); ok {
		return t.TimeTo(f)
	}
	if err := checkFraction(f); err != nil {
		return units.Time(math.NaN()), err
	}
	g := func(t float64) float64 { return law.Fraction(units.Time(t)) - f }
	if g(0) <= 0 {
		return 0, nil
	}
	lo, hi := 0.0, 1e-15
	for g(hi) > 0 {
		if hi > searchEnd {
			return units.Time(math.Inf(1)), &NeverError{Fraction: f, Floor: law.Fraction(units.Time(searchEnd))}
		}
		lo, hi = hi, 2*hi
	}
	t, err := numeric.Brent(g, lo, hi, 4*0x1p-52, 0)
	if err != nil {
		if b := (*numeric.BracketError)(nil); errors.As(err, &b) {
			err = known.Wrong("law", law, fmt.Sprintf("a finite fraction between %v and %v", units.Time(lo), units.Time(hi)))
		}
		return units.Time(math.NaN()), err
	}
	return units.Time(t), nil
}

// Rate returns d(V/V0)/dt of any law: its own derivative where it has one
// ([Rater]), else a central difference over ±6e-6·t (one-sided at t = 0 over
// 1e-9 s), good to about 1e-10 of the fraction per t. NaN for NaN.
func Rate(law Law, t units.Time) float64 { // [1/s]
	if r, ok := law.(Rater); ok {
		return r.Rate(t)
	}
	if t <= 0 {
		if t < 0 {
			return 0
		}
		const h = 1e-9 // [s]
		return (law.Fraction(units.Time(h)) - 1) / h
	}
	h := 6e-6 * t // about the cube root of 2^-52: truncation h² and rounding 1/h balance
	a, b := t-h, t+h
	return (law.Fraction(b) - law.Fraction(a)) / float64(b-a)
}

// FractionsTo writes the fractions of the law at the times t into dst, which must
// have the same length (it panics else). Times that are NaN or negative are bad
// rows: they get NaN, and one [*known.FieldError] lists them. It does not allocate
// if there are none.
func FractionsTo(dst []float64, law Law, t []units.Time) error { // dst [1]
	if len(dst) != len(t) {
		panic("decay: FractionsTo: dst and t differ in length")
	}
	var bad []int
	for i, x := range t {
		if !(x >= 0) {
			dst[i] = math.NaN()
			bad = append(bad, i)
			continue
		}
		dst[i] = law.Fraction(x)
	}
	if bad != nil {
		return known.Wrong("t", fmt.Sprintf("rows %v", bad), "0 or more")
	}
	return nil
}

// law drops the concrete type, so that a failed constructor gives a nil Law.
func law[T Law](l T, err error) (Law, error) {
	if err != nil {
		return nil, err
	}
	return l, nil
}
