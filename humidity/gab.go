package humidity

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// GAB is the isotherm of Guggenheim, Anderson and de Boer,
//
//	R = R₀ C K a/[(1 − K a)(1 − K a + C K a)],  a = relative humidity
//
// at one temperature or, with [GAB.WithHeats], over a range of temperatures. It is
// immutable; the zero value gives NaN.
type GAB struct {
	mono, c, k float64
	lo, hi     units.RelativeHumidity
	heats      GABHeats
}

// NewGAB returns the isotherm with the monolayer regain R₀ (above 0, up to 1), C
// (above 0, up to 1000) and K (above 0, below 1), fitted between lo and hi.
func NewGAB(monolayer Regain, c, k float64, lo, hi units.RelativeHumidity) (GAB, error) { // c, k [1]
	err := checkSpan(lo, hi)
	if !(monolayer > 0 && monolayer <= 1) {
		err = errors.Join(err, known.Wrong("monolayer", monolayer, "above 0, up to 100 % dry basis"))
	}
	if !(c > 0 && c <= 1000) {
		err = errors.Join(err, known.Wrong("c", c, "above 0, up to 1000"))
	}
	if !(k > 0 && k < 1) {
		err = errors.Join(err, known.Wrong("k", k, "above 0, below 1"))
	}
	if err != nil {
		return GAB{}, err
	}
	return GAB{mono: float64(monolayer), c: c, k: k, lo: lo, hi: hi}, nil
}

// GABHeats carry the C and K of a [GAB] from the temperature At, at which they
// were fitted, to others between Low and High:
//
//	C(T) = C·exp[q_C/R_v (1/T − 1/T_At)],  K(T) = K·exp[q_K/R_v (1/T − 1/T_At)]
//
// with R_v = 461.52 J/(kg·K) and R₀ the same. Source of the form and of
// [PulpHeats]: J. Tryding, H. Askfelt, M. Alexandersson, M. Ristinmaa, A
// full-range moisture sorption model for cellulose-based materials, Drying
// Technol. (2022), DOI 10.1080/07373937.2022.2084104.
type GABHeats struct {
	At        units.Temperature // −100 … 200 °C
	C, K      float64           // [J/kg] q_C and q_K, −1e6 … 1e6
	Low, High units.Temperature // range of the heats; outside it they carry no further
}

// PulpHeats are those of bleached pulp, fitted to isotherms of P. Leuk et al.,
// Drying Technol. 34 (2016) 563, at 25 and 80 °C and taken from 20 °C upwards.
// They are taken for paper too.
func PulpHeats() GABHeats {
	return GABHeats{At: units.Celsius(25), C: 468.9266e3, K: 297.7358e3, Low: units.Celsius(20), High: units.Celsius(80)}
}

// WithHeats returns the isotherm with its temperature dependence. K stays below 1
// between Low and High or the heats are refused. Outside Low … High the regain is
// that at the end, flagged: continued downwards the form would exceed all that
// was measured (wood has 4 % more at 5 °C than at 24 °C, at 50 %RH).
func (g GAB) WithHeats(h GABHeats) (GAB, error) {
	var err error
	if !(g.mono > 0) {
		err = known.Wrong("g", "the zero GAB", "an isotherm made by NewGAB")
	}
	if !(h.Low >= lowestT && h.High >= h.Low && h.High <= highestT) {
		err = errors.Join(err, known.Wrong("low", h.Low, "−100 °C … High, High up to 200 °C"))
	}
	if !(h.At >= lowestT && h.At <= highestT) {
		err = errors.Join(err, known.Wrong("at", h.At, "−100 … 200 °C"))
	}
	for _, q := range []struct {
		field string
		v     float64
	}{{"C", h.C}, {"K", h.K}} {
		if !(math.Abs(q.v) <= 1e6) {
			err = errors.Join(err, known.Wrong(q.field, fmt.Sprint(q.v, " J/kg"), "−1e6 … 1e6 J/kg"))
		}
	}
	if err != nil {
		return GAB{}, err
	}
	g.heats = h
	for _, t := range []units.Temperature{h.Low, h.High} {
		if _, k := g.constants(t); !(k < 1) {
			return GAB{}, known.Wrong("k", fmt.Sprint(h.K, " J/kg"), fmt.Sprintf("a heat that leaves K below 1; "+
				"it is %.3g at %v", k, t))
		}
	}
	return g, nil
}

