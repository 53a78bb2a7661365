package humidity

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

func TestDiffusionShapes(t *testing.T) {
	// A pile open at its edges only behaves as a slab if one side is much longer.
	p, err := NewPile(PileSpec{Length: 100 * units.Metre, Width: 0.2 * units.Metre, Height: 1 * units.Metre,
		Along: units.Diffusivity(1e-9)})
	if err != nil {
		t.Fatal(err)
	}
	s, _ := NewSheet(0.2*units.Metre, units.Diffusivity(1e-9), true)
	for _, x := range []units.Time{units.Time(1e5), units.Time(1e6), units.Time(1e7)} {
		near(t, "pile", float64(p.Uptake(x)), float64(s.Uptake(x)), 2e-3)
	}
	// One face: four times the time of both faces.
	one, _ := NewSheet(0.2*units.Metre, units.Diffusivity(1e-9), false)
	near(t, "one face", float64(one.TimeTo(units.Ratio(0.5)))/float64(s.TimeTo(units.Ratio(0.5))), 4, 1e-9)
	// At Fo = 0.001 the short form hands over to the series of 200 terms: no jump
	// beyond the slope 2/√(π Fo) (cylinder, less 1) or 1/√(π Fo) (slab).
	pure, err := NewRoll(2*units.Metre, 1*units.Metre, 0, units.Diffusivity(1e-9))
	if err != nil {
		t.Fatal(err)
	}
	half, _ := NewSheet(1*units.Metre, units.Diffusivity(1e-9), false)
	jump := func(b Body) float64 {
		return float64(b.Uptake(units.Time(1.001e6))) - float64(b.Uptake(units.Time(0.999e6)))
	}
	near(t, "cylinder", jump(pure), 2e-6*(2/math.Sqrt(math.Pi*1e-3)-1), 2e-7)
	near(t, "slab", jump(half), 2e-6/math.Sqrt(math.Pi*1e-3), 1e-8)
	// The short form joins the series, and time and share are inverse.
	for _, b := range []Body{s, mustRoll(t)} {
		for _, share := range []units.Ratio{units.Ratio(0.01), units.Ratio(0.03), units.Ratio(0.07), units.Ratio(0.5),
			units.Ratio(0.99)} {
			near(t, "inverse", float64(b.Uptake(b.TimeTo(share))), float64(share), 1e-9)
		}
		prev := 0.0
		for i := range 400 {
			u := float64(b.Uptake(units.Time(math.Exp2(float64(i) / 8))))
			if u < prev {
				t.Fatalf("uptake falls at step %d from %g to %g", i, prev, u)
			}
			prev = u
		}
		if !math.IsNaN(float64(b.Uptake(units.Time(math.NaN())))) || b.Uptake(0) != 0 {
			t.Error("NaN and 0")
		}
	}
}

func mustRoll(t *testing.T) Body {
	b, err := NewRoll(1*units.Metre, 1.2*units.Metre, units.Diffusivity(1e-9), units.Diffusivity(1e-11))
	if err != nil {
		t.Fatal(err)
	}
	return b
}
