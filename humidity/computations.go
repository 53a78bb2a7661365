package humidity

import (
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	return slices.Concat(saturationComputations(), airComputations(), roomComputations(), materialComputations(), lawComputations())
}

// fundamentals is the source of the relations of moist air.
var fundamentals = known.Source{Provenance: known.Published, Cite: "ASHRAE Handbook Fundamentals 2017, ch. 1 Psychrometrics"}

func arg(name, unit, doc string, low, high float64) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Doc: doc, Low: low, High: high}
}

func result(name, unit, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Doc: doc, Low: -1e308, High: 1e308}
}

func choice(name, doc string, choices ...string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", Doc: doc, High: float64(len(choices) - 1), Choices: choices}
}

func modelArg() compute.Arg { return choice("model", "formulas", modelNames[:]...) }

func referenceArg() compute.Arg {
	return choice("reference", "over what the relative humidity is counted", referenceNames[:]...)
}

func temperatureArg(name, doc string) compute.Arg {
	return arg(name, "K", doc, float64(lowestT), float64(highestT))
}

func rhArg(name, doc string) compute.Arg { return arg(name, "1", doc, 0, 1) }

func pressureArg() compute.Arg {
	return arg("pressure", "Pa", "absolute pressure of the air", float64(lowestP), float64(highestP))
}

// givenRH turns a number with its reference into a measure.
func givenRH(ref, rh float64) Given {
	switch Reference(ref) {
	case OverIce:
		return RHIce(units.RelativeHumidityIce(rh))
	case Mixed:
		return RHMixed(units.Ratio(rh))
	}
	return RH(units.RelativeHumidity(rh))
}

func saturationComputations() []compute.Entry {
	var equationNames []string
	for _, q := range Equations() {
		equationNames = append(equationNames, q.String())
	}
	equation := choice("equation", "published equation", equationNames...)
	law := known.Source{Provenance: known.Published, Cite: "the equation's own, see Equation.Source", Note: "IAPWS, ASHRAE, Sonntag, CIPM read; WMO, Buck, Wexler, Murphy and Koop from memory"}
	return []compute.Entry{{
		Name:    "humidity.SaturationPressure",
		Doc:     "Saturation vapour pressure of the pure substance and its logarithmic slope by a named equation, e_s(T) and dln e_s/dT.",
		Args:    []compute.Arg{equation, arg("temperature", "K", "temperature", 50, 647.096)},
		Results: []compute.Arg{result("pressure", "Pa", "e_s"), result("slope", "1/K", "dln e_s/dT"), result("flags", "1", "validity flags, 0 inside the published range")},
		Covers:  []string{"Equation.Pressure", "Equation.SaturationSlope"},
		Source:  law,
		Eval: func(r, a []float64) error {
			q, t := Equation(a[0]), units.Temperature(a[1])
			p, v := q.Pressure(t)
			r[0], r[1], r[2] = float64(p), q.SaturationSlope(t), float64(v)
			return nil
		},
	}, {
		Name:    "humidity.DefaultSaturation",
		Doc:     "Saturation vapour pressure over water and over ice by the default equations (IF97, Sonntag below 0 °C; IAPWS ice), and their ratio.",
		Args:    []compute.Arg{temperatureArg("temperature", "temperature")},
		Results: []compute.Arg{result("water", "Pa", "over water"), result("ice", "Pa", "over ice"), result("ratio", "1", "water over ice")},
		Covers:  []string{"SaturationPressureWater", "SaturationPressureIce"},
		Source:  law,
		Eval: func(r, a []float64) error {
			w, _ := SaturationPressureWater(units.Temperature(a[0]))
			i, _ := SaturationPressureIce(units.Temperature(a[0]))
			r[0], r[1], r[2] = float64(w), float64(i), float64(w)/float64(i)
			return nil
		},
	}, {
		Name:    "humidity.SaturationTemperature",
		Doc:     "Temperature at which the saturation vapour pressure by a named equation has a value.",
		Args:    []compute.Arg{equation, arg("pressure", "Pa", "saturation pressure", 1e-6, 22.064e6)},
		Results: []compute.Arg{result("temperature", "K", "temperature")},
		Covers:  []string{"Equation.Temperature"},
		Source:  law,
		Eval: func(r, a []float64) error {
			t, _ := Equation(a[0]).Temperature(units.Pressure(a[1]))
			r[0] = float64(t)
			return nil
		},
	}, {
		Name:    "humidity.Enhancement",
		Doc:     "Enhancement factor of real air, saturation pressure in air over that of the pure substance: over water and ice by the model, and by CIPM-2007.",
		Args:    []compute.Arg{modelArg(), temperatureArg("temperature", "temperature"), pressureArg()},
		Results: []compute.Arg{result("water", "1", "f over water"), result("ice", "1", "f over ice"), result("cipm", "1", "f by CIPM-2007")},
		Covers:  []string{"Model.EnhancementWater", "Model.EnhancementIce", "EnhancementCIPM"},
		Source:  known.Source{Provenance: known.Published, Cite: "L. Greenspan, J. Res. NBS 80A (1976) 41; A. Picard et al., Metrologia 45 (2008) 149"},
		Eval: func(r, a []float64) error {
			m, t, p := Model(a[0]), units.Temperature(a[1]), units.Pressure(a[2])
			w, _ := m.EnhancementWater(t, p)
			i, _ := m.EnhancementIce(t, p)
			c, _ := EnhancementCIPM(t, p)
			r[0], r[1], r[2] = float64(w), float64(i), float64(c)
			return nil
		},
	}}
}

