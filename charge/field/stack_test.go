package field

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Balanced sheets of 50 µm, ε_r 3.2, ±10 µC/m²: 17.6 V a sheet, 8.8 kV for 500, by
// hand from σt/(ε0ε_r).
func TestStackBalanced(t *testing.T) {
	k, err := NewStack(StackSpec{Thickness: 50e-6, RelativePermittivity: 3.2, Upper: 10e-6, Lower: -10e-6, AirGap: 10e-6, Width: 0.7})
	if err != nil {
		t.Fatal(err)
	}
	for n, want := range map[int]float64{1: 17.648, 500: 8824} {
		if v, ok := k.Voltage(n); !near(float64(v), want, 1e-4) || ok != known.Inside {
			t.Errorf("%d sheets: %v, %v", n, v, ok)
		}
	}
	if n, ok := k.SheetsTo(8000); !ok || n != 454 { // 8000/17.648 = 453.3
		t.Errorf("%d sheets to 8 kV", n)
	}
	if _, ok := k.Voltage(5000); ok != known.Inside { // 0.3 m of 0.7
		t.Errorf("5000 sheets: %v", ok)
	}
	if _, ok := k.Voltage(10000); ok != known.WrongShape { // 0.6 m
		t.Errorf("10000 sheets: %v", ok)
	}
}

// The sum over the layers, and ρH²/(2ε) for many sheets with net charge.
func TestStackNet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := StackSpec{Thickness: units.Length(rapid.Float64Range(1e-5, 1e-3).Draw(t, "t")), RelativePermittivity: rapid.Float64Range(1, 6).Draw(t, "εr"),
			Upper: units.SurfaceChargeDensity(rapid.Float64Range(-1e-5, 1e-5).Draw(t, "up")), Lower: units.SurfaceChargeDensity(rapid.Float64Range(-1e-5, 1e-5).Draw(t, "low")),
			AirGap: units.Length(rapid.Float64Range(0, 1e-4).Draw(t, "g")), Width: 1}
		k, err := NewStack(s)
		if err != nil {
			t.Fatal(err)
		}
		n := rapid.IntRange(0, 200).Draw(t, "n")
		// Walk down from the top; D is the charge above.
		var v, flux, scale float64
		for range n {
			flux += float64(s.Upper)
			v += flux * float64(s.Thickness) / s.RelativePermittivity / units.Epsilon0
			flux += float64(s.Lower)
			v += flux * float64(s.AirGap) / units.Epsilon0
			scale += 1e-5 * float64(n) * 1e-3 / units.Epsilon0
		}
		if got, _ := k.Voltage(n); math.Abs(float64(got)-v) > 1e-12*scale+1e-12 {
			t.Fatalf("%d sheets: %v, walked %g", n, got, v)
		}
		if target := rapid.Float64Range(10, 1e5).Draw(t, "target"); true {
			m, ok := k.SheetsTo(units.Voltage(target))
			if at, _ := k.Voltage(m); ok && math.Abs(float64(at)) < target {
				t.Fatalf("%d sheets give %v, not %g", m, at, target)
			}
			if before, _ := k.Voltage(m - 1); ok && m > 1 && math.Abs(float64(before)) >= target {
				t.Fatalf("%d sheets give %v already", m-1, before)
			}
		}
	})
	k, err := NewStack(StackSpec{Thickness: 1e-4, RelativePermittivity: 2.5, Upper: 1e-6, Width: 10})
	if err != nil {
		t.Fatal(err)
	}
	const n = 1000
	if v, _ := k.Voltage(n); !near(float64(v), 1e-2*0.1*0.1/(2*2.5*units.Epsilon0), 2e-3) { // 1/n from the discrete sheets
		t.Errorf("%v", v)
	}
}

// Thin build on an insulating core: n·σ/ε0, 26.6 µC/m² after 53.1 wraps of
// 0.5 µC/m², so at 54. On an earthed core 30 wraps of 20 µm, ε_r 2.2, 0.9 µC/m²
// stand at 416 V: ρH²/(2ε) by hand, valid where the room is far.
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
	// Face charge instead of volume charge adds 1/30, the curvature 0.3 %.
	if hand := 0.9e-6 * 20e-6 / (2.2 * units.Epsilon0) * 30 * 31 / 2; !near(float64(s.Voltage), hand, 6e-3) || !near(float64(s.Voltage), 416, 0.04) {
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
	spec := RollSpec{CoreRadius: 0.05, EarthedCore: true, Thickness: 1e-3, RelativePermittivity: 3, Outer: 2e-6, Inner: -0.5e-6, Surroundings: 1}
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
	if math.Abs(v) > 1e-6*math.Abs(float64(s.Voltage)) {
		t.Errorf("core at %g V, surface at %v", v, s.Voltage)
	}
}

func TestStackRollBad(t *testing.T) {
	for _, s := range []StackSpec{{}, {Thickness: 1, RelativePermittivity: 0, Width: 1}, {Thickness: 1, RelativePermittivity: 2, Width: 1, AirGap: -1}} {
		if _, err := NewStack(s); err == nil {
			t.Errorf("%+v accepted", s)
		}
	}
	for _, s := range []RollSpec{{}, {CoreRadius: 1, Thickness: 1e-5, RelativePermittivity: 2, Surroundings: 0.5}} {
		if _, err := NewRoll(s); err == nil {
			t.Errorf("%+v accepted", s)
		}
	}
}
