package decay_test

import (
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

// TestExponentialRate: −e^(−t/τ)/τ by hand: with τ = 2 s −1/2 at once and −1/(2·e) after 2 s,
// 0 before t = 0.
func TestExponentialRate(t *testing.T) {
	l, err := decay.NewExponential(2)
	if err != nil {
		t.Fatal(err)
	}
	for at, want := range map[units.Time]float64{0: -0.5, 2: -0.18393972058572117, 4: -0.06766764161830635, -1e-9: 0} {
		if got := l.Rate(at); !(math.Abs(got-want) <= 1e-15) {
			t.Errorf("%v: %v, want %v", at, got, want)
		}
	}
	if got := l.Rate(units.Time(math.NaN())); !math.IsNaN(got) {
		t.Errorf("NaN: %v", got)
	}
}
