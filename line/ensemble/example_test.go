package ensemble_test

import (
	"fmt"

	"example.org/pithball/line"
	"example.org/pithball/line/ensemble"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// A contact that nobody measured better than by a factor of two, a second to the winder, and
// a bar: how often does more than 3 µC/m² arrive? (Invented numbers.)
func Example() {
	lines, err := ensemble.New(&ensemble.Spec{Leak: &ensemble.Leak{Time: 20 * units.Second}, Steps: []ensemble.Step{
		{Contact: &ensemble.Contact{Face: line.FaceA, Exposure: known.Band{Value: 1},
			Saturation: known.Band{Value: 8e-6, Spread: 0.42, Kind: known.LogNormal}}},
		{Way: units.Second},
		{Ioniser: &ensemble.Ioniser{Face: line.FaceA, Share: 0.8, Most: 10 * units.MicrocoulombPerSquareMetre}}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := lines.Run(1_000_000, 1, 3*units.MicrocoulombPerSquareMetre, 0.05, 0.5, 0.95)
	if err != nil {
		fmt.Println(err)
		return
	}
	q := s.Quantiles[2]
	fmt.Printf("%.2f … %.2f … %.2f µC/m², over in %.2g of a million\n", 1e6*q[0], 1e6*q[1], 1e6*q[2], 1e6*s.Over[2])
	// By hand: the bar takes 10 µC/m² at most, so that more than 13 must come; the median that comes
	// is 8·(1 − 1/e)·e^(−1/20) = 4.81, and ln(13/4.81)/0.42 = 2.37 standard deviations are 8.9e3 of a million.
	// Output: 0.48 … 0.96 … 1.92 µC/m², over in 8.8e+03 of a million
}
