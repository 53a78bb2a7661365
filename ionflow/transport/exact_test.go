package transport_test

import (
	"math"
	"testing"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

func carriers(p, m float64) (transport.Carrier, transport.Carrier) {
	return transport.Carrier{Mobility: 1.4e-4, Density: units.NumberDensity(p)},
		transport.Carrier{Mobility: 1.6e-4, Density: units.NumberDensity(m)}
}

func solve(t *testing.T, s *transport.Solver, p transport.Problem) transport.Solution {
	t.Helper()
	var r transport.Solution
	if err := s.Solve(&p, &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s: got %.10g, want %.10g within %.1g", what, got, want, rel)
	}
}

// Mott and Gurney, "Electronic Processes in Ionic Crystals", Oxford 1940: an
// unlimited supply of ions of one polarity in air at rest gives j = 9/8·ε0μV²/L³,
// 1.1156e-5 A/m² at 1 kV over 50 mm. Diffusion puts the place of zero field at
// about L·(D/(μV))^⅔ and raises j by a few times that; with a diffusivity far below
// Einstein's it is 1e-6.
func TestMottGurney(t *testing.T) {
	s := newSolver(t, 1e-7, 1e-2)
	pos, neg := carriers(1e18, 0)
	pos.Diffusivity = 1e-9
	r := solve(t, s, transport.Problem{Positive: pos, Negative: neg, Length: 0.05, Flow: transport.UniformFlow{},
		Temperature: 293.15,
		Wall:        transport.Wall{Condition: transport.FixedPotential, Potential: -1e4}})
	want := 9.0 / 8 * units.Epsilon0 * 1.4e-4 * 1e8 / (0.05 * 0.05 * 0.05)
	near(t, "j", float64(r.WallCurrent), want, 1e-5)
	near(t, "the formula at 1 kV", want/100, 1.1156e-5, 5e-5)
	// the field grows as √x and is 3V/2L at the wall
	near(t, "E(L)", float64(r.WallField), 1.5*1e4/0.05, 1e-5)
}

// Without space charge and recombination n(x) is known in full:
// n = n0·(e^{wL/D} − e^{wx/D})/(e^{wL/D} − 1) with w = u + μE. Far from the wall
// and in air at rest that is Boltzmann's n0·exp(−φ/V_T).
func TestBoltzmann(t *testing.T) {
	s := newSolver(t, 1e-9, 1e-8)
	pos, neg := carriers(1, 1)
	vt := units.Boltzmann * 293.15 / units.ElementaryCharge
	r := solve(t, s, transport.Problem{Positive: pos, Negative: neg, Length: 0.01, Flow: transport.UniformFlow{},
		Temperature: 293.15,
		Wall:        transport.Wall{Condition: transport.FixedPotential, Potential: units.Voltage(20 * vt)}})
	for _, x := range []float64{0.001, 0.003, 0.005, 0.008} {
		p, m, _, _ := r.At(units.Length(x))
		z := 20 * x / 0.01 // φ/V_T
		want := math.Exp(-z) * math.Expm1(-(20 - z)) / math.Expm1(-20)
		if d := math.Abs(float64(p) - want); !(d <= 1e-7) {
			t.Errorf("repelled at %g m: off by %g", x, d)
		}
		if x < 0.004 {
			near(t, "Boltzmann", float64(p), math.Exp(-z), 1e-5) // exp(-(20-z)) < 1e-5
		}
		if d := math.Abs(float64(m) - math.Expm1(z-20)/math.Expm1(-20)); !(d <= 1e-7) {
			t.Errorf("drawn at %g m: off by %g", x, d)
		}
	}
}

// One polarity drawn to a charged surface in moving air: w = u + μE obeys w² =
// w0² + 2Kw0x with K = eμn0/ε0 (Gauss' law and constant flux), w0 = −KL + √((KL)²
// + w_L²). Diffusion and the other polarity, which never enters, are left out:
// parts of D/(w0·L).
func TestUnipolarWithAir(t *testing.T) {
	s := newSolver(t, 1e-8, 1e-5)
	for _, c := range []struct{ n, u, sigma, l float64 }{
		{1e13, 5, 1e-6, 0.05}, {1e14, 1, 5e-6, 0.1}, {1e12, 20, 2e-5, 0.3}, {5e14, 0.2, 1e-6, 0.02},
	} {
		pos, neg := carriers(0, c.n)
		p := transport.Problem{Positive: pos, Negative: neg, Length: units.Length(c.l),
			Flow: transport.UniformFlow{Speed: units.Speed(c.u)}, Temperature: 293.15,
			Wall: transport.Wall{Condition: transport.FixedCharge, Charge: units.SurfaceChargeDensity(c.sigma)}}
		r := solve(t, s, p)
		const mu = 1.6e-4
		k := units.ElementaryCharge * mu * c.n / units.Epsilon0
		wl := c.u + mu*c.sigma/units.Epsilon0
		w0 := -k*c.l + math.Hypot(k*c.l, wl)
		tol := 2e-6 + 3*1.6e-4*0.02526/(w0*c.l)
		near(t, "flux", r.WallNegative, c.n*w0, tol)
		for _, f := range []float64{0.2, 0.5, 0.8} {
			_, m, _, _ := r.At(units.Length(f * c.l))
			near(t, "density", float64(m), c.n*w0/math.Sqrt(w0*w0+2*k*w0*f*c.l), tol)
		}
	}
}

// Equal ions in equal number make no field: what is left is recombination and
// dilution. Free jet of constant momentum: n = n0·(Q0/Q)/(1 + αn0x/U0), with the
// exit speed; stagnation flow: n = n0/(1 − (αn0L/U0)·ln(1 − x/L)). Diffusion is
// left out, D/(uL) < 1e-5.
func TestJetAndStagnation(t *testing.T) {
	s := newSolver(t, 1e-8, 1e-6)
	ion := func(n float64) transport.Carrier {
		return transport.Carrier{Mobility: 1.5e-4, Density: units.NumberDensity(n)}
	}
	r := solve(t, s, transport.Problem{Positive: ion(5e13), Negative: ion(5e13), Length: 0.2,
		Flow:          transport.JetFlow{Speed: 20, Origin: 0.03},
		Recombination: 1.6e-12, Temperature: 293.15})
	p, m, _, _ := r.At(0.15) // Q/Q0 = 1 + x/x0 = 6
	near(t, "jet n+", float64(p), 5.208333e12, 3e-5)
	near(t, "jet n-", float64(m), 5.208333e12, 3e-5)
	r = solve(t, s, transport.Problem{Positive: ion(2e13), Negative: ion(2e13), Length: 0.05,
		Flow:          transport.StagnationFlow{Speed: 10, Distance: 0.05},
		Recombination: 1.6e-12, Temperature: 293.15})
	p, _, _, _ = r.At(0.045)
	near(t, "stagnation n+", float64(p), 1.461546e13, 5e-5)
	if float64(r.WallCurrent) != 0 && !(math.Abs(float64(r.WallCurrent)) <= 1e-12*units.ElementaryCharge*2e14) {
		t.Errorf("equal ions give a current of %v", r.WallCurrent)
	}
}

// The flux between two nodes is exact for constant w on any mesh, be it one cell
// or uneven: J = n0·w/(1 − e^{−Pe}).
func TestFittedFluxExactOnAnyMesh(t *testing.T) {
	want := 1e13 * 1 / -math.Expm1(-5)
	near(t, "one cell", transport.FittedFlux(1e13, 0, 1, 0.01, 0.05), want, 1e-14)
	s := newSolver(t, 1e-6, 1e-4)
	pos, neg := carriers(1e-3, 0) // so few that they make no field
	pos.Diffusivity = 0.01
	p := transport.Problem{Positive: pos, Negative: neg, Length: 0.05, Flow: transport.UniformFlow{Speed: 1},
		Temperature: 293.15}
	for _, n := range []int{2, 3, 7, 50, 400} {
		mesh := make([]units.Length, n+1)
		for i := range mesh {
			f := float64(i) / float64(n)
			mesh[i] = units.Length(0.05 * f * f)
		}
		mesh[n] = 0.05
		var r transport.Solution
		if err := s.SolveOn(&p, mesh, &r); err != nil {
			t.Fatal(err)
		}
		near(t, "flux", r.WallPositive, 1e-16*want, 1e-12)
	}
	for _, bad := range []float64{transport.FittedFlux(1, 1, 1, 0, 1), transport.FittedFlux(1, 1, 1, 1, -1),
		transport.FittedFlux(1, units.NumberDensity(math.NaN()), 1, 1, 1)} {
		if !math.IsNaN(bad) {
			t.Errorf("got %g, want NaN", bad)
		}
	}
}

// A floating surface in a stream with more positive ions: zero net current gives
// the field −u(n+ − n−)/(μ+n+ + μ−n−) near the inlet, −814.3322 V/m for 5 % at 5
// m/s; gradients shift it by parts in 1e5.
func TestFloatingOffset(t *testing.T) {
	s := newSolver(t, 1e-8, 1e-4)
	pos, neg := carriers(1.05e13, 1e13)
	r := solve(t, s, transport.Problem{Positive: pos, Negative: neg, Length: 0.05, Flow: transport.UniformFlow{Speed: 5},
		Recombination: 1.6e-12, Temperature: 293.15, Wall: transport.Wall{Condition: transport.FloatingPotential}})
	near(t, "E(0)", float64(r.InletField), -814.3322, 1e-5)
	if d := math.Abs(r.WallPositive - r.WallNegative); !(d <= 1e-10*r.WallPositive) {
		t.Errorf("net flux %g of %g", d, r.WallPositive)
	}
}

// Metal behind the surface takes part of the field lines: without ions σ =
// ε0·V·(1/L + 1/gap), so V = σ·L·gap/(ε0(L + gap)).
func TestBackGap(t *testing.T) {
	s := newSolver(t, 1e-8, 1e-3)
	pos, neg := carriers(1, 1)
	r := solve(t, s, transport.Problem{Positive: pos, Negative: neg, Length: 0.05, Flow: transport.UniformFlow{Speed: 1},
		Temperature: 293.15,
		Wall:        transport.Wall{Condition: transport.FixedCharge, Charge: 1e-6, BackGap: 0.01}})
	near(t, "V", float64(r.WallPotential), 1e-6*0.05*0.01/(units.Epsilon0*0.06), 1e-8)
	near(t, "σ", float64(r.WallCharge), 1e-6, 1e-8)
	near(t, "σ by hand", -units.Epsilon0*float64(r.WallField)+units.Epsilon0*float64(r.WallPotential)/0.01, 1e-6, 1e-8)
}

// Without diffusion the equations in x/L hold n and L as the product n·L only
// (space charge and recombination per transit), so that n/k and k·L give the same
// profile and the same fluxes over n, at the same air speed and charge. What is
// known of one gap is thereby known of others.
func TestSimilarity(t *testing.T) {
	s := newSolver(t, 1e-7, 1e-2)
	at := func(n, l, sigma, u float64) float64 {
		pos, neg := carriers(n, n)
		r := solve(t, s, transport.Problem{Positive: pos, Negative: neg, Length: units.Length(l), Recombination: 1.6e-12,
			Temperature: 293.15,
			Flow:        transport.StagnationFlow{Speed: units.Speed(u), Distance: units.Length(l)},
			Wall:        transport.Wall{Condition: transport.FixedCharge, Charge: units.SurfaceChargeDensity(sigma)}})
		return float64(r.WallCurrent) / n
	}
	for _, sigma := range []float64{3e-7, 3e-6} {
		for _, u := range []float64{2, 20} {
			a, b, c := at(1e14, 0.03, sigma, u), at(3e13, 0.1, sigma, u), at(1e13, 0.3, sigma, u)
			// diffusion is of relative order D/(μE·L) < 3e-5 at the inlet and the surface
			near(t, "0.1 m", b, a, 1e-3)
			near(t, "0.3 m", c, a, 1e-3)
		}
	}
}
