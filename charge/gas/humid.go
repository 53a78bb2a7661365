package gas

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

var kuffel = known.Source{Provenance: known.Quoted,
	Cite: "E. Kuffel (1961), increase of the breakdown voltage of air with humidity",
	Via:  "a public collection of digitised breakdown data",
	Note: "0.19 to 0.28 % per mmHg of vapour for gaps of 0.5 to 3 cm at 20 °C"}

// HumiditySlope returns how much water vapour strengthens a uniform gap, per mass
// of vapour in a volume of air and relative to dry air, with its spread:
//
//	s = 0.00225 m³/g · (gap/1 cm)^0.2
//
// fitted to 0.191, 0.222, 0.270, 0.276 and 0.271 % per mmHg at 0.51, 1.02, 2.00, 2.52
// and 3.03 cm and 20 °C, where 1 mmHg of vapour is 0.985 g/m³; the fit departs from
// them by up to 6 %. Outside 0.5 to 3 cm it is extrapolated and flagged, with a
// spread of a factor of 2 (5 … 95 %). NaN for a gap that is not above 0.
func HumiditySlope(gap units.Length) (known.Band, known.Validity) { // [m³/kg]
	d := float64(gap)
	if !(d > 0) || math.IsInf(d, 1) {
		return known.Band{Value: math.NaN()}, known.WrongShape
	}
	b := known.Band{Value: 2.25 * numeric.Pow(d/0.01, 0.2), Kind: known.LogNormal}
	v := known.Inside
	switch {
	case d < 4.9e-3:
		v = known.BelowRange
	case d > 31e-3:
		v = known.AboveRange
	}
	if b.Spread = 0.05; v != known.Inside { // ln, 5 … 95 % is ±8 %
		b.Spread = math.Ln2 / known.Z95
	}
	return b, v
}

// HumidityFactor returns the factor by which water vapour of the density h changes
// the breakdown voltage of a uniform gap relative to 8.5 g/m³, for which the
// sphere-gap tables stand: (1 + s·h)/(1 + s·8.5 g/m³) with [HumiditySlope]. Moist
// air is a little stronger, by 2 % from 3 to 13 g/m³ at 1 cm: humidity acts on what
// contact makes and what the surface leaks, hardly on the gas. Above 20 g/m³ it is
// extrapolated and flagged. NaN unless gap > 0 and h ≥ 0.
func HumidityFactor(gap units.Length, h units.VapourDensity) (float64, known.Validity) { // [1]
	s, v := HumiditySlope(gap)
	if !(h >= 0) || math.IsInf(float64(h), 1) {
		return math.NaN(), known.WrongShape
	}
	if float64(h) > 0.020 {
		v |= known.AboveRange
	}
	return (1 + s.Value*float64(h)) / (1 + s.Value*0.0085), v
}
