package humidity

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// LogLinear is the law log10 x = log10 x₀ − b·(RH − RH₀) with its spread, as
// found for the conductance of cotton between 40 and 80 %RH (Slater, quoted by
// E. J. Murphy and A. C. Walker, J. Phys. Chem. 32 (1928) 1761). It does not
// rise with humidity. It is immutable; the zero value gives NaN.
type LogLinear[Q Value] struct {
	rh0, l0, b float64 // [1], log10 of the value there, decades per unit of RH [1]
	spread
}

// NewLogLinear states a law: the value at a relative humidity, the decades that
// it falls per %RH [1/%RH] (0 … 1), the spread of its log10 [1] (0 … 3) and the
// range of humidity that it stands for. Outside that range 30 % of the change of
// log10 are added to the spread. Errors are [*known.FieldError]s.
func NewLogLinear[Q Value](at Point[Q], decadesPerPercent, decades float64,
	lo, hi units.RelativeHumidity) (LogLinear[Q], error) {
	err := errors.Join(at.check("at"),
		known.InRange("decades_per_percent", decadesPerPercent, 0, 1),
		known.InRange("decades", decades, 0, 3),
		checkSpan(lo, hi))
	if err != nil {
		return LogLinear[Q]{}, err
	}
	b := decadesPerPercent * 100
	return LogLinear[Q]{rh0: float64(at.RH), l0: math.Log10(float64(at.Value)), b: b,
		spread: statedSpread(decades, b, float64(lo), float64(hi))}, nil
}

// FitLogLinear fits the law to two or more points at different humidities by
// least squares in log10. Its spread at RH is that of a further test,
//
//	s·(t/1.645)·√(1 + 1/n + (RH − mean)²/Σ(RH − mean)²)
//
// with s the residual deviation and t the 95 % quantile of Student's
// distribution with n − 2 degrees of freedom; see [FitSettings] for two points
// and for a known scatter. It grows where the points do not reach. Points that
// rise with humidity are refused: no leak falls as air gets wetter, and an inert
// material is a [Constant].
func FitLogLinear[Q Value](points []Point[Q], settings *FitSettings) (LogLinear[Q], error) {
	f, err := fitPoints(points, settings, "rh",
		func(p Point[Q]) float64 { return float64(p.RH) }, func(p Point[Q]) float64 { return float64(p.Value) })
	if err != nil {
		return LogLinear[Q]{}, err
	}
	if f.slope > 0 {
		return LogLinear[Q]{}, known.Wrong("points", fmt.Sprintf("%.2g decades more per %%RH", f.slope/100),
			"a value that does not rise with humidity; an inert material is a Constant")
	}
	return LogLinear[Q]{rh0: f.x, l0: f.y, b: -f.slope, spread: f.spread}, nil
}

// At returns the value at a relative humidity over water. NaN gives NaN.
func (l LogLinear[Q]) At(rh units.RelativeHumidity) Q {
	if !l.made {
		return Q(math.NaN())
	}
	return Q(numeric.Pow(10, l.l0-l.b*(float64(rh)-l.rh0)))
}

// DecadesAt returns the spread of log10 of the value at a relative humidity.
func (l LogLinear[Q]) DecadesAt(rh units.RelativeHumidity) float64 { // [1]
	return l.at(float64(rh))
}

// BandAt returns At with its spread.
func (l LogLinear[Q]) BandAt(rh units.RelativeHumidity) known.Band {
	return known.Band{Value: float64(l.At(rh)), Spread: l.DecadesAt(rh) * math.Ln10, Kind: known.LogNormal}
}

// RelativeHumidity returns the humidity at which the median of the law gives v:
// the limit above which a time constant is shorter, a resistivity lower; see
// [ThresholdFor] for its band. A law without slope, a v not above zero and NaN
// give NaN; the result can lie outside 0 … 100 %RH.
func (l LogLinear[Q]) RelativeHumidity(v Q) units.RelativeHumidity {
	if !(v > 0) || !(l.b > 0) {
		return units.RelativeHumidity(math.NaN())
	}
	return units.RelativeHumidity(l.rh0 + (l.l0-math.Log10(float64(v)))/l.b)
}

// DecadesPerPercent returns the fall of log10 of the value per %RH.
func (l LogLinear[Q]) DecadesPerPercent() float64 { // [1/%RH]
	if !l.made {
		return math.NaN()
	}
	return l.b / 100
}

// Range returns the range of humidity of the points or of the statement.
func (l LogLinear[Q]) Range() (lo, hi units.RelativeHumidity) {
	if !l.made {
		return units.RelativeHumidity(math.NaN()), units.RelativeHumidity(math.NaN())
	}
	return units.RelativeHumidity(l.lo), units.RelativeHumidity(l.hi)
}

// Value returns the value in the air; see At.
func (l LogLinear[Q]) Value(a Air) Q { return l.At(a.RelativeHumidity()) }

// Decades returns the spread in the air; see DecadesAt.
func (l LogLinear[Q]) Decades(a Air) float64 { return l.DecadesAt(a.RelativeHumidity()) } // [1]

// Validity flags air drier or wetter than the range.
func (l LogLinear[Q]) Validity(a Air) known.Validity {
	return l.validity(float64(a.RelativeHumidity()))
}
