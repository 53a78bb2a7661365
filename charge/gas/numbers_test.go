package gas

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// TestNumbers: what is written as a number, so that nothing is computed when a program starts, is what its formula
// gives.
func TestNumbers(t *testing.T) {
	if want := newAirLaw(airJoin); air != want {
		t.Errorf("law of air %+v, want %+v", air, want)
	}
	if want := uniformLin*plateauEnd + uniformRt*math.Sqrt(plateauEnd); !(math.Abs(stepVolt-want) <= 1e-15*want) {
		t.Errorf("voltage at 55 µm %v, want %v", stepVolt, want)
	}
	if want := stepVolt / plateauEnd; !(math.Abs(stepField-want) <= 1e-15*want) {
		t.Errorf("field at 55 µm %v, want %v", stepField, want)
	}
}

// TestEndless: the last region of measured voltages has no end, at any density of the air.
func TestEndless(t *testing.T) {
	for _, gap := range []float64{0.06, 0.2, 1e9, math.MaxFloat64, math.Inf(1)} {
		if l, m, h := BreakdownSpread(units.Length(gap)); l != 0.97 || m != 0.99 || h != 1.03 {
			t.Errorf("%v m: %v, %v, %v", gap, l, m, h)
		}
	}
	for _, gap := range []float64{-1, math.Inf(-1), math.NaN()} {
		if l, m, h := BreakdownSpread(units.Length(gap)); l == l || m == m || h == h {
			t.Errorf("%v m: %v, %v, %v, want NaN", gap, l, m, h)
		}
	}
	for _, delta := range []float64{0.7, 1, 4} {
		l1, m1, h1 := LeastLimits(1e-5, units.Length(math.Inf(1)), delta)
		l2, m2, h2 := LeastLimits(1e-5, 1e6, delta)
		if l1 != l2 || m1 != m2 || h1 != h2 {
			t.Errorf("δ %v: %v, %v, %v without end; %v, %v, %v up to 1,000 km", delta, l1, m1, h1, l2, m2, h2)
		}
	}
}
