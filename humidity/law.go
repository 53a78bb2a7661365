package humidity

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Value is a quantity that depends on humidity: [units.SheetResistance],
// [units.VolumeResistivity], [units.Resistance] or a time constant in
// [units.Time].
type Value interface {
	~float64
	fmt.Stringer
}

// Law gives a resistivity or time constant in given air. Every law reports
// its spread in decades and whether the air lies outside what it was made from.
type Law[Q Value] interface {
	// Value returns the median, or the limit where Validity says LowerLimit: above 0,
	// and never more in wetter air. NaN air gives NaN.
	Value(a Air) Q
	// Decades returns the spread of log10 of the value, sample to sample and
	// extrapolation included: half the width of its 5 to 95 % band over 1.645,
	// which is the standard deviation where that is normal; outside the range never
	// less than inside. [1]
	Decades(a Air) float64
	// Validity flags air outside the range of the points or source, a law that
	// rests on memory or common practice, and a value that is a lower limit.
	Validity(a Air) known.Validity
}

// Band returns the value of a law with its spread, in the SI unit of Q. Its 5 and
// 95 % limits are Value·10^(∓1.645·Decades). Of a law whose value is a lower
// limit it is the band [known.AtLeast] from Value·10^(−1.645·Decades) upwards.
func Band[Q Value](l Law[Q], a Air) known.Band {
	v, d := float64(l.Value(a)), l.Decades(a)
	if l.Validity(a)&known.LowerLimit != 0 {
		return known.Band{Value: v * numeric.Pow(10, -known.Z95*d), Kind: known.AtLeast}
	}
	return known.Band{Value: v, Spread: d * math.Ln10, Kind: known.LogNormal}
}

// Point is a value measured at a relative humidity.
type Point[Q Value] struct {
	RH    units.RelativeHumidity // over water, 0 … 100 %RH, at the specimen's own temperature
	Value Q                      // > 0
}

func (p Point[Q]) check(field string) error {
	return errors.Join(known.InRange(field+".rh", p.RH, 0, units.RelativeHumidity(1)), positive(field+".value", p.Value))
}

func checkSpan(lo, hi units.RelativeHumidity) error {
	err := errors.Join(known.InRange("lo", lo, 0, units.RelativeHumidity(1)),
		known.InRange("hi", hi, 0, units.RelativeHumidity(1)))
	if err == nil && lo > hi {
		return known.Wrong("hi", hi, "at or above lo, "+lo.String())
	}
	return err
}

// positive is known.Positive for a Value.
func positive[Q Value](field string, v Q) error {
	if f := float64(v); f > 0 && !math.IsInf(f, 0) {
		return nil
	}
	return known.Wrong(field, v, "more than 0 and finite")
}

func rangeOf(x, lo, hi float64) known.Validity {
	switch {
	case x < lo:
		return known.BelowRange
	case x > hi:
		return known.AboveRange
	}
	return known.Inside
}
