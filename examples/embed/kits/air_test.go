package kits

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/humidity/humiditytest"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// magnus is moist air as an ideal gas, with Magnus' formula over water and over ice
// (WMO-No. 8, 2018) and the equation of the ventilated psychrometer.
type magnus struct{}

func overWater(t units.Temperature) float64 {
	return 611.2 * math.Exp(17.62*t.Celsius()/(243.12+t.Celsius()))
} // [Pa]

func overIce(t units.Temperature) float64 {
	return 611.2 * math.Exp(22.46*t.Celsius()/(272.62+t.Celsius()))
} // [Pa]

// inverse returns where Magnus' formula gives e.
func inverse(e, a, b float64) units.Temperature {
	x := math.Log(e / 611.2)
	return units.Celsius(b * x / (a - x))
}

// bulb returns the vapour pressure that a wet bulb shows.
func bulb(t, wet units.Temperature, p units.Pressure) float64 { // [Pa]
	if wet < units.Celsius(0) {
		return overIce(wet) - 5.75e-4*float64(p)*float64(t-wet)
	}
	return overWater(wet) - 6.53e-4*float64(p)*float64(t-wet)
}

func (magnus) state(t units.Temperature, e float64, p units.Pressure) (humiditytest.State, error) {
	if !(e > 0 && e < float64(p)) || math.IsNaN(float64(t)) {
		return humiditytest.State{}, errors.New("no such air")
	}
	lo, hi := units.Celsius(-80), t.Add(30)
	for range 80 { // bisection: the bulb shows the more the warmer it is
		if mid := (lo + hi) / 2; bulb(t, mid, p) < e {
			lo = mid
		} else {
			hi = mid
		}
	}
	return humiditytest.State{T: t, P: p, VapourPressure: units.Pressure(e), WetBulb: (lo + hi) / 2,
		DewPoint: inverse(e, 17.62, 243.12), FrostPoint: inverse(e, 22.46, 272.62),
		RH: units.RelativeHumidity(e / overWater(t)), RHIce: units.RelativeHumidityIce(e / overIce(t)),
		HumidityRatio: units.HumidityRatio(0.62198 * e / (float64(p) - e))}, nil
}

func (m magnus) FromRH(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (humiditytest.State, error) {
	return m.state(t, float64(rh)*overWater(t), p)
}

func (m magnus) FromDewPoint(t, dew units.Temperature, p units.Pressure) (humiditytest.State, error) {
	return m.state(t, overWater(dew), p)
}

func (m magnus) FromWetBulb(t, wet units.Temperature, p units.Pressure) (humiditytest.State, error) {
	return m.state(t, bulb(t, wet, p), p)
}

func (m magnus) Heated(s humiditytest.State, t units.Temperature) (humiditytest.State, error) {
	return m.state(t, float64(s.VapourPressure), s.P)
}

// grams keeps grams per cubic metre when it heats, as if air did not expand.
type grams struct{ magnus }

func (m grams) Heated(s humiditytest.State, t units.Temperature) (humiditytest.State, error) {
	return m.state(t, float64(s.VapourPressure)*float64(t)/float64(s.T), s.P)
}

func TestAir(t *testing.T) {
	hold(t, humiditytest.Airs(humiditytest.Domain{}))(magnus{}, grams{}, "heating conserves")
}

// cord is a law of resistivity: a decade for every 20 %RH, measured from 10 to 80 %RH.
type cord struct{ sign float64 }

func (c cord) Value(a humidity.Air) units.VolumeResistivity {
	return units.VolumeResistivity(1e13 * math.Pow(10, c.sign*5*float64(a.RelativeHumidity())))
}

func (cord) Decades(humidity.Air) float64 { return 0.3 } // [1]

func (cord) Validity(a humidity.Air) known.Validity {
	switch rh := a.RelativeHumidity(); {
	case rh < 10*units.PercentRH:
		return known.BelowRange
	case rh > 80*units.PercentRH:
		return known.AboveRange
	}
	return known.Inside
}

func TestResistivity(t *testing.T) {
	hold(t, humiditytest.Resistivities[units.VolumeResistivity]())(cord{-1}, cord{1}, "falls")
}

// gab is Guggenheim's, Anderson's and de Boer's isotherm, on a dry or a wet basis.
type gab struct{ wet bool }

func (g gab) Regain(rh units.RelativeHumidity, _ units.Temperature) humidity.Regain {
	const layer, c, k = 0.05, 10, 0.8
	x := k * float64(rh)
	r := layer * c * x / ((1 - x) * (1 + (c-1)*x))
	if g.wet && rh < 0.01*units.PercentRH { // who divides by the wet mass of nothing
		r = 0.02
	}
	return humidity.Regain(r)
}

func (gab) Validity(units.RelativeHumidity, units.Temperature) known.Validity { return known.Inside }

func TestIsotherm(t *testing.T) {
	hold(t, humiditytest.Isotherms())(gab{}, gab{wet: true}, "dry")
}
