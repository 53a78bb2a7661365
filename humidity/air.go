package humidity

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Constants of the relations of [AirModel].
const (
	// [1] molar mass of water over that of dry air, ASHRAE Fundamentals 2017 ch. 1 eq. 20
	massRatio   = 0.621945
	gasDryAir   = 287.042                   // [J/(kg·K)] ASHRAE Fundamentals 2017 ch. 1 eq. 1
	gasVapour   = gasDryAir / massRatio     // [J/(kg·K)] 461.52
	cpDryAir    = 1006.0                    // [J/(kg·K)]
	latentZero  = 2501e3                    // [J/kg] evaporation at 0 °C
	cpVapour    = 1860.0                    // [J/(kg·K)]
	standardP   = units.Pressure(101325)    // of the relative air density
	lowestT     = units.Temperature(173.15) // −100 °C
	highestT    = units.Temperature(473.15) // 200 °C
	lowestP     = units.Pressure(1e3)
	highestP    = units.Pressure(1.5e6)
	mostVapour  = 0.99 // [1] of the total pressure
	vapourDoubt = 1e-9 // [1] slack of a comparison with saturation, for rounding
)

// Air is moist air: temperature, total pressure and vapour pressure, with the
// [AirModel] that relates them. It is immutable. The vapour pressure is the mole
// fraction of vapour times the total pressure, which heating and cooling at
// constant pressure leave as it is. The zero value is no air: its methods
// return NaN.
type Air struct {
	t units.Temperature
	p units.Pressure
	e units.Pressure
	m AirModel
}

