package charge

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Against package math over the range that a contact uses.
func TestPowerKernels(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 1))
	for range 200000 {
		x := math.Exp(60 * (2*r.Float64() - 1))
		if r.IntN(2) == 0 {
			x = 1 + 0.5*(r.Float64()-0.5)
		}
		if got, want := ln(x), math.Log(x); !(math.Abs(got-want) <= 3e-16*(1+math.Abs(want))) {
			t.Fatalf("ln(%g) = %.17g, want %.17g", x, got, want)
		}
		a, b, y := 3*r.Float64()-1, 3*r.Float64()-1, math.Exp(20*(2*r.Float64()-1))
		e := a*(math.Log(x)-0.7) + b*(math.Log(y)-2)
		if got, want := power(a, x, 0.7, b, y, 2), math.Exp(e); !(math.Abs(got/want-1) <= 1e-15*(2+math.Abs(e)+60)) {
			t.Fatalf("power(%g, %g, %g, %g) = %.17g, want %.17g", a, x, b, y, got, want)
		}
	}
	// Within a factor of 10 it holds 1e-15, as its comment says.
	for range 200000 {
		x := math.Exp(math.Ln10 * (2*r.Float64() - 1))
		if got, want := power(1, x, 0, 0, 2, 0), x; !(math.Abs(got/want-1) <= 1e-15) {
			t.Fatalf("power(1, %g) = %.17g", x, got)
		}
	}
	if got := power(0.5, 9, 0, -1, 2, 0); !(math.Abs(got-1.5) <= 1e-15) {
		t.Errorf("√9/2 = %.17g", got)
	}
}
