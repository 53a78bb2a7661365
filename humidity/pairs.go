package humidity

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

type measure uint8

const (
	none measure = iota
	dryBulb
	rhWater
	rhIce
	rhMixed
	dewPoint
	frostPoint
	wetBulbTemperature
	ratioGiven
	pressureGiven
	densityGiven
	enthalpyGiven
	slingBulb // then in the order of Psychrometer, iced and liquid in turn
	slingLiquid
	aspiratedBulb
	aspiratedLiquid

	measures
)

var measureNames = [measures]string{"nothing", "dry bulb", "relative humidity", "relative humidity over ice",
	"relative humidity, ice below 0.01 °C", "dew point", "frost point", "wet bulb", "humidity ratio", "vapour pressure",
	"absolute humidity", "enthalpy", "sling psychrometer", "sling psychrometer, water liquid below 0 °C",
	"aspirated psychrometer", "aspirated psychrometer, water liquid below 0 °C"}

// Given is one known measure of air, made by [DryBulb], [RH], [RHIce],
// [RHMixed], [DewPoint], [FrostPoint], [WetBulb], [Psychrometer.Shows],
// [HumidityRatio], [VapourPressure], [AbsoluteHumidity] or [Enthalpy]. The zero
// value is refused.
type Given struct {
	kind measure
	v    float64 // [SI]
}

// DryBulb is the temperature of the air, −100 … 200 °C.
func DryBulb(t units.Temperature) Given { return Given{dryBulb, float64(t)} }

// RH is the relative humidity over liquid water at every temperature.
func RH(rh units.RelativeHumidity) Given { return Given{rhWater, float64(rh)} }

// RHIce is the relative humidity over ice, for air below 0.01 °C.
func RHIce(rh units.RelativeHumidityIce) Given { return Given{rhIce, float64(rh)} }

// RHMixed is a relative humidity in the convention of ASHRAE tables and
// programs: over ice below 0.01 °C, over water from there.
func RHMixed(rh units.Ratio) Given { return Given{rhMixed, float64(rh)} }

// DewPoint is the dew point over liquid water, also below 0 °C.
func DewPoint(t units.Temperature) Given { return Given{dewPoint, float64(t)} }

// FrostPoint is the frost point, at most 0.01 °C.
func FrostPoint(t units.Temperature) Given { return Given{frostPoint, float64(t)} }

// WetBulb is the thermodynamic wet-bulb temperature, over water from 0 °C, over
// ice below. A wet thermometer shows something else: see [Psychrometer].
func WetBulb(t units.Temperature) Given { return Given{wetBulbTemperature, float64(t)} }

// HumidityRatio is the mass of vapour per mass of dry air.
func HumidityRatio(w units.HumidityRatio) Given { return Given{ratioGiven, float64(w)} }

// VapourPressure is the partial pressure of the vapour.
func VapourPressure(e units.Pressure) Given { return Given{pressureGiven, float64(e)} }

// AbsoluteHumidity is the mass of vapour per volume.
func AbsoluteHumidity(d units.VapourDensity) Given { return Given{densityGiven, float64(d)} }

// Enthalpy is the enthalpy per mass of dry air as [Air.Enthalpy] counts it.
func Enthalpy(h units.EnergyPerMass) Given { return Given{enthalpyGiven, float64(h)} }

// String returns what is given and its value with its unit.
func (g Given) String() string {
	if g.kind >= measures {
		return measureNames[0]
	}
	s := measureNames[g.kind]
	switch g.kind {
	case dryBulb, dewPoint, frostPoint, wetBulbTemperature, slingBulb, slingLiquid, aspiratedBulb, aspiratedLiquid:
		return s + " " + units.Temperature(g.v).String()
	case rhWater, rhMixed:
		return s + " " + units.RelativeHumidity(g.v).String()
	case rhIce:
		return s + " " + units.RelativeHumidityIce(g.v).String()
	case ratioGiven:
		return s + " " + units.HumidityRatio(g.v).String()
	case pressureGiven:
		return s + " " + units.Pressure(g.v).String()
	case densityGiven:
		return s + " " + units.VapourDensity(g.v).String()
	case enthalpyGiven:
		return s + " " + units.EnergyPerMass(g.v).String()
	}
	return s
}

func (g Given) check(field string) error {
	temperature := func(lo, hi units.Temperature, words string) error {
		if t := units.Temperature(g.v); !(t >= lo && t <= hi) {
			return known.Wrong(field, t, words)
		}
		return nil
	}
	field += "." + measureNames[min(g.kind, measures-1)]
	switch g.kind {
	case dryBulb:
		return temperature(lowestT, highestT, "−100 … 200 °C")
	case dewPoint, wetBulbTemperature, slingBulb, slingLiquid, aspiratedBulb, aspiratedLiquid:
		return temperature(units.Temperature(coldest), highestT, "−150 … 200 °C")
	case frostPoint:
		return temperature(units.Temperature(coldest), TriplePoint, "−150 … 0.01 °C")
	case rhWater:
		return known.InRange(field, units.RelativeHumidity(g.v), 0, units.RelativeHumidity(1))
	case rhMixed, rhIce:
		// Air saturated over water reaches 2.6 times saturation over ice at −100 °C.
		return known.InRange(field, units.RelativeHumidityIce(g.v), 0, units.RelativeHumidityIce(3))
	case ratioGiven:
		return known.InRange(field, units.HumidityRatio(g.v), 0, units.HumidityRatio(60))
	case pressureGiven:
		return known.InRange(field, units.Pressure(g.v), 0, highestP)
	case densityGiven:
		return known.InRange(field, units.VapourDensity(g.v), 0, units.VapourDensity(10))
	case enthalpyGiven:
		return known.InRange(field, units.EnergyPerMass(g.v), units.EnergyPerMass(-2e5), units.EnergyPerMass(2e8))
	}
	return known.Wrong(field, "", "a measure made by DryBulb, RH, DewPoint, …")
}

