package line

import (
	"math"
	"testing"
)

// TestFitBeyondOnset: by hand, of 5 µC/m² at factor 1 a source with an onset of 1 µC/m² and
// an offset of 0.5 sees 4.5, of which 3.5 lie beyond the onset: 2 µC/m² taken are
// 1 − e^(−κ/v) = 2/3.5, κ = v·ln(3.5/1.5), and it then takes just that.
func TestFitBeyondOnset(t *testing.T) {
	s := shareLaw{factor: 1, supply: 1, onset: 1e-6, offset: 0.5e-6}
	s.fit(5e-6, 0.4, 2)
	if want := 2 * math.Log(3.5/1.5); !(math.Abs(s.strength-want) <= 1e-12) {
		t.Errorf("strength %g, by hand %g", s.strength, want)
	}
	if took, _, _ := s.act(5e-6, 2); !(math.Abs(took+2e-6) <= 1e-18) {
		t.Errorf("took %g, found 2e-6", took)
	}
}
