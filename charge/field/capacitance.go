package field

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// SphereCapacitance returns the capacitance of an isolated sphere, 4π·ε0·r. A
// negative radius gives NaN.
func SphereCapacitance(radius units.Length) units.Capacitance {
	if !(radius >= 0) {
		return units.Capacitance(math.NaN())
	}
	return units.Capacitance(4 * math.Pi * units.Epsilon0 * float64(radius))
}

// DiscCapacitance returns the capacitance of an isolated thin disc, 8·ε0·r. A
// negative radius gives NaN.
func DiscCapacitance(radius units.Length) units.Capacitance {
	if !(radius >= 0) {
		return units.Capacitance(math.NaN())
	}
	return units.Capacitance(8 * units.Epsilon0 * float64(radius))
}

// RodCapacitance returns the capacitance of an isolated slender body of the
// length L and the greatest diameter D, as a prolate spheroid:
//
//	C = 2π·ε0·L·e/artanh(e),  e = √(1 − (D/L)²)
//
// exact for the spheroid, 4π·ε0·√(a²−b²)/arcosh(a/b) with the half-axes a and b
// (Smythe, Static and Dynamic Electricity, spheroids; derived again in the
// tests). D = L is the sphere. D must be above 0 and not above L, else NaN.
func RodCapacitance(length, diameter units.Length) units.Capacitance {
	L, D := float64(length), float64(diameter)
	if !(D > 0 && D <= L) || math.IsInf(L, 1) {
		return units.Capacitance(math.NaN())
	}
	q := D / L
	e := math.Sqrt((1 - q) * (1 + q))
	k := 1.0 // e/artanh(e) → 1 for the sphere
	if e > 1e-6 {
		k = e / math.Log((1+e)/q) // artanh e = ln((1+e)/√(1−e²)), √(1−e²) = D/L
	}
	return units.Capacitance(2 * math.Pi * units.Epsilon0 * L * k)
}

// SphereOverPlaneCapacitance returns the capacitance between a sphere of radius
// a and an earthed plane at the gap z:
//
//	C = 4π·ε0·a·sinh α·Σ_{n≥1} 1/sinh(nα),  cosh α = 1 + z/a
//
// (images in a sphere; Smythe, Static and Dynamic Electricity). The sum is
// taken to n = 64 and its tail as an integral; the error is below 1e-8. Both
// lengths must be above 0, else NaN; z = +Inf is the isolated sphere.
func SphereOverPlaneCapacitance(radius, gap units.Length) units.Capacitance {
	a, z := float64(radius), float64(gap)
	if !(a > 0 && z > 0) || math.IsInf(a, 1) {
		return units.Capacitance(math.NaN())
	}
	if math.IsInf(z, 1) || z > 1e12*a {
		return SphereCapacitance(radius)
	}
	q := z / a
	sinh := math.Sqrt(q * (2 + q))
	alpha := math.Log1p(q + sinh)
	sum := 1.0
	const n = 64
	for k := 2; k <= n; k++ {
		sum += sinh / numeric.Sinh(float64(k)*alpha)
	}
	// ∫_x^∞ dn/sinh(nα) = −ln tanh(αx/2)/α from the midpoint x = n + ½, with the
	// first correction f′(x)/24 of the midpoint rule.
	x := (n + 0.5) * alpha
	if x < 40 {
		sh := numeric.Sinh(x)
		sum += sinh * (-math.Log(numeric.Tanh(x/2))/alpha - alpha*numeric.Cosh(x)/(24*sh*sh))
	}
	return units.Capacitance(4 * math.Pi * units.Epsilon0 * a * sum)
}

// PlateCapacitance returns ε0·ε_r·A/d of two plates that are wide against their
// distance; the edge adds to it. Area and ε_r not negative, d above 0, else NaN.
func PlateCapacitance(area units.Area, distance units.Length, relativePermittivity float64) units.Capacitance { // [1]
	if !(area >= 0 && distance > 0 && relativePermittivity >= 0) {
		return units.Capacitance(math.NaN())
	}
	return units.Capacitance(units.Epsilon0 * relativePermittivity * float64(area) / float64(distance))
}

// CylinderOverPlaneCapacitance returns the capacitance of a roller or wire of
// radius R and length L, its axis at the height H over an earthed plane:
//
//	C = 2π·ε0·L/arcosh(H/R)
//
// exact for a long cylinder; the ends add to it. R and L above 0, H above R, else
// NaN.
func CylinderOverPlaneCapacitance(radius, length, axis units.Length) units.Capacitance {
	R, L, H := float64(radius), float64(length), float64(axis)
	if !(R > 0 && L > 0 && H > R) {
		return units.Capacitance(math.NaN())
	}
	// arcosh(1+q) = ln(1 + q + √(q(2+q))) keeps its digits for a small gap.
	q := (H - R) / R
	return units.Capacitance(2 * math.Pi * units.Epsilon0 * L / math.Log1p(q+math.Sqrt(q*(2+q))))
}

// CoaxialCapacitance returns 2π·ε0·ε_r·L/ln(b/a) of a shaft of radius a in a
// sleeve of radius b, for example a roller shell on an insulating sleeve. a and L
// above 0, b above a, else NaN.
func CoaxialCapacitance(inner, outer, length units.Length, relativePermittivity float64) units.Capacitance { // [1]
	a, b, L := float64(inner), float64(outer), float64(length)
	if !(a > 0 && b > a && L > 0 && relativePermittivity >= 0) {
		return units.Capacitance(math.NaN())
	}
	return units.Capacitance(2 * math.Pi * units.Epsilon0 * relativePermittivity * L / math.Log1p((b-a)/a))
}
