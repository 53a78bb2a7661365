// Package units has the physical quantities of pithball as named float64 types
// in coherent SI units, so that a length cannot be passed for a speed, a sheet
// resistance for a resistance, or a temperature for a temperature difference:
//
//	gap := 25 * units.Millimetre
//	v := 220 * units.MetrePerMinute
//	t := units.Celsius(23) // a function: 23 °C is no multiple of anything
//	e, err := units.Parse[units.ElectricField]("30 kV/in")
//
// # Call first
//
//	Parse, Of          a text, or a number and a unit, to a quantity
//	String, Text, JSON a quantity to a text that reads back to the same bits
//	Format, In         a quantity in a unit of your choice, for reports
//	Display, ShopUnit  the same in the metric or inch-pound unit of the shop
//	Spellings          what Parse accepts for a type; Catalogue: for all types
//
// # Kinds that must not mix
//
// Types stand for meanings, not only for dimensions. Where the shop has one
// word for two things, there are two types, and the text says which:
//
//	Resistance Ω, SheetResistance Ω/sq, VolumeResistivity Ω·m,
//	    AreaResistance Ω·m², MassResistivity Ω·kg/m²
//	Temperature and TemperatureDifference (10 °F apart is 5.6 K, not −12 °C)
//	Pressure and GaugePressure; Absolute wants the local ambient
//	VolumeFlow (actual) and StandardFlow, an amount of gas with a named
//	    reference state: scfm without a state is up to 3 % uncertain
//	RelativeHumidity over water and RelativeHumidityIce
//	HumidityRatio (dry air), SpecificHumidity (moist air), VapourDensity (volume)
//	Voltage and DisplayVoltage, the "kV" of a field meter at its distance
//
// Multiplication keeps the type of a factor, so products that physics names are
// methods (Voltage.Over, Mobility.Speed, Capacitance.Energy), and all others are
// written out at their place, in float64 inside one commented expression. NaN in
// gives NaN out.
//
// # Text
//
// Every type prints itself with its unit (String), writes and reads the same
// text (AppendText, MarshalText, UnmarshalText: hence JSON strings and
// flag.TextVar). The text is the shortest that parses back to the same bits:
// the decimal point of the shortest digits is shifted to an engineering prefix,
// nothing is multiplied. Beyond the prefixes it has an exponent, "1e15 Ω·m".
// Temperatures print in °C where 17 digits suffice, else in K.
//
// The table of accepted units is closed: shop, SI and UCUM spellings, no free
// product of prefix and unit. A number without its unit, an unknown unit, NaN,
// Inf, a decimal comma and a guess are errors ([ParseError]), with the nearest
// spellings. Factors are exact integers (NIST SP 811:2008; 1 in = 25.4 mm, 1 lb =
// 0.45359237 kg, g0 = 9.80665 m/s²), and each reading or conversion rounds once.
// Every unit is compared with two independent collections of units; both disagree
// on known grounds with conventional mercury, the eV or water at 4 °C only.
//
// Mercury and water columns are conventional (13595.1 and 1000 kg/m³) unless
// the unit says "(4°C)" or "(60°F)". Film gauge is 0.01 mil. A ream weight is
// named with its grade ("20 lb bond"), never alone.
//
// # Constants
//
// e, k, N_A, R and F are exact by the SI of 2019; [Epsilon0] is that of CODATA
// 2022, and [VacuumPermittivity] has the older editions. [CODATA] is the text for
// reports.
//
// Neither reading nor appending allocates. Values are plain numbers: any number
// of goroutines may use them.
package units

//go:generate go run ./internal/gen

// Quantity is satisfied by every quantity type of this package but
// [StandardFlow], which carries its reference state.
type Quantity interface {
	~float64
	kind() *kind
}
