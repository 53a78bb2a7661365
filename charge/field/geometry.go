package field

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// GapBehindRoller returns the gap between a web and the surface of the roller
// that it has left, at the distance x from the line where it leaves:
//
//	h(x) = √(R² + x²) − R = x²/(√(R²+x²) + R)
//
// R is the radius of the roller, x the distance along the straight web; the
// second form is evaluated, because the first loses all digits for x ≪ R. It
// is the distance to the nearest point of the roller, exact for a straight web
// and a round roller. A negative x gives the gap before the roller; a negative
// radius has no meaning and gives NaN.
//
// As the gap of [FieldFactor] it tells too little field, because the gap is not
// uniform over the d + h that this takes: with the meter at d = R/2, −56 % at x = R/5,
// −14 % at R/2, −5 … −8 % from R to 5R; −83 % at R/10. A far meter makes it worse
// (d = 2R: −92 % at R/5, −32 % at R), a near one better (d = R/6:
// −14 % at R/5, −2 … −4 % from R/2 on). Behind a roller [RollerFieldFactor] is the answer.
func GapBehindRoller(radius, x units.Length) units.Length {
	if radius < 0 {
		return units.Length(math.NaN())
	}
	if x == 0 && radius == 0 {
		return 0
	}
	s, r := float64(x), float64(radius)
	return units.Length(s * (s / (math.Hypot(r, s) + r)))
}

// FieldFactor returns the field at a wide earthed meter plane over the field
// σ/ε0 that it would have if the web had no earthed metal behind it:
//
//	E·ε0/σ = h/(d + h)
//
// for a web of net charge per area σ at the distance d from the plane and the
// gap h from the earthed plane behind it (two-plane image; E_a = σ b/(ε0(a+b))
// in Taylor and Secker, Industrial Electrostatics, 1994, not read; derived here
// from Gauss's law and equal potentials of the planes).
//
// It holds for a web much wider than d + h, a gap that is uniform over a few
// d + h, and a meter face in a wide earthed plane or with a guard. A bare
// small face reads more: [FieldMeter]. Behind a roller the gap is not uniform:
// [RollerFieldFactor]. For a narrow web: [StripFactor].
//
// A negative distance or gap gives NaN, as do 0 and 0; a gap of +Inf gives 1, a
// distance of +Inf 0, both NaN.
func FieldFactor(distance, gap units.Length) float64 { // [1]
	d, h := float64(distance), float64(gap)
	if d > 0 && h >= 0 && h <= math.MaxFloat64 {
		return h / (d + h)
	}
	return fieldFactorLimit(d, h)
}

// fieldFactorLimit has the limits of FieldFactor, kept apart so that the common
// case is inlined.
func fieldFactorLimit(d, h float64) float64 {
	switch {
	case !(d >= 0 && h >= 0), math.IsInf(d, 1):
		return math.NaN()
	case d == 0 && h == 0:
		return math.NaN() // touching both planes: the field is not determined
	}
	return 1 // the meter touches the web, or no metal behind it
}

// DistanceSensitivity returns d ln E/d ln d of the reading of a wide insulating
// web, −d/(d+h): the relative error of the reading for a relative error of the
// distance. In front of a conductor at fixed voltage it is −1 instead. A
// negative distance or gap gives NaN.
func DistanceSensitivity(distance, gap units.Length) float64 { // [1]
	return FieldFactor(distance, gap) - 1
}

// StripFactor returns the field on the middle line of an earthed plane over
// σ/ε0, for a strip of full width w at the distance d from that plane and the
// gap h from an earthed plane behind it:
//
//	E·ε0/σ = (2/π)·atan[ cot(πd/(2(d+h))) · tanh(πw/(4(d+h))) ]
//
// It is the two-plane kernel sin(πd/D)/(2D(cosh(πx/D) − cos(πd/D))), D = d+h,
// integrated over |x| <= w/2. Limits: w → ∞ gives h/(d+h) ([FieldFactor]), h → ∞
// gives (2/π)·atan(w/(2d)). The product of these two, which is often used,
// counts the loss twice and is up to 28 % low.
//
// It holds for a long strip, sharp edges, uniform charge. A negative argument
// gives NaN; gap and width may be +Inf.
func StripFactor(width, distance, gap units.Length) float64 { // [1]
	w, d, h := float64(width), float64(distance), float64(gap)
	if !(w >= 0 && d >= 0 && h >= 0) || math.IsInf(d, 1) {
		return math.NaN()
	}
	switch {
	case w == 0 || h == 0:
		return 0
	case math.IsInf(w, 1):
		return FieldFactor(distance, gap)
	case math.IsInf(h, 1):
		return 2 / math.Pi * math.Atan2(w, 2*d)
	}
	D := d + h
	// cot(x) = cos(x)/sin(x); Atan2 keeps d = 0 finite.
	s, c := math.Sincos(math.Pi * d / (2 * D))
	return 2 / math.Pi * math.Atan2(c*numeric.Tanh(math.Pi*w/(4*D)), s)
}
