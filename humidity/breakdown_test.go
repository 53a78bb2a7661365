package humidity

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestBreakdownBounds(t *testing.T) {
	air := func(tc, gram, p float64) Air {
		return mustAir(t, IAPWS, units.Pressure(p), DryBulb(units.Celsius(tc)),
			AbsoluteHumidity(units.VapourDensity(gram/1e3)))
	}
	// At the reference state everything is 1.
	for _, s := range []Stress{DC, AC, Impulse} {
		c, err := BreakdownCorrection(air(20, 11, 101300), s, 1)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "K at the reference", c.K, 1, 1e-4)
		if c.Validity&known.Unpublished == 0 {
			t.Error("formulas from memory not flagged")
		}
	}
	// h/δ 22 g/m³ is outside, 0.5 too.
	for _, a := range []Air{air(30, 20, 95e3), air(20, 0.5, 101300)} {
		_, err := BreakdownCorrection(a, Impulse, 1)
		var f *known.FieldError
		if !errors.As(err, &f) || f.Field != "a" {
			t.Error(err)
		}
	}
	// The exponents by hand: g 0.25: 0.25·0.05/0.8 = 0.015625 both; g 0.5: 0.5·0.3/0.8 = 0.1875 both; g 1.1: 1, 1; g 1.5:
	// 1, 0.7·0.5/0.8 = 0.4375; g 2.5: 1, 0; g 0.1: 0, 0.
	for _, c := range [][3]float64{{0.1, 0, 0}, {0.25, 0.015625, 0.015625}, {0.5, 0.1875, 0.1875}, {1.1, 1, 1},
		{1.5, 1, 0.4375}, {2.5, 1, 0}} {
		x, err := BreakdownCorrection(air(25, 8, 90e3), AC, c[0])
		if err != nil {
			t.Fatal(err)
		}
		near(t, "δ^m", x.K1, math.Pow(x.Delta, c[1]), 1e-12)
		near(t, "k^w", x.K2, math.Pow(1+0.012*(8/x.Delta-11), c[2]), 1e-9)
		near(t, "K", x.K, x.K1*x.K2, 1e-15)
	}
	if _, err := BreakdownCorrection(air(20, 11, 101300), DC, math.NaN()); err == nil {
		t.Error("g NaN accepted")
	}
}