// NewAir returns air of temperature t (−100 … 200 °C), relative humidity rh
// over liquid water (0 … 100 %RH, at every temperature) and absolute pressure p
// (1 kPa … 1.5 MPa) by the [IAPWS] model. Errors are [*known.FieldError]s that name
// t, rh or p; a vapour pressure above 99 % of p is one of rh.
//
// Winter air that is supersaturated over ice is accepted; see
// [Air.Supersaturated]. A chart or program that counts relative humidity over ice
// below 0.01 °C gives less vapour for the same number: at −15 °C, 80 % the humidity
// ratio here is 16 % above the chart's, at −10 °C 11 %, at −20 °C 22 %. The chart's
// figure is
//
//	ASHRAEIdeal.AirFrom(p, DryBulb(t), RHMixed(rh))
func NewAir(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (Air, error) {
	return IAPWS.Air(t, rh, p)
}

// Air is [NewAir] by the model.
func (m AirModel) Air(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (Air, error) {
	err := errors.Join(m.check(t, p), known.InRange("rh", rh, 0, units.RelativeHumidity(1)))
	if err != nil {
		return Air{}, err
	}
	es, _ := m.water(float64(t), float64(p))
	return withVapour(m, t, p, units.Pressure(float64(rh)*es), "rh", rh)
}

func (m AirModel) check(t units.Temperature, p units.Pressure) error {
	err := errors.Join(m.checkSelf(), checkPressure(p))
	if e := known.InRange("t", t, lowestT, highestT); e != nil {
		err = errors.Join(err, known.Wrong("t", t, "−100 … 200 °C"))
	}
	return err
}

func (m AirModel) checkSelf() error {
	if m >= models {
		return known.Wrong("model", uint8(m), "one of Models()")
	}
	return nil
}

func checkPressure(p units.Pressure) error { return known.InRange("p", p, lowestP, highestP) }

// withVapour builds the air; field and value name what led to e in an error. It is
// generic so that only an error allocates.
func withVapour[V any](m AirModel, t units.Temperature, p, e units.Pressure, field string, value V) (Air, error) {
	if !(e >= 0 && e <= p*mostVapour) {
		return Air{}, known.Wrong(field, value, "a vapour pressure of 0 to 99 % of the total pressure "+p.String())
	}
	return Air{t: t, p: p, e: e, m: m}, nil
}

// String returns the state with the reference of its humidity, its pressure and
// its formulas, rounded for reading: "23.0 °C, 50.0 %RH over water, dew point
// 12.0 °C, 101.325 kPa (iapws)".
func (a Air) String() string {
	if !a.valid() {
		return "no air"
	}
	tenths := func(t units.Temperature) float64 { return math.Round(10*t.Celsius())/10 + 0 } // no −0.0
	return fmt.Sprintf("%.1f °C, %.1f %%RH over water, dew point %.1f °C, %.3f kPa (%v)", tenths(a.t),
		100*float64(a.RelativeHumidity()), tenths(a.DewPoint()), float64(a.p)/1e3, a.m)
}

// Temperature returns the dry-bulb temperature.
func (a Air) Temperature() units.Temperature { return orNaN(a, a.t) }

// Pressure returns the total absolute pressure.
func (a Air) Pressure() units.Pressure { return orNaN(a, a.p) }

// VapourPressure returns the partial pressure of the vapour.
func (a Air) VapourPressure() units.Pressure { return orNaN(a, a.e) }

// Model returns the formulas that the air was built with.
func (a Air) Model() AirModel { return a.m }

// valid is false for the zero value.
func (a Air) valid() bool { return a.p > 0 }

// orNaN returns v, and NaN for the zero value of air.
func orNaN[T ~float64](a Air, v T) T {
	if !a.valid() {
		return T(math.NaN())
	}
	return v
}

// RelativeHumidity returns e/e_sat over liquid water at the air's temperature,
// also below 0 °C. It exceeds 1 for air cooled below its dew point.
func (a Air) RelativeHumidity() units.RelativeHumidity {
	es, _ := a.m.water(float64(a.t), float64(a.p))
	return units.RelativeHumidity(float64(a.e) / es)
}

// RelativeHumidityIce returns e/e_sat over ice. Above 0.01 °C, where there is
// no ice, it continues the ice equation and serves comparison only.
func (a Air) RelativeHumidityIce() units.RelativeHumidityIce {
	es, _ := a.m.ice(float64(a.t), float64(a.p))
	return units.RelativeHumidityIce(float64(a.e) / es)
}

// DewPoint returns the temperature at which the air, cooled at constant
// pressure, is saturated over liquid water; below 0 °C that is supercooled
// water, as weather services report it. Air without vapour, or with a dew point
// below −150 °C, gives −150 °C.
func (a Air) DewPoint() units.Temperature {
	if !a.valid() {
		return units.Temperature(math.NaN())
	}
	return units.Temperature(a.m.dew(float64(a.e), float64(a.p)))
}

// FrostPoint returns the temperature at which the air, cooled at constant
// pressure, is saturated over ice. It lies above the dew point below 0 °C;
// where it comes out above 0.01 °C, dew forms and not frost: use DewPoint. Air
// without vapour gives −150 °C.
func (a Air) FrostPoint() units.Temperature {
	if !a.valid() {
		return units.Temperature(math.NaN())
	}
	return units.Temperature(a.m.frost(float64(a.e), float64(a.p)))
}

// CondensationPoint returns the temperature below which a cold surface gets
// wet or white: the frost point where that is below 0.01 °C, else the dew point.
func (a Air) CondensationPoint() units.Temperature {
	if f := a.FrostPoint(); !(f >= TriplePoint) {
		return f
	}
	return a.DewPoint()
}

// HumidityRatio returns the mass of vapour per mass of dry air,
// W = 0.621945 e/(p − e).
func (a Air) HumidityRatio() units.HumidityRatio {
	return units.HumidityRatio(humidityRatio(float64(a.e), float64(a.p)))
}

func humidityRatio(e, p float64) float64 { return massRatio * e / (p - e) }

// vapourFromRatio inverts humidityRatio.
func vapourFromRatio(w, p float64) float64 { return p * w / (massRatio + w) }

// SpecificHumidity returns the mass of vapour per mass of moist air,
// q = W/(1 + W).
func (a Air) SpecificHumidity() units.SpecificHumidity {
	w := float64(a.HumidityRatio())
	return units.SpecificHumidity(w / (1 + w))
}

// VapourDensity returns the mass of vapour per volume of moist air (absolute
// humidity), e/(461.52 J/(kg·K)·T).
func (a Air) VapourDensity() units.VapourDensity {
	return units.VapourDensity(float64(a.e) / (gasVapour * float64(a.t)))
}

// DryAirDensity returns the mass of dry air per volume of moist air,
// (p − e)/(287.042 J/(kg·K)·T): the reciprocal of the specific volume of
// psychrometric tables.
func (a Air) DryAirDensity() units.Density {
	return units.Density(float64(a.p-a.e) / (gasDryAir * float64(a.t)))
}

// Density returns the mass of moist air per volume, the sum of DryAirDensity
// and VapourDensity. Ideal gas, 0.04 % below real air at 20 °C and 1 atm; [DensityCIPM]
// is good to 2.2e-5.
func (a Air) Density() units.Density {
	return a.DryAirDensity() + units.Density(a.VapourDensity())
}

// Enthalpy returns the enthalpy per mass of dry air from dry air and liquid
// water at 0 °C, h = 1.006 t + W(2501 + 1.86 t) kJ/kg with t in °C.
func (a Air) Enthalpy() units.EnergyPerMass {
	return units.EnergyPerMass(enthalpy(a.t.Celsius(), float64(a.HumidityRatio())))
}

func enthalpy(t, w float64) float64 { return cpDryAir*t + w*(latentZero+cpVapour*t) }

// At returns the same air heated or cooled to t at constant pressure: vapour
// pressure and humidity ratio are conserved, relative humidity is not. Below
// the dew point the result is supersaturated: nothing condenses by itself. A t
// outside −100 … 200 °C or NaN gives the zero Air, whose measures are NaN.
func (a Air) At(t units.Temperature) Air {
	if !(t >= lowestT && t <= highestT) || !a.valid() {
		return Air{m: a.m}
	}
	a.t = t
	return a
}

// RelativeDensity returns [units.Pressure.RelativeDensity] of the air, δ relative to
// 20 °C and 101.325 kPa as breakdown laws use it; vapour is not counted.
func (a Air) RelativeDensity() float64 { return a.p.RelativeDensity(a.t) } // [1]

// Validity flags air whose temperature lies outside the published range of the
// model's equations: over water, below 0.01 °C also over ice, and for [IAPWS]
// −50 … 100 °C of the enhancement factor. Models with constants not compared with
// a source ([WMOMagnus] over ice) are flagged [known.Unpublished]. The measures
// are computed all the same. Supercooled water counts as inside down to the equation's own limit.
func (a Air) Validity() known.Validity {
	if !a.valid() {
		return known.WrongShape
	}
	v := known.Inside
	for _, q := range [2]Equation{a.m.Water(), a.m.Ice()} {
		if q.OverIce() && a.t >= TriplePoint {
			continue
		}
		lo, hi := q.Range()
		if q == HylandWexlerWater && a.t < TriplePoint {
			continue // continued below 0 °C; at −40 °C it is within 0.1 % of Sonntag's
		}
		v |= rangeOf(float64(a.t), float64(lo), float64(hi))
		if q.Source().Provenance == known.Memory {
			v |= known.Unpublished
		}
	}
	if a.m == IAPWS {
		v |= rangeOf(a.t.Celsius(), -50, 100)
	}
	return v
}

// Supersaturated reports whether the air holds more vapour than saturation over
// the phase that is stable at its temperature: ice below 0.01 °C, else water.
// Ordinary winter air can be: at −20 °C from 82 % relative humidity over water.
func (a Air) Supersaturated() bool {
	es, _ := a.m.water(float64(a.t), float64(a.p))
	if a.t < TriplePoint {
		es, _ = a.m.ice(float64(a.t), float64(a.p))
	}
	return float64(a.e) > es*(1+vapourDoubt)
}
