package sheet

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// near fails the test if got is further than rel·|want| from want.
func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g, relative error %.2g above %.2g", what, got, want, got/want-1, rel)
	}
}

func mustSheet(t testing.TB, spec SheetSpec) *Sheet {
	t.Helper()
	s, err := NewSheet(spec)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The limits of the general rate are closed forms that follow from other
// physics than the formula: Gauss's law alone, a plate capacitor, Maxwell's
// receding image.
func TestSheetRateLimits(t *testing.T) {
	const e0, rs, rv, er, d = units.Epsilon0, 3e11, 4e12, 2.7, 40e-6
	film := SheetSpec{Thickness: d, RelativePermittivity: er, SurfaceResistivity: rs}
	earth, free, block := film, film, film
	free.Support = FreeSpan
	block.Support, block.Thickness = OnDielectric, 0
	bulk := film
	bulk.SurfaceResistivity, bulk.VolumeResistivity = 0, rv
	plate := film
	plate.PlateDistance = 3e-4
	thin := SheetSpec{Support: FreeSpan, RelativePermittivity: 1, AirConductivity: 1e-13}
	for _, c := range []struct {
		what string
		spec SheetSpec
		k    float64
		want float64
		rel  float64 // next term of the expansion in kd or e^(−2kd)
	}{
		{"near earth: diffusion", earth, 1e-3 / d, 1e-6 / d / (rs * e0 * er), 1e-3},
		{"near earth with plate", plate, 1, 1 / (rs * (e0*er/d + e0/3e-4)), 1e-6},
		{"short waves on a film", earth, 25 / d, 25 / d / (rs * e0 * (1 + er)), 1e-14},
		{"short waves in a span", free, 25 / d, 25 / d / (rs * e0 * (1 + er)), 1e-14},
		{"thick dielectric", block, 7, 7 / (rs * e0 * (1 + er)), 1e-14},
		{"free span: spreading speed", free, 1e-6 / d, 1e-6 / d * float64(SpreadingSpeed(rs)), 2e-6},
		{"bulk on earth", bulk, 1e-6 / d, 1 / (rv * e0 * er), 1e-6},
		{"bulk on earth, uniform", bulk, 0, 1 / (rv * e0 * er), 1e-14},
		{"bulk on earth, short waves", bulk, 25 / d, 1 / (rv * e0 * (1 + er)), 1e-14},
		{"air alone", thin, 3, 1e-13 / e0, 1e-14},
		{"air alone, uniform", thin, 0, 1e-13 / e0, 1e-14},
		{"no path", free, 0, 0, 0},
	} {
		near(t, c.what, float64(mustSheet(t, c.spec).Rate(c.k)), c.want, c.rel)
	}
}

// The general rate against a direct solution of the layer problem: potential
// a·cosh + b·sinh in each layer, matched at the faces, solved as a linear
// system. It shares no formula with Rate.
func TestSheetRateAgainstLayerSolve(t *testing.T) {
	for _, k := range []float64{0.3, 20, 900, 3e4} {
		const rs, rv, er, d, h, ga = 2e12, 5e12, 3.3, 150e-6, 2e-3, 2e-13
		// Film: φ = φ0 sinh(k(y+d))/sinh(kd). Air: φ = φ0 sinh(k(h−y))/sinh(kh).
		// Charge σ = D_air − D_film at y = 0 and dσ/dt = J_film − J_air − k²φ/ρ_s,
		// with slopes by a difference quotient.
		film := func(y float64) float64 { return math.Sinh(k*(y+d)) / math.Sinh(k*d) }
		air := func(y float64) float64 { return math.Sinh(k*(h-y)) / math.Sinh(k*h) }
		slope := func(f func(float64) float64) float64 {
			e := 1e-3 / k
			if e > d/10 {
				e = d / 10
			}
			return (8*(f(e)-f(-e)) - (f(2*e) - f(-2*e))) / (12 * e)
		}
		sf, sa := slope(film), slope(air)
		sigma := units.Epsilon0 * (er*sf - sa)
		loss := k*k/rs + sf/rv - ga*sa
		s := mustSheet(t, SheetSpec{Thickness: d, RelativePermittivity: er, SurfaceResistivity: rs,
			VolumeResistivity: rv, PlateDistance: h, AirConductivity: ga})
		near(t, "rate", float64(s.Rate(k)), loss/sigma, 1e-8) // 1e-8: the difference quotient
	}
}

func TestSheetRefuses(t *testing.T) {
	good := SheetSpec{Thickness: 1e-4, RelativePermittivity: 2.2, SurfaceResistivity: 1e12}
	for _, c := range []struct {
		field string
		spoil func(*SheetSpec)
	}{
		{"relative_permittivity", func(s *SheetSpec) { s.RelativePermittivity = 0.5 }},
		{"relative_permittivity", func(s *SheetSpec) { s.RelativePermittivity = math.NaN() }},
		{"surface_resistivity", func(s *SheetSpec) { s.SurfaceResistivity = -1 }},
		{"volume_resistivity", func(s *SheetSpec) { s.VolumeResistivity = units.VolumeResistivity(math.Inf(1)) }},
		{"thickness", func(s *SheetSpec) { s.Thickness = 0 }},
		{"volume_resistivity", func(s *SheetSpec) { s.Support, s.VolumeResistivity = FreeSpan, 1e13 }},
		{"air_conductivity", func(s *SheetSpec) { s.Support, s.AirConductivity = FreeSpan, 1e-14 }},
		{"thickness", func(s *SheetSpec) { s.Support = OnDielectric }},
		{"support", func(s *SheetSpec) { s.Support = 9 }},
		{"surface_resistivity", func(s *SheetSpec) { s.SurfaceResistivity = 1e-320 }},
	} {
		s := good
		c.spoil(&s)
		_, err := NewSheet(s)
		var fe *known.FieldError
		if !errors.As(err, &fe) || !strings.Contains(err.Error(), c.field) {
			t.Errorf("%s: got %v", c.field, err)
		}
	}
}

func TestSheetSpecialCases(t *testing.T) {
	s := mustSheet(t, SheetSpec{Thickness: 1e-4, RelativePermittivity: 2.2, SurfaceResistivity: 1e12})
	nan := math.NaN()
	for what, v := range map[string]float64{
		"Rate": float64(s.Rate(nan)), "TimeConstant": float64(s.TimeConstant(-1)),
		"SpreadingSpeed": float64(SpreadingSpeed(-1)), "UpWebShare": UpWebShare(-1, 1),
		"UpWebShare u": UpWebShare(1, units.Speed(nan)), "SheetDiffusivity": float64(SheetDiffusivity(1, 1, 0)),
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s: got %g, want NaN", what, v)
		}
	}
	if v := UpWebShare(0, 0); v != 0.5 {
		t.Errorf("UpWebShare(0, 0) = %g", v)
	}
	if v := float64(s.Rate(math.Inf(1))); !math.IsInf(v, 1) {
		t.Errorf("Rate(+Inf) = %g", v)
	}
	if s.Rate(-5) != s.Rate(5) || s.Decays() {
		t.Error("Rate is not even, or a film without a path decays")
	}
	dst := make([]float64, 2)
	if err := s.RatesTo(dst, []float64{1, nan}); err == nil || !math.IsNaN(dst[1]) || dst[0] != float64(s.Rate(1)) {
		t.Errorf("RatesTo: %v, %v", dst, err)
	}
	if n := testing.AllocsPerRun(100, func() { s.Rate(3) }); n != 0 {
		t.Errorf("Rate allocates %g times", n)
	}
	if _, v := s.NearEarth(1e-4); v != known.WrongShape {
		t.Error("a wavelength of the thickness must be flagged")
	}
	if _, v := s.NearEarth(0.1); v != known.Inside {
		t.Error("a long wave must not be flagged")
	}
}

// Values of the share: 3.2 % at 0.1, 25 % at 1, 35 % at 2 (the integral of the
// moving Lorentzian, here by Simpson's rule in the substitution x = −v t/s).
func TestUpWebShareIsTheIntegral(t *testing.T) {
	for _, r := range []float64{0.1, 1, 2} {
		// ∫_{−∞}^0 (r/π)/((x−1)²+r²) dx with x = 1 − 1/s, s from 0 to 1.
		const n = 2000
		sum := 0.0
		for i := 0; i <= n; i++ {
			s := float64(i) / n
			f := r / math.Pi / (1 + r*r*s*s)
			switch {
			case i == 0 || i == n:
				sum += f
			case i%2 == 1:
				sum += 4 * f
			default:
				sum += 2 * f
			}
		}
		near(t, "share", UpWebShare(units.Speed(r), 1), sum/3/n, 1e-12)
	}
	near(t, "share at 1", UpWebShare(3, 3), 0.25, 1e-15)
}
