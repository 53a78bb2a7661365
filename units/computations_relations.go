package units

import (
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// wide and positive are the ranges of arguments that know no other.
const (
	wide     = " -1e150…1e150"
	positive = " 1e-150…1e150"
)

// relations are the named relations between quantities.
func relations() []compute.Entry {
	of := func(name string, f any, items ...string) compute.Entry {
		return compute.Of(name, f, known.Source{Provenance: known.Definition,
			Cite: "BIPM, SI Brochure, 9th edition, 2019", Note: "definition of the quantities"}, items...)
	}
	return []compute.Entry{
		of("Celsius", Celsius, "t [°C] -273.15…1e6: temperature -> temperature: absolute"),
		of("Fahrenheit", Fahrenheit, "t [°F] -459.67…1e6: temperature -> temperature: absolute"),
		of("Temperature.Celsius", Temperature.Celsius, "temperature 0…1e6: absolute -> t [°C]: temperature"),
		of("Temperature.Fahrenheit", Temperature.Fahrenheit, "temperature 0…1e6: absolute -> t [°F]: temperature"),
		of("Temperature.Sub", Temperature.Sub, "a 0…1e6: one; b 0…1e6: other -> difference: a − b"),
		of("Temperature.Add", Temperature.Add, "a 0…1e6: temperature; d -1e6…1e6: difference -> temperature: a + d"),
		of("GaugePressure.Absolute", GaugePressure.Absolute,
			"gauge -1e6…1e10: gauge pressure; ambient 0…1e7: of the place -> pressure: absolute"),
		of("Pressure.Gauge", Pressure.Gauge, "pressure 0…1e10: absolute; ambient 0…1e7: of the place -> gauge: gauge "+
			"pressure"),
		of("HumidityRatio.Specific", HumidityRatio.Specific, "w 0…1e6: per mass of dry air -> s: per mass of moist air"),
		of("SpecificHumidity.Ratio", SpecificHumidity.Ratio, "s 0…0.999999: per mass of moist air -> w: per mass of dry air"),
		of("Voltage.Over", Voltage.Over, "voltage"+wide+": V; gap"+positive+": d -> field: E"),
		of("DisplayVoltage.Field", DisplayVoltage.Field,
			"display"+wide+": as shown; nominal"+positive+": distance of the meter -> field: E"),
		of("ElectricField.SurfaceCharge", ElectricField.SurfaceCharge, "field"+wide+": E -> sigma: charge per area"),
		of("Mobility.Speed", Mobility.Speed, "mobility"+wide+": µ; field"+wide+": E -> speed: drift speed"),
		of("Conductivity.Resistivity", Conductivity.Resistivity, "conductivity"+positive+": κ -> resistivity: ρ"),
		of("VolumeResistivity.Conductivity", VolumeResistivity.Conductivity, "resistivity"+positive+": ρ -> conductivity: κ"),
		of("VolumeResistivity.Sheet", VolumeResistivity.Sheet,
			"resistivity"+positive+": ρ; thickness"+positive+": t -> sheet: surface resistivity"),
		of("SheetResistance.Volume", SheetResistance.Volume,
			"sheet"+positive+": surface resistivity; thickness"+positive+": t -> resistivity: ρ"),
		of("Capacitance.Energy", Capacitance.Energy, "capacitance 0…1e6: C; voltage -1e9…1e9: V -> energy: W"),
		of("ForcePerWidth.Stress", ForcePerWidth.Stress,
			"tension"+wide+": per width; thickness"+positive+": t -> stress: tensile"),
		of("SheetWeight", SheetWeight, "thickness 0…1e6: t; density 0…1e6: ρ -> weight: mass per area"),
		of("BasisWeight.Thickness", BasisWeight.Thickness,
			"weight 0…1e6: mass per area; density"+positive+": ρ -> thickness: t"),
		of("Pressure.RelativeDensity", Pressure.RelativeDensity,
			"pressure 0…1e7: absolute; temperature 1…2000: of the air -> density: relative to 20 °C and 101.325 kPa"),
		of("SurfaceChargeDensity.Current", SurfaceChargeDensity.Current,
			"sigma"+wide+": charge per area; speed"+wide+": of the web -> current: per width"),
		of("ThermalVoltage", ThermalVoltage, "temperature 0…1e6: absolute -> voltage: kT/e"),
	}
}
