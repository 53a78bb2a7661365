package sheet

import (
	"math"

	"example.org/pithball/units"
)

// The closed forms of a free sheet take the distance v_s t by which the charge
// has receded ([SpreadingSpeed] times the time) instead of the time: on a sheet
// far from earth nothing else counts. Field and charge are those of the original
// charge moved away from the sheet by that distance. They need v_s t ≥ 0, other
// lengths > 0 where said, and give NaN otherwise. Total charge is conserved.

// LineOnFreeSheet returns the charge density at distance x from the place where
// a line charge was laid, the Lorentzian
//
//	σ = (λ/π) v_s t/(x² + (v_s t)²)    [C/m²]
//
// At v_s t = 0 it is +Inf·λ at the line and 0 elsewhere.
func LineOnFreeSheet(lambda units.LineChargeDensity, x, receded units.Length) units.SurfaceChargeDensity {
	h := float64(receded)
	if !(h >= 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	if h == 0 && x == 0 {
		return units.SurfaceChargeDensity(float64(lambda) * math.Inf(1))
	}
	r := math.Hypot(float64(x), h)
	return units.SurfaceChargeDensity(float64(lambda) / math.Pi * (h / r) / r)
}

// PointOnFreeSheet returns the charge density at distance r from the place where
// a point charge was laid,
//
//	σ = (q/2π) v_s t/(r² + (v_s t)²)^{3/2}    [C/m²]
func PointOnFreeSheet(q units.Charge, r, receded units.Length) units.SurfaceChargeDensity {
	h := float64(receded)
	if !(h >= 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	if h == 0 && r == 0 {
		return units.SurfaceChargeDensity(float64(q) * math.Inf(1))
	}
	d := math.Hypot(float64(r), h)
	return units.SurfaceChargeDensity(float64(q) / (2 * math.Pi) * (h / d) / d / d)
}

// StepOnFreeSheet returns σ/σ0 at x of a sheet that was charged for x > 0,
// ½ + (1/π) atan(x/(v_s t)). [1]
func StepOnFreeSheet(x, receded units.Length) float64 { // [1]
	if !(receded >= 0) {
		return math.NaN()
	}
	return 0.5 + math.Atan2(float64(x), float64(receded))/math.Pi
}

// StripeOnFreeSheet returns σ/σ0 at distance x from the middle of a stripe that
// was charged for |x| < a,
//
//	(1/π)[atan((x+a)/v_s t) − atan((x−a)/v_s t)]    [1]
//
// (2/π) atan(a/v_s t) at the middle, 2a/(π v_s t) late: a tail of power −1, not
// an exponential. a > 0.
func StripeOnFreeSheet(x, a, receded units.Length) float64 { // [1]
	if !(a > 0) || !(receded >= 0) {
		return math.NaN()
	}
	xx, aa, h := float64(x), float64(a), float64(receded)
	// The difference of two arctangents as the angle under which the stripe is
	// seen, without cancellation far away.
	return math.Atan2(2*aa*h, h*h+(xx-aa)*(xx+aa)) / math.Pi
}

// StripeReceded returns the distance v_s t at which the middle of a stripe of
// half-width a > 0 has fallen to the share f, 0 < f < 1: a/tan(πf/2).
func StripeReceded(a units.Length, f float64) units.Length { // f [1]
	if !(a > 0) || !(f > 0 && f < 1) {
		return units.Length(math.NaN())
	}
	return units.Length(float64(a) / math.Tan(math.Pi*f/2))
}

// DiscCentreOnFreeSheet returns σ/σ0 at the middle of a disc of radius a > 0 that
// was charged uniformly, 1 − s/√(1+s²) with s = v_s t/a; ½ s⁻² late. [1]
func DiscCentreOnFreeSheet(a, receded units.Length) float64 { // [1]
	if !(a > 0) || !(receded >= 0) {
		return math.NaN()
	}
	s := float64(receded) / float64(a)
	h := math.Hypot(1, s)
	return 1 / (h * (h + s)) // (h−s)/h without cancellation
}

// DiscReceded returns the distance v_s t at which the middle of a disc of radius
// a > 0 has fallen to the share f, 0 < f < 1: a(1−f)/√(f(2−f)).
func DiscReceded(a units.Length, f float64) units.Length { // f [1]
	if !(a > 0) || !(f > 0 && f < 1) {
		return units.Length(math.NaN())
	}
	return units.Length(float64(a) * (1 - f) / math.Sqrt(f*(2-f)))
}

// GaussianStripeCentre returns σ/σ0 at the middle of a stripe that was charged as
// exp(−x²/(2w²)): erfcx(s), s = v_s t/(√2 w), w > 0. [1]
func GaussianStripeCentre(w, receded units.Length) float64 { // [1]
	if !(w > 0) || !(receded >= 0) {
		return math.NaN()
	}
	return erfcx(float64(receded) / (math.Sqrt2 * float64(w)))
}

// GaussianSpotCentre returns σ/σ0 at the middle of a spot that was charged as
// exp(−r²/(2w²)): 1 − √π s erfcx(s), s = v_s t/(√2 w), w > 0. [1]
func GaussianSpotCentre(w, receded units.Length) float64 { // [1]
	if !(w > 0) || !(receded >= 0) {
		return math.NaN()
	}
	s := float64(receded) / (math.Sqrt2 * float64(w))
	if s < 20 {
		return 1 - math.Sqrt(math.Pi)*s*erfcx(s)
	}
	// The asymptotic series, which loses no digits: ½s⁻²(1 − 3/(2s²) + …).
	term, sum, q := 1.0, 0.0, 1/(2*s*s)
	for n := 1; n < 12; n++ {
		term *= -q * float64(2*n-1)
		sum -= term
	}
	return sum
}

// ProbeOverLine returns the reading over its first value of a probe at height h > 0
// over a line charge on a free sheet, 1/(1 + v_s t/h). [1] It is a hyperbola: a
// record that a hyperbola fits well does not prove that traps or mobility limit
// the decay.
func ProbeOverLine(h, receded units.Length) float64 { // [1]
	if !(h > 0) || !(receded >= 0) {
		return math.NaN()
	}
	return 1 / (1 + float64(receded)/float64(h))
}

// ProbeOverSpot returns the reading over its first value of a probe at height
// h > 0 over a small spot on a free sheet, 1/(1 + v_s t/h)². [1]
func ProbeOverSpot(h, receded units.Length) float64 { // [1]
	p := ProbeOverLine(h, receded)
	return p * p
}

// ProbeReceded returns the distance v_s t at which a probe at height h > 0 reads
// the share f, 0 < f < 1, of its first reading: h(1/f − 1) over a line,
// h(1/√f − 1) over a spot.
func ProbeReceded(h units.Length, f float64, spot bool) units.Length { // f [1]
	if !(h > 0) || !(f > 0 && f < 1) {
		return units.Length(math.NaN())
	}
	if spot {
		f = math.Sqrt(f)
	}
	return units.Length(float64(h) * (1 - f) / f)
}

// LinesOnFreeSheet returns the charge density at x of equal lines laid on a free
// sheet at 0, ±L, ±2L, …, what a periodic spectral solution of one line gives:
//
//	σ = (λ/L) sinh(2πv_s t/L)/(cosh(2πv_s t/L) − cos(2πx/L))    [C/m²]
//
// L > 0. Against [LineOnFreeSheet] the middle differs by (π²/3)(v_s t/L)².
func LinesOnFreeSheet(lambda units.LineChargeDensity, x, receded, period units.Length) units.SurfaceChargeDensity {
	if !(period > 0) || !(receded >= 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	l := float64(period)
	b := 2 * math.Pi * float64(receded) / l
	// (1−q²)/((1−q)² + 4q sin²): no overflow, no cancellation.
	q := math.Exp(-b)
	s := math.Sin(math.Pi * float64(x) / l)
	return units.SurfaceChargeDensity(float64(lambda) / l * -math.Expm1(-2*b) / (math.Expm1(-b)*math.Expm1(-b) + 4*q*s*s))
}

// StripesOnFreeSheet returns σ/σ0 at x of equal stripes of half-width a laid on a
// free sheet at 0, ±L, ±2L, …, 0 < a ≤ L/2: the integral of
// [LinesOnFreeSheet] over a stripe. [1]
func StripesOnFreeSheet(x, a, receded, period units.Length) float64 { // [1]
	if !(period > 0) || !(a > 0) || !(a <= period/2) || !(receded >= 0) {
		return math.NaN()
	}
	// The integral of the line from 0 to u is the angle of (T cos θ, sin θ) over π with θ = πu/L, T = tanh(πv_s t/L). The
	// angle between two of them, 0 … π, is taken at once: as a difference it would be lost for a narrow stripe.
	l := float64(period)
	tanh := math.Tanh(math.Pi * float64(receded) / l)
	turn, half := float64(x)/l, float64(a)/l
	turn -= math.Round(turn)
	s1, c1 := math.Sincos(math.Pi * (turn + half))
	s2, c2 := math.Sincos(math.Pi * (turn - half))
	if tanh == 0 { // the stripe itself, half of it at its edge
		switch edge := math.Abs(float64(x) - l*math.Round(float64(x)/l)); {
		case edge < float64(a) || 2*half == 1:
			return 1
		case edge == float64(a):
			return 0.5
		}
		return 0
	}
	return math.Atan2(tanh*math.Sin(2*math.Pi*half), tanh*tanh*c1*c2+s1*s2) / math.Pi
}

// erfcx is exp(x²) erfc(x) for x ≥ 0. Relative error below 4e-15·(1+x²) up to 5
// (rounding of x² in the exponential), 1e-15 above.
func erfcx(x float64) float64 {
	if x < 5 {
		return math.Exp(x*x) * math.Erfc(x)
	}
	// Continued fraction, Abramowitz & Stegun 7.1.14:
	// √π erfcx(x) = 1/(x+ ½/(x+ 1/(x+ 3/2/(x+ …)))).
	f := x
	for n := 40; n > 0; n-- {
		f = x + float64(n)/2/f
	}
	return 1 / (math.Sqrt(math.Pi) * f)
}
