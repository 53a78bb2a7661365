// Package humiditytest checks that a model of moist air obeys the laws that hold
// for every such model: saturation rises with temperature, dew point, wet bulb and
// dry bulb stand in order, heating conserves the vapour, and what leads to a measure
// leads back. Another project runs the checks on its own model:
//
//	func TestMyAir(t *testing.T) {
//		humiditytest.Airs(humiditytest.Domain{}).Run(t, myAir{})
//	}
//
// [Resistivities] and [Isotherms] do the same for a material, [Warmers] for goods
// brought in from the cold, [Wicks] for psychrometers. See package lawtest
// for what a kit can do. Import this package from tests only.
package humiditytest

import (
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// State is a state of air as a model tells it. Relative humidity is over water,
// RHIce over ice.
type State struct {
	T              units.Temperature         // dry bulb
	DewPoint       units.Temperature         // over water, also below 0 °C
	FrostPoint     units.Temperature         // over ice
	WetBulb        units.Temperature         // ice bulb below 0 °C
	P              units.Pressure            // total
	VapourPressure units.Pressure            // partial pressure of the vapour
	RH             units.RelativeHumidity    // over water
	RHIce          units.RelativeHumidityIce // over ice
	HumidityRatio  units.HumidityRatio       // per dry air
}

// Model is what a model of moist air must do to be checked.
//
// Beyond physics, the laws ask: NaN gives an error or a humidity ratio of NaN; air
// between saturation over ice and over water is answered, with an ice bulb of at
// least the dry bulb; a dew point or wet bulb equal to the dry bulb is accepted. A
// state that a model refuses by an error is not tried, but no more than half of the
// domain may be refused.
type Model interface {
	// FromRH returns the state of air from dry bulb, relative humidity over water
	// and pressure.
	FromRH(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (State, error)
	// FromDewPoint does so from dry bulb and dew point over water.
	FromDewPoint(t, dew units.Temperature, p units.Pressure) (State, error)
	// FromWetBulb does so from dry bulb and wet bulb (ice bulb below 0 °C).
	FromWetBulb(t, wet units.Temperature, p units.Pressure) (State, error)
	// Heated returns the same air at another temperature and the same pressure.
	Heated(s State, t units.Temperature) (State, error)
}

// Input is a state at which a law is tried.
type Input struct {
	T  units.Temperature           // dry bulb
	RH units.RelativeHumidity      // over water
	P  units.Pressure              // total
	DT units.TemperatureDifference // > 0, to another temperature
}

// Domain bounds the inputs. The zero value is −40 … 60 °C, 1 … 100 %RH and 70 … 110 kPa.
type Domain struct {
	MinT, MaxT units.Temperature      // default −40 … 60 °C
	MinRH      units.RelativeHumidity // default 1 %RH
	MinP, MaxP units.Pressure         // default 70 … 110 kPa
	// RelTol is the slack for rounding and iteration, not for physics. Default
	// 1e-9; of temperatures it is taken times 1000 K. [1]
	RelTol float64
}

func or[T ~float64](x *T, v T) {
	if *x == 0 {
		*x = v
	}
}

// Airs returns the laws of every model of moist air.
func Airs(d Domain) lawtest.Kit[Model, Input] {
	or(&d.MinT, units.Celsius(-40))
	or(&d.MaxT, units.Celsius(60))
	or(&d.MinRH, units.PercentRH)
	or(&d.MinP, 70*units.Kilopascal)
	or(&d.MaxP, 110*units.Kilopascal)
	or(&d.RelTol, 1e-9)
	return lawtest.Kit[Model, Input]{
		Laws: append(stateLaws(d.RelTol), wayLaws(d.RelTol)...),
		Input: func(g *lawtest.Draw, _ Model) Input {
			return Input{
				T:  lawtest.Between(g, "dry bulb", d.MinT, d.MaxT),
				RH: lawtest.Between(g, "relative humidity", d.MinRH, 100*units.PercentRH),
				P:  lawtest.Between(g, "pressure", d.MinP, d.MaxP),
				DT: lawtest.Between(g, "difference", 0.5*units.KelvinDifference, 30*units.KelvinDifference),
			}
		},
	}
}
