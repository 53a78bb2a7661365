package field

import (
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Thin build on an insulating core: n·σ/ε0, 26.6 µC/m² after 53.1 wraps of
// 0.5 µC/m², so at 54. On an earthed core 30 wraps of 20 µm, ε_r 2.2, 0.9 µC/m²
// stand at 430 V: σt/(ε0ε_r)·30·31/2 by hand, valid where the room is far.
func TestRoll(t *testing.T) {
	spec := RollSpec{CoreRadius: 0.1, Thickness: 20e-6, RelativePermittivity: 2.2, Outer: 0.5e-6, Surroundings: 2}
	r, err := NewRoll(spec)
	if err != nil {
		t.Fatal(err)
	}
	// The radius grows by 1 % in 54 wraps, the mean wrap lies half of that inside.
	if n, ok := r.WrapsTo(units.ElectricField(26.6e-6 / units.Epsilon0)); !ok || n != 54 {
		t.Errorf("%d wraps", n)
	}
	spec.EarthedCore, spec.Outer = true, 0.9e-6
	r, err = NewRoll(spec)
	if err != nil {
		t.Fatal(err)
	}
	s := r.At(30)
	// The curvature makes 0.3 %.
	if hand := 0.9e-6 * 20e-6 / (2.2 * units.Epsilon0) * 30 * 31 / 2; !near(float64(s.Voltage), hand, 6e-3) ||
		!near(float64(s.Voltage), 430.2, 1e-3) {
		t.Errorf("%+v, by hand %g V", s, hand)
	}
	if ratio := float64(s.Field) / (30 * 0.9e-6 / units.Epsilon0); !(ratio < 1e-3) {
		t.Errorf("field %g of the insulating core", ratio)
	}
	if _, ok := r.WrapsTo(0); ok {
		t.Error("no field")
	}
}

// The core's image makes the core's potential zero: integrate the field of the
// layers outwards, an independent path to the logarithms.
func TestRollEarthedCorePotential(t *testing.T) {
	spec := RollSpec{CoreRadius: 0.05, EarthedCore: true, Thickness: 1e-3, RelativePermittivity: 3, Outer: 2e-6,
		Inner: -0.5e-6, Surroundings: 1}
	r, err := NewRoll(spec)
	if err != nil {
		t.Fatal(err)
	}
	const n = 20
	s := r.At(n)
	// Flux per 2π at the outer surface, then inwards with each face passed.
	out := float64(s.Radius)
	flux := float64(s.Field) * units.Epsilon0 * out
	v := float64(s.Voltage)
	for k := n; k >= 1; k-- {
		a, b := 0.05+float64(k-1)*1e-3, 0.05+float64(k)*1e-3
		flux -= 2e-6 * b
		const m = 200
		for i := range m { // midpoint rule across the film
			x := a + (float64(i)+0.5)/m*(b-a)
			v += flux / (units.Epsilon0 * 3 * x) * (b - a) / m
		}
		flux -= -0.5e-6 * a
	}
	if !(math.Abs(v) <= 1e-6*math.Abs(float64(s.Voltage))) {
		t.Errorf("core at %g V, surface at %v", v, s.Voltage)
	}
}

// The charge that breaks down is flagged and the voltage cut: 100 wraps of 3 µC/m² on
// an insulating core would make n·σ/ε0 = 34 MV/m; the air holds 3. On an earthed core
// nothing shows outside and the innermost wrap carries the flux, n·σ/(ε0·ε_r).
func TestRollBreaksDown(t *testing.T) {
	spec := RollSpec{CoreRadius: 0.1, Thickness: 20e-6, RelativePermittivity: 2.2, Outer: 3e-6, Surroundings: 2}
	r, err := NewRoll(spec)
	if err != nil {
		t.Fatal(err)
	}
	s := r.At(100)
	hold := 3e6 * 0.102 * math.Log(2/0.102)
	if s.Spark != SparkOutside || s.Validity != known.AboveRange || !near(float64(s.Voltage), hold, 1e-9) ||
		!near(float64(s.Free)/float64(s.Voltage), float64(s.Field)/3e6, 1e-9) {
		t.Errorf("%+v", s)
	}
	if s := r.At(8); s.Spark != NoSpark || s.Validity != known.Inside || s.Voltage != s.Free { // 2.7 MV/m
		t.Errorf("8 wraps: %+v", s)
	}
	spec.EarthedCore = true
	r, _ = NewRoll(spec)
	s = r.At(100)
	if want := 300e-6 / (units.Epsilon0 * 2.2); !near(float64(s.Inside), want, 0.02) || s.Spark != NoSpark {
		t.Errorf("inside %v, want %g; %+v", s.Inside, want, s)
	}
	// 100 MV/m at 1947 µC/m² of flux: 649 wraps.
	if s := r.At(700); s.Spark != SparkInFilm || s.Validity != known.AboveRange {
		t.Errorf("700 wraps: %+v", s)
	}
	if s := r.At(700); s.Voltage != s.Free { // 0.75 MV of 1.4
		t.Errorf("700 wraps: %+v", s)
	}
	if s := r.At(600); s.Spark != NoSpark {
		t.Errorf("600 wraps: %+v", s)
	}
	// A film that holds 20 MV/m: 400 wraps would stand at about σ·t·n²/(2ε0·ε_r) = 246 kV;
	// their 8 mm hold 160 kV.
	spec.FilmStrength = 20e6
	weak, err := NewRoll(spec)
	if err != nil {
		t.Fatal(err)
	}
	if s := weak.At(400); s.Spark != SparkInFilm || !near(float64(s.Voltage), 160e3, 1e-9) ||
		!near(float64(s.Free), 246e3, 0.05) || s.Validity != known.AboveRange {
		t.Errorf("400 wraps: %+v", s)
	}
	for _, s := range []RollState{r.At(-1), r.At(1 << 40), (Roll{}).At(2)} {
		if !math.IsNaN(float64(s.Voltage)) || s.Validity == known.Inside {
			t.Errorf("%+v", s)
		}
	}
}
