package field

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// The image series against its sum in multiple precision to 12 digits.
func TestSphereOverPlane(t *testing.T) {
	for q, want := range map[float64]float64{3: 1.14318248606, 1: 1.34105981308, 0.1: 2.15508611701, 0.01: 3.23823466194,
		1e-3: 4.3792371486, 1e-4: 5.52915484988, 1e-6: 7.83154725579} {
		got := float64(SphereOverPlaneCapacitance(0.01, units.Length(0.01*q))) / float64(SphereCapacitance(0.01))
		if !near(got, want, 1e-8) {
			t.Errorf("z/a %g: got %.12g, want %.12g", q, got, want)
		}
	}
	if got := SphereOverPlaneCapacitance(1, units.Length(math.Inf(1))); got != SphereCapacitance(1) {
		t.Errorf("isolated: %v", got)
	}
}

func TestCapacitances(t *testing.T) {
	pF := func(c units.Capacitance) float64 { return float64(c) * 1e12 }
	for _, c := range []struct {
		what      string
		got, want float64
		rel       float64
	}{
		{"sphere of 1 m", pF(SphereCapacitance(1)), 111.265, 1e-5},
		{"wire of 5 mm, axis 10 mm over a plane, 1 m", pF(CylinderOverPlaneCapacitance(0.005, 1, 0.01)), 42.243, 1e-4},
		// ellipsoid integral 8πε0/∫ds/(√(a²+s)(b²+s)) in multiple precision
		{"rod 1.75 m × 0.35 m", pF(RodCapacitance(1.75, 0.35)), 41.610780711883603, 1e-9},
		{"rod 1 m × 10 mm", pF(RodCapacitance(1, 0.01)), 10.499556701754061901, 1e-9},
		{"rod that is a sphere", pF(RodCapacitance(1, 1)), 55.6325, 1e-5},
		{"rod nearly a sphere", pF(RodCapacitance(1, 0.999)), 55.595413237675224245, 1e-9},
		{"disc of 100 mm: 8ε0r", pF(DiscCapacitance(0.1)), 7.0834, 1e-4},
		{"plates 100 cm², 1 mm, ε_r 2: 177.1 pF", pF(PlateCapacitance(0.01, 1e-3, 2)), 177.084, 1e-5},
		{"coax 10/20 mm, 1 m: 2πε0/ln 2", pF(CoaxialCapacitance(0.01, 0.02, 1, 1)), 80.2605, 1e-4},
		// a thin gap tends to the plate: 2πaL·ε0/g·(1 + g/2a)
		{"coax with a thin sleeve", pF(CoaxialCapacitance(0.05, 0.05+1e-9, 1, 1)),
			1e12 * units.Epsilon0 * 2 * math.Pi * 0.05 / 1e-9, 1e-6},
	} {
		if !near(c.got, c.want, c.rel) {
			t.Errorf("%s: got %.10g pF, want %.10g", c.what, c.got, c.want)
		}
	}
	for i, c := range []units.Capacitance{SphereCapacitance(-1), DiscCapacitance(-1), RodCapacitance(1, 2),
		RodCapacitance(1, 0), SphereOverPlaneCapacitance(1, 0),
		PlateCapacitance(1, 0, 1), CylinderOverPlaneCapacitance(1, 1, 1), CoaxialCapacitance(1, 1, 1, 1),
		SphereCapacitance(units.Length(math.NaN()))} {
		if !math.IsNaN(float64(c)) {
			t.Errorf("bad %d: %v", i, c)
		}
	}
}
