package gas

import (
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestCapSphere(t *testing.T) {
	// Capacitance of a sphere above a plane: series summed in multiple precision, 20 digits.
	checkNear(t, "a = z", spherePlane(1, 1)/(4*math.Pi*units.Epsilon0), 1.34105981307843023, 1e-14)
	checkNear(t, "1.5 mm, 10 µm", spherePlane(1.5e-3, 10e-6), 5.7370439191347844e-13, 1e-26)
	// Far away it is an isolated sphere.
	checkNear(t, "far", spherePlane(1e-3, 1e3)/(4*math.Pi*units.Epsilon0*1e-3), 1, 1e-6)
	// Thinner air leaves less; the least over the gap is no more than at any gap.
	last := 0.0
	for _, delta := range []float64{0.7, 0.8, 0.9, 1, 1.1} {
		q, z, _ := CapSphere(1.5*units.Millimetre, delta)
		if float64(q) < last {
			t.Errorf("δ %g: %v falls below %g", delta, q, last)
		}
		last = float64(q)
		for y := 7.5e-6 / delta; y < 1e-3; y *= 1.01 {
			if c := spherePlane(1.5e-3, y) * air.volts(y, delta); c < float64(q)*(1-1e-12) {
				t.Fatalf("δ %g: %g C at %g m is below the cap %v at %v", delta, c, y, q, z)
			}
		}
	}
	if _, _, f := CapSphere(10*units.Micrometre, 1); f&known.WrongShape == 0 {
		t.Error("a sphere smaller than the gap: not flagged")
	}
	if q, _, _ := CapSphere(0, 1); !math.IsNaN(float64(q)) {
		t.Error("radius 0 accepted")
	}
}
