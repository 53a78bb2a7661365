package field

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// Pull returns the force per area that pulls the film to the metal on which it
// lies, for the charge of its outer and of its inner face and another earth at the
// distance other over it (+Inf for none):
//
//	p = (D_b² − D_a²)/(2ε0),  D_a = σ_outer·(t/ε_r)/(h + t/ε_r),  D_b = σ_outer + σ_inner − D_a
//
// (Maxwell stress in the air that a film lying on metal keeps under it; films cling
// by it, stiffness and weight aside). Without another earth it is that of the net
// charge, [ElectrostaticPressure]: a balanced double layer is not held by its even
// part. Negative: pulled away. NaN for a negative distance.
func (f Film) Pull(outer, inner units.SurfaceChargeDensity, other units.Length) units.Pressure {
	a, h := f.reduced(), float64(other)
	if !(h >= 0) {
		return units.Pressure(math.NaN())
	}
	up := 0.0
	if !math.IsInf(h, 1) {
		up = float64(outer) * a / (h + a)
	}
	down := float64(outer) + float64(inner) - up
	return units.Pressure((down*down - up*up) / (2 * units.Epsilon0))
}

// SheetPull returns the force per area between two wide parallel sheets of the net
// charge densities a and b with no earth near, −a·b/(2ε0): positive pulls them
// together. It does not depend on their distance while that is small against
// their width. Two sheets of equal charge repel with half of what one of
// them is pulled to an earthed plane with; a sheet on a pile is pulled to the
// earthed plate by the whole charge of the pile.
func SheetPull(a, b units.SurfaceChargeDensity) units.Pressure {
	return units.Pressure(-float64(a) * (float64(b) / (2 * units.Epsilon0)))
}

// PatchedPull returns the force per area between two equal sheets whose double
// layers are patchy: on each sheet the faces carry ±σ·cos(2πx/λ), and facing
// faces lie opposite each other with opposite sign, as a contact leaves them,
//
//	p = σ²/(4ε0)·(1 − e^(−2πt/λ))²·e^(−2πg/λ),
//
// t the thickness of a sheet, g the air between them. An even double layer, λ → ∞,
// has no field outside and pulls nothing: it is the patches that make balanced
// sheets block. Derived for ε_r 1 from the potential of a charge wave, hence low by
// up to ε_r² for patches much larger than t. NaN unless λ > 0, t > 0 and g ≥ 0.
func PatchedPull(amplitude units.SurfaceChargeDensity, wavelength, thickness, gap units.Length) units.Pressure {
	l, t, g := float64(wavelength), float64(thickness), float64(gap)
	if !(l > 0 && t > 0 && g >= 0) {
		return units.Pressure(math.NaN())
	}
	k := 2 * math.Pi / l
	d := -math.Expm1(-k * t)
	s := float64(amplitude) * d
	return units.Pressure(s * (s / (4 * units.Epsilon0)) * numeric.Exp(-k*g))
}
