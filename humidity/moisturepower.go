package humidity

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units/known"
)

// MoisturePower is Hearle's law of absorbing fibres and sheets,
//
//	log10 x = log10 x₀ − n log10(M/M₀)
//
// with M in the one measure it was made with: [Regain] or [MoistureContent].
// n is 7 to 18 for textile fibres. Source: J. W. S. Hearle, J. Text. Inst. 44
// (1953) T117; the range 7 … 13 for wool, cotton, silk, rayon, acetate, nylon from
// the abstract of a later study in Text. Res. J. It is immutable; the zero value
// gives NaN.
type MoisturePower[Q Value, M Moisture] struct {
	x0, l0, n float64 // log10 M₀, log10 of the value there, exponent
	spread            // in log10 M
}

// WetPoint is a value measured at a moisture.
type WetPoint[Q Value, M Moisture] struct {
	M     M // above 0, below 100 %
	Value Q // > 0
}

func (p WetPoint[Q, M]) check(field string) error {
	err := positive(field+".value", p.Value)
	if !(p.M > 0 && p.M < 1) {
		err = errors.Join(err, known.Wrong(field+".M", p.M, "above 0, below 100 %"))
	}
	return err
}

// NewMoisturePower states the law: the value at a moisture, the exponent n [1]
// (0 … 30), the spread of log10 of the value [1] (0 … 3) and the range of moisture.
// Outside that range 30 % of the change of log10 are added to the spread.
func NewMoisturePower[Q Value, M Moisture](at WetPoint[Q, M], n, decades float64,
	lo, hi M) (MoisturePower[Q, M], error) {
	err := errors.Join(at.check("at"), known.InRange("n", n, 0, 30), known.InRange("decades", decades, 0, 3))
	if !(lo > 0 && hi >= lo && hi < 1) {
		err = errors.Join(err, known.Wrong("lo", lo, "above 0 and at most hi, hi below 100 %"))
	}
	if err != nil {
		return MoisturePower[Q, M]{}, err
	}
	return MoisturePower[Q, M]{x0: math.Log10(float64(at.M)), l0: math.Log10(float64(at.Value)), n: n,
		spread: statedSpread(decades, n, math.Log10(float64(lo)), math.Log10(float64(hi)))}, nil
}

// FitMoisturePower fits the law to two or more points by least squares of the
// logarithms, with the spread of [FitLogLinear].
func FitMoisturePower[Q Value, M Moisture](points []WetPoint[Q, M], settings *FitSettings) (MoisturePower[Q, M],
	error) {
	f, err := fitPoints(points, settings, "M",
		func(p WetPoint[Q, M]) float64 { return math.Log10(float64(p.M)) },
		func(p WetPoint[Q, M]) float64 { return float64(p.Value) })
	if err != nil {
		return MoisturePower[Q, M]{}, err
	}
	if f.slope > 0 {
		return MoisturePower[Q, M]{}, rises()
	}
	return MoisturePower[Q, M]{x0: f.x, l0: f.y, n: -f.slope, spread: f.spread}, nil
}

// At returns the value at a moisture; moisture of 0 or below and NaN give NaN,
// for a bone-dry material has no value by this law.
func (l MoisturePower[Q, M]) At(m M) Q {
	if !(m > 0) || !l.made {
		return Q(math.NaN())
	}
	return Q(numeric.Pow(10, l.l0-l.n*(math.Log10(float64(m))-l.x0)))
}

// Exponent returns n.
func (l MoisturePower[Q, M]) Exponent() float64 { // [1]
	if !l.made {
		return math.NaN()
	}
	return l.n
}

// DecadesAt returns the spread at a moisture.
func (l MoisturePower[Q, M]) DecadesAt(m M) float64 { return l.at(math.Log10(float64(m))) } // [1]
