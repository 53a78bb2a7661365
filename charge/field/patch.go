package field

import (
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"example.org/pithball/internal/lazy"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

const patchNodes = 64 // [1]

var patchRule = lazy.Value[*[2][patchNodes]float64]{Make: func() *[2][patchNodes]float64 {
	var r [2][patchNodes]float64
	quad.Legendre{}.FixedLocations(r[0][:], r[1][:], 0, 1)
	return &r
}}

// PatchShare returns how much of the spread of a patchy charge a field meter
// still sees: the standard deviation of the field at the meter plane over σ_rms/ε0,
// for charge that is a stationary, isotropic random field over the web with the
// autocorrelation exp(−r²/L²):
//
//	share² = 2∫_0^∞ u·e^(−u²)·T(2u/L)² du,  T(k) = sinh(kh)/sinh(k(d+h))
//
// T is the two-plane response to a wave of charge; L is the distance at which
// the correlation has fallen to 1/e. For h → ∞, T = e^(−kd) and
// share² = 1 − √π·a·e^(a²)·erfc(a), a = 2d/L (derived here; a standard integral).
// Limits: L → ∞ gives h/(d+h), as for a uniform web; L ≪ d gives L/(d·√8): a meter
// averages over a spot a few times as wide as its distance. The mean reading is
// that of the mean charge whatever L is.
//
// The aperture is taken as a point in a wide earthed plane. L and d must be
// above 0 and finite, h not negative, else NaN. h may be +Inf.
func PatchShare(correlation, distance, gap units.Length) float64 { // [1]
	return PatchShareMoving(correlation, distance, gap, 0)
}

// PatchShareMoving is PatchShare for a web that moves under a meter with a first
// order response: smear is web speed times response time, the length over which
// the meter averages along the web. A wave of wave number k at the angle φ to
// the travel is damped by 1/√(1+(k·smear·cos φ)²); the mean of its square over
// all angles multiplies T² by
//
//	1/√(1 + (k·smear)²)
//
// It holds for smear up to about 100·L; a negative or infinite smear gives NaN.
func PatchShareMoving(correlation, distance, gap, smear units.Length) float64 { // [1]
	L, d, h, a0 := float64(correlation), float64(distance), float64(gap), float64(smear)
	if !(L > 0 && d > 0 && h >= 0 && a0 >= 0) || math.IsInf(L, 1) || math.IsInf(d, 1) || math.IsInf(a0, 1) {
		return math.NaN()
	}
	if h == 0 {
		return 0
	}
	a := 2 * d / L
	// e^(−u² − 2au) has died below 1e-17 at the upper end.
	top := 40 / (a + math.Sqrt(a*a+40))
	rule := patchRule.Get()
	var sum float64
	for i, x := range rule[0] {
		u := x * x * top // nodes dense at 0, where the smear acts
		k := 2 * u / L
		t := numeric.Exp(-k * d) // T = e^(−kd)(1 − e^(−2kh))/(1 − e^(−2kD))
		if !math.IsInf(h, 1) {
			t *= math.Expm1(-2*k*h) / math.Expm1(-2*k*(d+h))
		}
		sum += rule[1][i] * 2 * x * u * numeric.Exp(-u*u) * t * t / math.Sqrt(1+k*a0*k*a0)
	}
	return math.Sqrt(2 * sum * top)
}

// PatchSpread returns the standard deviation between single displays, far
// apart on the web, of a field meter in front of patchy charge with the standard
// deviation rms and the correlation length L: [PatchShare] for a guarded face,
// [BarePatchShare] for a bare one. NaN where these give NaN.
func (m FieldMeter) PatchSpread(rms units.SurfaceChargeDensity,
	correlation, distance, gap units.Length) units.DisplayVoltage {
	if m.spec == nil {
		return units.DisplayVoltage(math.NaN())
	}
	share := 0.0
	if m.spec.Guarded {
		share = PatchShare(correlation, distance, gap)
	} else {
		share = BarePatchShare(correlation, m.spec.FaceRadius, m.spec.SheetRadius, distance, gap)
	}
	return units.DisplayVoltage(math.Abs(m.gain * float64(rms) * share))
}
