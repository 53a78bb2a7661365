package humidity

import (
	"errors"
	"fmt"
	"math"

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
	// Value returns the median. NaN air gives NaN.
	Value(a Air) Q
	// Decades returns the standard deviation of log10 of the value, sample to
	// sample and extrapolation included. [1]
	Decades(a Air) float64
	// Validity flags air outside the range of the points or source.
	Validity(a Air) known.Validity
}

// Band returns the value of a law with its lognormal spread, in the SI unit of
// Q. Its 5 and 95 % limits are Value·10^(∓1.645·Decades).
func Band[Q Value](l Law[Q], a Air) known.Band { return band(float64(l.Value(a)), l.Decades(a)) }

func band(v, decades float64) known.Band {
	return known.Band{Value: v, Spread: decades * math.Ln10, Kind: known.LogNormal}
}

// Point is a value measured at a relative humidity.
type Point[Q Value] struct {
	RH    units.RelativeHumidity // over water, 0 … 100 %RH, at the specimen's own temperature
	Value Q                      // > 0
}

// SampleDecades is the least standard deviation of log10 of a resistivity from
// sample to sample, 0.304: a 5 to 95 % band of ±0.5 decade. Common practice, no
// source. A fit never claims less unless told so. [1]
const SampleDecades = 0.5 / known.Z95

// FitSettings are the choices of a fit. The zero value is right for resistivity.
type FitSettings struct {
	// SampleDecades is the sample-to-sample standard deviation of log10 of the
	// value, 0 to 3; 0 means the package's [SampleDecades]. A fit to readings
	// of one and the same specimen may state less.
	SampleDecades float64 // [1]
}

func (s *FitSettings) decades() (float64, error) { // [1]
	if s == nil || s.SampleDecades == 0 {
		return SampleDecades, nil
	}
	return s.SampleDecades, known.InRange("settings.SampleDecades", s.SampleDecades, 0, 3)
}

// LogLinear is the law log10 x = log10 x₀ − b·(RH − RH₀) with its spread, as
// found for the conductance of cotton between 40 and 80 %RH (Slater, quoted by
// E. J. Murphy and A. C. Walker, J. Phys. Chem. 32 (1928) 1761). It does not
// rise with humidity. It is immutable; the zero value gives NaN.
type LogLinear[Q Value] struct {
	rh0, x0, b float64 // [1], [SI of Q], decades per unit of RH [1]
	s0         float64 // [1] decades
	n, sxx     float64 // points behind it and Σ(RH − RH₀)²; n = 0 for a law that was stated
	lo, hi     units.RelativeHumidity
}

// NewLogLinear states a law: the value at a relative humidity, the decades that
// it falls per %RH (0 … 1), the standard deviation of its log10 (0 … 3) and the
// range of humidity that it stands for. Errors are [*known.FieldError]s.
func NewLogLinear[Q Value](at Point[Q], decadesPerPercent, decades float64, lo, hi units.RelativeHumidity) (LogLinear[Q], error) { // decadesPerPercent [1/%RH], decades [1]
	err := errors.Join(checkPoint("at", at),
		known.InRange("decadesPerPercent", decadesPerPercent, 0, 1),
		known.InRange("decades", decades, 0, 3),
		checkSpan(lo, hi))
	if err != nil {
		return LogLinear[Q]{}, err
	}
	return LogLinear[Q]{rh0: float64(at.RH), x0: float64(at.Value), b: decadesPerPercent * 100, s0: decades, lo: lo, hi: hi}, nil
}

func checkSpan(lo, hi units.RelativeHumidity) error {
	err := errors.Join(known.InRange("lo", lo, 0, units.RelativeHumidity(1)), known.InRange("hi", hi, 0, units.RelativeHumidity(1)))
	if err == nil && lo > hi {
		return known.Wrong("hi", hi, "at or above lo, "+lo.String())
	}
	return err
}

func checkPoint[Q Value](field string, p Point[Q]) error {
	return errors.Join(known.InRange(field+".RH", p.RH, 0, units.RelativeHumidity(1)), positive(field+".Value", p.Value))
}

// positive is known.Positive for a Value.
func positive[Q Value](field string, v Q) error {
	if f := float64(v); f > 0 && !math.IsInf(f, 0) {
		return nil
	}
	return known.Wrong(field, v, "more than 0 and finite")
}

