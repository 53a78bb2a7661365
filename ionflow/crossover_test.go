package ionflow

import (
	"math"
	"testing"
)

func TestOmegaSatisfiesItsEquation(t *testing.T) {
	for c := -29.0; c < 200; c += 0.37 {
		y := omega(c)
		if res := y + math.Log(y) - c; !(math.Abs(res) <= 1e-8) {
			t.Errorf("omega(%g) = %g leaves %g", c, y, res)
		}
	}
	// The omega constant, W(1) = ω(0) (OEIS A030178).
	if got := omega(0); !(math.Abs(got-0.5671432904097838) <= 1e-9) {
		t.Errorf("omega(0) = %.12g", got)
	}
}
