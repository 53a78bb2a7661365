package sheet

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// Charge is conserved on a free sheet: the closed forms integrate to what was
// laid, by the substitution x = h tan θ and the midpoint rule.
func TestFreeSheetConserves(t *testing.T) {
	const n, h = 4000, 0.03
	line, point := 0.0, 0.0
	for i := range n {
		th := (float64(i) + 0.5) / n * math.Pi / 2
		x, dx := h*math.Tan(th), h/math.Pow(math.Cos(th), 2)*math.Pi/2/n
		line += 2 * float64(LineOnFreeSheet(2e-9, units.Length(x), h)) * dx
		point += float64(PointOnFreeSheet(3e-9, units.Length(x), h)) * 2 * math.Pi * x * dx
	}
	near(t, "line", line, 2e-9, 1e-6) // 1e-6: the rule, second order
	near(t, "point", point, 3e-9, 1e-6)
}

// A stripe is an integral of lines, a spot of points, and both follow from the
// receding image; the sums share no formula with the closed forms.
func TestFreeSheetSuperposition(t *testing.T) {
	const n, a, h = 2000, 0.02, 0.013
	for _, x := range []float64{0, 0.015, 0.05} {
		sum := 0.0
		for i := range n {
			u := a * (2*(float64(i)+0.5)/n - 1)
			sum += float64(LineOnFreeSheet(1, units.Length(x-u), h)) * 2 * a / n
		}
		near(t, "stripe", StripeOnFreeSheet(units.Length(x), a, h), sum, 1e-6)
	}
	disc, spot, stripe := 0.0, 0.0, 0.0
	const w = 0.01
	for i := range n {
		r := a * (float64(i) + 0.5) / n
		disc += float64(PointOnFreeSheet(1, units.Length(r), h)) * 2 * math.Pi * r * a / n
		r = 8 * w * (float64(i) + 0.5) / n
		g := math.Exp(-r * r / (2 * w * w))
		spot += g * float64(PointOnFreeSheet(1, units.Length(r), h)) * 2 * math.Pi * r * 8 * w / n
		stripe += 2 * g * float64(LineOnFreeSheet(1, units.Length(r), h)) * 8 * w / n
	}
	near(t, "disc centre", DiscCentreOnFreeSheet(a, h), disc, 1e-6)
	near(t, "Gaussian spot", GaussianSpotCentre(w, h), spot, 1e-5)
	near(t, "Gaussian stripe", GaussianStripeCentre(w, h), stripe, 1e-5)
	near(t, "step", StepOnFreeSheet(0.4, h), StripeOnFreeSheet(0.4-50, 50, h), 1e-4)
}

func TestFreeSheetLateTails(t *testing.T) {
	near(t, "stripe late", StripeOnFreeSheet(0, 1e-3, 1e3), 2e-3/(math.Pi*1e3), 1e-9)
	near(t, "disc late", DiscCentreOnFreeSheet(1e-3, 1e3), 0.5e-12, 1e-9)
	s := 1e3 / math.Sqrt2
	near(t, "spot late", GaussianSpotCentre(1, 1e3), 1/(2*s*s), 1e-5) // next term 3/(2s²)
	near(t, "spot, series against closed form", GaussianSpotCentre(1, units.Length(20.001*math.Sqrt2)),
		1-math.Sqrt(math.Pi)*20.001*erfcx(20.001), 1e-11) // 1e-11: cancellation on the right, s²·eps
	near(t, "erfcx", erfcx(5), math.Exp(25)*math.Erfc(5), 1e-13)
}

// The periodic forms are sums of images. The sum over ±N images of the Lorentzian
// leaves (2h/πL²)/N, taken off by its own tail.
func TestPeriodicIsSumOfImages(t *testing.T) {
	const l, n = 0.7, 20000
	for _, h := range []float64{0.01, 0.2, 1.3} {
		for _, x := range []float64{0, 0.1, 0.33, 1.5} {
			lines, stripes := 0.0, 0.0
			for i := -n; i <= n; i++ {
				d := units.Length(x - l*float64(i))
				lines += float64(LineOnFreeSheet(1, d, units.Length(h)))
				stripes += StripeOnFreeSheet(d, 0.12, units.Length(h))
			}
			tail := 2 * h / (math.Pi * l * l * (n + 0.5))
			near(t, "lines", float64(LinesOnFreeSheet(1, units.Length(x), units.Length(h), l)), lines+tail, 1e-9)
			near(t, "stripes", StripesOnFreeSheet(units.Length(x), 0.12, units.Length(h), l), stripes+tail*0.24, 1e-9)
		}
	}
	// The middle of one line against the infinite form: (π²/3)(h/L)², next term of
	// fourth order.
	h := 1e-3
	diff := float64(LinesOnFreeSheet(1, 0, units.Length(h), 1))/float64(LineOnFreeSheet(1, 0, units.Length(h))) - 1
	near(t, "error of the infinite form", diff, math.Pi*math.Pi/3*h*h, 1e-4)
}

