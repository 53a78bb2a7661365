package field

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// 25 µm of ε_r 3.2 on an earthed roller with 10 µC/m² outside: 8.824 V, 1/3201 of
// the free-span reading at 25 mm, 113.3 pF/cm² (plate capacitor, by hand).
func TestFilmOverRoller(t *testing.T) {
	f := Film{Thickness: 25 * units.Micrometre, RelativePermittivity: 3.2}
	if err := f.Check(); err != nil {
		t.Fatal(err)
	}
	if v := f.SurfaceVoltage(10e-6); !near(float64(v), 8.824, 1e-4) {
		t.Errorf("%v", v)
	}
	if s := f.OuterCharge(f.SurfaceVoltage(10e-6)); !near(float64(s), 10e-6, 1e-14) {
		t.Errorf("%v", s)
	}
	if k := f.OverRollerFactor(25 * units.Millimetre); !near(1/k, 3201, 1e-6) {
		t.Errorf("1/%g", 1/k)
	}
	if c := f.CapacitancePerArea(); !near(c, 113.3e-8, 1e-3) {
		t.Errorf("%g F/m²", c)
	}
	for _, bad := range []Film{{}, {Thickness: 1, RelativePermittivity: 0.9},
		{Thickness: units.Length(math.NaN()), RelativePermittivity: 2}} {
		if bad.Check() == nil {
			t.Errorf("%+v accepted", bad)
		}
	}
}

// Pressures and cling limits as worked by hand from σ²/(2ε0) and m″g: 10 µC/m²
// pulls with 5.647 Pa; 20 µm of polypropylene (0.0182 kg/m² at 910 kg/m³) weighs
// 0.178 Pa, 50 µm of PET (0.0695 kg/m²) 0.68 Pa, paper of 115 g/m² 1.13 Pa.
func TestCling(t *testing.T) {
	if p := ElectrostaticPressure(10e-6); !near(float64(p), 5.647, 1e-3) {
		t.Errorf("%v", p)
	}
	for _, c := range []struct{ m, limit, rel float64 }{{0.0182, 1.78e-6, 3e-3}, {0.0695, 3.5e-6, 1e-2},
		{0.115, 4.5e-6, 1e-2}} {
		got := ClingLimit(units.BasisWeight(c.m))
		if !near(float64(got), c.limit, c.rel) {
			t.Errorf("%g kg/m²: %v", c.m, got)
		}
		if p := float64(ElectrostaticPressure(got)); !near(p, c.m*units.StandardGravity, 1e-12) {
			t.Errorf("pull %g Pa at the limit", p)
		}
		if r := ClingRatio(-2*got, units.BasisWeight(c.m)); !near(r, 4, 1e-12) {
			t.Errorf("ratio %g at twice the limit", r)
		}
	}
	if !math.IsNaN(float64(ClingLimit(-1))) {
		t.Error("negative mass")
	}
}
