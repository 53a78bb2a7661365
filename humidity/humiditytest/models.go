package humiditytest

import (
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/units"
)

// Of returns the model of package humidity to be checked.
func Of(m humidity.AirModel) Model { return library{m} }

type library struct{ m humidity.AirModel }

func (l library) String() string { return l.m.String() }

func tell(a humidity.Air, err error) (State, error) {
	if err != nil {
		return State{}, err
	}
	return State{T: a.Temperature(), DewPoint: a.DewPoint(), FrostPoint: a.FrostPoint(), WetBulb: a.WetBulb(),
		P: a.Pressure(), VapourPressure: a.VapourPressure(), RH: a.RelativeHumidity(), RHIce: a.RelativeHumidityIce(),
		HumidityRatio: a.HumidityRatio()}, nil
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

// wrong changes the answers of a right model. The broken models make mistakes that
// were found in print and in programs.
type wrong struct {
	Model
	rh       func(*State, units.RelativeHumidity)
	dew, wet func(*State)
	heat     func(before State, after *State)
	nan      bool
}

func (w wrong) FromRH(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (State, error) {
	if w.nan && (math.IsNaN(float64(t)) || math.IsNaN(float64(rh)) || math.IsNaN(float64(p))) {
		return w.Model.FromRH(units.Celsius(20), 50*units.PercentRH, units.Atmosphere)
	}
	s, err := w.Model.FromRH(t, rh, p)
	if w.rh != nil {
		w.rh(&s, rh)
	}
	return s, err
}

func (w wrong) FromDewPoint(t, dew units.Temperature, p units.Pressure) (State, error) {
	s, err := w.Model.FromDewPoint(t, dew, p)
	w.dew(&s)
	return s, err
}

func (w wrong) FromWetBulb(t, wet units.Temperature, p units.Pressure) (State, error) {
	s, err := w.Model.FromWetBulb(t, wet, p)
	w.wet(&s)
	return s, err
}

func (w wrong) Heated(b State, t units.Temperature) (State, error) {
	s, err := w.Model.Heated(b, t)
	w.heat(b, &s)
	return s, err
}
