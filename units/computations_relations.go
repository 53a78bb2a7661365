package units

import (
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

var definition = known.Source{Provenance: known.Published, Cite: "BIPM, SI Brochure, 9th edition, 2019", Note: "definition of the quantities"}

// relation is an entry with one result.
func relation(name, doc string, result compute.Arg, f func(a []float64) float64, args ...compute.Arg) compute.Entry {
	return compute.Entry{Name: "units." + name, Doc: doc, Args: args, Results: []compute.Arg{result}, Covers: []string{name}, Source: definition,
		Eval: func(results, a []float64) error {
			results[0] = f(a)
			return nil
		}}
}

func unbounded(name, unit, doc string) compute.Arg { return number(name, unit, doc, -1e150, 1e150) }

func above0(name, unit, doc string) compute.Arg { return number(name, unit, doc, 1e-150, 1e150) }

func relations() []compute.Entry {
	fahrenheit := relation("Fahrenheit", "Temperature of t degrees Fahrenheit, (t + 459.67)·5/9 K.", unbounded("temperature", "K", "temperature"),
		func(a []float64) float64 { return float64(Fahrenheit(a[0])) }, number("t", "°F", "temperature", -459.67, 1e6))
	celsius := relation("Celsius", "Temperature of t degrees Celsius, t + 273.15 K.", unbounded("temperature", "K", "temperature"),
		func(a []float64) float64 { return float64(Celsius(a[0])) }, number("t", "°C", "temperature", -273.15, 1e6))
	return []compute.Entry{
		celsius, fahrenheit,
		relation("Temperature.Celsius", "Temperature in degrees Celsius, T − 273.15.", unbounded("t", "°C", "temperature"),
			func(a []float64) float64 { return Temperature(a[0]).Celsius() }, number("temperature", "K", "temperature", 0, 1e6)),
		relation("Temperature.Fahrenheit", "Temperature in degrees Fahrenheit, T·1.8 − 459.67.", unbounded("t", "°F", "temperature"),
			func(a []float64) float64 { return Temperature(a[0]).Fahrenheit() }, number("temperature", "K", "temperature", 0, 1e6)),
		relation("Temperature.Sub", "Difference of two temperatures.", unbounded("difference", "K", "a − b"),
			func(a []float64) float64 { return float64(Temperature(a[0]).Sub(Temperature(a[1]))) },
			number("a", "K", "temperature", 0, 1e6), number("b", "K", "temperature", 0, 1e6)),
		relation("Temperature.Add", "Temperature that lies a difference above another.", unbounded("temperature", "K", "a + d"),
			func(a []float64) float64 { return float64(Temperature(a[0]).Add(TemperatureDifference(a[1]))) },
			number("a", "K", "temperature", 0, 1e6), number("d", "K", "difference", -1e6, 1e6)),
		relation("GaugePressure.Absolute", "Absolute pressure of a gauge pressure at a place, p_g + p_ambient.", unbounded("pressure", "Pa", "absolute"),
			func(a []float64) float64 { return float64(GaugePressure(a[0]).Absolute(Pressure(a[1]))) },
			number("gauge", "Pa", "gauge pressure", -1e6, 1e10), number("ambient", "Pa", "ambient pressure of the place", 0, 1e7)),
		relation("Pressure.Gauge", "Gauge pressure of an absolute pressure at a place, p − p_ambient.", unbounded("gauge", "Pa", "gauge pressure"),
			func(a []float64) float64 { return float64(Pressure(a[0]).Gauge(Pressure(a[1]))) },
			number("pressure", "Pa", "absolute pressure", 0, 1e10), number("ambient", "Pa", "ambient pressure of the place", 0, 1e7)),
		relation("HumidityRatio.Specific", "Vapour per moist air from vapour per dry air, w/(1 + w).", number("s", "1", "kg/kg moist air", 0, 1),
			func(a []float64) float64 { return float64(HumidityRatio(a[0]).Specific()) }, number("w", "1", "kg/kg dry air", 0, 1e6)),
		relation("SpecificHumidity.Ratio", "Vapour per dry air from vapour per moist air, s/(1 − s).", number("w", "1", "kg/kg dry air", 0, 1e12),
			func(a []float64) float64 { return float64(SpecificHumidity(a[0]).Ratio()) }, number("s", "1", "kg/kg moist air", 0, 0.999999)),
		relation("Voltage.Over", "Field of a voltage across a plane gap, V/d.", unbounded("field", "V/m", "field"),
			func(a []float64) float64 { return float64(Voltage(a[0]).Over(Length(a[1]))) }, unbounded("voltage", "V", "voltage"), above0("gap", "m", "gap")),
		relation("DisplayVoltage.Field", "Field before a meter that displays field times its nominal distance, V/d0.", unbounded("field", "V/m", "field"),
			func(a []float64) float64 { return float64(DisplayVoltage(a[0]).Field(Length(a[1]))) }, unbounded("display", "V", "display"), above0("nominal", "m", "nominal distance of the meter")),
		relation("ElectricField.SurfaceCharge", "Charge per area that holds a field on one side, ε0·E.", unbounded("sigma", "C/m²", "charge per area"),
			func(a []float64) float64 { return float64(ElectricField(a[0]).SurfaceCharge()) }, unbounded("field", "V/m", "field")),
		relation("Mobility.Speed", "Drift speed of an ion, µ·E.", unbounded("speed", "m/s", "drift speed"),
			func(a []float64) float64 { return float64(Mobility(a[0]).Speed(ElectricField(a[1]))) }, unbounded("mobility", "m²/(V·s)", "mobility"), unbounded("field", "V/m", "field")),
		relation("Conductivity.Resistivity", "Reciprocal of a conductivity.", above0("resistivity", "Ω·m", "volume resistivity"),
			func(a []float64) float64 { return float64(Conductivity(a[0]).Resistivity()) }, above0("conductivity", "S/m", "conductivity")),
		relation("VolumeResistivity.Conductivity", "Reciprocal of a volume resistivity.", above0("conductivity", "S/m", "conductivity"),
			func(a []float64) float64 { return float64(VolumeResistivity(a[0]).Conductivity()) }, above0("resistivity", "Ω·m", "volume resistivity")),
		relation("VolumeResistivity.Sheet", "Surface resistivity of a layer of a material, ρ/t.", above0("sheet", "Ω", "surface resistivity"),
			func(a []float64) float64 { return float64(VolumeResistivity(a[0]).Sheet(Length(a[1]))) }, above0("resistivity", "Ω·m", "volume resistivity"), above0("thickness", "m", "thickness")),
		relation("SheetResistance.Volume", "Volume resistivity of a layer from its surface resistivity, Rs·t.", above0("resistivity", "Ω·m", "volume resistivity"),
			func(a []float64) float64 { return float64(SheetResistance(a[0]).Volume(Length(a[1]))) }, above0("sheet", "Ω", "surface resistivity"), above0("thickness", "m", "thickness")),
		relation("Capacitance.Energy", "Energy of a charged capacitance, ½·C·V².", above0("energy", "J", "energy"),
			func(a []float64) float64 { return float64(Capacitance(a[0]).Energy(Voltage(a[1]))) }, number("capacitance", "F", "capacitance", 0, 1e6), number("voltage", "V", "voltage", -1e9, 1e9)),
		relation("ForcePerWidth.Stress", "Tensile stress of a web, tension per width over thickness.", unbounded("stress", "Pa", "stress"),
			func(a []float64) float64 { return float64(ForcePerWidth(a[0]).Stress(Length(a[1]))) }, unbounded("tension", "N/m", "tension per width"), above0("thickness", "m", "thickness")),
		relation("SheetWeight", "Mass per area of a sheet, t·ρ.", unbounded("weight", "kg/m²", "mass per area"),
			func(a []float64) float64 { return float64(SheetWeight(Length(a[0]), Density(a[1]))) }, number("thickness", "m", "thickness", 0, 1e6), number("density", "kg/m³", "density", 0, 1e6)),
		relation("BasisWeight.Thickness", "Thickness of a sheet, mass per area over density.", unbounded("thickness", "m", "thickness"),
			func(a []float64) float64 { return float64(BasisWeight(a[0]).Thickness(Density(a[1]))) }, number("weight", "kg/m²", "mass per area", 0, 1e6), above0("density", "kg/m³", "density")),
		relation("ThermalVoltage", "Thermal voltage, kT/e.", unbounded("voltage", "V", "thermal voltage"),
			func(a []float64) float64 { return float64(ThermalVoltage(Temperature(a[0]))) }, number("temperature", "K", "temperature", 0, 1e6)),
	}
}
