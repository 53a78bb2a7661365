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
	brochure := known.Source{Provenance: known.Definition, Cite: "BIPM, SI Brochure, 9th edition, 2019",
		Note: "definition of the quantities"}
	return []compute.Entry{
		compute.Of11("Celsius", Celsius, brochure, "t [°C] -273.15…1e6: temperature -> temperature: absolute"),
		compute.Of11("Fahrenheit", Fahrenheit, brochure, "t [°F] -459.67…1e6: temperature -> temperature: absolute"),
		compute.Of11("Temperature.Celsius", Temperature.Celsius, brochure,
			"temperature 0…1e6: absolute -> t [°C]: temperature"),
		compute.Of11("Temperature.Fahrenheit", Temperature.Fahrenheit, brochure,
			"temperature 0…1e6: absolute -> t [°F]: temperature"),
		compute.Of21("Temperature.Sub", Temperature.Sub, brochure, "a 0…1e6: one; b 0…1e6: other -> difference: a − b"),
		compute.Of21("Temperature.Add", Temperature.Add, brochure,
			"a 0…1e6: temperature; d -1e6…1e6: difference -> temperature: a + d"),
		compute.Of21("GaugePressure.Absolute", GaugePressure.Absolute, brochure,
			"gauge -1e6…1e10: gauge pressure; ambient 0…1e7: of the place -> pressure: absolute"),
		compute.Of21("Pressure.Gauge", Pressure.Gauge, brochure, "pressure 0…1e10: absolute; ambient 0…1e7: of the "+
			"place -> gauge: gauge "+
			"pressure"),
		compute.Of11("HumidityRatio.Specific", HumidityRatio.Specific, brochure,
			"w 0…1e6: per mass of dry air -> s: per mass of moist air"),
		compute.Of11("SpecificHumidity.Ratio", SpecificHumidity.Ratio, brochure,
			"s 0…0.999999: per mass of moist air -> w: per mass of dry air"),
		compute.Of21("Voltage.Over", Voltage.Over, brochure, "voltage"+wide+": V; gap"+positive+": d -> field: E"),
		compute.Of21("DisplayVoltage.Field", DisplayVoltage.Field, brochure,
			"display"+wide+": as shown; nominal"+positive+": distance of the meter -> field: E"),
		compute.Of11("ElectricField.SurfaceCharge", ElectricField.SurfaceCharge, brochure,
			"field"+wide+": E -> sigma: charge per area"),
		compute.Of21("Mobility.Speed", Mobility.Speed, brochure,
			"mobility"+wide+": µ; field"+wide+": E -> speed: drift speed"),
		compute.Of11("Conductivity.Resistivity", Conductivity.Resistivity, brochure,
			"conductivity"+positive+": κ -> resistivity: ρ"),
		compute.Of11("VolumeResistivity.Conductivity", VolumeResistivity.Conductivity, brochure,
			"resistivity"+positive+": ρ -> conductivity: κ"),
		compute.Of21("VolumeResistivity.Sheet", VolumeResistivity.Sheet, brochure,
			"resistivity"+positive+": ρ; thickness"+positive+": t -> sheet: surface resistivity"),
		compute.Of21("SheetResistance.Volume", SheetResistance.Volume, brochure,
			"sheet"+positive+": surface resistivity; thickness"+positive+": t -> resistivity: ρ"),
		compute.Of21("Capacitance.Energy", Capacitance.Energy, brochure,
			"capacitance 0…1e6: C; voltage -1e9…1e9: V -> energy: W"),
		compute.Of21("ForcePerWidth.Stress", ForcePerWidth.Stress, brochure,
			"tension"+wide+": per width; thickness"+positive+": t -> stress: tensile"),
		compute.Of21("SheetWeight", SheetWeight, brochure, "thickness 0…1e6: t; density 0…1e6: ρ -> weight: mass per area"),
		compute.Of21("BasisWeight.Thickness", BasisWeight.Thickness, brochure,
			"weight 0…1e6: mass per area; density"+positive+": ρ -> thickness: t"),
		compute.Of21("Pressure.RelativeDensity", Pressure.RelativeDensity, brochure,
			"pressure 0…1e7: absolute; temperature 1…2000: of the air -> density: relative to 20 °C and 101.325 kPa"),
		compute.Of21("SurfaceChargeDensity.Current", SurfaceChargeDensity.Current, brochure,
			"sigma"+wide+": charge per area; speed"+wide+": of the web -> current: per width"),
		compute.Of11("ThermalVoltage", ThermalVoltage, brochure, "temperature 0…1e6: absolute -> voltage: kT/e"),
	}
}
