package field

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// By hand: a web of 1.5 m at 2 m/s that leaves a roller with 4 µC/m² more than it
// came with draws −12 µA from it; one bar gives 60 µA/m for the 8 µA/m that the web
// carries, 7.5 times as much. 1 µC/m² with metal 75 mm behind and the meter at 25 mm:
// 1e-6/8.8541878e-12·0.75 = 84.706 kV/m.
func TestWebByHand(t *testing.T) {
	if got := float64(RollerCurrent(4e-6, 2, 1.5)); !near(got, -12e-6, 1e-12) {
		t.Errorf("roller current %g A", got)
	}
	carried := units.SurfaceChargeDensity(4e-6).Current(2)
	if got := CurrentMargin(60e-6, carried); !near(got, 7.5, 1e-12) {
		t.Errorf("margin %g", got)
	}
	if got := CurrentMargin(60e-6, -carried); !near(got, 7.5, 1e-12) { // a negative web
		t.Errorf("margin of a negative web %g", got)
	}
	if got := CurrentMargin(0, 0); !math.IsNaN(got) {
		t.Errorf("0 over 0: %g", got)
	}
	if got := float64(SheetField(1e-6, 25*units.Millimetre, 75*units.Millimetre)); !near(got, 84706, 1e-4) {
		t.Errorf("field %g V/m", got)
	}
}
