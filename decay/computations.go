package decay

import (
	_ "embed" // for the sentences
	"math"
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	return compute.List("decay", sentences, slices.Concat(bulkComputations(), lawComputations(), layerComputations(),
		geometryComputations(), standardComputations(), fitComputations()))
}

// form is the source of a law that is nothing but its own equation.
var form = known.Source{Provenance: known.Definition, Cite: "the equation defines the law"}

// derived is the source of a law that follows from Maxwell's equations alone.
func derived(how string) known.Source {
	return known.Source{Provenance: known.Computed, Cite: how}
}

// The ranges are wide enough for any material, so that every number inside
// gives a finite result.
const (
	times  = " 1e-15…1e15: "
	age    = " 0…1e15: "
	size   = " 1e-9…1e4: "
	volts  = " 1e-9…1e9: "
	weight = " 1e-12…1e12: weight"
	rho    = " 1e-9…1e24: volume resistivity"
	eps    = " 1…1e4: relative permittivity"
	beta   = "beta 0.01…1: exponent"
)

func bulkComputations() []compute.Entry {
	return []compute.Entry{
		compute.Of21("RelaxationTime", RelaxationTime, derived("charge conservation with J = E/ρ and div D = q"),
			"rho"+rho+"; epsr"+eps+" -> tau: relaxation time"),
		compute.Of34("RelaxationBand", func(rho units.VolumeResistivity, decades, epsr float64) (tau, lo, hi units.Time,
			err error) {
			b, err := RelaxationBand(decadeBand(float64(rho), decades), epsr)
			l, h := b.Limits()
			return units.Time(b.Value), units.Time(l), units.Time(h), err
		}, derived("τ is proportional to ρ"), "rho"+rho+"; decades 0…6: of which 90 % of samples lie within, either "+
			"way; epsr"+eps,
			"-> tau: at the median resistivity; low: at its 5 % end; high: at its 95 % end"),
		compute.Of42("LeftAfter", func(dwell, tau units.Time, decades float64, p Path) (Left, error) {
			return LeftAfter(dwell, decadeBand(float64(tau), decades), p)
		}, derived("solution of dσ/dt = −σ/τ"), "dwell"+age+"time on the path; tau 1e-12…1e20: median relaxation time "+
			"of the arrangement",
			"decades 0…6: of which 90 % of cases lie within, either way; path: how charge reaches earth",
			"-> median: share left at the median; least: at the 5 % end; most: at the 95 % end"),
		compute.Of42("LossAlong", func(sigma units.SurfaceChargeDensity, dwell, tau units.Time,
			p Path) (units.SurfaceChargeDensity, bool) {
			return LossAlong(sigma, dwell, tau, p), p.Leads()
		}, derived("solution of dσ/dt = −σ/τ"), "sigma -1…1: charge density before; dwell"+age+"time on the path; tau"+age+
			"relaxation time of the arrangement; path: how charge reaches earth",
			"-> sigma: charge density after; leads: whether the path leads to earth"),
		compute.Of21("GroundResistance", GroundResistance, derived("Ohm's law"),
			"limit"+volts+"voltage limit; current 1e-15…1: charging current -> resistance: greatest resistance"),
		compute.Of24("Liquid", func(k units.Conductivity, epsr float64) (tau, lo, hi units.Time, err error) {
			l, err := NewLiquid(k, epsr)
			lo, hi = l.SlowedTime()
			return l.Tau(), lo, hi, err
		}, derived("charge conservation with J = κE"), "= Ohmic relaxation time of a liquid, τ = ε0·εr/κ, refused below "+
			"2 pS/m.",
			"kappa 2e-12…100: rest conductivity; epsr 1…200: relative permittivity -> tau: relaxation time; "+
				"slowed_least: 3τ; slowed_most: 4τ"),
		compute.Of("NewLowConductivityLiquid", compute.Made(NewLowConductivityLiquid, Hyperbolic.RateConstant),
			derived("dq/dt = −µq²/ε from div E = q/ε and J = µqE"),
			"mobility 1e-15…1e-3: of the carriers; q0 1e-15…1e3: start charge density; epsr 1…200: relative permittivity",
			"-> k_q0 [1/s]: rate constant"),
	}
}

// fractionOf and timeTo ask a law, whatever its type.
func fractionOf(l Law, t units.Time) float64 { return l.Fraction(t) }

func timeTo(l Law, fraction float64) (units.Time, error) {
	t, err := TimeTo(l, fraction)
	if err == nil && math.IsInf(float64(t), 1) {
		err = known.Wrong("fraction", fraction, "one that is left within 1e308 s")
	}
	return t, err
}

