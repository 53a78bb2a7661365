package humidity

import (
	"errors"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Isotherm gives the equilibrium regain of a material.
type Isotherm interface {
	// Regain returns the equilibrium regain at a relative humidity over water
	// (0 … 1) and a temperature, on the adsorption branch unless the isotherm
	// says otherwise. Above 100 %RH it is that at 100 %; below 0 and NaN give NaN.
	Regain(rh units.RelativeHumidity, t units.Temperature) Regain
	// Validity flags arguments outside the published or fitted range.
	Validity(rh units.RelativeHumidity, t units.Temperature) known.Validity
}

// saturable returns rh held at 1; NaN below 0.
func saturable(rh units.RelativeHumidity) float64 {
	if !(rh >= 0) {
		return math.NaN()
	}
	return math.Min(float64(rh), 1)
}

// Proportional is the linear isotherm of weakly absorbing polymers,
// R = S·a with the saturation regain S. It is immutable; the zero value gives NaN.
type Proportional struct{ s Regain }

// NewProportional returns the isotherm with the regain at 100 %RH, above 0 and
// at most 50 % dry basis.
func NewProportional(saturation Regain) (Proportional, error) {
	if !(saturation > 0 && saturation <= 0.5) {
		return Proportional{}, known.Wrong("saturation", saturation, "above 0, up to 50 % dry basis")
	}
	return Proportional{saturation}, nil
}

// Regain returns the equilibrium regain; the temperature does not enter.
func (p Proportional) Regain(rh units.RelativeHumidity, _ units.Temperature) Regain {
	if !(p.s > 0) {
		return Regain(math.NaN())
	}
	return Regain(float64(p.s) * saturable(rh))
}

// Validity flags humidity above 100 %RH only.
func (p Proportional) Validity(rh units.RelativeHumidity, _ units.Temperature) known.Validity {
	if !(p.s > 0) {
		return known.WrongShape
	}
	return rangeOf(float64(rh), 0, 1)
}

// Wood is the two-hydrate Hailwood-Horrobin isotherm of wood and cellulose in
// Simpson's form, with t in °C:
//
//	R = 18/W·[K h/(1 − K h) + (K₁ K h + 2 K₁ K₂ K² h²)/(1 + K₁ K h + K₁ K₂ K² h²)]
//	W = 349 + 1.29 t + 0.0135 t²         K = 0.805 + 7.36e-4 t − 2.73e-6 t²
//	K₁ = 6.27 − 9.38e-3 t − 3.03e-4 t²   K₂ = 1.91 + 0.0407 t − 2.93e-4 t²
//
// for −1 … 130 °C. Source: USDA Forest Products Laboratory, Wood Handbook,
// FPL-GTR-282 (2021), ch. 4 eq. 3; W. Simpson, Wood Fiber Sci. 5 (1973) 41;
// coefficients not compared with the source, they reproduce the handbook's table to 0.1 % moisture
// (moisture per dry mass there). Against measured isotherms of bleached pulp at
// 25 and 80 °C it holds to 17 % from 20 to 70 %RH; at 90 %RH it is 26 % low
// (25 °C) and 31 % high (80 °C).
type Wood struct{}

// Regain returns the equilibrium regain.
func (Wood) Regain(rh units.RelativeHumidity, temp units.Temperature) Regain {
	h, t := saturable(rh), temp.Celsius()
	w := 349 + t*(1.29+t*0.0135)
	k := 0.805 + t*(7.36e-4-t*2.73e-6)
	k1 := 6.27 + t*(-9.38e-3-t*3.03e-4)
	k2 := 1.91 + t*(0.0407-t*2.93e-4)
	x := k * h
	a, b := k1*x, k1*k2*x*x
	return Regain(18 / w * (x/(1-x) + (a+2*b)/(1+a+b)))
}

// Validity flags temperatures outside −1 … 130 °C, humidity above 100 %RH, and
// always that the coefficients rest on memory.
func (Wood) Validity(rh units.RelativeHumidity, t units.Temperature) known.Validity {
	return known.Unpublished | rangeOf(t.Celsius(), -1, 130) | rangeOf(float64(rh), 0, 1)
}

// Branch says from which side a material came to its humidity.
type Branch uint8

// The branches.
const (
	FromDry Branch = iota // adsorption: the material was drier
	FromWet               // desorption: the material was wetter and keeps more water
)

var branchNames = [...]string{"from dry", "from wet"}

// String returns the name of the branch.
func (b Branch) String() string { return enum.Name("Branch", branchNames[:], b) }

// MarshalText writes the name; a value that is no branch is a
// [*known.FieldError].
func (b Branch) MarshalText() ([]byte, error) { return enum.Write("branch", branchNames[:], b) }

// UnmarshalText reads a name as written by String.
func (b *Branch) UnmarshalText(text []byte) error {
	return enum.Read("branch", branchNames[:], text, b)
}

// Hysteresis gives an isotherm its desorption branch by a shift in humidity:
// from the wet side the material holds at rh what it holds at rh + Shift from
// the dry side, the shift falling to nothing at 0 and 100 %RH as 4 rh(1 − rh):
//
//	R_wet(rh) = R_dry(rh + Shift·4 rh (1 − rh))
//
// The shift of paper at 50 %RH is 10 %RH: conditioned down to 50 %RH it holds
// what it holds conditioned up to 60 % (TAPPI T 402, as a test laboratory quotes it).
// The parabola is a choice that only closes the loop; it has no source.
// Both branches are limits: a material of unknown past lies between them.
type Hysteresis struct {
	dry   Isotherm
	shift float64
	side  Branch
}

// NewHysteresis wraps the adsorption isotherm dry with the shift at 50 %RH
// (0 … 20 %RH; at more the loop would not be monotone) and chooses the branch.
func NewHysteresis(dry Isotherm, shift units.RelativeHumidity, side Branch) (Hysteresis, error) {
	err := known.InRange("shift", shift, 0, 20*units.PercentRH)
	if dry == nil {
		err = errors.Join(err, known.Wrong("dry", "", "an isotherm"))
	}
	if side > FromWet {
		err = errors.Join(err, known.Wrong("side", side, "FromDry or FromWet"))
	}
	if err != nil {
		return Hysteresis{}, err
	}
	return Hysteresis{dry, float64(shift), side}, nil
}

// Regain returns the equilibrium regain on the chosen branch.
func (y Hysteresis) Regain(rh units.RelativeHumidity, t units.Temperature) Regain {
	if y.dry == nil {
		return Regain(math.NaN())
	}
	if y.side == FromWet {
		h := saturable(rh)
		rh = units.RelativeHumidity(h + y.shift*4*h*(1-h))
	}
	return y.dry.Regain(rh, t)
}

// Validity is that of the isotherm.
func (y Hysteresis) Validity(rh units.RelativeHumidity, t units.Temperature) known.Validity {
	if y.dry == nil {
		return known.WrongShape
	}
	return y.dry.Validity(rh, t)
}

// HumidityFor returns the relative humidity at which the isotherm holds the
// regain, between 0 and 100 %RH to 1e-12; NaN if it never does.
func HumidityFor(i Isotherm, r Regain, t units.Temperature) units.RelativeHumidity {
	return units.RelativeHumidity(root(0, 1, func(h float64) float64 {
		return float64(i.Regain(units.RelativeHumidity(h), t) - r)
	}))
}
