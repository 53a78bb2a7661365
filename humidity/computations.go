package humidity

import (
	_ "embed" // for the sentences
	"slices"
	"strings"

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
	return compute.List("humidity", sentences, slices.Concat(saturationComputations(), airComputations(),
		roomComputations(),
		materialComputations(), lawComputations()))
}

// fundamentals is the source of the relations of moist air.
var fundamentals = known.Source{Provenance: known.Quoted, Via: "public programs for moist air",
	Cite: "ASHRAE Handbook Fundamentals 2017, ch. 1 Psychrometrics"}

// Items that many declarations share.
const (
	anyT      = " 173.15…473.15" // [K] lowestT … highestT, which a test compares
	aModel    = "model: formulas"
	aDryBulb  = "temperature" + anyT + ": dry bulb"
	aRH       = "rh 0…1: relative humidity over water"
	aAnyRH    = "rh [1] 0…3: relative humidity"
	aOver     = "reference: over what the relative humidity is counted"
	aPressure = "pressure 1e3…1.5e6: absolute pressure of the air" // [Pa] lowestP … highestP
)

// given turns a number with its reference into a measure.
func given(ref Reference, rh float64) Given {
	switch ref {
	case OverIce:
		return RHIce(units.RelativeHumidityIce(rh))
	case Mixed:
		return RHMixed(units.Ratio(rh))
	}
	return RH(units.RelativeHumidity(rh))
}

func saturationComputations() []compute.Entry {
	law := known.Source{Provenance: known.Quoted, Cite: "the equation's own, see Equation.Source",
		Via: "the works named there", Note: "the WMO constants over ice were not compared with the source"}
	return []compute.Entry{
		compute.Of23("SaturationPressure", func(q Equation, t units.Temperature) (units.Pressure, float64, known.Validity) {
			p, v := q.Pressure(t)
			return p, q.SaturationSlope(t), v
		}, law, "= Saturation vapour pressure of the pure substance and its logarithmic slope by a named "+
			"equation, e_s(T) and dln e_s/dT.",
			"equation: published equation; temperature 50…647.096: temperature",
			"-> pressure: e_s; slope [1/K]: dln e_s/dT; flags: validity flags, 0 inside the published range"),
		compute.Of13("DefaultSaturation", func(t units.Temperature) (w, i units.Pressure, ratio float64) {
			w, _ = IAPWSWater.Pressure(t)
			i, _ = IAPWSIce.Pressure(t)
			return w, i, float64(w) / float64(i)
		}, law, "= Saturation vapour pressure over water and over ice by the default equations (IF97, Sonntag "+
			"below 0 °C; IAPWS ice), "+
			"and their ratio.",
			"temperature"+anyT+": temperature -> water: over water; ice: over ice; ratio: water over ice"),
		compute.Of21("SaturationTemperature", func(q Equation, p units.Pressure) units.Temperature {
			t, _ := q.Temperature(p)
			return t
		}, law, "= Temperature at which the saturation vapour pressure by a named equation has a value.",
			"equation: published equation; pressure 1e-6…22.064e6: saturation pressure -> temperature: temperature"),
		compute.Of33("Enhancement", func(m AirModel, t units.Temperature, p units.Pressure) (w, i, c units.Ratio) {
			w, _ = m.EnhancementWater(t, p)
			i, _ = m.EnhancementIce(t, p)
			c, _ = EnhancementCIPM(t, p)
			return w, i, c
		}, known.Source{Provenance: known.Quoted, Via: "public programs for moist air",
			Cite: "L. Greenspan, J. Res. NBS 80A (1976) 41; A. Picard et al., Metrologia 45 (2008) 149"},
			"= Enhancement factor of real air, saturation pressure in air over that of the pure substance: over "+
				"water and ice by the model, "+
				"and by CIPM-2007.",
			aModel, "temperature"+anyT+": temperature", aPressure, "-> water: f over water; ice: f over "+
				"ice; cipm: f by CIPM-2007"),
	}
}

