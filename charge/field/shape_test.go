package field

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/units"
)

// Expected: Hankel integral ∫R·J1(kR)·sinh(kh)/sinh(kD) dk in multiple precision to 10
// digits; the one-plane values from the closed form.
func TestDiscFactor(t *testing.T) {
	for _, c := range []struct{ R, d, h, want float64 }{
		{.05, .025, .1, 0.5434988953}, {.05, .025, .025, 0.4322413291}, {.3, .025, .1, 0.7992823628},
		{.02, .05, .3, 0.07138203603}, {.1, .025, 1, 0.7573948071},
		{.05, .025, math.Inf(1), 0.552786405}, {1e4, .025, .1, 0.8},
	} {
		if got := DiscFactor(units.Length(c.R), units.Length(c.d), units.Length(c.h)); !(math.Abs(got-c.want) <= 1e-7) {
			t.Errorf("%+v: got %.10f", c, got)
		}
	}
}

// The edge by the midpoint rule over the kernel of two planes, its half at the
// edge and the sum of both sides.
func TestEdgeFactor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.005, 0.2).Draw(t, "d/m")
		h := rapid.Float64Range(0.005, 2).Draw(t, "h/m")
		y := rapid.Float64Range(-1, 1).Draw(t, "y/m")
		D := d + h
		f := func(y float64) float64 { return EdgeFactor(units.Length(y), units.Length(d), units.Length(h)) }
		if s, w := f(y)+f(-y), FieldFactor(units.Length(d), units.Length(h)); !near(s, w, 1e-12) {
			t.Fatalf("two sides: %g, want %g", s, w)
		}
		const n = 5000
		var sum float64
		for i := range n {
			x := (float64(i) + 0.5) / n * y
			sum += math.Sin(math.Pi*d/D) / (math.Cosh(math.Pi*x/D) - math.Cos(math.Pi*d/D))
		}
		if want, got := sum*y/n/(2*D), f(y)-f(0); !(math.Abs(got-want) <= 1e-4) {
			t.Fatalf("got %g, kernel %g", got, want)
		}
		// A strip is what is left of its left edge less what is left of its right one.
		w := math.Abs(y) + 0.01
		if got, want := f(w/2)-f(-w/2), StripFactor(units.Length(w), units.Length(d),
			units.Length(h)); !(math.Abs(got-want) <= 1e-12) {
			t.Fatalf("strip %g, edges %g", want, got)
		}
	})
	if got := EdgeFactor(0.025, 0.025, units.Length(math.Inf(1))); !(math.Abs(got-0.75) <= 1e-15) {
		t.Errorf("one plane: %g, want 3/4 at y = d", got)
	}
}

// q²/(16πε0h²) with 1 nC at 50 mm: 0.89876 µN; −63.662 nC/m² below it. The
// induced charge is −q in all.
func TestImage(t *testing.T) {
	if f := ImageForce(1*units.Nanocoulomb, 0.05); !near(float64(f), 8.9876e-7, 1e-4) {
		t.Errorf("%v", f)
	}
	if s := ImageDensity(1*units.Nanocoulomb, 0.05, 0); !near(float64(s), -63.662e-9, 1e-5) {
		t.Errorf("%v", s)
	}
	var q float64
	const dr = 1e-3
	for i := range 200000 {
		r := (float64(i) + 0.5) * dr
		q += float64(ImageDensity(1, 0.05, units.Length(r))) * 2 * math.Pi * r * dr
	}
	if !(math.Abs(q+1) <= 1e-3) { // the rest lies beyond 200 m: h/r = 2.5e-4
		t.Errorf("induced %g of −1", q)
	}
	if !math.IsNaN(float64(ImageForce(1, 0))) || !math.IsNaN(float64(ImageDensity(1, -1, 0))) {
		t.Error("height 0 accepted")
	}
}

