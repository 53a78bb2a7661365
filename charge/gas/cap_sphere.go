package gas

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// spherePlane returns the capacitance in F of a metal sphere of radius a whose
// surface is the distance z from an earthed plane, 4πε0·a·sinh α·Σ 1/sinh(nα)
// with cosh α = 1 + z/a.
func spherePlane(a, z float64) float64 {
	s := z / a
	// α = arcosh(1+s), without loss at small s.
	alpha := math.Log1p(s + math.Sqrt(s*(2+s)))
	q := numeric.Exp(-alpha)
	sum := 0.0
	for p := q; ; p *= q {
		// 1/sinh(nα) = 2qⁿ/(1 − q²ⁿ)
		t := 2 * p / (1 - p*p)
		sum += t
		if t < 1e-17*sum {
			break
		}
	}
	return 4 * math.Pi * units.Epsilon0 * a * numeric.Sinh(alpha) * sum
}

// CapSphere returns the greatest charge that a metal sphere keeps while it parts
// from an earthed plane, with the gap of the last discharge:
//
//	q = min over z of C(z)·V_b(z),  C = 4πε0·a·sinh α·Σ 1/sinh(nα),  cosh α = 1 + z/a,
//
// whatever charge the contact had made, the charge relaxation model. Gaps below
// 7.5 µm/δ are left out: there the composite of [BreakdownVoltage] is field
// emission from metal, which is no discharge of the gas (the published model uses
// Paschen's law, which has no breakdown there). The gap found must be small
// against the sphere, z ≤ a/2, or the result is flagged WrongShape. The charge of
// an insulating sphere sits near the contact; the paper uses the model for
// polymer spheres of 3 mm all the same.
//
// NaN unless radius is between 1 µm and 1 m and 0 < δ ≤ 5. Source: T. Matsuyama
// and H. Yamamoto, Charge relaxation process dominates contact charging of a
// particle in atmospheric conditions, J. Phys. D 28 (1995) 2418 (abstract).
func CapSphere(radius units.Length, delta float64) (units.Charge, units.Length, known.Validity) { // delta [1]
	a := float64(radius)
	if !(a >= 1e-6 && a <= 1) || !(delta > 0 && delta <= MaxDensity) {
		return units.Charge(math.NaN()), units.Length(math.NaN()), known.WrongShape
	}
	charge := func(y float64) float64 {
		z := numeric.Exp(y)
		return spherePlane(a, z) * air.volts(z, delta)
	}
	// Left of the end of the plateau V_b is constant and C falls: the least lies at
	// its end or beyond.
	best, y := valley(charge, math.Log(airJoin/delta), math.Log(0.1/delta))
	z := numeric.Exp(y)
	v := gapValidity(z, delta)
	if z > a/2 {
		v |= known.WrongShape
	}
	return units.Charge(best), units.Length(z), v
}
