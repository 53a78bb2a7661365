package charge

import (
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// liquidRelaxation returns τ = ε0·εr/κ of a liquid, which decay.Liquid has for
// users. NaN unless epsr ≥ 1 and κ ≥ 0; κ = 0 gives +Inf.
func liquidRelaxation(epsr float64, kappa units.Conductivity) units.Time { // epsr [1]
	if !(epsr >= 1) || !(kappa >= 0) {
		return units.Time(math.NaN())
	}
	return units.Time(units.Epsilon0 * epsr / float64(kappa))
}

// Relaxation returns τ = ε0·εr/κ of the row, the time in which charge in the bulk
// falls to 1/e (18/κ s with κ in pS/m and εr 2), a lower bound where the
// conductivity is an upper one ([LiquidData].AtMost). Hydrocarbons of less than
// about 1 pS/m relax faster than this law says, by hyperbolic relaxation; package
// decay has the laws of any liquid. NaN where the table lacks the conductivity or
// the permittivity.
func (l LiquidData) Relaxation() units.Time {
	if !(l.Conductivity > 0) {
		return units.Time(math.NaN())
	}
	return liquidRelaxation(l.Permittivity, l.Conductivity)
}

// schoen is the constant of Schön's formula.
const schoen = 3.75e-6 // [C·s/m⁴]

// StreamingCurrent returns the charging current of a hydrocarbon in a pipe of
// the given bore and length,
//
//	I = 3.75e-6 C·s/m⁴ · v²·d² · (1 − exp(−L/(v·τ))),
//
// with v the mean velocity and τ the relaxation time of the liquid
// ([LiquidData.Relaxation]); a long pipe is L = +Inf. Published values lie within
// ×/÷ 2. Filters and pumps charge one to two orders more and are not in it.
// Source: G. Schön (1962), as in IEC TS 60079-32-1, not compared with
// either, hence flagged Unpublished. The magnitude of v counts. NaN for NaN or negative
// bore, length or τ.
func StreamingCurrent(v units.Speed, bore, length units.Length, tau units.Time) (units.Current, known.Validity) {
	if !(bore >= 0) || math.IsNaN(float64(v)) {
		return units.Current(math.NaN()), known.WrongShape
	}
	s, d := math.Abs(float64(v)), float64(bore)
	built := 1.0
	if !math.IsInf(float64(length), 1) {
		built = 1 - BackFlow(v, length, tau) // the same race: time in the pipe against relaxation
	}
	if !(length >= 0) || !(tau >= 0) {
		built = math.NaN()
	}
	return units.Current(schoen * (s * d) * (s * d) * built), known.Unpublished
}

// StreamingDensity returns the charge density that leaves a long pipe,
//
//	ρ_q = I/(v·πd²/4) = 4.775 µC/m³ per m/s,
//
// whatever the bore. Same source and flag as [StreamingCurrent].
func StreamingDensity(v units.Speed) (units.VolumeChargeDensity, known.Validity) {
	return units.VolumeChargeDensity(schoen * 4 / math.Pi * math.Abs(float64(v))), known.Unpublished
}

// ResidenceKept returns the part of the charge of a liquid that is left after
// the time t in a pipe or tank of relaxation, exp(−t/τ). NaN unless t ≥ 0 and
// τ ≥ 0.
func ResidenceKept(t, tau units.Time) float64 { // [1]
	switch {
	case !(t >= 0) || !(tau >= 0):
		return math.NaN()
	case t == 0 || math.IsInf(float64(tau), 1) && !math.IsInf(float64(t), 1):
		return 1
	case tau == 0 || math.IsInf(float64(t), 1):
		return 0
	}
	return numeric.Exp(-float64(t) / float64(tau))
}

// LiquidFlow is the state of a liquid that a velocity limit depends on.
type LiquidFlow uint8

// The states.
const (
	TwoPhase        LiquidFlow = iota // free water, solids or gas in it, or splash filling
	LowConductivity                   // single phase, 50 pS/m and below
	Conducting                        // single phase, above 50 pS/m
)

var flowNames = [...]string{"two phases", "low conductivity", "conducting"}

// String returns the name of the state, or "LiquidFlow(n)".
func (f LiquidFlow) String() string { return enum.Name("LiquidFlow", flowNames[:], f) }

// MarshalText writes the name; a value that is no state is a
// [*known.FieldError].
func (f LiquidFlow) MarshalText() ([]byte, error) { return enum.Write("liquid_flow", flowNames[:], f) }

// UnmarshalText reads a name as written by String.
func (f *LiquidFlow) UnmarshalText(b []byte) error {
	return enum.Read("liquid_flow", flowNames[:], b, f)
}

// VelocityLimit returns the greatest velocity at which filling through a pipe of
// the given bore is customarily held: 1 m/s for two phases, the lesser of
// 0.5 m²/s / bore and 7 m/s for a liquid of low conductivity, 7 m/s otherwise.
// Not compared with the standards, not even which class the products v·d belong
// to, hence flagged Unpublished: not to be used for a decision before it is read in IEC TS
// 60079-32-1 or NFPA 77, by a competent person. NaN for a bore that is not
// above 0 or an unknown state.
func VelocityLimit(state LiquidFlow, bore units.Length) (units.Speed, known.Validity) {
	d := float64(bore)
	if !(d > 0) || state > Conducting {
		return units.Speed(math.NaN()), known.WrongShape
	}
	switch state {
	case TwoPhase:
		return units.MetrePerSecond, known.Unpublished
	case LowConductivity:
		return units.Speed(min(0.5/d, 7)), known.Unpublished
	}
	return 7 * units.MetrePerSecond, known.Unpublished
}