// FitLogLinear fits the law to two or more points at different humidities by
// least squares in log10. Its spread at RH is
//
//	s·√(1 + 1/n + (RH − mean)²/Σ(RH − mean)²),  s = max(residual deviation, sample-to-sample)
//
// so that it grows where the points do not reach. Points that rise with
// humidity are refused: no leak falls as air gets wetter, and an inert material
// is a [Constant].
func FitLogLinear[Q Value](points []Point[Q], settings *FitSettings) (LogLinear[Q], error) {
	x, y, s0, err := columnsOf(points, settings, func(rh float64) float64 { return rh })
	if err != nil {
		return LogLinear[Q]{}, err
	}
	f, err := fitLine(x, y, s0, "points[].RH")
	if err != nil {
		return LogLinear[Q]{}, err
	}
	if f.slope > 0 {
		return LogLinear[Q]{}, known.Wrong("points", fmt.Sprintf("%.2g decades more per %%RH", f.slope/100),
			"a value that does not rise with humidity; an inert material is a Constant")
	}
	return LogLinear[Q]{rh0: f.x, x0: math.Pow(10, f.y), b: -f.slope, s0: f.s, n: f.n, sxx: f.sxx,
		lo: units.RelativeHumidity(f.lo), hi: units.RelativeHumidity(f.hi)}, nil
}

// At returns the value at a relative humidity over water. NaN gives NaN.
func (l LogLinear[Q]) At(rh units.RelativeHumidity) Q {
	if l.x0 == 0 {
		return Q(math.NaN())
	}
	return Q(l.x0 * math.Pow(10, -l.b*(float64(rh)-l.rh0)))
}

// DecadesAt returns the standard deviation of log10 of the value at a relative
// humidity.
func (l LogLinear[Q]) DecadesAt(rh units.RelativeHumidity) float64 { // [1]
	return widen(l.s0, l.n, l.sxx, float64(rh)-l.rh0)
}

// BandAt returns At with its lognormal spread.
func (l LogLinear[Q]) BandAt(rh units.RelativeHumidity) known.Band {
	return band(float64(l.At(rh)), l.DecadesAt(rh))
}

// RelativeHumidity returns the humidity at which the law gives v: the limit
// above which a time constant is shorter, a resistivity lower. A law without
// slope, a v not above zero and NaN give NaN; the result can lie outside
// 0 … 100 %RH.
func (l LogLinear[Q]) RelativeHumidity(v Q) units.RelativeHumidity {
	if !(v > 0) || !(l.b > 0) {
		return units.RelativeHumidity(math.NaN())
	}
	return units.RelativeHumidity(l.rh0 + math.Log10(l.x0/float64(v))/l.b)
}

// DecadesPerPercent returns the fall of log10 of the value per %RH.
func (l LogLinear[Q]) DecadesPerPercent() float64 { return l.b / 100 } // [1/%RH]

// Range returns the range of humidity of the points or of the statement.
func (l LogLinear[Q]) Range() (lo, hi units.RelativeHumidity) { return l.lo, l.hi }

// Value returns the value in the air; see At.
func (l LogLinear[Q]) Value(a Air) Q { return l.At(a.RelativeHumidity()) }

// Decades returns the spread in the air; see DecadesAt.
func (l LogLinear[Q]) Decades(a Air) float64 { return l.DecadesAt(a.RelativeHumidity()) } // [1]

// Validity flags air drier or wetter than the range.
func (l LogLinear[Q]) Validity(a Air) known.Validity {
	return rangeOf(float64(a.RelativeHumidity()), float64(l.lo), float64(l.hi))
}

// line is a straight line through (x, y) = means with its statistics.
type line struct {
	x, y, slope float64
	s, n, sxx   float64
	lo, hi      float64 // range of x
}

// fitLine fits y against x by least squares; s is at least s0.
func fitLine(x, y []float64, s0 float64, field string) (line, error) {
	f := line{n: float64(len(x)), lo: math.Inf(1), hi: math.Inf(-1)}
	for i := range x {
		f.x += x[i] / f.n
		f.y += y[i] / f.n
		f.lo, f.hi = math.Min(f.lo, x[i]), math.Max(f.hi, x[i])
	}
	var sxy, syy float64
	for i := range x {
		dx, dy := x[i]-f.x, y[i]-f.y
		f.sxx += dx * dx
		sxy += dx * dy
		syy += dy * dy
	}
	if !(f.hi > f.lo) || !(f.sxx > 1e-12*math.Max(f.x*f.x, 1e-12)) {
		return f, known.Wrong(field, f.lo, "at least two different values")
	}
	f.slope = sxy / f.sxx
	f.s = s0
	if len(x) > 2 {
		f.s = math.Max(s0, math.Sqrt(math.Max(0, syy-f.slope*sxy)/(f.n-2)))
	}
	return f, nil
}

// widen returns the standard deviation of a prediction at dx from the mean.
func widen(s, n, sxx, dx float64) float64 {
	if n == 0 {
		return s + 0*dx // NaN in, NaN out
	}
	return s * math.Sqrt(1+1/n+dx*dx/sxx)
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