const (
	atTime     = "t" + times + "time since the start -> fraction: V(t)/V(0); rate [1/s]: its derivative"
	toFraction = "fraction 1e-300…1: of the start value -> t: time to the fraction"
)

// lawPair declares the two entries of a law: its value and rate at a time, and its
// time to a fraction.
func lawPair(name, doc string, src known.Source, constructor any, items string, flags ...any) []compute.Entry {
	at := []string{"= " + doc, items, atTime}
	if len(flags) > 0 {
		at = append(at, "validity: 0 inside the range of the law, else the flags of known.Validity")
	}
	return []compute.Entry{
		compute.Of(name+".Fraction", compute.Made(constructor, append([]any{fractionOf, Rate}, flags...)...), src, at...),
		compute.Of(name+".TimeTo", compute.Made(constructor, timeTo), src, "= Time to a fraction of: "+doc, items,
			toFraction),
	}
}

func lawComputations() []compute.Entry {
	freeSheet := derived("charge of a free resistive sheet spreads at 1/(2·ε0·ρs): images receding at that speed")
	const spread = "size" + size + "half-width, radius or probe height; speed 1e-15…1e9: spreading speed 1/(2·ε0·ρs)"
	const tau, t0 = "tau" + times + "relaxation time", "t0" + times + "time of the law"
	exponentials := func(a1 float64, tau1 units.Time, a2 float64, tau2 units.Time) (Exponentials, error) {
		return NewExponentials([]float64{a1, a2}, []units.Time{tau1, tau2})
	}
	return slices.Concat(
		lawPair("Exponential", "Exponential decay e^(−t/τ).", derived("solution of dV/dt = −V/τ"), NewExponential, tau),
		lawPair("OffsetExponential", "Exponential decay towards a balance voltage.",
			derived("solution of dV/dt = −(V − Vb)/τ"), NewOffsetExponential,
			tau+"; v0"+volts+"start voltage; vb -1e9…1e9: balance voltage"),
		lawPair("Exponentials", "Sum of two exponentials Σ a·e^(−t/τ); the weights are divided by their sum.",
			derived("superposition of linear leaks"),
			exponentials, "a1"+weight+"; tau1"+times+"relaxation time; a2"+weight+"; tau2"+times+"relaxation time"),
		lawPair("Stretched", "Stretched exponential exp[−(t/τ)^β].", known.Source{Provenance: known.Definition,
			Cite: "exp[−(t/τ)^β], the form of G. Williams and D. C. Watts, Trans. Faraday Soc. 66 (1970) 80 (not read)"},
			NewStretched,
			"tau"+times+"time of the law; "+beta),
		lawPair("PowerLaw", "Power law (1 + t/t0)^(−n).", form, NewPowerLaw, t0+"; n 1e-3…100: exponent"),
		lawPair("Hyperbolic", "Second-order loss 1/(1 + kV0·t).", derived("solution of dV/dt = −k·V²"), NewHyperbolic,
			"k_v0 [1/s] 1e-15…1e15: rate constant k·V0"),
		lawPair("OhmicMobility", "Ohmic leak with mobile charge, e^(−t/τ)/[1 + a(1 − e^(−t/τ))].",
			derived("solution of dV/dt = −V/τ − k·V²"),
			NewOhmicMobility, "tau"+times+"ohmic relaxation time; a 0…1e12: k·V0·τ"),
		lawPair("CurieSchweidler", "Absorption current ∝ t^(−n): 1 − A·t^(1−n)/((1−n)V0), small drops only.",
			derived("integral of the current law"),
			NewCurieSchweidler, "n 0…0.99: exponent of the current; "+
				"a [V·s^(n−1)] 1e-12…1e9: constant of the current over capacitance; v0"+volts+
				"start voltage", CurieSchweidler.Validity),
		lawPair("Logarithmic", "Logarithmic fall 1 − (B/V0)·ln(1 + t/t0), small drops only.", form,
			NewLogarithmic,
			"b"+volts+"voltage lost per factor e of time; v0"+volts+"start voltage; "+t0, Logarithmic.Validity),
		lawPair("Transit", "Charge crossing a film on earth with a velocity ∝ E^m.",
			derived("fan solution of ∂E/∂t + v(E)·∂E/∂x = 0"), NewTransit,
			"t_tr"+times+"transit time; m 0.1…10: exponent of the velocity"),
		lawPair("FreeStripe", "Centre of a stripe on a free sheet, (2/π)·atan(a/vt).", freeSheet, NewFreeStripe, spread),
		lawPair("FreeDisc", "Centre of a disc on a free sheet, 1 − vt/√(a² + v²t²).", freeSheet, NewFreeDisc, spread),
		lawPair("LineUnderProbe", "Probe over a line of charge on a free sheet, 1/(1 + vt/h).", freeSheet,
			NewLineUnderProbe, spread),
		lawPair("SpotUnderProbe", "Probe over a spot of charge on a free sheet, 1/(1 + vt/h)².", freeSheet,
			NewSpotUnderProbe, spread),
		otherLaws())
}

