package units_test

import (
	"fmt"

	"example.org/pithball/units"
)

// show reads a text as a quantity, prints it, and prints it in another unit.
func show[T units.Quantity](text, unit string, digits int) {
	q, err := units.Parse[T](text)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := units.Format(q, unit, digits)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s is %s\n", text, s)
}

func ExampleLength() {
	show[units.Length]("3 in", "mm", 3) // 3 × 25.4 mm
	// Output: 3 in is 76.2 mm
}

func ExampleArea() {
	show[units.Area]("10 ft²", "m²", 7) // 10 × 0.3048² m²
	// Output: 10 ft² is 0.9290304 m²
}

func ExampleVolume() {
	show[units.Volume]("2 ft³", "L", 4) // 2 × 28.316846592 L
	// Output: 2 ft³ is 56.63 L
}

func ExampleTime() {
	show[units.Time]("1.5 h", "min", 2) // 90 min
	// Output: 1.5 h is 90 min
}

func ExampleFrequency() {
	show[units.Frequency]("1200 rpm", "Hz", 2) // 1200/60
	// Output: 1200 rpm is 20 Hz
}

func ExampleSpeed() {
	show[units.Speed]("1000 ft/min", "m/min", 4) // 1000 × 0.3048
	// Output: 1000 ft/min is 304.8 m/min
}

func ExampleAcceleration() {
	show[units.Acceleration]("2 gn", "m/s²", 5) // 2 × 9.80665
	// Output: 2 gn is 19.613 m/s²
}

func ExampleMass() {
	show[units.Mass]("1 lb", "gr", 4) // a pound has 7000 grains
	// Output: 1 lb is 7000 gr
}

func ExampleForce() {
	show[units.Force]("10 kgf", "N", 6) // 10 × 9.80665
	// Output: 10 kgf is 98.0665 N
}

func ExampleForcePerWidth() {
	show[units.ForcePerWidth]("2 pli", "N/m", 4) // 2 × 175.1268
	// Output: 2 pli is 350.3 N/m
}

func ExamplePressure() {
	show[units.Pressure]("29.92 inHg", "kPa", 4) // 29.92 × 3.386389
	// Output: 29.92 inHg is 101.3 kPa
}

func ExampleGaugePressure() {
	show[units.GaugePressure]("30 psig", "bar(g)", 4) // 30 × 0.06894757
	// Output: 30 psig is 2.068 bar(g)
}

func ExampleTemperature() {
	show[units.Temperature]("68 °F", "°C", 3) // (68 − 32)/1.8
	// Output: 68 °F is 20.0 °C
}

func ExampleTemperatureDifference() {
	show[units.TemperatureDifference]("18 Δ°F", "K", 3) // 18/1.8, no offset
	// Output: 18 Δ°F is 10.0 K
}

func ExampleVoltage() {
	show[units.Voltage]("8 kV", "V", 4)
	// Output: 8 kV is 8000 V
}

func ExampleDisplayVoltage() {
	show[units.DisplayVoltage]("-8.2 kV", "V(display)", 4) // what the meter shows, no voltage of the web
	// Output: -8.2 kV is -8200 V(display)
}

func ExampleElectricField() {
	show[units.ElectricField]("30 kV/cm", "kV/in", 3) // 30 × 2.54
	// Output: 30 kV/cm is 76.2 kV/in
}

func ExampleCharge() {
	show[units.Charge]("150 nC", "µC", 2)
	// Output: 150 nC is 0.15 µC
}

func ExampleSurfaceChargeDensity() {
	show[units.SurfaceChargeDensity]("1 nC/cm²", "µC/m²", 2) // 1 cm² is 1e-4 m²
	// Output: 1 nC/cm² is 10 µC/m²
}

func ExampleLineChargeDensity() {
	show[units.LineChargeDensity]("2 nC/cm", "µC/m", 1)
	// Output: 2 nC/cm is 0.2 µC/m
}

func ExampleVolumeChargeDensity() {
	show[units.VolumeChargeDensity]("3 nC/L", "µC/m³", 1)
	// Output: 3 nC/L is 3 µC/m³
}

func ExampleChargePerMass() {
	show[units.ChargePerMass]("5 nC/g", "µC/kg", 1)
	// Output: 5 nC/g is 5 µC/kg
}

func ExampleCurrent() {
	show[units.Current]("20 µA", "mA", 1)
	// Output: 20 µA is 0.02 mA
}

func ExampleLineCurrent() {
	show[units.LineCurrent]("30 µA/ft", "µA/m", 3) // 30/0.3048
	// Output: 30 µA/ft is 98.4 µA/m
}

func ExampleCurrentDensity() {
	show[units.CurrentDensity]("1 nA/cm²", "µA/m²", 2)
	// Output: 1 nA/cm² is 10 µA/m²
}

func ExampleCapacitance() {
	show[units.Capacitance]("150 pF", "nF", 2)
	// Output: 150 pF is 0.15 nF
}

func ExampleResistance() {
	show[units.Resistance]("10 GΩ", "MΩ", 5)
	// Output: 10 GΩ is 10000 MΩ
}

