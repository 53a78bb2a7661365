package field

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/units"
)

// near reports |got−want| <= rel·|want|, false for NaN.
func near(got, want, rel float64) bool { return math.Abs(got-want) <= rel*math.Abs(want) }

// The 2-D field behind a roller against two independent computations: adaptive
// adaptive quadrature of the same kernel, and a boundary-element
// computation of another author group's making, given to three digits for a
// finite stretch of web, hence the 0.4 %.
func TestRollerFieldFactor(t *testing.T) {
	for _, c := range []struct{ R, x, quad, bem float64 }{
		{50, 10, 0.0873968431743425, 0.087}, {50, 30, 0.27653320326468733, 0.276}, {50, 100, 0.7704842375880802, 0.769},
		{50, 200, 0.9189843305859707, 0.917}, {50, 300, 0.9554242061326271, 0.953},
		{30, 100, 0.824731275311021, 0.823}, {100, 30, 0.17022547812867608, 0.170},
	} {
		got := RollerFieldFactor(units.Length(c.R/1e3), units.Length(c.x/1e3), 25*units.Millimetre)
		if !near(got, c.quad, 1e-6) || !(math.Abs(got-c.bem) <= 0.0005+0.004*c.bem) {
			t.Errorf("R %g mm, x %g mm: got %.9f, want %.9f ± 1e-6 and %g ± 0.4 %%", c.R, c.x, got, c.quad, c.bem)
		}
	}
	// The range that the doc states, in units of R: adaptive quadrature.
	for _, c := range [][3]float64{{.02, .1, 0.20106522155268478}, {.02, 2, 0.9895887936165307},
		{.1, .5, 0.5508067250601587}, {.5, 10, 0.9777900150631065},
		{2, .5, 0.1645515992400502}, {5, 2, 0.30244109452103407}, {20, .1, 0.24643709370942993},
		{20, 10, 0.43797471178492836}} {
		if got := RollerFieldFactor(1, units.Length(c[1]), units.Length(c[0])); !(math.Abs(got-c[2]) <= 1e-6) {
			t.Errorf("d/R %g, x/R %g: got %.9f, want %.9f", c[0], c[1], got, c[2])
		}
	}
	nan := units.Length(math.NaN())
	for _, a := range [][3]units.Length{{0, 1, 1}, {1, -1, 1}, {1, 1, 0}, {nan, 1, 1}, {1, nan, 1}, {1, 1, nan},
		{units.Length(math.Inf(1)), 1, 1}} {
		if got := RollerFieldFactor(a[0], a[1], a[2]); !math.IsNaN(got) {
			t.Errorf("%v: got %g, want NaN", a, got)
		}
	}
	if got := RollerFieldFactor(1, units.Length(math.Inf(1)), 1); got != 1 {
		t.Errorf("far away: got %g, want 1", got)
	}
}

// Monotone in x, between 0 and 1, and the same for geometrically similar places.
func TestRollerFieldFactorLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		R := rapid.Float64Range(0.005, 0.5).Draw(t, "R/m")
		d := R * math.Exp(rapid.Float64Range(math.Log(0.02), math.Log(20)).Draw(t, "ln d/R"))
		x := rapid.Float64Range(0, 20).Draw(t, "x/R") * R
		f := func(k, x float64) float64 {
			return RollerFieldFactor(units.Length(k*R), units.Length(k*x), units.Length(k*d))
		}
		a, b, far := f(1, x), f(1, x*1.05+1e-4*R), f(1, 1e7*(R+d))
		if !(a >= -1e-6 && a < b+1e-6 && b <= 1+1e-6) {
			t.Fatalf("not monotone from 0 to 1: %g then %g", a, b)
		}
		if s := f(7, x); !near(s, a, 1e-9) && !(math.Abs(s-a) <= 1e-12) {
			t.Fatalf("scale: %g against %g", s, a)
		}
		if !(math.Abs(far-1) <= 1e-4) {
			t.Fatalf("far: %g", far)
		}
	})
}

