package bvp

import (
	"math"
	"testing"
)

// Values of z/(eᶻ−1) by Python's decimal at 50 digits, z/(exp(z) − 1).
func TestBernoulliValues(t *testing.T) {
	for _, c := range []struct{ z, want float64 }{
		{1, 0.58197670686932642439}, {-10, 10.000454019910097089}, {1e-8, 0.99999999500000000833},
		{0.0199, 0.99008300061552439}, {0.0201, 0.98998366727330207}, {-0.5, 1.2707470412683991},
		{44.9, 1.4204439571657935e-18}, {50, 9.643749239819589e-21}, {0, 1},
	} {
		if got := Bernoulli(c.z); !(math.Abs(got-c.want) <= 4e-15*c.want) {
			t.Errorf("B(%g) = %.17g, want %.17g", c.z, got, c.want)
		}
	}
	if !math.IsNaN(Bernoulli(math.NaN())) {
		t.Error("B(NaN) is a number")
	}
}

// B(−z) = B(z) + z, and the derivative against a central difference.
func TestBernoulliIdentities(t *testing.T) {
	for z := 1e-6; z < 600; z *= 1.3 {
		if d := Bernoulli(-z) - Bernoulli(z) - z; !(math.Abs(d) <= 4e-16*math.Max(1, z)) {
			t.Errorf("B(-z)-B(z)-z = %g at %g", d, z)
		}
		if z < 40 {
			_, db := bernoulli(z)
			h := 1e-4 * math.Max(1, z)
			f := func(x float64) float64 { return Bernoulli(x) }
			num := (8*(f(z+h)-f(z-h)) - (f(z+2*h) - f(z-2*h))) / (12 * h)
			if !(math.Abs(db-num) <= 1e-10+1e-9*math.Abs(num)) {
				t.Errorf("B'(%g) = %.12g, difference quotient %.12g", z, db, num)
			}
		}
	}
}
