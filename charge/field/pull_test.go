package field

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// 20 µm of ε_r 2.2 on metal, +3 µC/m² outside: 0.508 Pa by σ²/2ε0, and with an
// earthed plane 5 mm above nearly the same, because t/ε_r is 9 µm; a double layer
// of ±16 is not held.
func TestFilmPull(t *testing.T) {
	f := Film{Thickness: 20e-6, RelativePermittivity: 2.2}
	inf := units.Length(math.Inf(1))
	if p := f.Pull(3e-6, 0, inf); !near(float64(p), 0.5082, 1e-3) ||
		!near(float64(p), float64(ElectrostaticPressure(3e-6)), 1e-12) {
		t.Errorf("%v", p)
	}
	if p := f.Pull(16e-6, -16e-6, inf); p != 0 {
		t.Errorf("double layer: %v", p)
	}
	// All flux to the plane that touches: D_a = σ at h = 0.
	if p := f.Pull(3e-6, 0, 0); !near(float64(p), -0.5082, 1e-3) {
		t.Errorf("another earth on the film: %v", p)
	}
	// By hand: a = 9.0909 µm, h = 5 mm, up = 3e-6·1.8149e-3.
	up := 3e-6 * 9.0909e-6 / (5e-3 + 9.0909e-6)
	want := ((3e-6-up)*(3e-6-up) - up*up) / (2 * units.Epsilon0)
	if p := f.Pull(3e-6, 0, 5e-3); !near(float64(p), want, 1e-6) || !math.IsNaN(float64(f.Pull(1, 1, -1))) {
		t.Errorf("%v, want %g", p, want)
	}
}

func TestSheetPull(t *testing.T) {
	if p := SheetPull(2e-6, -3e-6); !near(float64(p), 6e-12/(2*units.Epsilon0), 1e-12) || SheetPull(2e-6, 3e-6) != -p {
		t.Errorf("%v", p)
	}
}

// The second method: the pull on the facing layer is the charge wave of the other
// sheet's two layers times its field, averaged over a wavelength by sum, for both
// layers of the upper sheet.
func TestPatchedPull(t *testing.T) {
	const s, l, th, g = 10e-6, 2e-3, 50e-6, 5e-6
	k := 2 * math.Pi / l
	// Field at height z above a wave q·cos kx at 0: E_z = q/(2ε0)·cos kx·e^(−kz).
	ez := func(q, z, x float64) float64 { return q / (2 * units.Epsilon0) * math.Cos(k*x) * math.Exp(-k*z) }
	sum, n := 0.0, 400
	for i := range n {
		x := (float64(i) + 0.5) * l / float64(n)
		// Lower sheet: −s at z = −t, +s at z = 0. Upper sheet: −s at g, +s at g + t.
		for _, face := range [][2]float64{{-s, g}, {s, g + th}} {
			e := ez(s, face[1], x) + ez(-s, face[1]+th, x)
			sum -= face[0] * math.Cos(k*x) * e / float64(n) // downwards is together
		}
	}
	if p := PatchedPull(s, l, th, g); !near(float64(p), sum, 1e-9) {
		t.Errorf("%v, summed %g", p, sum)
	}
	if p := PatchedPull(s, 1e6, th, g); float64(p) > 1e-15 {
		t.Errorf("an even layer pulls %v", p)
	}
	if p := PatchedPull(s, 1e-5, 1, 0); !near(float64(p), s*s/(4*units.Epsilon0), 1e-9) {
		t.Errorf("fine patches: %v", p)
	}
	for _, c := range [][3]float64{{0, 1, 0}, {1, 0, 0}, {1, 1, -1}, {math.NaN(), 1, 1}} {
		if p := PatchedPull(s, units.Length(c[0]), units.Length(c[1]), units.Length(c[2])); !math.IsNaN(float64(p)) {
			t.Errorf("%v: %v", c, p)
		}
	}
}
