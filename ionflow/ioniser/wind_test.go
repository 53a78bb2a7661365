package ioniser

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// TestCrossWindByHand: air of 2 m/s carries ions of 1.5e-4 m²/(V·s) aside by d·u/(μσ/ε0) on their way to a web that
// draws them by its own field alone: 1.38361 mm over 58.6 mm at 5 µC/m², 0.019676 of the zone 1.2·d, which takes
// 1 − 1/(1 + (2·0.019676)²) = 0.15 % of the current; 59.0279 mm over 50 mm at 0.1 µC/m², 0.983799 of the zone, which
// leaves 1/(1 + 1.967598²) = 0.205278. Half of the wind is half of the way.
func TestCrossWindByHand(t *testing.T) {
	for _, c := range []struct{ d, sigma, wind, left float64 }{
		{0.0586, 5e-6, 2, 1 / (1 + 4*0.019676*0.019676)},
		{0.05, 0.1e-6, 2, 0.205278},
		{0.05, -0.1e-6, 2, 0.205278},
		{0.05, 0.1e-6, 1, 1 / (1 + 0.983799*0.983799)},
		{0.05, 0.1e-6, 0, 1},
	} {
		r := &row{d: c.d, wind: c.wind, slower: 1.5e-4}
		if got := r.calm(c.sigma / units.Epsilon0 * c.d); !(math.Abs(got-c.left) <= 2e-6) {
			t.Errorf("%g m, %g C/m², %g m/s: %v of the current, by hand %v", c.d, c.sigma, c.wind, got, c.left)
		}
	}
}
