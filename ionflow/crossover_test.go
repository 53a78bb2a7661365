package ionflow

import (
	"math"
	"testing"
)

func TestOmegaSatisfiesItsEquation(t *testing.T) {
	for c := -29.0; c < 200; c += 0.0137 {
		y := omega(c) // a relative 2e-8 of y leaves 2e-8·(1 + y)
		if res := y + math.Log(y) - c; !(math.Abs(res) <= 2e-8*(1+y)) {
			t.Errorf("omega(%g) = %g leaves %g", c, y, res)
		}
	}
	for _, c := range []float64{-300, -31, -30.5} { // e^c is all of it
		if y := omega(c); !(math.Abs(y/math.Exp(c)-1) <= 1e-12) {
			t.Errorf("omega(%g) = %g", c, y)
		}
	}
	// The omega constant, W(1) = ω(0) (OEIS A030178).
	if got := omega(0); !(math.Abs(got-0.5671432904097838) <= 2e-8*0.57) {
		t.Errorf("omega(0) = %.12g", got)
	}
}
