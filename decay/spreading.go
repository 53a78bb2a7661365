package decay

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The laws of this file are those of charge that spreads along a resistive sheet
// far from every earthed body, at the speed v = 1/(2·ε0·ρs). They lose nothing:
// the charge only moves aside. Each is a length over a speed times a number, and
// all have power tails, so no time constant exists.

// FreeStripe is the charge density at the centre of a stripe of half-width a on
// a free sheet,
//
//	σ/σ0 = (2/π)·atan(a/(v·t)),  t(f) = (a/v)·cot(π·f/2)
type FreeStripe struct{ t1 float64 } // a/v [s]

// checkFree joins the checks of a length and a speed.
func checkFree(name string, a units.Length, v units.Speed) (float64, error) { // [s]
	return float64(a) / float64(v), errors.Join(known.Positive(name, a), known.Positive("spreading_speed", v))
}

// NewFreeStripe returns the law for the half-width a > 0 and the spreading speed
// v > 0.
func NewFreeStripe(halfWidth units.Length, v units.Speed) (FreeStripe, error) {
	t1, err := checkFree("half-width", halfWidth, v)
	if err != nil {
		return FreeStripe{}, err
	}
	return FreeStripe{t1}, nil
}

// Fraction returns (2/π)·atan(a/(v·t)), 1 before t = 0, NaN for NaN.
func (l FreeStripe) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.t1 == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	return 2 / math.Pi * math.Atan(l.t1/float64(t))
}

// Rate returns −(2/π)·(a/v)/((a/v)² + t²), 0 before t = 0.
func (l FreeStripe) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.t1 == 0:
		return math.NaN()
	case t < 0:
		return 0
	}
	s := float64(t) / l.t1
	return -2 / math.Pi / (l.t1 * (1 + s*s))
}

// TimeTo returns (a/v)·cot(π·f/2).
func (l FreeStripe) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("FreeStripe", l.t1 > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time(l.t1 * math.Tan(math.Pi/2*(1-f))), nil
}

// FreeDisc is the charge density at the centre of a disc of radius a on a free
// sheet,
//
//	σ/σ0 = 1 − v·t/√(a² + v²t²),  t(f) = (a/v)·(1−f)/√(1 − (1−f)²)
type FreeDisc struct{ t1 float64 } // a/v [s]

// NewFreeDisc returns the law for the radius a > 0 and the spreading speed v > 0.
func NewFreeDisc(radius units.Length, v units.Speed) (FreeDisc, error) {
	t1, err := checkFree("radius", radius, v)
	if err != nil {
		return FreeDisc{}, err
	}
	return FreeDisc{t1}, nil
}

// Fraction returns 1 − v·t/√(a² + v²t²), 1 before t = 0, NaN for NaN.
func (l FreeDisc) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.t1 == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	s := float64(t) / l.t1
	r := math.Sqrt(1 + s*s)
	return 1 / (r * (r + s)) // 1 − s/r without cancellation, as r² − s² = 1
}

// Rate returns −(v/a)/(1 + (v·t/a)²)^(3/2), 0 before t = 0.
func (l FreeDisc) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.t1 == 0:
		return math.NaN()
	case t < 0:
		return 0
	}
	s := float64(t) / l.t1
	q := 1 + s*s
	return -1 / (l.t1 * q * math.Sqrt(q))
}

// TimeTo returns (a/v)·(1−f)/√(f·(2−f)).
func (l FreeDisc) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("FreeDisc", l.t1 > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time(l.t1 * (1 - f) / math.Sqrt(f*(2-f))), nil
}

// LineUnderProbe is what a small probe at height h reads over a line of charge
// on a free sheet: the charge recedes behind the sheet at the speed v,
//
//	E/E0 = 1/(1 + v·t/h),  t(f) = (h/v)·(1/f − 1)
//
// It is a hyperbola though the sheet is ohmic.
type LineUnderProbe struct{ h Hyperbolic }

// NewLineUnderProbe returns the law for the probe height h > 0 and the spreading
// speed v > 0.
func NewLineUnderProbe(height units.Length, v units.Speed) (LineUnderProbe, error) {
	t1, err := checkFree("height", height, v)
	if err != nil {
		return LineUnderProbe{}, err
	}
	h, err := NewHyperbolic(1 / t1)
	return LineUnderProbe{h}, err
}

// Fraction returns 1/(1 + v·t/h), 1 before t = 0, NaN for NaN.
func (l LineUnderProbe) Fraction(t units.Time) float64 { return l.h.Fraction(t) } // [1]

// Rate returns −(v/h)/(1 + v·t/h)², 0 before t = 0.
func (l LineUnderProbe) Rate(t units.Time) float64 { return l.h.Rate(t) } // [1/s]

// TimeTo returns (h/v)·(1/f − 1).
func (l LineUnderProbe) TimeTo(f float64) (units.Time, error) { return l.h.TimeTo(f) } // f [1]

// SpotUnderProbe is what a small probe at height h reads over a spot of charge
// on a free sheet,
//
//	E/E0 = 1/(1 + v·t/h)²,  t(f) = (h/v)·(f^(−1/2) − 1)
type SpotUnderProbe struct{ t1 float64 } // h/v [s]

// NewSpotUnderProbe returns the law for the probe height h > 0 and the spreading
// speed v > 0.
func NewSpotUnderProbe(height units.Length, v units.Speed) (SpotUnderProbe, error) {
	t1, err := checkFree("height", height, v)
	if err != nil {
		return SpotUnderProbe{}, err
	}
	return SpotUnderProbe{t1}, nil
}

// Fraction returns 1/(1 + v·t/h)², 1 before t = 0, NaN for NaN.
func (l SpotUnderProbe) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.t1 == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	q := 1 + float64(t)/l.t1
	return 1 / (q * q)
}

// Rate returns −2·(v/h)/(1 + v·t/h)³, 0 before t = 0.
func (l SpotUnderProbe) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.t1 == 0:
		return math.NaN()
	case t < 0:
		return 0
	}
	q := 1 + float64(t)/l.t1
	return -2 / (l.t1 * q * q * q)
}

// TimeTo returns (h/v)·(f^(−1/2) − 1).
func (l SpotUnderProbe) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("SpotUnderProbe", l.t1 > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time(l.t1 * math.Expm1(-0.5*math.Log(f))), nil
}