func ExampleSheetResistance() {
	show[units.SheetResistance]("1e12 Ω/sq", "TΩ/sq", 1)
	// Output: 1e12 Ω/sq is 1 TΩ/sq
}

func ExampleVolumeResistivity() {
	show[units.VolumeResistivity]("1e14 Ω·cm", "TΩ·m", 1) // 1e14/100
	// Output: 1e14 Ω·cm is 1 TΩ·m
}

func ExampleAreaResistance() {
	show[units.AreaResistance]("1 kΩ·cm²", "Ω·m²", 1) // 1000 × 1e-4
	// Output: 1 kΩ·cm² is 0.1 Ω·m²
}

func ExampleMassResistivity() {
	show[units.MassResistivity]("1 Ω·g/cm²", "Ω·kg/m²", 2) // 1e-3/1e-4
	// Output: 1 Ω·g/cm² is 10 Ω·kg/m²
}

func ExampleConductivity() {
	show[units.Conductivity]("50 pS/m", "nS/m", 1)
	// Output: 50 pS/m is 0.05 nS/m
}

func ExampleEnergy() {
	show[units.Energy]("4.5 eV", "J", 3) // 4.5 × 1.602e-19
	// Output: 4.5 eV is 7.21e-19 J
}

func ExamplePower() {
	show[units.Power]("2 kW", "Btu/h", 4) // 2000 × 3600/1055.056
	// Output: 2 kW is 6824 Btu/h
}

func ExampleEnergyPerMass() {
	show[units.EnergyPerMass]("1 kWh/kg", "kJ/kg", 4)
	// Output: 1 kWh/kg is 3600 kJ/kg
}

func ExampleEnergyPerArea() {
	show[units.EnergyPerArea]("38 dyn/cm", "mJ/m²", 2) // 1 dyn/cm is 1 mJ/m²
	// Output: 38 dyn/cm is 38 mJ/m²
}

func ExampleViscosity() {
	show[units.Viscosity]("1 cP", "mPa·s", 1)
	// Output: 1 cP is 1 mPa·s
}

func ExampleMobility() {
	show[units.Mobility]("1.4 cm²/(V·s)", "m²/(V·s)", 2)
	// Output: 1.4 cm²/(V·s) is 0.00014 m²/(V·s)
}

func ExampleDiffusivity() {
	show[units.Diffusivity]("0.25 cm²/s", "mm²/s", 2)
	// Output: 0.25 cm²/s is 25 mm²/s
}

func ExampleNumberDensity() {
	show[units.NumberDensity]("1e6 1/cm³", "1/m³", 1)
	// Output: 1e6 1/cm³ is 1e12 1/m³
}

func ExampleRecombinationCoefficient() {
	show[units.RecombinationCoefficient]("1.6e-6 cm³/s", "m³/s", 2)
	// Output: 1.6e-6 cm³/s is 1.6e-12 m³/s
}

func ExampleRelativeHumidity() {
	show[units.RelativeHumidity]("45 %", "%RH", 2) // over liquid water
	// Output: 45 % is 45 %RH
}

func ExampleRelativeHumidityIce() {
	show[units.RelativeHumidityIce]("110 %RHi", "%RH(ice)", 3) // supersaturated air is no error
	// Output: 110 %RHi is 110 %RH(ice)
}

func ExampleHumidityRatio() {
	show[units.HumidityRatio]("7 g/kg", "gr/lb", 2) // 7 × 7
	// Output: 7 g/kg is 49 gr/lb
}

func ExampleSpecificHumidity() {
	show[units.SpecificHumidity]("7 g/kg(moist)", "gr/lb(moist)", 2) // 7 × 7
	// Output: 7 g/kg(moist) is 49 gr/lb(moist)
}

func ExampleVapourDensity() {
	show[units.VapourDensity]("4 gr/ft³", "g/m³", 3) // 4 × 2.288352
	// Output: 4 gr/ft³ is 9.15 g/m³
}

func ExampleDensity() {
	show[units.Density]("1.4 g/cm³", "kg/m³", 4)
	// Output: 1.4 g/cm³ is 1400 kg/m³
}

func ExampleBasisWeight() {
	show[units.BasisWeight]("20 lb bond", "g/m²", 3) // 20 lb a ream of 500 sheets of 17 × 22 in
	// Output: 20 lb bond is 75.2 g/m²
}

func ExampleMassFlow() {
	show[units.MassFlow]("10 lb/h", "kg/h", 5) // 10 × 0.45359237
	// Output: 10 lb/h is 4.5359 kg/h
}

func ExampleMolarFlow() {
	show[units.MolarFlow]("3600 mol/h", "mol/s", 1)
	// Output: 3600 mol/h is 1 mol/s
}

func ExampleVolumeFlow() {
	show[units.VolumeFlow]("100 cfm", "m³/h", 4) // 100 × 1.699011
	// Output: 100 cfm is 169.9 m³/h
}

func ExampleAngle() {
	show[units.Angle]("180 °", "rad", 4)
	// Output: 180 ° is 3.142 rad
}

func ExampleRatio() {
	show[units.Ratio]("25 %", "ppm", 3)
	// Output: 25 % is 250000 ppm
}
