package charge

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// BackFlow returns the part of the charge that is left after conduction back
// through the opening contact,
//
//	exp(−ℓ/(v·τ)),
//
// the race of the time in the exit zone, ℓ/v, with the relaxation time τ of the
// face (through the bulk decay.RelaxationTime; see [SurfaceRelaxation], [Relaxation]). Exact limits:
// v → ∞ or τ → ∞ or ℓ = 0 gives 1, v → 0 or τ → 0 gives 0. The magnitude of v
// counts. NaN in, a negative exit or a negative τ gives NaN.
//
// It rises with v and τ and saturates: with ρ above about 1e12 Ω·m
// ([BackFlowIdle]) the speed acts through slip and area, not through this race.
// Derived from dσ/dt = −σ/τ while the opening contact conducts, which is for ℓ/v;
// books on electrostatics of industry have it (J. A. Cross, 1987; D. M. Taylor and
// P. E. Secker, 1994; neither was read).
func BackFlow(v units.Speed, exit units.Length, tau units.Time) float64 { // [1]
	l, t := float64(exit), float64(tau)
	s := math.Abs(float64(v))
	switch {
	case math.IsNaN(s) || !(l >= 0) || !(t >= 0):
		return math.NaN()
	case l == 0 || math.IsInf(t, 1) && s > 0 || math.IsInf(s, 1) && t > 0 && !math.IsInf(l, 1):
		return 1
	case s == 0 || t == 0:
		return 0
	}
	return numeric.Exp(-(l / s) / t)
}

// bulkRelaxation returns the bulk relaxation time ε0·εr·ρ, which package decay owns
// (decay.RelaxationTime); 0 for a conductor.
func bulkRelaxation(rho units.VolumeResistivity, epsr float64) units.Time { // epsr [1]
	if !(epsr >= 1) || !(rho >= 0) {
		return units.Time(math.NaN())
	}
	return units.Time(units.Epsilon0 * epsr * float64(rho))
}

// SurfaceRelaxation returns τ = ℓ²·Rs·ε0·εr/t: the charge spreads along the face
// to the closed contact like heat, with the diffusivity 1/(Rs·C') of a sheet of
// resistance Rs over the capacitance per area C' = ε0·εr/t of the film to earth
// behind it, over the length ℓ of the exit zone. NaN unless exit ≥ 0,
// thickness > 0, epsr [1] ≥ 1, rs ≥ 0.
func SurfaceRelaxation(exit units.Length, rs units.SheetResistance,
	thickness units.Length, epsr float64) units.Time { // epsr [1]
	if !(exit >= 0) || !(rs >= 0) || !(thickness > 0) || !(epsr >= 1) {
		return units.Time(math.NaN())
	}
	return units.Time(float64(exit) * float64(exit) * float64(rs) * units.Epsilon0 * epsr / float64(thickness))
}

// Relaxation returns the relaxation time of two paths side by side,
// 1/(1/a + 1/b). An endless time takes no part. NaN for negative times.
func Relaxation(a, b units.Time) units.Time {
	if !(a >= 0) || !(b >= 0) {
		return units.Time(math.NaN())
	}
	if a > b {
		a, b = b, a
	}
	if a == 0 || math.IsInf(float64(b), 1) {
		return a
	}
	return units.Time(float64(a) / (1 + float64(a)/float64(b)))
}

// BackFlowIdleResistivity is the volume resistivity from which on the race is
// idle: at εr 3 and 1 mm of exit, 0.1 m/s already keeps 99.96 %.
const BackFlowIdleResistivity = 1e12 * units.OhmMetre

// BackFlowIdle reports whether the back-flow plays no part because the film is
// too good an insulator: rho at or above [BackFlowIdleResistivity]. Surface
// conduction can still play one.
func BackFlowIdle(rho units.VolumeResistivity) bool { return rho >= BackFlowIdleResistivity }