// Two-plane and one-plane limits of the strip, its error by numerical
// integration of the kernel, and the values of the wide web.
func TestStripFactor(t *testing.T) {
	inf := units.Length(math.Inf(1))
	// C16: half-width 50 mm at 25 mm over one plane, atan form: 0.704833.
	if got := StripFactor(0.1, 0.025, inf); !(math.Abs(got-0.704833) <= 1e-5) {
		t.Errorf("one plane: got %g, want 0.704833", got)
	}
	if got := StripFactor(inf, 0.025, 0.1); got != FieldFactor(0.025, 0.1) {
		t.Errorf("wide: %g", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.005, 0.2).Draw(t, "d/m")
		h := rapid.Float64Range(0.005, 2).Draw(t, "h/m")
		w := rapid.Float64Range(0.01, 3).Draw(t, "w/m")
		D := d + h
		// Midpoint rule on the kernel of the two planes: an independent path.
		const n = 20000
		var sum float64
		for i := range n {
			x := (float64(i) + 0.5) / n * w / 2
			sum += math.Sin(math.Pi*d/D) / (math.Cosh(math.Pi*x/D) - math.Cos(math.Pi*d/D))
		}
		want := sum * w / n / (2 * D)
		got := StripFactor(units.Length(w), units.Length(d), units.Length(h))
		if !near(got, want, 1e-5) {
			t.Fatalf("got %.9f, kernel %.9f", got, want)
		}
		if wide := FieldFactor(units.Length(d), units.Length(h)); got > wide*(1+1e-12) {
			t.Fatalf("strip %g above wide web %g", got, wide)
		}
	})
}

// Displayed volts for 1 µC/m² of a 25 mm meter at 25, 20 and 30 mm, worked by
// hand from h/(d+h) to four digits; hence half a unit of the last digit.
func TestFieldFactorTable(t *testing.T) {
	m, err := NewFieldMeter(FieldMeterSpec{Nominal: 25 * units.Millimetre, Guarded: true,
		FullScale: 30 * units.DisplayVoltage(units.Kilovolt)})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range [][4]float64{{1, 2755, 2768, 2741}, {.3, 2606, 2647, 2567}, {.1, 2259, 2353, 2172},
		{.05, 1882, 2017, 1765}, {.02, 1255, 1412, 1129}, {.005, 471, 565, 403}} {
		for i, d := range []units.Length{0.025, 0.020, 0.030} {
			if got := float64(m.Display(1e-6, d, units.Length(r[0]))); !(math.Abs(got-r[i+1]) <= 0.6) {
				t.Errorf("h %g m, d %v: got %.1f V, want %g", r[0], d, got, r[i+1])
			}
		}
	}
}

func TestGapBehindRoller(t *testing.T) {
	// 30 mm past a 50 mm roller 8.31 mm, at 300 mm 254.1 mm; the sag x²/2R at 1 µm.
	for _, c := range []struct{ x, want, rel float64 }{{0.03, 8.3095e-3, 1e-5}, {0.3, 0.254138, 1e-5},
		{1e-6, 1e-11, 1e-9}} {
		if got := float64(GapBehindRoller(0.05, units.Length(c.x))); !near(got, c.want, c.rel) {
			t.Errorf("x %g: got %g, want %g", c.x, got, c.want)
		}
	}
	if got := GapBehindRoller(-1, 1); !math.IsNaN(float64(got)) {
		t.Errorf("negative radius: %v", got)
	}
	if got := GapBehindRoller(0, 0); got != 0 {
		t.Errorf("0, 0: %v", got)
	}
}

// No formula turns a finite good argument into NaN, and NaN gives NaN.
func TestGeometryNaN(t *testing.T) {
	nan := units.Length(math.NaN())
	for i, got := range []float64{FieldFactor(nan, 1), FieldFactor(1, nan), FieldFactor(-1, 1), StripFactor(nan, 1, 1),
		StripFactor(1, nan, 1),
		StripFactor(1, 1, nan), StripFactor(-1, 1, 1), float64(GapBehindRoller(nan, 1)), float64(GapBehindRoller(1, nan)),
		DistanceSensitivity(nan, 1), FieldFactor(0, 0), FieldFactor(0, -1),
		FieldFactor(units.Length(math.Inf(1)), units.Length(math.Inf(1))),
		BareFaceFactor(nan, 1, 1, 1), BareFaceFactor(1, 1, 0, 1)} {
		if !math.IsNaN(got) {
			t.Errorf("case %d: got %g, want NaN", i, got)
		}
	}
	for i, c := range [][2]float64{{FieldFactor(0, 1), 1}, {FieldFactor(1, units.Length(math.Inf(1))), 1},
		{FieldFactor(1, 0), 0}, {FieldFactor(units.Length(math.Inf(1)), 1), 0},
		{StripFactor(1, 1, 0), 0}, {StripFactor(0, 1, 1), 0}} {
		if c[0] != c[1] {
			t.Errorf("limit %d: got %g, want %g", i, c[0], c[1])
		}
	}
}
