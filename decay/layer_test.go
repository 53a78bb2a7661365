package decay_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

// TestLayerLimits: one formula contains the others.
func TestLayerLimits(t *testing.T) {
	film := decay.Layer{Thickness: 50 * units.Micrometre, Permittivity: 2.25, Resistivity: 1e14}
	// A probe far away leaves the bulk time; at the film's own thickness it adds 44 %.
	near(t, "probe far away", float64(must(decay.ProbeTime(film, 1e3))/film.Tau()), 1, 1e-7)
	near(t, "probe at g = d", float64(must(decay.ProbeTime(film, film.Thickness))/film.Tau()), 1+1/2.25, 1e-14)
	// A probe over the film is the interface with a layer of air that conducts nothing.
	air := decay.Layer{Thickness: 1 * units.Millimetre, Permittivity: 1, Resistivity: 1e300}
	near(t, "air as a layer", float64(must(decay.InterfaceTime(film, air))),
		float64(must(decay.ProbeTime(film, 1*units.Millimetre))), 1e-14)
	// Two equal layers are one.
	near(t, "equal layers", float64(must(decay.InterfaceTime(film, film))), float64(film.Tau()), 1e-14)
	// A stack of equal layers is one thick layer: σ·d/ε at the start.
	s := must(decay.NewStack(film, film))
	near(t, "stack at the start", float64(s.Voltage(1e-5, 0)), 1e-5*2*50e-6/(units.Epsilon0*2.25), 1e-14)
	near(t, "stack of equals", s.Law().Fraction(film.Tau()), 1/math.E, 1e-14)
	if n := s.Law().Len(); n != 2 {
		t.Errorf("two layers, %d terms", n)
	}
	w, tau := s.Law().Term(1)
	near(t, "weight", w, .5, 1e-15)
	near(t, "time", float64(tau), float64(film.Tau()), 1e-15)
}

// TestFloatingFilm: the symmetric film has the closed even and odd times, and
// the modes evolve as the equation says.
func TestFloatingFilm(t *testing.T) {
	for _, c := range []struct{ d, eps, rho, ra, rb, lambda float64 }{
		{20e-6, 2.2, 1e15, 0, 0, 0.01},
		{20e-6, 2.2, 1e15, 0, 0, 1},
		{1e-3, 3, 1e13, 0, 0, 1e-4}, // kd = 63: the faces do not see each other
		{50e-6, 2.25, 1e14, 1e11, 3e13, .05},
		{50e-6, 2.25, 1e14, 3e13, 1e11, .05},
		{50e-6, 2.25, 1e16, 1e10, 0, .3},
		{12e-6, 3.1, 1e13, 1e9, 1e9, .02},
	} {
		film := decay.ConductingFilm{Layer: decay.Layer{Thickness: units.Length(c.d), Permittivity: c.eps,
			Resistivity: units.VolumeResistivity(c.rho)},
			FaceA: units.SheetResistance(c.ra), FaceB: units.SheetResistance(c.rb)}
		name := fmt.Sprintf("%+v", c)
		f := must(decay.NewFloatingFilm(film, units.Length(c.lambda)))
		if !(f.Slow().Tau >= f.Fast().Tau) {
			t.Errorf("%s: slow %v, fast %v", name, f.Slow().Tau, f.Fast().Tau)
		}
		if c.ra == 0 && c.rb == 0 {
			even, odd, err := decay.FilmModes(film.Layer, units.Length(c.lambda))
			if err != nil {
				t.Fatal(err)
			}
			near(t, name+" even", float64(f.Slow().Tau), float64(max(even, odd)), 1e-12)
			near(t, name+" odd", float64(f.Fast().Tau), float64(min(even, odd)), 1e-12)
		}
		// The residual of dσ/dt = −G·C⁻¹·σ by a central difference, with the matrices
		// written out as in the definition.
		k := 2 * math.Pi / c.lambda
		x := k * c.d
		ct, cs := 1/math.Tanh(x), 1/math.Sinh(x)
		c1, c2 := units.Epsilon0*k*(1+c.eps*ct), -units.Epsilon0*k*c.eps*cs
		g1, g2, g3 := k/c.rho*ct, k/c.rho*ct, -k/c.rho*cs
		if c.ra != 0 {
			g1 += k * k / c.ra
		}
		if c.rb != 0 {
			g2 += k * k / c.rb
		}
		det := (c1 - c2) * (c1 + c2)
		for _, at := range []units.Time{f.Fast().Tau / 2, f.Slow().Tau / 3, f.Slow().Tau} {
			const a0, b0 = 1e-5, -3e-6
			h := 1e-4 * min(at, f.Fast().Tau)
			a, b := f.At(at, a0, b0)
			ap, bp := f.At(at+h, a0, b0)
			am, bm := f.At(at-h, a0, b0)
			pa, pb := (c1*float64(a)-c2*float64(b))/det, (c1*float64(b)-c2*float64(a))/det // φ = C⁻¹σ [V]
			ja, jb := g1*pa+g3*pb, g2*pb+g3*pa
			// Rounding of the difference quotient: ulp of σ over the step.
			size := math.Abs(float64(a)) + math.Abs(float64(b))
			tol := 1e-5*(math.Abs(ja)+math.Abs(jb)) + 1e-14*size/float64(h) + 1e-9*math.Abs(g1*pa)
			if da := float64(ap-am) / float64(2*h); !(math.Abs(da+ja) <= tol) {
				t.Errorf("%s at %v: dσ_A/dt = %g, −(Gφ)_A = %g", name, at, da, -ja)
			}
			if db := float64(bp-bm) / float64(2*h); !(math.Abs(db+jb) <= tol) {
				t.Errorf("%s at %v: dσ_B/dt = %g, −(Gφ)_B = %g", name, at, db, -jb)
			}
		}
	}
}