// airResults are what is told about an Air.
var airResults = []compute.Arg{
	result("temperature", "K", "dry bulb"), result("pressure", "Pa", "total pressure"), result("vapour_pressure", "Pa", "e"),
	result("rh_water", "1", "relative humidity over water"), result("rh_ice", "1", "relative humidity over ice"),
	result("dew_point", "K", "over water"), result("frost_point", "K", "over ice"), result("condensation_point", "K", "frost point below 0.01 °C, else dew point"),
	result("wet_bulb", "K", "wet bulb, ice bulb below 0 °C"), result("humidity_ratio", "kg/kg", "W, per dry air"), result("specific_humidity", "kg/kg", "per moist air"),
	result("vapour_density", "kg/m³", "absolute humidity"), result("dry_air_density", "kg/m³", "dry air per volume"), result("specific_volume", "m³/kg", "volume per dry air"),
	result("density", "kg/m³", "moist air per volume"), result("enthalpy", "J/kg", "per dry air"), result("relative_density", "1", "δ of breakdown laws"),
	result("supersaturated", "1", "1 if above saturation over the stable phase"), result("flags", "1", "validity flags of the formulas"),
}

var airCovers = []string{"Air.Temperature", "Air.Pressure", "Air.VapourPressure", "Air.RelativeHumidity", "Air.RelativeHumidityIce", "Air.DewPoint",
	"Air.FrostPoint", "Air.CondensationPoint", "Air.WetBulb", "Air.HumidityRatio", "Air.SpecificHumidity", "Air.VapourDensity", "Air.DryAirDensity",
	"Air.Density", "Air.Enthalpy", "Air.RelativeDensity", "Air.Supersaturated", "Air.Validity"}

func tellAir(r []float64, a Air) {
	copy(r, []float64{float64(a.Temperature()), float64(a.Pressure()), float64(a.VapourPressure()), float64(a.RelativeHumidity()), float64(a.RelativeHumidityIce()),
		float64(a.DewPoint()), float64(a.FrostPoint()), float64(a.CondensationPoint()), float64(a.WetBulb()), float64(a.HumidityRatio()), float64(a.SpecificHumidity()),
		float64(a.VapourDensity()), float64(a.DryAirDensity()), 1 / float64(a.DryAirDensity()), float64(a.Density()), float64(a.Enthalpy()), a.RelativeDensity(), 0, float64(a.Validity())})
	if a.Supersaturated() {
		r[17] = 1
	}
}

// givenOf builds a measure from a choice and its SI number.
func givenOf(kind, v float64) Given { return Given{measure(kind) + dryBulb, v} }