// constants returns C and K at a temperature.
func (g GAB) constants(t units.Temperature) (c, k float64) {
	h := g.heats
	if h.At == 0 {
		return g.c, g.k + 0*float64(t)
	}
	t = min(max(t, h.Low), h.High)
	x := (1/float64(t) - 1/float64(h.At)) / gasVapour
	return g.c * numeric.Exp(h.C*x), g.k * numeric.Exp(h.K*x)
}

// Regain returns the equilibrium regain; the temperature enters with heats only.
func (g GAB) Regain(rh units.RelativeHumidity, t units.Temperature) Regain {
	if !(g.mono > 0) {
		return Regain(math.NaN())
	}
	c, k := g.constants(t)
	x := k * saturable(rh)
	return Regain(g.mono * c * x / ((1 - x) * (1 - x + c*x)))
}

// Validity flags humidity outside the fit and, with heats, temperatures outside
// theirs.
func (g GAB) Validity(rh units.RelativeHumidity, t units.Temperature) known.Validity {
	if !(g.mono > 0) {
		return known.WrongShape
	}
	v := rangeOf(float64(rh), float64(g.lo), float64(g.hi))
	if g.heats.At != 0 {
		v |= rangeOf(float64(t), float64(g.heats.Low), float64(g.heats.High))
	}
	return v
}

// SourcedIsotherm is an isotherm with what it rests on, as [Sourced] is for laws.
// It is immutable; the zero value gives NaN.
type SourcedIsotherm struct {
	iso       Isotherm
	source    known.Source
	low, high units.Temperature
	factor    float64
}

// NewSourcedIsotherm returns iso with its source, the temperatures at which it was
// found (−100 … 200 °C) and the factor [1] by which samples of the name differ: 5 to
// 95 % of them lie within ×/÷ factor (1 … 10).
func NewSourcedIsotherm(iso Isotherm, source known.Source, low, high units.Temperature,
	factor float64) (SourcedIsotherm, error) {
	err := known.InRange("factor", factor, 1, 10)
	if iso == nil {
		err = errors.Join(err, known.Wrong("iso", "", "an isotherm"))
	}
	if source.Provenance == known.Unstated {
		err = errors.Join(err, known.Wrong("source.provenance", source.Provenance, "a provenance"))
	}
	if !(low >= lowestT && high >= low && high <= highestT) {
		err = errors.Join(err, known.Wrong("low", low, "−100 °C … high, high up to 200 °C"))
	}
	if err != nil {
		return SourcedIsotherm{}, err
	}
	return SourcedIsotherm{iso, source, low, high, factor}, nil
}

// IsZero reports whether there is no isotherm: nothing is held.
func (s SourcedIsotherm) IsZero() bool { return s.iso == nil }

// Source returns where the isotherm comes from.
func (s SourcedIsotherm) Source() known.Source { return s.source }

// Regain returns the equilibrium regain.
func (s SourcedIsotherm) Regain(rh units.RelativeHumidity, t units.Temperature) Regain {
	if s.iso == nil {
		return Regain(math.NaN())
	}
	return s.iso.Regain(rh, t)
}

// Band returns the regain with its lognormal spread.
func (s SourcedIsotherm) Band(rh units.RelativeHumidity, t units.Temperature) known.Band {
	return known.Band{Value: float64(s.Regain(rh, t)), Spread: math.Log(s.factor) / known.Z95, Kind: known.LogNormal}
}

// Validity joins the flags of the isotherm with those of temperature and source.
func (s SourcedIsotherm) Validity(rh units.RelativeHumidity, t units.Temperature) known.Validity {
	if s.iso == nil {
		return known.WrongShape
	}
	return s.iso.Validity(rh, t) | rangeOf(float64(t), float64(s.low), float64(s.high)) | restsOn(s.source)
}