func TestInverseClosedForms(t *testing.T) {
	for _, f := range []float64{0.03, 0.37, 0.9} {
		near(t, "stripe", StripeOnFreeSheet(0, 0.02, StripeReceded(0.02, f)), f, 1e-13)
		near(t, "disc", DiscCentreOnFreeSheet(0.02, DiscReceded(0.02, f)), f, 1e-13)
		near(t, "line under a probe", ProbeOverLine(0.02, ProbeReceded(0.02, f, false)), f, 1e-13)
		near(t, "spot under a probe", ProbeOverSpot(0.02, ProbeReceded(0.02, f, true)), f, 1e-13)
	}
}

func TestClosedFormsRefuse(t *testing.T) {
	nan := units.Length(math.NaN())
	for what, v := range map[string]float64{
		"line": float64(LineOnFreeSheet(1, 0, -1)), "point": float64(PointOnFreeSheet(1, 0, nan)), "step": StepOnFreeSheet(0,
			-1),
		"stripe": StripeOnFreeSheet(0, 0, 1), "disc": DiscCentreOnFreeSheet(-1, 1), "gauss": GaussianStripeCentre(1, nan),
		"spot": GaussianSpotCentre(0, 1), "probe": ProbeOverLine(0, 1), "receded": float64(ProbeReceded(1, 1, true)),
		"stripe receded": float64(StripeReceded(1, 0)), "disc receded": float64(DiscReceded(1, math.NaN())),
		"lines": float64(LinesOnFreeSheet(1, 0, 1, 0)), "stripes": StripesOnFreeSheet(0, 1, 1, 1.9),
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s: got %g, want NaN", what, v)
		}
	}
}