func airComputations() []compute.Entry {
	kinds := measureNames[dryBulb:]
	value := func(name string) compute.Arg {
		return arg(name, "SI", "value in SI (K, 1, kg/kg, Pa, kg/m³ or J/kg, as the kind demands)", -1e9, 1e9)
	}
	return []compute.Entry{{
		Name:    "humidity.NewAir",
		Doc:     "Moist air by the default formulas from temperature, relative humidity over water and pressure, and all its measures.",
		Args:    []compute.Arg{temperatureArg("temperature", "dry bulb"), rhArg("rh", "relative humidity over water"), pressureArg()},
		Results: airResults,
		Covers:  append([]string{"NewAir"}, airCovers...),
		Source:  fundamentals,
		Eval: func(r, a []float64) error {
			x, err := NewAir(units.Temperature(a[0]), units.RelativeHumidity(a[1]), units.Pressure(a[2]))
			tellAir(r, x)
			return err
		},
	}, {
		Name:    "humidity.Air",
		Doc:     "Moist air by named formulas from temperature, relative humidity over the stated phase and pressure, and all its measures.",
		Args:    []compute.Arg{modelArg(), temperatureArg("temperature", "dry bulb"), arg("rh", "1", "relative humidity", 0, 3), referenceArg(), pressureArg()},
		Results: airResults,
		Covers:  []string{"Model.Air", "Air.Model", "Model.Water", "Model.Ice", "RH", "RHIce", "RHMixed", "DryBulb"},
		Source:  fundamentals,
		Eval: func(r, a []float64) error {
			m, t, p := Model(a[0]), units.Temperature(a[1]), units.Pressure(a[4])
			x, err := m.Air(t, units.RelativeHumidity(a[2]), p)
			if a[3] != float64(OverWater) {
				x, err = m.AirFrom(p, DryBulb(t), givenRH(a[3], a[2]))
			}
			tellAir(r, x)
			return err
		},
	}, {
		Name:    "humidity.AirFrom",
		Doc:     "Moist air from any two independent measures and the pressure, and all its measures.",
		Args:    []compute.Arg{modelArg(), pressureArg(), choice("kind_a", "what a is", kinds...), value("a"), choice("kind_b", "what b is", kinds...), value("b")},
		Results: airResults,
		Covers:  []string{"AirFrom", "Model.AirFrom", "DewPoint", "FrostPoint", "WetBulb", "HumidityRatio", "VapourPressure", "AbsoluteHumidity", "Enthalpy"},
		Source:  fundamentals,
		Eval: func(r, a []float64) error {
			from := Model(a[0]).AirFrom
			if a[0] == float64(IAPWS) {
				from = AirFrom // the package's own
			}
			x, err := from(units.Pressure(a[1]), givenOf(a[2], a[3]), givenOf(a[4], a[5]))
			tellAir(r, x)
			return err
		},
	}, {
		Name: "humidity.Heated",
		Doc:  "Relative humidity of the same air at another temperature: vapour pressure is conserved, RH_2 = RH_1·e_sat(T_1)/e_sat(T_2).",
		Args: []compute.Arg{modelArg(), temperatureArg("temperature", "dry bulb before"), arg("rh", "1", "relative humidity before", 0, 3), referenceArg(), pressureArg(),
			temperatureArg("surface", "temperature after, or of the web")},
		Results: []compute.Arg{result("rh", "1", "relative humidity over water after"), result("humidity_ratio", "kg/kg", "W, as before")},
		Covers:  []string{"Air.At", "Air.RelativeHumidityAtTo"},
		Source:  fundamentals,
		Eval: func(r, a []float64) error {
			x, err := Model(a[0]).AirFrom(units.Pressure(a[4]), DryBulb(units.Temperature(a[1])), givenRH(a[3], a[2]))
			if err != nil {
				return err
			}
			var at [1]units.RelativeHumidity
			err = x.RelativeHumidityAtTo(at[:], []units.Temperature{units.Temperature(a[5])})
			r[0], r[1] = float64(at[0]), float64(x.At(units.Temperature(a[5])).HumidityRatio())
			return err
		},
	}, {
		Name:    "humidity.States",
		Doc:     "One row of the column form: humidity ratio, condensation point, wet bulb and enthalpy from interpolated equations.",
		Args:    []compute.Arg{modelArg(), temperatureArg("temperature", "dry bulb"), arg("rh", "1", "relative humidity", 0, 1), referenceArg(), pressureArg()},
		Results: []compute.Arg{result("humidity_ratio", "kg/kg", "W"), result("condensation_point", "K", "frost or dew point"), result("wet_bulb", "K", "wet or ice bulb"), result("enthalpy", "J/kg", "per dry air")},
		Covers:  []string{"Model.StatesTo"},
		Source:  fundamentals,
		Eval: func(r, a []float64) error {
			w, td, tw, h := make([]units.HumidityRatio, 1), make([]units.Temperature, 1), make([]units.Temperature, 1), make([]units.EnergyPerMass, 1)
			err := Model(a[0]).StatesTo(&States{w, td, tw, h}, []units.Temperature{units.Temperature(a[1])}, []units.Ratio{units.Ratio(a[2])},
				[]units.Pressure{units.Pressure(a[4])}, Reference(a[3]))
			r[0], r[1], r[2], r[3] = float64(w[0]), float64(td[0]), float64(tw[0]), float64(h[0])
			return err
		},
	}, {
		Name:    "humidity.StandardPressure",
		Doc:     "Pressure of the standard atmosphere at an altitude, p = 101325(1 − 2.25577e-5 z)^5.2559 Pa.",
		Args:    []compute.Arg{arg("altitude", "m", "above sea level", -5e3, 4.4e4)},
		Results: []compute.Arg{result("pressure", "Pa", "absolute pressure")},
		Covers:  []string{"StandardPressure"},
		Source:  fundamentals,
		Eval: func(r, a []float64) error {
			p, _ := StandardPressure(units.Length(a[0]))
			r[0] = float64(p)
			return nil
		},
	}, {
		Name:    "humidity.DensityCIPM",
		Doc:     "Density of moist air by the CIPM-2007 equation.",
		Args:    []compute.Arg{temperatureArg("temperature", "dry bulb"), rhArg("rh", "relative humidity over water"), pressureArg(), arg("co2", "1", "mole fraction of carbon dioxide", 0, 0.01)},
		Results: []compute.Arg{result("density", "kg/m³", "moist air")},
		Covers:  []string{"DensityCIPM"},
		Source:  known.Source{Provenance: known.Published, Cite: "A. Picard, R. S. Davis, M. Gläser, K. Fujii, Metrologia 45 (2008) 149"},
		Eval: func(r, a []float64) error {
			x, err := NewAir(units.Temperature(a[0]), units.RelativeHumidity(a[1]), units.Pressure(a[2]))
			d, _ := DensityCIPM(x, units.Ratio(a[3]))
			r[0] = float64(d)
			return err
		},
	}, {
		Name: "humidity.BreakdownCorrection",
		Doc:  "Atmospheric correction of disruptive discharge of external insulation, K = δ^m·k^w, and the humidity factor of nearly uniform fields.",
		Args: []compute.Arg{temperatureArg("temperature", "dry bulb"), arg("vapour_density", "kg/m³", "absolute humidity", 0, 0.05), pressureArg(),
			choice("stress", "kind of voltage", stressNames[:]...), arg("g", "1", "V_50/(500 kV/m·L·δ·k)", 0, 3)},
		Results: []compute.Arg{result("delta", "1", "relative air density"), result("k", "1", "humidity factor"), result("k1", "1", "δ^m"), result("k2", "1", "k^w"),
			result("correction", "1", "K"), result("uniform", "1", "humidity factor of uniform fields")},
		Covers: []string{"BreakdownCorrection", "UniformFieldCorrection"},
		Source: known.Source{Provenance: known.Memory, Cite: "IEC 60060-1:2010, 4.3; IEC 60052:2002, 6"},
		Eval: func(r, a []float64) error {
			x, err := AirFrom(units.Pressure(a[2]), DryBulb(units.Temperature(a[0])), AbsoluteHumidity(units.VapourDensity(a[1])))
			if err != nil {
				return err
			}
			c, err := BreakdownCorrection(x, Stress(a[3]), a[4])
			u, _ := UniformFieldCorrection(x)
			copy(r, []float64{c.Delta, c.Humidity, c.K1, c.K2, c.K, u})
			return err
		},
	}}
}

// flag is 1 for true.
func flag(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
