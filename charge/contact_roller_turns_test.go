package charge

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// TestSteadyTurnsNeverNegative: a contact that barely touches a cover that keeps
// all never settles: +Inf turns, not −Inf.
func TestSteadyTurnsNeverNegative(t *testing.T) {
	c, err := NewContact(ContactSpec{Saturation: units.MicrocoulombPerSquareMetre, Exposure: 1e-22})
	if err != nil {
		t.Fatal(err)
	}
	r, err := NewCoveredRoller(c, 50*units.Millimetre, units.Time(math.Inf(1)))
	if err != nil {
		t.Fatal(err)
	}
	if _, _, turns := r.Steady(0, 1*units.MetrePerSecond, units.ForcePerWidth(1)); !math.IsInf(turns, 1) {
		t.Errorf("%v turns", turns)
	}
}
