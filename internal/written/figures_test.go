package written_test

import (
	"math"
	"testing"

	"example.org/pithball/internal/written"
)

// TestFigure: figures rounded by hand.
func TestFigure(t *testing.T) {
	for _, c := range []struct {
		x    float64
		n    int
		want string
	}{
		{184.4, 2, "180"}, {184.4, 3, "184"}, {9.96, 2, "10"}, {-9.94, 2, "−9.9"}, {0.996, 2, "1.0"}, {5.5, 3, "5.50"},
		{0, 2, "0"}, {1e-9, 1, "0.000000001"}, {12345678, 2, "12000000"}, {math.NaN(), 2, "–"}, {99.6, 2, "100"},
		{math.Inf(1), 2, "+Inf"},
	} {
		if got := written.Figure(c.x, c.n); got != c.want {
			t.Errorf("%v with %d: %q, want %q", c.x, c.n, got, c.want)
		}
	}
}

// TestBand: by hand. Half of 0.59 … 3.6 is 1.5, its second digit a tenth: 0.59 is 0.6; half of 591 … 7000 is 3204, its
// second digit a hundred: 4432 is 4400 and 591 is 600. A narrow band leaves two figures of what it is about.
func TestBand(t *testing.T) {
	for _, c := range []struct {
		x    [3]float64
		want [3]string
	}{
		{[3]float64{0.59, 2.14, 3.6}, [3]string{"0.6", "2.1", "3.6"}},
		{[3]float64{591, 4432, 7000}, [3]string{"600", "4400", "7000"}},
		{[3]float64{0, 0.0062, 0.050}, [3]string{"0", "0.006", "0.050"}},
		{[3]float64{-7.2, -0.81, 0.764}, [3]string{"−7.2", "−0.8", "0.8"}},
		{[3]float64{-0.21, 6.8, 18.2}, [3]string{"−0.2", "6.8", "18"}},
		{[3]float64{1.23, 1.234, 1.239}, [3]string{"1.2", "1.2", "1.2"}},
		{[3]float64{-31, 0.3, 24}, [3]string{"−31", "0", "24"}},
		{[3]float64{-0.004, 5, 9.96}, [3]string{"0", "5.0", "10"}},
		{[3]float64{5, 5, 5}, [3]string{"5.0", "5.0", "5.0"}},
		{[3]float64{math.NaN(), math.NaN(), math.NaN()}, [3]string{"–", "–", "–"}},
	} {
		l, m, h := written.Band(c.x[0], c.x[1], c.x[2])
		if got := [3]string{l, m, h}; got != c.want {
			t.Errorf("%v: %q, want %q", c.x, got, c.want)
		}
	}
}

// TestBandTo: a display of tens of volts has no single ones.
func TestBandTo(t *testing.T) {
	if l, m, h := written.BandTo(10, -31, -3.1, 24); l != "−30" || m != "0" || h != "20" {
		t.Error(l, m, h)
	}
}

func TestShort(t *testing.T) {
	for x, want := range map[float64]string{110.00000000000001: "110", 12000: "12000", 17.5: "17.5", 0: "0",
		1.06251: "1.063",
		100:     "100"} {
		if got := written.Short(x, 4); got != want {
			t.Errorf("%v: %q, want %q", x, got, want)
		}
	}
}

func TestRound(t *testing.T) {
	for x, want := range map[float64]float64{3.64e9: 3.6e9, 0: 0, -0.0155: -0.016, 99.6: 100} {
		if got := written.Round(x, 2); !(math.Abs(got-want) <= 1e-12*math.Abs(want)) {
			t.Errorf("%v: %v, want %v", x, got, want)
		}
	}
}

func TestWithin(t *testing.T) {
	for _, c := range []struct {
		x, e float64
		want string
	}{{5.497, 1.43, "5.5 ± 1.4"}, {-0.4, 0.05, "−0.400 ± 0.050"}, {2.43, 0.8, "2.43 ± 0.80"}, {12345, 210, "12350 ± 210"},
		{0.2, 14, "0 ± 14"}, {7, 0, "7.00 ± 0"}} {
		if got := written.Within(c.x, c.e); got != c.want {
			t.Errorf("%v ± %v: %q, want %q", c.x, c.e, got, c.want)
		}
	}
}

// TestDown: never more than what was given, by hand.
func TestDown(t *testing.T) {
	for x, want := range map[float64]float64{4432: 4400, 591: 590, 3609: 3600, 0.29: 0.29, 0.299: 0.29, 1.99: 1.9,
		100: 100, 99.9: 99, 0: 0} {
		if got := written.Down(x); got != want {
			t.Errorf("%v: %v, want %v", x, got, want)
		}
	}
}

// TestRate: by hand: 5068.6 an hour of what goes at 12 000 is 5000; 17.64 a minute of what goes at 60 is 17, where the
// hour would give 1000, 16.7 a minute. From 6000 an hour on the shop counts by the hour.
func TestRate(t *testing.T) {
	if got := written.Rate(5068.6/3600, 12000.0/3600) * 3600; !(math.Abs(got-5000) <= 1e-9) {
		t.Errorf("%v an hour", got)
	}
	if got := written.Rate(17.64/60, 1) * 60; !(math.Abs(got-17) <= 1e-12) {
		t.Errorf("%v a minute", got)
	}
	if written.Hourly(99.0/60) || !written.Hourly(100.0/60) {
		t.Error("6000 an hour are counted by the hour, 5940 are not")
	}
}

func TestPlus(t *testing.T) {
	for s, want := range map[string]string{"1.2": "+1.2", "0": "0", "−1": "−1", "–": "–"} {
		if got := written.Plus(s); got != want {
			t.Errorf("%q: %q, want %q", s, got, want)
		}
	}
}
