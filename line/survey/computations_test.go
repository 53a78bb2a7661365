package survey

import (
	"testing"

	"example.org/pithball/units/compute"
)

// TestRegistryDiagnoses: by hand, a net of 2 µC/m² shows σ/ε0·300/325·25 mm =
// 5.214 kV. Three readings name nothing: a name must survive without any of them.
func TestRegistryDiagnoses(t *testing.T) {
	e := compute.Find(Computations(), "survey.Diagnose")
	got := make([]float64, len(e.Results))
	if err := e.Call(got, []float64{3e-6, 3, 0.025, 0, 5214, 5214}); err != nil {
		t.Fatal(err)
	}
	if k := AnswerKind(got[0]); k != CannotTell && k != OneOf {
		t.Errorf("%v: without the one reading before, nothing separates unwind and idler", k)
	}
	if !(got[8] < 2e-6 && 2e-6 < got[9] && got[4] < 0 && 0 < got[5]) {
		t.Errorf("net after %g … %g, before %g … %g: want 2e-6 and 0 inside", got[8], got[9], got[4], got[5])
	}
}