// airTold are what is told about an Air, in the order of allMeasures.
type airTold struct {
	temperature           units.Temperature
	pressure, vapour      units.Pressure
	water                 units.RelativeHumidity
	ice                   units.RelativeHumidityIce
	dew, frost, cond, wet units.Temperature
	ratio                 units.HumidityRatio
	specific              units.SpecificHumidity
	vapourDensity         units.VapourDensity
	dryDensity            units.Density
	volume                float64
	density               units.Density
	enthalpy              units.EnergyPerMass
	delta                 float64
	supersaturated        bool
	flags                 known.Validity
}

const allMeasures = "-> temperature: dry bulb; pressure: total pressure; vapour_pressure: e; rh_water: " +
	"relative humidity over water; " +
	"rh_ice: relative humidity over ice; dew_point: over water; frost_point: over ice; " +
	"condensation_point: frost point below 0.01 °C, else dew point; wet_bulb: wet bulb, ice bulb below 0 °C; " +
	"humidity_ratio: W, per dry air; " +
	"specific_humidity: per moist air; vapour_density: absolute humidity; dry_air_density: dry air per volume; " +
	"specific_volume [m³/kg]: volume per dry air; density: moist air per volume; enthalpy: per dry air; " +
	"relative_density: δ of breakdown laws; supersaturated: above saturation over the stable phase; flags: " +
	"validity flags of the formulas"

func tell(a Air, err error) (airTold, error) {
	return airTold{a.Temperature(), a.Pressure(), a.VapourPressure(), a.RelativeHumidity(), a.RelativeHumidityIce(),
		a.DewPoint(), a.FrostPoint(),
		a.CondensationPoint(), a.WetBulb(), a.HumidityRatio(), a.SpecificHumidity(), a.VapourDensity(), a.DryAirDensity(),
		1 / float64(a.DryAirDensity()), a.Density(), a.Enthalpy(), a.RelativeDensity(), a.Supersaturated(), a.Validity()}, err
}