// TestFilmFaces: swapping the faces swaps the result; the modes are independent
// and complete; the stored energy falls; steps compose.
func TestFilmFaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	for range 200 {
		pick := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, rng.Float64()) }
		l := decay.Layer{Thickness: units.Length(pick(5e-6, 1e-3)), Permittivity: 1 + 4*rng.Float64(),
			Resistivity: units.VolumeResistivity(pick(1e11, 1e17))}
		ra, rb, lambda := units.SheetResistance(pick(1e8, 1e15)), units.SheetResistance(pick(1e8, 1e15)),
			units.Length(pick(1e-3, 3))
		f := must(decay.NewFloatingFilm(decay.ConductingFilm{Layer: l, FaceA: ra, FaceB: rb}, lambda))
		g := must(decay.NewFloatingFilm(decay.ConductingFilm{Layer: l, FaceA: rb, FaceB: ra}, lambda))
		a0, b0 := units.SurfaceChargeDensity(rng.NormFloat64()), units.SurfaceChargeDensity(rng.NormFloat64())
		size := math.Hypot(float64(a0), float64(b0))
		same := func(what string, x, y units.SurfaceChargeDensity) {
			if !(math.Abs(float64(x-y)) <= 1e-9*size) {
				t.Errorf("%s: %g against %g (film %+v, faces %g, %g, wavelength %v)", what, float64(x), float64(y), l, float64(ra),
					float64(rb), lambda)
			}
		}
		for _, at := range []units.Time{1e-300, f.Fast().Tau, f.Slow().Tau} {
			a, b := f.At(at, a0, b0)
			y, x := g.At(at, b0, a0)
			same("swapped face A", x, a)
			same("swapped face B", y, b)
			if at < 1e-200 {
				same("complete A", a, a0)
				same("complete B", b, b0)
			}
			h1, h2 := f.At(at/2, a0, b0)
			h1, h2 = f.At(at/2, h1, h2)
			same("two steps A", h1, a)
			same("two steps B", h2, b)
		}
		near(t, "mode length", math.Hypot(f.Slow().A, f.Slow().B), 1, 1e-12)
	}
}

// TestFilmNet: what a field meter sees of a film that was charged on one face.
func TestFilmNet(t *testing.T) {
	film := decay.ConductingFilm{Layer: decay.Layer{Thickness: 20 * units.Micrometre, Permittivity: 2.2,
		Resistivity: 1e13}}
	f := must(decay.NewFloatingFilm(film, 0.1))
	net := must(f.Net(1e-5, 0))
	// After the faces have paired, the net charge is what it was.
	if v := net(20 * f.Fast().Tau); !(v > 0.9 && v < 1) {
		t.Errorf("net charge after 20 bulk times: %g of the start", v)
	}
	a, b := f.At(20*f.Fast().Tau, 1e-5, 0)
	if !(math.Abs(float64(a/b)-1) < 0.01) {
		t.Errorf("faces after pairing: %g and %g C/m²", float64(a), float64(b))
	}
	if _, err := f.Net(1e-5, -1e-5); err == nil {
		t.Error("a film without net charge has no net decay")
	}
}

func TestLiquids(t *testing.T) {
	var low *decay.ConductivityError
	if _, err := decay.NewLiquid(1e-14, 2.2); !errors.As(err, &low) || low.Conductivity != 1e-14 {
		t.Errorf("0.01 pS/m: got %v, want a refusal", err)
	}
	if _, err := decay.NewLiquid(1.99e-12, 2.2); !errors.As(err, &low) {
		t.Errorf("1.99 pS/m: got %v, want a refusal", err)
	}
	l := must(decay.NewLiquid(decay.LeastOhmic, 2))
	// 8.854·εr/κ(pS/m): 8.854 s at 2, 2.
	near(t, "2 pS/m, εr 2", float64(l.Tau()), 8.854, 1e-4)
	lo, hi := l.SlowedTime()
	if lo != 3*l.Tau() || hi != 4*l.Tau() || l.Law().Tau() != l.Tau() {
		t.Errorf("slowed %v … %v of %v", lo, hi, l.Tau())
	}
	if n := l.Notice(); n.Code == "" || n.Consult == "" || n.Decide == "" {
		t.Errorf("notice not filled in: %+v", n)
	}
	// 19-fold in 100 s is 5 % left; the sign of the charge does not matter.
	h := must(decay.NewLowConductivityLiquid(1e-9, -3.364e-3, 2))
	near(t, "rate constant", h.RateConstant(), 1e-9*3.364e-3/(2*units.Epsilon0), 1e-14)
}
