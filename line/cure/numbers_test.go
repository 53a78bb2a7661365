package cure

import (
	"math"
	"testing"

	"example.org/pithball/units/known"
)

// TestNumbers: bands that are written as numbers have the limits that their comments name.
func TestNumbers(t *testing.T) {
	for _, c := range []struct {
		what      string
		b         known.Band
		low, high float64
	}{
		{"swap", swap, 0.1, 1.5},
		{"recombination", recombination, 1.6e-12 / math.Sqrt(2.3/1.3), 1.6e-12 * math.Sqrt(2.3/1.3)},
	} {
		if lo, hi := c.b.Limits(); !(math.Abs(lo/c.low-1) <= 1e-14) || !(math.Abs(hi/c.high-1) <= 1e-14) {
			t.Errorf("%s from %v to %v, want %v to %v", c.what, lo, hi, c.low, c.high)
		}
	}
}
