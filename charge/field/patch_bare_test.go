package field

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// spaceShare is BarePatchShare without waves and without the rings of the package:
// the field by a ring from differences of BareFaceFactor, which rows hold to charge
// simulation, and the mean round the axis of the correlation of two rings,
// exp(−(r−r')²/L²)·e^(−x)I₀(x) with x = 2rr'/L², by the midpoint rule.
func spaceShare(L, b, S, d, h float64, n int) float64 {
	k := make([]float64, n)
	step := S / float64(n)
	at := func(r float64) float64 {
		if r <= 0 {
			return 0
		}
		return BareFaceFactor(units.Length(b), units.Length(r), units.Length(d), units.Length(h))
	}
	for i := range k {
		k[i] = at(float64(i+1)*step) - at(float64(i)*step)
	}
	sum := 0.0
	for i := range k {
		for j := range i + 1 {
			r, s := (float64(i)+0.5)*step, (float64(j)+0.5)*step
			twice := 2.0
			if i == j {
				twice = 1
			}
			sum += twice * k[i] * k[j] * math.Exp(-(r-s)*(r-s)/(L*L)) * scaledI0(2*r*s/(L*L))
		}
	}
	return math.Sqrt(sum)
}

// scaledI0 is e^(−x)·I₀(x), the mean of e^(x(cos φ − 1)).
func scaledI0(x float64) float64 {
	const n = 200
	sum := 0.0
	for i := range n {
		sum += math.Exp(x * (math.Cos((float64(i)+0.5)*math.Pi/n) - 1))
	}
	return sum / n
}

func TestBarePatchShare(t *testing.T) {
	for _, c := range []struct{ L, b, S, d, h float64 }{
		{.05, .035, .3, .025, .3}, {.02, .035, .2, .025, .1}, {.2, .035, .6, .025, 1}, {.05, .1, .3, .025, .3},
		{.1, .01, .3, .05, .3}, {.05, .25, .3, .025, .3},
	} {
		got := BarePatchShare(units.Length(c.L), units.Length(c.b), units.Length(c.S), units.Length(c.d), units.Length(c.h))
		if want := spaceShare(c.L, c.b, c.S, c.d, c.h, 150); !near(got, want, 3e-3) {
			t.Errorf("%+v: %.6f, by rings in space %.6f", c, got, want)
		}
	}
	// Limits: patches as large as the sheet, and a face that is wide against all else.
	for _, b := range []units.Length{.01, .035, .1} {
		if got, want := BarePatchShare(100, b, .3, .025, .3), BareFaceFactor(b, .3, .025, .3); !near(got, want, 1e-3) {
			t.Errorf("face %v, large patches: %g, factor %g", b, got, want)
		}
	}
	for _, L := range []units.Length{.02, .05} {
		if got, want := BarePatchShare(L, 0.5, 1, .025, .1), PatchShare(L, .025, .1); !near(got, want, 5e-3) {
			t.Errorf("wide face, patches of %v: %g, guarded %g", L, got, want)
		}
	}
	// Small patches: e^(−kd) of each wave, share² = 2∫u·e^(−4ud/L)du = L²/(8d²), on a wide face; on a narrow one the
	// share goes with L too.
	for _, L := range []units.Length{2e-4, 5e-4, 1e-3} {
		if got, want := BarePatchShare(L, 0.25, 1, .025, .3), float64(L)/(.025*math.Sqrt(8)); !near(got, want, 2e-3) {
			t.Errorf("wide face, patches of %v: %g, by hand %g", L, got, want)
		}
		small, large := BarePatchShare(L, .035, .6, .025, .3), BarePatchShare(4e-3, .035, .6, .025, .3)
		if want := large * float64(L) / 4e-3; !near(small, want, 2e-2) {
			t.Errorf("patches of %v: %g, by those of 4 mm %g", L, small, want)
		}
	}
	// On the same goods a bare face shows less spread over its mean than a guarded one.
	bare := BarePatchShare(.05, .035, .6, .025, .3) / BareFaceFactor(.035, .6, .025, .3)
	if guarded := PatchShare(.05, .025, .3) / FieldFactor(.025, .3); !(bare < 0.5*guarded) {
		t.Errorf("spread over mean: bare %g, guarded %g", bare, guarded)
	}
	for i, c := range [][5]float64{{0, .1, .1, .1, .1}, {.1, -1, .1, .1, .1}, {.1, .1, 26, .1, .1}, {.1, .1, .1, 0, .1},
		{.1, .1, .1, .1, math.Inf(1)}, {.1, .1, math.NaN(), .1, .1}} {
		if got := BarePatchShare(units.Length(c[0]), units.Length(c[1]), units.Length(c[2]), units.Length(c[3]),
			units.Length(c[4])); !math.IsNaN(got) {
			t.Errorf("%d: %g", i, got)
		}
	}
}

// The display of a bare face goes through its own calibration: in front of a charge
// that is uniform within the sheet but for its size from sheet to sheet, the spread
// is the display of the standard deviation.
func TestBarePatchSpread(t *testing.T) {
	m, err := NewFieldMeter(FieldMeterSpec{Nominal: 0.025, FaceRadius: 0.035, SheetRadius: 0.3, FullScale: 1e6})
	if err != nil {
		t.Fatal(err)
	}
	got, want := m.PatchSpread(2e-6, 100, 0.025, 0.3), m.Display(2e-6, 0.025, 0.3)
	if !near(float64(got), float64(want), 1e-3) {
		t.Errorf("%v, display %v", got, want)
	}
}

// TestBareSmallSheet: a sheet much smaller than its distance is a point charge, so that the field goes with S² and the
// next term is (S/d)²; a difference of roots lost it in rounding below 1e-6·d.
func TestBareSmallSheet(t *testing.T) {
	for _, h := range []units.Length{1e-4, 0.05, 10} {
		for _, b := range []units.Length{0.001, 0.035, 0.5} {
			const d = 0.025
			wide := BareFaceFactor(b, 1e-4*d, d, h) / 1e-8
			for _, s := range []units.Length{1e-6, 1e-9, 1e-12} {
				got := BareFaceFactor(b, s*d, d, h) / float64(s*s)
				if !near(got, wide, 1e-7) {
					t.Errorf("gap %v, face %v, sheet %g·d: %.12g S², %.12g at 1e-4·d", h, b, float64(s), got, wide)
				}
			}
		}
	}
}
