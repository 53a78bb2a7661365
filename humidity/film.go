package humidity

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// AdsorbedFilm is the law of a surface that adsorbs a film of water but absorbs
// none, such as glazed porcelain and glass:
//
//	ρ_s = ρ_d·exp[k (1 − h)²],  h = relative humidity over water
//
// with ρ_d the surface resistivity just before dew. Contamination changes ρ_d by
// decades, and where dew has formed no law of this package holds. Source: W. G.
// Smail, R. J. Brooksbank, W. M. Thornton, The electrical resistance of moisture
// films on glazed surfaces, J. IEE 69 (1931) 427 (abstract). It is immutable; the
// zero value gives NaN.
type AdsorbedFilm[Q Value] struct {
	x0, l0, k float64 // (1 − h)² [1], log10 of the value there, decades per unit of (1 − h)²
	spread            // in (1 − h)²
}

// NewAdsorbedFilm states the law: the value at saturation, k [1] (0 … 100), the
// spread of log10 of the value [1] (0 … 3) and the range of humidity that it stands
// for. Outside that range 30 % of the change of log10 are added to the spread.
func NewAdsorbedFilm[Q Value](saturated Q, k, decades float64,
	lo, hi units.RelativeHumidity) (AdsorbedFilm[Q], error) {
	err := errors.Join(positive("saturated", saturated), known.InRange("k", k, 0, 100),
		known.InRange("decades", decades, 0, 3), checkSpan(lo, hi))
	if err != nil {
		return AdsorbedFilm[Q]{}, err
	}
	k /= math.Ln10
	return AdsorbedFilm[Q]{l0: math.Log10(float64(saturated)), k: k, spread: statedSpread(decades, k, dry2(hi),
		dry2(lo))}, nil
}

// FitAdsorbedFilm fits the law to two or more points as [FitLogLinear] does,
// against (1 − h)².
func FitAdsorbedFilm[Q Value](points []Point[Q], settings *FitSettings) (AdsorbedFilm[Q], error) {
	f, err := fitPoints(points, settings, "rh",
		func(p Point[Q]) float64 { return dry2(p.RH) }, func(p Point[Q]) float64 { return float64(p.Value) })
	if err != nil {
		return AdsorbedFilm[Q]{}, err
	}
	if f.slope < 0 {
		return AdsorbedFilm[Q]{}, rises()
	}
	return AdsorbedFilm[Q]{x0: f.x, l0: f.y, k: f.slope, spread: f.spread}, nil
}

func rises() error {
	return known.Wrong("points", "values that rise with humidity", "values that do not; an inert material is a Constant")
}

// dry2 is (1 − h)², 0 above saturation.
func dry2(rh units.RelativeHumidity) float64 {
	d := 1 - float64(rh)
	if d < 0 {
		d = 0
	}
	return d * d
}

// At returns the value at a relative humidity over water; above 1 it is that at
// saturation. NaN gives NaN.
func (l AdsorbedFilm[Q]) At(rh units.RelativeHumidity) Q {
	if !l.made {
		return Q(math.NaN())
	}
	return Q(numeric.Pow(10, l.l0+l.k*(dry2(rh)-l.x0)))
}

// K returns k of exp[k(1 − h)²].
func (l AdsorbedFilm[Q]) K() float64 { // [1]
	if !l.made {
		return math.NaN()
	}
	return l.k * math.Ln10
}

// Value returns the value in the air; see At.
func (l AdsorbedFilm[Q]) Value(a Air) Q { return l.At(a.RelativeHumidity()) }

// Decades returns the spread, growing where the points do not reach.
func (l AdsorbedFilm[Q]) Decades(a Air) float64 { return l.at(dry2(a.RelativeHumidity())) } // [1]

// Validity flags air drier or wetter than the range.
func (l AdsorbedFilm[Q]) Validity(a Air) known.Validity {
	switch v := l.validity(dry2(a.RelativeHumidity())); v { // (1 − h)² runs the other way
	case known.BelowRange:
		return known.AboveRange
	case known.AboveRange:
		return known.BelowRange
	default:
		return v
	}
}
