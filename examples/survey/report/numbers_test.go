package report

import (
	"testing"

	"example.org/pithball/units"
)

// TestUpTo: a speed that may not be exceeded is rounded down, by hand: 187.9 m/min is 616.5 ft/min.
func TestUpTo(t *testing.T) {
	v := 187.9 * units.MetrePerMinute
	if m, ft := upTo(v, units.Metric), upTo(v, units.US); m != "180 m/min" || ft != "610 ft/min" {
		t.Error(m, ft)
	}
}

// TestFewVolts: the last digit of a display is 10 V: a prediction of −3 V (−31 … 24) is nothing, and not "−0.0031 kV".
func TestFewVolts(t *testing.T) {
	for _, c := range []struct {
		band [3]float64
		want string
	}{
		{[3]float64{-31, -3.1, 24}, "0 (−0.03 … 0.02) kV"},
		{[3]float64{-310, -31, 240}, "−0.03 (−0.31 … 0.24) kV"},
		{[3]float64{1100, 1234, 1300}, "1.2 (1.1 … 1.3) kV"},
	} {
		if got := (&readingGroup{Band: c.band}).predicted(); got != c.want {
			t.Errorf("%v: %q, want %q", c.band, got, c.want)
		}
	}
}