// class groups measures that do not fix the air together: two of one class are
// refused.
func (k measure) class() int {
	switch k {
	case dryBulb:
		return 1
	case rhWater, rhIce, rhMixed:
		return 2
	case dewPoint, frostPoint, ratioGiven, pressureGiven:
		return 3
	case densityGiven:
		return 4
	case wetBulbTemperature, enthalpyGiven, slingBulb, slingLiquid, aspiratedBulb, aspiratedLiquid:
		return 5
	}
	return 0
}

// AirFrom returns the air of pressure p (1 kPa … 1.5 MPa; [StandardPressure]
// for an altitude) that has both measures, by the [IAPWS] model. Two measures that
// say the same are refused: any two of dew point, frost point, humidity ratio
// and vapour pressure; two relative humidities; wet bulb with a psychrometer or
// with enthalpy, whose lines nearly coincide. So is air above saturation over water
// and air outside −100 … 200 °C. Errors are [*known.FieldError]s for p, a, b.
func AirFrom(p units.Pressure, a, b Given) (Air, error) { return IAPWS.AirFrom(p, a, b) }

// AirFrom is [AirFrom] by the model.
func (m AirModel) AirFrom(p units.Pressure, a, b Given) (Air, error) {
	if err := errors.Join(m.checkSelf(), checkPressure(p), a.check("a"), b.check("b")); err != nil {
		return Air{}, err
	}
	if a.kind.class() == b.kind.class() {
		return Air{}, known.Wrong("b", b, "a measure that says something else than the "+measureNames[a.kind])
	}
	given := [2]Given{a, b}
	if b.kind.class() < a.kind.class() {
		a, b = b, a
	}
	P := float64(p)
	T := a.v
	if a.kind != dryBulb {
		// Of two classes the lower rises with T relative to the higher (at
		// RH es(T)/T rises; at constant vapour wet bulb and enthalpy fall), except
		// that absolute humidity rises against constant vapour.
		f := func(T float64) float64 { return m.vapour(a, T, P) - m.vapour(b, T, P) }
		if a.kind.class() == 3 && b.kind.class() == 4 {
			g := f
			f = func(T float64) float64 { return -g(T) }
		}
		lo, hi := float64(lowestT), float64(highestT)
		if T = math.NaN(); f(lo) <= 0 && f(hi) >= 0 {
			T = root(lo, hi, f)
		}
		if math.IsNaN(T) {
			return Air{}, known.Wrong("b", b, "a value that air of −100 … 200 °C with "+a.String()+" can have")
		}
		// Take e from the measure that depends on T the least.
		if a.kind.class() != 2 {
			b = a
		}
	}
	for i, g := range given {
		if g.kind == rhIce && T > float64(TriplePoint) {
			return Air{}, known.Wrong("ab"[i:i+1], g, "a relative humidity over ice below 0.01 °C only; the air has "+
				""+units.Temperature(T).String())
		}
	}
	e := m.vapour(b, T, P)
	if es, _ := m.water(T, P); e > es*(1+vapourDoubt) {
		return Air{}, known.Wrong("b", b, "at most saturation over water at "+units.Temperature(T).String())
	}
	if b.kind.class() == 5 && b.kind != enthalpyGiven && e < 0 {
		return Air{}, known.Wrong("b", b, "above the wet bulb of dry air at "+units.Temperature(T).String())
	}
	return withVapour(m, units.Temperature(T), p, units.Pressure(e), "b", b)
}

// vapour returns the vapour pressure [Pa] of air at T [K], p [Pa] that has the
// measure; below zero where no air has it.
func (m AirModel) vapour(g Given, T, p float64) float64 {
	switch g.kind {
	case rhWater:
		es, _ := m.water(T, p)
		return g.v * es
	case rhIce:
		es, _ := m.ice(T, p)
		return g.v * es
	case rhMixed:
		es, _ := m.water(T, p)
		if T < float64(TriplePoint) {
			es, _ = m.ice(T, p)
		}
		return g.v * es
	case dewPoint:
		es, _ := m.water(g.v, p)
		return es
	case frostPoint:
		es, _ := m.ice(g.v, p)
		return es
	case ratioGiven:
		return vapourFromRatio(g.v, p)
	case pressureGiven:
		return g.v
	case densityGiven:
		return g.v * gasVapour * T
	case wetBulbTemperature:
		f := &overWater
		if g.v < 273.15 {
			f = &overIce
		}
		return vapourFromRatio(m.ratioFromWet(f, T-273.15, g.v-273.15, p), p)
	case slingBulb, slingLiquid, aspiratedBulb, aspiratedLiquid:
		return m.fromBulb(g.kind, T, g.v, p)
	case enthalpyGiven:
		t := T - 273.15
		return vapourFromRatio((g.v-cpDryAir*t)/(latentZero+cpVapour*t), p)
	}
	return math.NaN()
}

// StandardPressure returns the pressure of the standard atmosphere at an
// altitude, p = 101325·(1 − 2.25577e-5 z/m)^5.2559 Pa, flagged outside
// −5 … 11 km; NaN above 44.3 km, where the form ends. Source: ASHRAE Handbook
// Fundamentals 2017 ch. 1 eq. 3; NASA, U.S. Standard Atmosphere (1976).
func StandardPressure(z units.Length) (units.Pressure, known.Validity) {
	return units.Pressure(101325 * numeric.Pow(1-2.25577e-5*float64(z), 5.2559)), rangeOf(float64(z), -5e3, 11e3)
}