// Box and cylinder against Coulomb integrals over their faces (adaptive quadrature in two dimensions).
// 96 nC at 45 mm: 426 kV/m in free space, 852 kV/m at a wide face.
func TestBodies(t *testing.T) {
	for _, c := range []struct{ a, b, c, s, want float64 }{{.2, .1, .05, .025, 71056.82026261261},
		{.1, .1, .1, .1, 23252.337248149706}} {
		got := BoxField(1e-6, units.Length(c.a), units.Length(c.b), units.Length(c.c), units.Length(c.s), FreeSpace)
		if !near(float64(got), c.want, 1e-8) {
			t.Errorf("box %+v: %v", c, got)
		}
	}
	// The axis stands for the shell: 1.2, 6.2, 1.6 % low and exact for a long one.
	for _, c := range []struct{ a, L, s, shell, low float64 }{{.03, .2, .025, 1448196331592, .0114},
		{.03, .1, .025, 2342949766195, .0617}, {.03, .2, .1, 428194251791, .0156}, {.03, 2, .025, 163163764914, 2.03e-6}} {
		got := float64(CylinderField(1, units.Length(c.a), units.Length(c.L), units.Length(c.s), FreeSpace))
		if low := 1 - got/c.shell; !(math.Abs(low-c.low) <= 0.02*c.low) {
			t.Errorf("cylinder %+v: low by %g", c, low)
		}
	}
	for f, want := range map[Facing]float64{FreeSpace: 426e3, WideEarth: 852e3} {
		if got := SphereField(96*units.Nanocoulomb, 0.02, 0.025, f); !near(float64(got), want, 1e-3) {
			t.Errorf("%v: %v", f, got)
		}
	}
	// Far away every body is a point: Q/(4πε0r²).
	q := units.Charge(1e-6)
	point := float64(SphereField(q, 0, 100, FreeSpace))
	box := float64(BoxField(units.SurfaceChargeDensity(1e-6/(6*.01)), .1, .1, .1, 100-.05, FreeSpace))
	if cyl := float64(CylinderField(q, .05, .1, 100-.05, FreeSpace)); !near(cyl, point, 1e-5) || !near(box, point, 1e-5) {
		t.Errorf("far: point %g, cylinder %g, box %g", point, cyl, box)
	}
	// A stream of 8 nC/g at 0.2 g/s, 2 m/s: 0.8 nC/m, 2λ/(2πε0s) at 50 mm: 575 V/m.
	if e := StreamField(8e-6, 2e-4, 2, 0.05, WideEarth); !near(float64(e), 575.2, 1e-3) {
		t.Errorf("stream %v", e)
	}
	for i, e := range []units.ElectricField{SphereField(1, 1, 0, 0), CylinderField(1, 1, -1, 1, 0),
		BoxField(1, 1, 0, 1, 1, 0), StreamField(1, 1, 0, 1, 0)} {
		if !math.IsNaN(float64(e)) {
			t.Errorf("bad body %d: %v", i, e)
		}
	}
}

// Expected: adaptive quadrature of the defining integral; the closed form with
// erfc for one plane; a uniform web for L → ∞.
func TestPatchShare(t *testing.T) {
	inf := units.Length(math.Inf(1))
	for _, c := range []struct{ L, d, h, want float64 }{
		{.05, .025, math.Inf(1), 0.4920648776926554}, {.05, .025, .1, 0.4782760945611619},
		{.02, .025, .01, 0.1398234842719708},
		{.2, .025, .3, 0.8035802395817905}, {.005, .025, .1, 0.0691500394199899},
	} {
		if got := PatchShare(units.Length(c.L), units.Length(c.d), units.Length(c.h)); !near(got, c.want, 1e-9) {
			t.Errorf("%+v: got %.12f", c, got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(0.005, 0.1).Draw(t, "d/m")
		a := math.Exp(rapid.Float64Range(-6, 2.5).Draw(t, "ln a"))
		got := PatchShare(units.Length(2*d/a), units.Length(d), inf)
		// erfc and exp cancel to about 1e-16·a² of 1/(2a²).
		if want := math.Sqrt(1 - math.Sqrt(math.Pi)*a*math.Exp(a*a)*math.Erfc(a)); !near(got, want, 1e-7) {
			t.Fatalf("a %g: got %g, want %g", a, got, want)
		}
		h := units.Length(rapid.Float64Range(0.005, 2).Draw(t, "h/m"))
		if got, want := PatchShare(1e5, units.Length(d), h), FieldFactor(units.Length(d), h); !near(got, want, 1e-3) {
			t.Fatalf("large patches: %g, want %g", got, want)
		}
	})
	if got, want := PatchShare(1e-4, 0.025, inf), 1e-4/(0.025*math.Sqrt(8)); !near(got, want, 1e-4) {
		t.Errorf("small patches: %g, want %g", got, want)
	}
}

// A moving web: adaptive quadrature of the integral with the mean over the
// angle by quadrature as well.
func TestPatchShareMoving(t *testing.T) {
	for _, c := range []struct{ L, d, h, smear, want float64 }{
		{.05, .025, .1, .05, 0.39511301065976817}, {.02, .025, .3, 1, 0.059181160934111604},
		{.2, .025, .3, .5, 0.4513759257694791}, {.05, .025, .3, 5, 0.060477527500538454},
	} {
		if got := PatchShareMoving(units.Length(c.L), units.Length(c.d), units.Length(c.h), units.Length(c.smear)); !near(got,
			c.want, 1e-5) {
			t.Errorf("%+v: got %.10f", c, got)
		}
	}
	if got, want := PatchShareMoving(0.05, 0.025, 0.1, 0), PatchShare(0.05, 0.025, 0.1); got != want {
		t.Errorf("at rest: %g, want %g", got, want)
	}
	if !math.IsNaN(PatchShareMoving(0.05, 0.025, 0.1, -1)) {
		t.Error("negative smear")
	}
}

func TestDustPickUp(t *testing.T) {
	if got := DustPickUp(-2, 4, 30, 10); got != 1.5 {
		t.Errorf("got %g, want 2/4 · 30/10", got)
	}
	for _, got := range []float64{DustPickUp(1, 0, 1, 1), DustPickUp(1, 1, 1, 0), DustPickUp(1, 1, -1, 1)} {
		if !math.IsNaN(got) {
			t.Errorf("got %g, want NaN", got)
		}
	}
}
