package field

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// One lane is the strip; equal lanes are one; lanes of opposite sign cancel far
// away; a lane is its integral of the two-plane kernel.
func TestProfileField(t *testing.T) {
	field := func(x units.Length, e []units.Length, s []units.SurfaceChargeDensity, d, h units.Length) float64 {
		f, err := ProfileField(x, e, s, d, h)
		if err != nil {
			t.Fatal(err)
		}
		return float64(f) * units.Epsilon0
	}
	strip := StripFactor(0.4, 0.025, 0.1)
	if got := field(0.2, []units.Length{0, 0.4}, []units.SurfaceChargeDensity{1}, 0.025, 0.1); !near(got, strip, 1e-12) {
		t.Errorf("one lane: %g, strip %g", got, strip)
	}
	if got := field(0.2, []units.Length{0, 0.1, 0.25, 0.4}, []units.SurfaceChargeDensity{1, 1, 1}, 0.025, 0.1); !near(got,
		strip, 1e-12) {
		t.Errorf("equal lanes: %g, strip %g", got, strip)
	}
	lanes, signs := []units.Length{0}, []units.SurfaceChargeDensity{}
	for i := range 100 {
		lanes = append(lanes, units.Length(float64(i+1)*0.01))
		signs = append(signs, units.SurfaceChargeDensity(1-2*(i%2)))
	}
	// A wave of period 20 mm falls as e^(−2πd/20 mm): 1e-7 at 50 mm; the cut ends
	// leave about half a lane at 0.5 m, (1/π)·d·5 mm/(0.5 m)² each.
	if got := field(0.505, lanes, signs, 0.05, units.Length(math.Inf(1))); !(math.Abs(got) <= 1e-3) {
		t.Errorf("lanes of opposite sign: %g of one", got)
	}
	const n = 20000
	var sum float64
	for i := range n { // midpoint rule on a slope of density, in 40 lanes below
		x := (float64(i)+0.5)/n*0.4 - 0.15
		lane := math.Floor((x + 0.15) / 0.01)
		sum += lane * math.Sin(math.Pi*0.2) / (math.Cosh(math.Pi*x/0.125) - math.Cos(math.Pi*0.2)) / (2 * 0.125) * 0.4 / n
	}
	lanes, signs = []units.Length{-0.15}, nil
	for i := range 40 {
		lanes = append(lanes, units.Length(-0.15+float64(i+1)*0.01))
		signs = append(signs, units.SurfaceChargeDensity(i))
	}
	if got := field(0, lanes, signs, 0.025, 0.1); !near(got, sum, 1e-4) {
		t.Errorf("slope: %g, kernel %g", got, sum)
	}
	var fe *known.FieldError
	for want, f := range map[string]func() error{
		"edges": func() error { _, err := ProfileField(0, []units.Length{0}, nil, 1, 1); return err },
		"edges[1]": func() error {
			_, err := ProfileField(0, []units.Length{0, 0}, make([]units.SurfaceChargeDensity, 1), 1, 1)
			return err
		},
		"density[0]": func() error {
			_, err := ProfileField(0, []units.Length{0, 1}, []units.SurfaceChargeDensity{units.SurfaceChargeDensity(math.NaN())},
				1, 1)
			return err
		},
		"distance": func() error {
			_, err := ProfileField(0, []units.Length{0, 1}, make([]units.SurfaceChargeDensity, 1), -1, 1)
			return err
		},
		"gap": func() error {
			_, err := ProfileField(0, []units.Length{0, 1}, make([]units.SurfaceChargeDensity, 1), 1, units.Length(math.NaN()))
			return err
		},
		"x": func() error {
			_, err := ProfileField(units.Length(math.Inf(1)), []units.Length{0, 1}, make([]units.SurfaceChargeDensity, 1), 1, 1)
			return err
		},
	} {
		if err := f(); !errors.As(err, &fe) || fe.Field != want {
			t.Errorf("%s: got %v", want, err)
		}
	}
}
