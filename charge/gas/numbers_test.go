package gas

import (
	"math"
	"testing"
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