func mustStrip(t testing.TB, spec StripSpec) *EarthedStrip {
	t.Helper()
	s, err := NewEarthedStrip(spec)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The strip series solve ∂σ/∂t = D σ″ with −D dσ/dx = −(D/ℓ)σ at the edge, and
// their mean is the mean of the profile: all by differences and the midpoint
// rule, for perfect and imperfect contact and one or two earthed edges.
func TestEarthedStripSolvesDiffusion(t *testing.T) {
	const w, d = 0.2, 1e-3
	for _, spec := range []StripSpec{
		{Width: w, Diffusivity: d}, {Width: w, Diffusivity: d, OneEdge: true},
		{Width: w, Diffusivity: d, ContactLength: 0.03}, {Width: w, Diffusivity: d, ContactLength: 0.5, OneEdge: true},
		{Width: w, Diffusivity: d, ContactLength: 1e-4},
	} {
		s := mustStrip(t, spec)
		for _, tm := range []units.Time{0.3, 2, 15} {
			const h = 2e-4
			for _, x := range []units.Length{0.02, 0.1, 0.13} {
				lap := (s.At(x-h, tm) - 2*s.At(x, tm) + s.At(x+h, tm)) / (h * h)
				rate := (s.At(x, tm*1.0005) - s.At(x, tm*0.9995)) / (0.001 * float64(tm))
				if !(math.Abs(rate-d*lap) <= 2e-4*(math.Abs(rate)+d/(w*w)*s.At(x, tm))) {
					t.Errorf("%+v at %v, %v: dσ/dt %g, Dσ″ %g", spec, x, tm, rate, d*lap)
				}
			}
			const e = 1e-5
			slope := (-3*s.At(0, tm) + 4*s.At(e, tm) - s.At(2*e, tm)) / (2 * e)
			if l := float64(spec.ContactLength); l > 0 {
				near(t, "slope at the contact", slope, s.At(0, tm)/l, 1e-5)
			} else if v := s.At(0, tm); !(math.Abs(v) <= 1e-14) {
				t.Errorf("edge holds %g", v)
			}
			sum := 0.0
			for i := range 2000 {
				sum += s.At(units.Length(w*(float64(i)+0.5)/2000), tm) / 2000
			}
			near(t, "mean of the profile", s.MeanAt(tm), sum, 1e-6)
		}
		// Early expansion and series meet.
		tj := units.Time(2e-4 / s.rate)
		near(t, "series against early form", s.MeanAt(tj*0.999999), s.MeanAt(tj*1.000001), 1e-7)
	}
}

func TestEarthedDisc(t *testing.T) {
	s, err := NewEarthedDisc(0.05, 1e-3)
	if err != nil {
		t.Fatal(err)
	}
	// Handbook zeros of J0 (Abramowitz & Stegun table 9.5).
	for n, want := range []float64{2.4048255577, 5.5200781103, 8.6537279129, 11.7915344391} {
		near(t, "zero of J0", s.zero[n], want, 1e-10)
	}
	tj := units.Time(3e-4 / s.rate)
	near(t, "series against early form", s.MeanAt(tj*0.9999999), s.MeanAt(tj*1.0000001), 1e-8)
	near(t, "start", s.MeanAt(0), 1, 1e-15)
	// A square plate close to the disc in size, as two strips, decays alike at the
	// rate 2π²D/w²; the product is exact for a rectangle.
	a := mustStrip(t, StripSpec{Width: 0.1, Diffusivity: 1e-3})
	near(t, "rates of a rectangle add", math.Log(RectangleMean(a, a, 3)/RectangleMean(a, a, 4)),
		2/float64(a.TimeConstant()), 1e-6)
}

func TestEarthedRefuse(t *testing.T) {
	for _, s := range []StripSpec{{}, {Width: 1}, {Width: -1, Diffusivity: 1},
		{Width: 1, Diffusivity: 1, ContactLength: -1}} {
		if _, err := NewEarthedStrip(s); err == nil {
			t.Errorf("%+v accepted", s)
		}
	}
	if _, err := NewEarthedDisc(1, units.Diffusivity(math.NaN())); err == nil {
		t.Error("NaN diffusivity accepted")
	}
	if _, err := NewSlotStrip(0, 1); err == nil {
		t.Error("slot of no width accepted")
	}
	if _, err := NewSlotDisc(1, 0); err == nil {
		t.Error("slot disc without resistivity accepted")
	}
	s := mustStrip(t, StripSpec{Width: 1, Diffusivity: 1})
	for _, v := range []float64{s.MeanAt(-1), s.At(2, 1), s.At(0.5, units.Time(math.NaN())), float64(s.MeanTime(0)),
		RectangleMean(s, nil, 1)} {
		if !math.IsNaN(v) {
			t.Errorf("got %g, want NaN", v)
		}
	}
	if n := testing.AllocsPerRun(100, func() { s.MeanAt(0.01); s.At(0.3, 0.01) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

// The slot: strip by two bases, disc against Bessel functions. Values: strip
// 2.006119 (Henrici, Troesch & Wuytack 1970, not read, and finite elements
// with Richardson extrapolation); disc 2.75476 and 5.89215 by a Galerkin method in
// J0(j_n r) with 80 functions, by a program apart, which falls from above by
// 6 times a doubling: 2.754755(5) and 5.892148(7).
func TestSlotEigenvalues(t *testing.T) {
	s, err := NewSlotStrip(1, 1e12)
	if err != nil {
		t.Fatal(err)
	}
	d, err := NewSlotDisc(0.5, 1e12)
	if err != nil {
		t.Fatal(err)
	}
	for j, want := range []float64{2.006119, 3.4533, 5.125} {
		near(t, "strip", s.Eigenvalue(j), want, []float64{3e-7, 2e-5, 7e-5}[j]) // printed digits
	}
	near(t, "disc 0", d.Eigenvalue(0), 2.754755, 1e-6)
	near(t, "disc 1", d.Eigenvalue(1), 5.892148, 1e-6)
	near(t, "time constant", float64(s.TimeConstant()), 0.5/(float64(SpreadingSpeed(1e12))*2.006119), 1e-6)
	// Orders: the error of μ0 falls at least 16 times a doubling.
	var e [3]float64
	for i, n := range []int{6, 12, 24} {
		e[i] = newStripModes(n, 1).mu[0]
	}
	if r := (e[0] - e[1]) / (e[1] - e[2]); r < 14 {
		t.Errorf("strip: differences fall %.1f times", r)
	}
	// From one at the start to one mode late.
	near(t, "mean at the start", s.MeanAt(0), 1, 1e-15)
	near(t, "late", s.MeanAt(60)/s.MeanAt(61), math.Exp(float64(s.Rate(0))), 1e-6)
	for _, v := range []float64{s.MeanAt(-1), d.MeanAt(units.Time(math.NaN())), s.Eigenvalue(-1), d.Eigenvalue(20),
		s.Eigenvalue(40)} {
		if !math.IsNaN(v) {
			t.Errorf("got %g, want NaN", v)
		}
	}
}

// TestNarrowStripes: a stripe much narrower than all else is a line of the charge 2a·σ0, to second order in its width;
// the difference of two angles lost it.
func TestNarrowStripes(t *testing.T) {
	const period = 0.3
	for _, x := range []units.Length{0, 0.02, 0.11, 0.15, 4.52} {
		for _, v := range []units.Length{0.01, 0.1, 0.4} {
			for _, a := range []units.Length{1e-7, 1e-10, 1e-14} {
				got, want := StripesOnFreeSheet(x, a, v, period),
					float64(LinesOnFreeSheet(1, x, v, period)*2*units.SurfaceChargeDensity(a))
				if !(math.Abs(got-want) <= 1e-9*want) {
					t.Errorf("x %v, receded %v, a %v: %.12g, as a line %.12g", x, v, a, got, want)
				}
			}
		}
	}
	// Nothing has receded: the stripe itself, also a period on, half of it at its edge.
	for x, want := range map[units.Length]float64{0: 1, 0.05: 1, 0.1: 0.5, 0.12: 0, 0.15: 0, 0.35: 1, -0.31: 1} {
		if got := StripesOnFreeSheet(x, 0.1, 0, period); got != want {
			t.Errorf("x %v at the start: %g, want %g", x, got, want)
		}
	}
	if got := StripesOnFreeSheet(0.15, 0.15, 0, period); got != 1 {
		t.Errorf("stripes without a gap: %g", got)
	}
}
