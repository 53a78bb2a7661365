package humidity

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// TestNumbers: what is written as a number, so that nothing is computed when a program starts, is what its formula
// gives.
func TestNumbers(t *testing.T) {
	p, _ := if97(273.15)
	l, _ := logLaw(&sonntagWater, 273.15)
	if want := p / math.Exp(l); !(math.Abs(sonntagJoin-want) <= 1e-15) {
		t.Errorf("Sonntag's law joins at %v of the other, want %v", sonntagJoin, want)
	}
	if roomLow != units.Celsius(15) || roomHigh != units.Celsius(30) {
		t.Errorf("a room from %v to %v", roomLow, roomHigh)
	}
}