func airComputations() []compute.Entry {
	kinds := " {" + strings.Join(measureNames[dryBulb:], "|") + "}"
	const value = " [SI] -1e9…1e9: value in SI (K, 1, kg/kg, Pa, kg/m³ or J/kg, as the kind demands)"
	return []compute.Entry{
		compute.Of32("NewAir", func(t units.Temperature, rh units.RelativeHumidity, p units.Pressure) (airTold, error) {
			return tell(NewAir(t, rh, p))
		}, fundamentals, "= Moist air by the default formulas from temperature, relative humidity over water and "+
			"pressure, and all its measures.",
			aDryBulb, aRH, aPressure, allMeasures),
		compute.Of52("Air", func(m AirModel, t units.Temperature, rh float64, ref Reference, p units.Pressure) (airTold,
			error) {
			if ref == OverWater {
				return tell(m.Air(t, units.RelativeHumidity(rh), p))
			}
			return tell(m.AirFrom(p, DryBulb(t), given(ref, rh)))
		}, fundamentals, "= Moist air by named formulas from temperature, relative humidity over the stated phase and "+
			"pressure, and all its measures.",
			aModel, aDryBulb, aAnyRH, aOver, aPressure, allMeasures),
		compute.Of62("AirFrom", func(m AirModel, p units.Pressure, ka int, a float64, kb int, b float64) (airTold, error) {
			return tell(m.AirFrom(p, Given{measure(ka) + dryBulb, a}, Given{measure(kb) + dryBulb, b}))
		}, fundamentals, "= Moist air from any two independent measures and the pressure, and all its measures.",
			aModel, aPressure, "kind_a"+kinds+": what a is; a"+value+"; kind_b"+kinds+": what b is; b"+value, allMeasures),
		compute.Of63("Heated", func(m AirModel, t units.Temperature, rh float64, ref Reference, p units.Pressure,
			surface units.Temperature) (units.RelativeHumidity, units.HumidityRatio, error) {
			x, err := m.AirFrom(p, DryBulb(t), given(ref, rh))
			if err != nil {
				return 0, 0, err
			}
			at := x.At(surface)
			return at.RelativeHumidity(), at.HumidityRatio(), nil
		}, fundamentals, "= Relative humidity of the same air at another temperature: vapour pressure is conserved, RH_2 = "+
			"RH_1·e_sat(T_1)/e_sat(T_2).",
			aModel, "temperature"+anyT+": dry bulb before", aAnyRH, aOver, aPressure,
			"surface"+anyT+": temperature after, or of the web",
			"-> rh: relative humidity over water after; humidity_ratio: W, as before"),
		compute.Of("States", func(m AirModel, t units.Temperature, rh units.Ratio, ref Reference,
			p units.Pressure) (w units.HumidityRatio,
			td, tw units.Temperature, h units.EnergyPerMass, err error) {
			s := States{[]units.HumidityRatio{0}, []units.Temperature{0}, []units.Temperature{0}, []units.EnergyPerMass{0}}
			err = m.StatesTo(&s, []units.Temperature{t}, []units.Ratio{rh}, []units.Pressure{p}, ref)
			return s.HumidityRatio[0], s.CondensationPoint[0], s.WetBulb[0], s.Enthalpy[0], err
		}, fundamentals, "= One row of the column form: humidity ratio, condensation point, wet bulb and enthalpy from "+
			"interpolated equations.",
			aModel, aDryBulb, "rh 0…1: relative humidity", aOver, aPressure,
			"-> humidity_ratio: W; condensation_point: frost or dew point; wet_bulb: wet or ice bulb; enthalpy: per dry air"),
		compute.Of42("Psychrometer.Reading", func(k Psychrometer, t units.Temperature, rh units.RelativeHumidity,
			p units.Pressure) (units.Temperature, error) {
			x, err := NewAir(t, rh, p)
			return k.Reading(x), err
		}, known.Source{Provenance: known.Memory, Cite: "W. Ferrel, as in the U.S. Weather Bureau's tables; WMO-No. 8",
			Note: "not compared with the source"},
			"instrument: kind of psychrometer", aDryBulb, aRH, aPressure, "-> reading: what the wet thermometer "+
				"shows, iced below 0 °C"),
		compute.Of12("StandardPressure", StandardPressure, fundamentals,
			"altitude -5e3…4.4e4: above sea level -> pressure: absolute pressure; flags: validity flags"),
		compute.Of43("DensityCIPM", func(t units.Temperature, rh units.RelativeHumidity, p units.Pressure,
			co2 units.Ratio) (units.Density, known.Validity, error) {
			x, err := NewAir(t, rh, p)
			d, v := DensityCIPM(x, co2)
			return d, v, err
		}, known.Source{Provenance: known.Quoted, Via: "public programs for moist air",
			Cite: "A. Picard, R. S. Davis, M. Gläser, K. Fujii, Metrologia 45 (2008) 149"},
			aDryBulb, aRH, aPressure, "co2 0…0.01: mole fraction of carbon dioxide -> density: moist "+
				"air; flags: validity flags"),
		compute.Of("BreakdownCorrection", func(t units.Temperature, h units.VapourDensity, p units.Pressure, s Stress,
			g float64) (delta, k, k1, k2,
			all float64, flags known.Validity, err error) {
			x, err := AirFrom(p, DryBulb(t), AbsoluteHumidity(h))
			if err != nil {
				return
			}
			c, err := BreakdownCorrection(x, s, g)
			return c.Delta, c.Humidity, c.K1, c.K2, c.K, c.Validity, err
		}, known.Source{Provenance: known.Memory, Cite: "IEC 60060-1:2010, 4.3; IEC 60052:2002, 6",
			Note: "not compared with the standards"},
			"= Atmospheric correction of disruptive discharge of external insulation, K = δ^m·k^w.",
			aDryBulb, "vapour_density 0…0.05: absolute humidity", aPressure, "stress: kind of voltage; g "+
				"0…3: V_50/(500 kV/m·L·δ·k)",
			"-> delta: relative air density; k: humidity factor; k1: δ^m; k2: k^w; correction: K; flags: validity flags"),
	}
}
