// Package units has the physical quantities of pithball as named float64 types
// in coherent SI units, so that a length cannot be passed for a speed, a sheet
// resistance for a resistance, or a temperature for a temperature difference:
//
//	gap := 25 * units.Millimetre
//	v := 220 * units.MetrePerMinute
//	t := units.Celsius(23) // a function: 23 °C is no multiple of anything
//
// Every type prints itself with its unit (String), writes and reads the same
// text (AppendText, MarshalText, UnmarshalText: hence JSON strings and flags),
// and parses the closed table of accepted spellings ([Parse], [Spellings]).
// The text of a value parses back to the same bits. A number without its unit,
// an unknown unit, NaN and Inf are errors, never a guess.
//
// Products that physics names are written out at the place that needs them,
// with float64 conversions inside one commented expression.
package units

//go:generate go run ./internal/gen

// Quantity is satisfied by every quantity type of this package.
type Quantity interface {
	~float64
	kind() *kind
}
