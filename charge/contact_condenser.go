package charge

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// CondenserSaturation returns the charge density at which a contact of two
// bodies stops transferring charge, the condenser law:
//
//	σ∞ = ε0·(V_c/δ_c + E),
//
// with V_c the contact potential difference, positive when it makes the body
// positive ([ContactPotential]), δ_c the cut-off gap, and E the field of all
// other charges at the contact, normal and out of the body's face. The transfer
// stops when the field of the transferred charge cancels V_c/δ_c + E. 1 eV at
// 500 nm gives 17.7 µC/m².
//
// δ_c is about 1 nm for clean smooth metals and 10 to 100 nm and more for rough
// ones; 500 nm is used for particles. For insulators it is a fit, not a length
// that could be measured, and neither the film thickness nor the roughness. With
// 1 nm the law gives thousands of µC/m²: in air the gas leaves its cap
// ([Parting]). NaN unless cutoff > 0.
//
// Derived: two faces a distance δ_c apart are a plate condenser, whose field σ/ε0
// makes up for V_c over δ_c. Simulations of particles use the same law, with δ_c of
// 500 nm as a rule (not compared with a source).
func CondenserSaturation(vc units.Voltage, cutoff units.Length, field units.ElectricField) units.SurfaceChargeDensity {
	if !(cutoff > 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return units.SurfaceChargeDensity(units.Epsilon0 * (float64(vc)/float64(cutoff) + float64(field)))
}

// MetalPolymer describes how a polymer charges against metals: one contact
// without sliding gives a charge that does not depend on the metal, many
// contacts or sliding one that is linear in the metal's work function. Source:
// J. Lowell, J. Phys. D 9 (1976) 1571 (abstract).
type MetalPolymer struct {
	Single units.SurfaceChargeDensity // of one contact without sliding
	Level  units.Voltage              // work function over e at which repeated contact gives no charge
	Slope  float64                    // [F/m²] charge per volt of repeated contact, k·ε0/z0; to be fitted
}

// Saturation returns the charge density after the given number of contacts
// relative to the relaxation number beyond the first one,
//
//	σ = σ_∞ + (σ_1 − σ_∞)·exp(−n),  σ_∞ = Slope·(φ/e − Level),
//
// which is σ_1 at n = 0 and linear in the work function phi (over e) for many
// contacts. A metal of higher work function leaves the polymer more positive.
// NaN in or n < 0 gives NaN.
func (m MetalPolymer) Saturation(phi units.Voltage, n float64) units.SurfaceChargeDensity { // n [1]
	if !(n >= 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	many := m.Slope * (float64(phi) - float64(m.Level))
	return units.SurfaceChargeDensity(float64(m.Single)*numeric.Exp(-n) - many*math.Expm1(-n))
}

// RubbedDensity returns C·V/A, the charge density on a rubbed area A that the
// potential V of an insulated body of capacitance C tells: 3 kV at 90 pF from
// 150 cm² of sole are 18 µC/m². NaN unless C ≥ 0 and A > 0. Source: the
// definition of capacitance.
func RubbedDensity(c units.Capacitance, v units.Voltage, area units.Area) units.SurfaceChargeDensity {
	if !(c >= 0) || !(area > 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return units.SurfaceChargeDensity(float64(c) * float64(v) / float64(area))
}
