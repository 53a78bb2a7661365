package humiditytest

import (
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// Of returns the model of package humidity to be checked.
func Of(m humidity.Model) Model { return library{m} }

type library struct{ m humidity.Model }

func tell(a humidity.Air, err error) (State, error) {
	if err != nil {
		return State{}, err
	}
	return State{T: a.Temperature(), DewPoint: a.DewPoint(), FrostPoint: a.FrostPoint(), WetBulb: a.WetBulb(), P: a.Pressure(), VapourPressure: a.VapourPressure(),
		RH: a.RelativeHumidity(), RHIce: a.RelativeHumidityIce(), HumidityRatio: a.HumidityRatio()}, nil
}

func (l library) FromRH(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (State, error) {
	return tell(l.m.Air(t, rh, p))
}

func (l library) FromDewPoint(t, dew units.Temperature, p units.Pressure) (State, error) {
	return tell(l.m.AirFrom(p, humidity.DryBulb(t), humidity.DewPoint(dew)))
}

func (l library) FromWetBulb(t, wet units.Temperature, p units.Pressure) (State, error) {
	return tell(l.m.AirFrom(p, humidity.DryBulb(t), humidity.WetBulb(wet)))
}

func (l library) Heated(s State, t units.Temperature) (State, error) {
	a, err := l.m.AirFrom(s.P, humidity.DryBulb(s.T), humidity.VapourPressure(s.VapourPressure))
	return tell(a.At(t), err)
}

// wrong changes the answers of a right model.
type wrong struct {
	Model
	rh   func(State, units.RelativeHumidity) State
	dew  func(State) State
	wet  func(State) State
	heat func(before, after State) State
	nan  bool
}

func (w wrong) FromRH(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (State, error) {
	if w.nan && (math.IsNaN(float64(t)) || math.IsNaN(float64(rh)) || math.IsNaN(float64(p))) {
		return w.Model.FromRH(units.Celsius(20), 50*units.PercentRH, units.Atmosphere)
	}
	s, err := w.Model.FromRH(t, rh, p)
	if err == nil && w.rh != nil {
		s = w.rh(s, rh)
	}
	return s, err
}

func (w wrong) FromDewPoint(t, dew units.Temperature, p units.Pressure) (State, error) {
	s, err := w.Model.FromDewPoint(t, dew, p)
	if err == nil && w.dew != nil {
		s = w.dew(s)
	}
	return s, err
}

func (w wrong) FromWetBulb(t, wet units.Temperature, p units.Pressure) (State, error) {
	s, err := w.Model.FromWetBulb(t, wet, p)
	if err == nil && w.wet != nil {
		s = w.wet(s)
	}
	return s, err
}

func (w wrong) Heated(b State, t units.Temperature) (State, error) {
	s, err := w.Model.Heated(b, t)
	if err == nil && w.heat != nil {
		s = w.heat(b, s)
	}
	return s, err
}

// Broken returns for each law, by its name, a model that breaks it: mistakes that
// were found in print and in programs.
func Broken() map[string]Model {
	good := Of(humidity.IAPWS)
	return map[string]Model{
		// Vapour per moist air taken for vapour per dry air.
		"Ratio": wrong{Model: good, rh: func(s State, _ units.RelativeHumidity) State {
			w := float64(s.HumidityRatio)
			s.HumidityRatio = units.HumidityRatio(w / (1 + w) * 0.999)
			return s
		}},
		// A saturation pressure that does not know the temperature.
		"Saturation": wrong{Model: good, rh: func(s State, rh units.RelativeHumidity) State {
			s.VapourPressure = units.Pressure(2339 * float64(rh))
			return s
		}},
		// Wet-bulb depression with the wrong sign.
		"Order": wrong{Model: good, rh: func(s State, _ units.RelativeHumidity) State {
			s.WetBulb = units.Temperature(2*float64(s.T) - float64(s.WetBulb))
			return s
		}},
		// Ice and water confused.
		"IceAboveWater": wrong{Model: good, rh: func(s State, _ units.RelativeHumidity) State {
			s.RHIce, s.FrostPoint = units.RelativeHumidityIce(s.RH), s.DewPoint
			return s
		}},
		// The rule of thumb of 1 K for every 5 %RH.
		"Saturated": wrong{Model: good, rh: func(s State, rh units.RelativeHumidity) State {
			s.DewPoint = units.Temperature(float64(s.T) - (100-100*float64(rh))/5 - 0.1)
			return s
		}},
		// g/m³ at constant volume: the popular wrong examples of the winter chain.
		"HeatingConserves": wrong{Model: good, heat: func(b, s State) State {
			k := float64(s.T) / float64(b.T)
			s.VapourPressure = units.Pressure(float64(s.VapourPressure) * k)
			s.RH = units.RelativeHumidity(float64(s.RH) * k)
			return s
		}},
		// A bisection that stops too early.
		"RoundTripDew": wrong{Model: good, dew: func(s State) State {
			s.RH = units.RelativeHumidity(float64(s.RH) * 1.001)
			return s
		}},
		// Wet bulb below 0 °C with the constants of water, here everywhere 1 % off.
		"RoundTripWet": wrong{Model: good, wet: func(s State) State {
			s.VapourPressure = units.Pressure(float64(s.VapourPressure) * 1.01)
			return s
		}},
		"RefusesNaN": wrong{Model: good, nan: true},
	}
}
