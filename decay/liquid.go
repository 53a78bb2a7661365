package decay

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// LeastOhmic is the rest conductivity below which a charged hydrocarbon does not
// relax ohmically: 2 pS/m. Source: "Effective Conductivity", process safety
// glossary of the Center for Chemical Process Safety, AIChE (read).
const LeastOhmic = units.Conductivity(2e-12)

// Liquid is a liquid whose charge relaxes ohmically in an earthed vessel:
//
//	q = q0·e^(−t/τ),  τ = ε0·εr/κ
//
// with the rest conductivity κ >= 2 pS/m. Charged fuel relaxes 3 to 4 times more
// slowly than the rest conductivity says ([Liquid.SlowedTime]).
type Liquid struct{ tau float64 }

// ConductivityError refuses the ohmic law for a liquid of too low conductivity.
type ConductivityError struct {
	Conductivity units.Conductivity // as given
}

// Error names the conductivity and the law to use instead.
func (e *ConductivityError) Error() string {
	return fmt.Sprintf("conductivity: %v: below %v the charge repels itself faster than it conducts and the ohmic law "+
		"is wrong: use NewLowConductivityLiquid or HyperbolicThrough", e.Conductivity, LeastOhmic)
}

// NewLiquid returns the liquid of rest conductivity kappa and relative
// permittivity epsr, 1 … 200. Below [LeastOhmic] the error is a
// [*ConductivityError].
func NewLiquid(kappa units.Conductivity, epsr float64) (Liquid, error) { // epsr [1]
	err := errors.Join(known.Positive("conductivity", kappa), known.InRange("permittivity", epsr, 1, 200))
	if err == nil && kappa < LeastOhmic {
		err = &ConductivityError{kappa}
	}
	if err != nil {
		return Liquid{}, err
	}
	return Liquid{units.Epsilon0 * epsr / float64(kappa)}, nil // F/m / (S/m) = s
}

// Tau returns the relaxation time by the rest conductivity.
func (l Liquid) Tau() units.Time { return units.Time(made(l.tau)) }

// Law returns the exponential with the time of Tau.
func (l Liquid) Law() Exponential { return Exponential(l) }

// SlowedTime returns the range of relaxation times to expect of charged fuel, 3
// to 4 times Tau. Source as [LeastOhmic].
func (l Liquid) SlowedTime() (least, most units.Time) {
	return units.Time(3 * made(l.tau)), units.Time(4 * made(l.tau))
}

// Notice returns the caution that goes with charged liquids.
func (l Liquid) Notice() known.Notice { return liquidNotice }

var liquidNotice = known.Notice{
	Code: "charged-liquid",
	Condition: "a flowing or settling liquid carries charge that can ignite its vapour; the relaxation time alone does " +
		"not say when charge is low enough",
	Consult: "IEC TS 60079-32-1 or NFPA 77 and the local rules for flammable liquids",
	Decide:  "flow speeds, waiting times, bonding and earthing",
}

// NewLowConductivityLiquid returns the hyperbolic law of charge of one sign in a
// liquid that conducts hardly at all,
//
//	q/q0 = 1/(1 + µ·q0·t/(ε0·εr))
//
// from dq/dt = −µ·q²/ε, with the mobility µ > 0 of the charge carriers, the
// start charge density q0 (either sign, not 0) and εr, 1 … 200. The loss is of
// density: the charge goes to the wall by its own repulsion.
//
// Source: A. Klinkenberg and J. L. van der Minne, Electrostatics in the
// Petroleum Industry (Elsevier 1958); B. Vellenga and A. Klinkenberg, Chem. Eng.
// Sci. 20 (1965) 923 (neither was read; the equation is derived here from
// div E = q/ε and J = µqE). epsr [1].
func NewLowConductivityLiquid(mobility units.Mobility,
	q0 units.VolumeChargeDensity, epsr float64) (Hyperbolic, error) { // epsr [1]
	q := units.VolumeChargeDensity(math.Abs(float64(q0)))
	if err := errors.Join(known.Positive("mobility", mobility), known.Positive("q0", q),
		known.InRange("permittivity", epsr, 1, 200)); err != nil {
		return Hyperbolic{}, err
	}
	return NewHyperbolic(float64(mobility) * float64(q) / (units.Epsilon0 * epsr)) // m²/(V·s)·C/m³/(F/m) = 1/s
}
