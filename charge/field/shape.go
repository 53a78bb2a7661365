package field

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// EdgeFactor returns the field at an earthed plane over σ/ε0, at the distance y
// inside the straight edge of a wide sheet (y < 0: outside it), with the sheet at
// the distance d from the plane and the gap h from an earthed plane behind:
//
//	E·ε0/σ = h/(2D) + (1/π)·atan[cot(πd/(2D))·tanh(πy/(2D))],  D = d + h
//
// which is half of [FieldFactor] at the edge itself; the kernel is that of
// [StripFactor]. h may be +Inf: ½ + (1/π)·atan(y/d). NaN, a negative d or h give
// NaN.
func EdgeFactor(y, distance, gap units.Length) float64 { // [1]
	s, d, h := float64(y), float64(distance), float64(gap)
	if !(d >= 0 && h >= 0) || math.IsNaN(s) || math.IsInf(d, 1) {
		return math.NaN()
	}
	switch {
	case h == 0:
		return 0
	case math.IsInf(h, 1):
		return 0.5 + math.Atan2(s, d)/math.Pi
	}
	D := d + h
	sin, cos := math.Sincos(math.Pi * d / (2 * D))
	return h/(2*D) + math.Atan2(cos*numeric.Tanh(math.Pi*s/(2*D)), sin)/math.Pi
}

// DiscFactor returns the field at the foot of the axis on an earthed plane over
// σ/ε0, for a disc of radius R with uniform charge at the distance d from the
// plane and the gap h from an earthed plane behind it:
//
//	E·ε0/σ = Σ_{n≥0} s(2nD + d) − Σ_{n≥1} s(2nD − d),  s(z) = 1 − z/√(z²+R²),  D = d+h
//
// the images of the two planes; h = +Inf leaves the first term, the one-plane
// form. The sum is taken to n = 64 and its tail as an integral; the error is
// below 1e-7. It needs R ≈ 10·d for 90 % of the wide sheet. A negative argument
// gives NaN.
func DiscFactor(radius, distance, gap units.Length) float64 { // [1]
	R, d, h := float64(radius), float64(distance), float64(gap)
	if !(R >= 0 && d >= 0 && h >= 0) || math.IsInf(d, 1) {
		return math.NaN()
	}
	switch {
	case math.IsInf(R, 1):
		return FieldFactor(distance, gap)
	case R == 0 || h == 0:
		return 0
	}
	// s(z) without cancellation for z ≫ R, and its antiderivative from ∞.
	s := func(z float64) float64 { m := math.Hypot(z, R); return R / m * (R / (m + z)) }
	if math.IsInf(h, 1) {
		return s(d)
	}
	D := d + h
	if R > 300*D {
		return FieldFactor(distance, gap) // the edge adds e^(−πR/D)
	}
	// As many terms as the disc is wide in gaps, so that the tail is smooth.
	n := 64 + int(8*R/D)
	sum := s(d)
	for k := 1; k <= n; k++ {
		z := 2 * float64(k) * D
		sum += s(z+d) - s(z-d)
	}
	// Midpoint form of the tail; ∫s dz = z − √(z²+R²).
	z := (2*float64(n) + 1) * D
	tail := func(z float64) float64 { return R * (R / (math.Hypot(z, R) + z)) }
	return sum + (tail(z+d)-tail(z-d))/(2*D)
}

// ImageForce returns the attraction between a point charge q at the height h
// and an earthed plane, q²/(16π·ε0·h²), positive towards the plane. h must be
// above 0, else NaN.
func ImageForce(q units.Charge, h units.Length) units.Force {
	if !(h > 0) {
		return units.Force(math.NaN())
	}
	x := float64(q) / float64(h)
	return units.Force(x * x / (16 * math.Pi * units.Epsilon0))
}

// ImageDensity returns the charge density induced on an earthed plane at the
// distance r from the foot of a point charge q at the height h,
// −q·h/(2π(r²+h²)^(3/2)). h must be above 0, else NaN.
func ImageDensity(q units.Charge, h, r units.Length) units.SurfaceChargeDensity {
	if !(h > 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	m := math.Hypot(float64(r), float64(h))
	return units.SurfaceChargeDensity(-float64(q) * float64(h) / (2 * math.Pi * m * m * m))
}