// composed is a number for each of the three ways to put laws together.
type composed struct{ parallel, mixture, sequence float64 }

func otherLaws() []compute.Entry {
	const stretched = "tau" + times + "time of the law; " + beta
	return []compute.Entry{
		compute.Of("Exponential.Tau", compute.Made(NewExponential, Exponential.Tau), form,
			"tau"+times+"relaxation time -> tau: relaxation time"),
		compute.Of("OffsetExponential.Floor", compute.Made(NewOffsetExponential, OffsetExponential.Floor),
			derived("t → ∞ of the law"),
			"tau"+times+"relaxation time; v0"+volts+"start voltage; vb -1e9…1e9: balance voltage -> floor: fraction that stays"),
		compute.Of("Stretched.MeanTime", compute.Made(NewStretched, Stretched.MeanTime),
			derived("integral of exp[−(t/τ)^β] over t"),
			stretched, "-> t: mean time"),
		compute.Of("HyperbolicThrough", compute.Made(HyperbolicThrough, Hyperbolic.RateConstant),
			derived("inverse of 1/(1 + kV0·t)"),
			"= Rate constant kV0 of the hyperbola that leaves a fraction after a time, (1/f − 1)/t.",
			"fraction 1e-12…0.999999999999: left; t"+times+"time -> k_v0 [1/s]: rate constant"),
		compute.Of43("TransitVoltage", func(d units.Length, mu units.Mobility, v0 units.Voltage, t units.Time) (units.Time,
			units.Voltage, error) {
			tt := TransitTime(d, mu, v0)
			l, err := NewTransit(tt, 1)
			if err != nil {
				return 0, 0, err
			}
			return tt, units.Voltage(float64(v0) * l.Fraction(t)), nil
		}, derived("fan solution of ∂E/∂t + µE·∂E/∂x = 0"),
			"= Voltage of a corona-charged film on earth while its charge crosses with constant mobility.",
			"thickness"+size+"of the film; mobility 1e-22…1: in the film; v0"+volts+"start voltage; t"+age+"time",
			"-> t_tr: transit time L²/(µV0); v: voltage"),
		compute.Of43("After", func(tau units.Time, b float64, since, t units.Time) (float64, float64, error) {
			l, err := NewStretched(tau, b)
			if err != nil {
				return 0, 0, err
			}
			later, err := After(l, since)
			if err != nil {
				return 0, 0, err
			}
			return later.Fraction(t), later.Rate(t), nil
		}, derived("quotient of two values of the law"),
			"= Stretched exponential seen by somebody who begins to measure at an age, f(age + t)/f(age).",
			stretched, "age"+age+"at the first reading; t"+times+"since the first reading",
			"-> fraction: of the first reading; rate [1/s]: its derivative"),
		compute.Of43("Compose", func(tau1, tau2, until, t units.Time) (v, rate composed, err error) {
			x, err := NewExponential(tau1)
			if err != nil {
				return
			}
			y, err := NewExponential(tau2)
			if err != nil {
				return
			}
			p, _ := NewParallel(x, y)
			m, _ := NewMixture([]float64{1, 1}, x, y)
			s, err := Then(x, until, y)
			return composed{p.Fraction(t), m.Fraction(t), s.Fraction(t)}, composed{p.Rate(t), m.Rate(t), s.Rate(t)}, err
		}, derived("product, mean and sequence of exponentials"),
			"= Two exponentials: both at once (Parallel), side by side half and half (Mixture), the second after the first "+
				"(Then).",
			"tau1"+times+"first; tau2"+times+"second; until"+age+"time of the first in the sequence; t"+age+"time",
			"-> parallel: product; mixture: mean; sequence: one after the other",
			"rate_parallel [1/s]: derivative; rate_mixture [1/s]: derivative; rate_sequence [1/s]: derivative"),
	}
}

// decadeBand is the band of a value that lies within so many decades, either way,
// in 90 % of cases.
func decadeBand(v, decades float64) known.Band {
	if decades == 0 {
		return known.Band{Value: v}
	}
	return known.Band{Value: v, Spread: decades * math.Ln10 / known.Z95, Kind: known.LogNormal}
}
