package sheet

import (
	"errors"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// sheetOf returns the ρ_s that spreads at vs.
func sheetOf(vs float64) units.SheetResistance {
	return units.SheetResistance(1 / (2 * units.Epsilon0 * vs))
}

func span(vs, step float64) (*FreeSpanWeb, error) {
	spec := FreeSpanSpec{Length: 1, Speed: 1, InletRadius: 0.05, OutletRadius: 0.05, ContactGap: 2e-6}
	if vs > 0 {
		spec.SurfaceResistivity = sheetOf(vs)
	}
	return NewFreeSpanWeb(spec, &FreeSpanSettings{Step: step})
}

func mustSpan(t testing.TB, vs, step float64) *FreeSpanWeb {
	t.Helper()
	w, err := span(vs, step)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// A perfect insulator carries everything downstream: the web brings what it got.
func TestFreeSpanInsulator(t *testing.T) {
	w := mustSpan(t, 0, 0.1)
	c := w.FromInlet(3e-6)
	near(t, "share from the inlet", c.DownstreamShare, 1, 1e-12)
	near(t, "charge at mid-span", float64(c.MidSpan), 3e-6, 1e-12)
	for _, x := range []units.Length{1e-5, 0.03, 0.5, 0.999} {
		near(t, "share", w.DownstreamShare(x), 1, 1e-9)
	}
	d := w.FromDeposit(0.4, 1e-6)
	near(t, "charge behind a deposit", float64(d.MidSpan), 1e-6, 1e-9)
	if c := math.Abs(float64(d.InletCurrent)); c > 1e-15 {
		t.Errorf("an insulator takes %g A/m back to the inlet", c)
	}
	// And nearly perfect is near to it.
	near(t, "nearly an insulator", mustSpan(t, 1e-3, 0.1).DownstreamShare(0.5), 1, 1e-6)
}

// A web at rest between equal rollers sends charge both ways alike, and a steady
// current laid at x goes to the outlet with the share x/L: in the steady state
// at rest the current −φ′/ρ_s is constant on either side of the deposit, so φ is
// two straight lines, whatever the capacitances are.
func TestFreeSpanAtRest(t *testing.T) {
	w, err := NewFreeSpanWeb(FreeSpanSpec{Length: 1, SurfaceResistivity: 1e12, InletRadius: 0.05, OutletRadius: 0.12,
		ContactGap: 2e-6}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{0.01, 0.3, 0.5, 0.9} {
		near(t, "share at rest", w.DownstreamShare(units.Length(x)), x, 1e-4) // 1e-4: interpolation between nodes
	}
	// So between sharp edges and with rollers that touch without a gap.
	for _, r := range []units.Length{0, 0.05} {
		v, err := NewFreeSpanWeb(FreeSpanSpec{Length: 1, SurfaceResistivity: 1e12, InletRadius: r, OutletRadius: r}, nil)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "share at rest without a gap", v.DownstreamShare(0.3), 0.3, 1e-4)
	}
	c := w.FromDeposit(0.5, 1e-6)
	// φ at the deposit: ρ_s I L/4.
	i := len(c.X) / 2
	near(t, "potential at the deposit", c.Potential[i], 1e12*1e-6/4, 1e-9)
	// Fast spreading on a moving web comes near to it.
	near(t, "nearly at rest", mustSpan(t, 1e5, 0.1).DownstreamShare(0.3), 0.3, 1e-4)
}

// Charge is conserved: what is supplied leaves at the two rollers.
func TestFreeSpanConserves(t *testing.T) {
	for _, vs := range []float64{0.1, 3, 50} {
		w := mustSpan(t, vs, 0.2)
		a, b := w.FromDeposit(0.37, 1e-6), w.FromInlet(1e-6)
		near(t, "deposit", float64(a.InletCurrent+a.OutletCurrent), 1e-6, 1e-8)
		near(t, "inlet", float64(b.InletCurrent+b.OutletCurrent), 1e-6, 1e-8)
		near(t, "share of a deposit", a.DownstreamShare, w.DownstreamShare(0.37), 1e-4) // 1e-4: interpolation at step 0.2
	}
}

// More conduction sends more back and the shares stay shares.
func TestFreeSpanMonotone(t *testing.T) {
	last := 2.0
	for _, vs := range []float64{0.03, 0.3, 3, 30, 300} {
		w := mustSpan(t, vs, 0.2)
		if s := w.DownstreamShare(0.5); !(s > 0 && s <= 1 && s < last) {
			t.Errorf("v_s %g: share %g after %g", vs, s, last)
		} else {
			last = s
		}
		prev := 0.0
		for x := 0.05; x < 1; x += 0.1 {
			s := w.DownstreamShare(units.Length(x))
			if !(s >= prev-1e-9) {
				t.Errorf("v_s %g: share falls along the web at %g: %g after %g", vs, x, s, prev)
			}
			prev = s
		}
	}
}

// The error falls with the square of the step: differences of successive
// halvings fall four times (3.4 … 4.6 allows for the next term).
func TestFreeSpanOrder(t *testing.T) {
	for _, vs := range []float64{1, 3} {
		var v [3]float64
		for i, h := range []float64{0.2, 0.1, 0.05} {
			v[i] = float64(mustSpan(t, vs, h).FromInlet(1).MidSpan)
		}
		if r := (v[0] - v[1]) / (v[1] - v[2]); !(r > 3.4 && r < 4.6) {
			t.Errorf("v_s %g: differences fall %.2f times (%v)", vs, r, v)
		}
	}
}

// The accuracy that FreeSpanSettings promises, where half of a deposit goes back:
// the default step against steps 0.1 and 0.05 extrapolated.
func TestFreeSpanAccuracy(t *testing.T) {
	share := func(step float64) float64 {
		w, err := NewFreeSpanWeb(FreeSpanSpec{Length: 1, Speed: 1, SurfaceResistivity: sheetOf(10), InletRadius: 0.02,
			OutletRadius: 0.02, ContactGap: 2e-6},
			&FreeSpanSettings{Step: step})
		if err != nil {
			t.Fatal(err)
		}
		return w.FromInlet(1).DownstreamShare
	}
	a, b := share(0), share(0.05)
	near(t, "share at the default step", a, b+(b-a)/3, 4e-3)
}

func TestFreeSpanValidity(t *testing.T) {
	for _, c := range []struct {
		same bool
		r    units.Length
		want known.Validity
	}{{true, 0.2, known.WrongShape}, {false, 0.2, known.Inside}, {true, 0.05, known.Inside}} {
		w, err := NewFreeSpanWeb(FreeSpanSpec{Length: 1, Speed: 1, InletRadius: 0.05, OutletRadius: c.r, ContactGap: 1e-4,
			SameFace: c.same},
			&FreeSpanSettings{Step: 0.5})
		if err != nil {
			t.Fatal(err)
		}
		if got := w.Validity(); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
}

// The operator of the moving web, with sharp edges and at rest, has the slot's
// eigenvalue 2.006119 (Henrici, Troesch & Wuytack, Z. angew. Math. Phys. 21
// (1970) 285: the strip ice-fishing problem; the value not compared, and from
// finite elements with Richardson extrapolation). It is computed here by inverse
// iteration on the mesh of the web, apart from the Chebyshev route of
// SlotStrip.
func TestFreeSpanOperatorEigenvalue(t *testing.T) {
	at := func(step float64) float64 {
		m := newSpanMesh(step, 14)
		lam, _, _ := m.operator(t.Context(), 0, 0)
		n := len(m.s)
		// −ψ″ by finite volumes; cells end half-way in s.
		stiff := mat.NewDense(n, n, nil)
		for f := 0; f <= n; f++ {
			dx := m.x[0]
			switch {
			case f == n:
				dx = m.xi[n-1]
			case f > 0:
				dx = 2 * math.Sinh(step/2) * math.Sqrt(m.x[f]*m.xi[f]*m.x[f-1]*m.xi[f-1])
			}
			for _, a := range []int{f - 1, f} {
				for _, b := range []int{f - 1, f} {
					if a >= 0 && a < n && b >= 0 && b < n {
						sign := 1.0
						if a != b {
							sign = -1
						}
						stiff.Set(a, b, stiff.At(a, b)+sign/dx)
					}
				}
			}
		}
		for i := range n { // cell width: dx/ds = x ξ
			for j := range n {
				lam.Set(i, j, lam.At(i, j)*m.x[i]*m.xi[i]*2*math.Sinh(step/2))
			}
		}
		var lu mat.LU
		lu.Factorize(stiff)
		v := mat.NewVecDense(n, nil)
		for i := range n {
			v.SetVec(i, m.x[i]*m.xi[i])
		}
		mu := 0.0
		for range 30 {
			var g, u mat.VecDense
			g.MulVec(lam, v)
			if err := lu.SolveVecTo(&u, false, &g); err != nil {
				if _, ok := err.(mat.Condition); !ok {
					t.Fatal(err)
				}
			}
			mu = mat.Norm(v, math.Inf(1)) / mat.Norm(&u, math.Inf(1))
			v.ScaleVec(1/mat.Norm(&u, math.Inf(1)), &u)
		}
		// Λ₁+Λ₂ = 2Λ, span 1: −ψ″ = (μ/2)(2Λ)ψ per length of the half span.
		return mu
	}
	a, b := at(0.2), at(0.1)
	near(t, "eigenvalue of the slot", b+(b-a)/3, 2.006119, 1e-5) // 1e-5: fourth order left by the extrapolation
}

func TestFreeSpanRefuses(t *testing.T) {
	good := FreeSpanSpec{Length: 1, Speed: 1, SurfaceResistivity: 1e11, InletRadius: 0.05, OutletRadius: 0.05,
		ContactGap: 2e-6}
	for _, c := range []struct {
		field string
		spoil func(*FreeSpanSpec)
	}{
		{"length", func(s *FreeSpanSpec) { s.Length = 0 }},
		{"speed", func(s *FreeSpanSpec) { s.Speed = -1 }},
		{"speed", func(s *FreeSpanSpec) { s.Speed, s.SurfaceResistivity = 0, 0 }},
		{"surface_resistivity", func(s *FreeSpanSpec) { s.SurfaceResistivity = -5 }},
		{"inlet_radius", func(s *FreeSpanSpec) { s.InletRadius = 0 }},
		{"outlet_radius", func(s *FreeSpanSpec) { s.OutletRadius = units.Length(math.NaN()) }},
		{"contact_gap", func(s *FreeSpanSpec) { s.ContactGap = 0 }},
		{"contact_gap", func(s *FreeSpanSpec) { s.ContactGap = 0.009 }},
	} {
		s := good
		c.spoil(&s)
		_, err := NewFreeSpanWeb(s, nil)
		var fe *known.FieldError
		if !errors.As(err, &fe) || !strings.Contains(err.Error(), c.field) {
			t.Errorf("%s: got %v", c.field, err)
		}
	}
	if _, err := NewFreeSpanWeb(good, &FreeSpanSettings{Step: 3}); err == nil {
		t.Error("a step of 3 must be refused")
	}
	w := mustSpan(t, 1, 0.5)
	if v := w.DownstreamShare(units.Length(math.NaN())); !math.IsNaN(v) {
		t.Errorf("share at NaN: %g", v)
	}
	if v := w.FromDeposit(2, 1).DownstreamShare; !math.IsNaN(v) {
		t.Errorf("deposit outside the span: %g", v)
	}
	if n := testing.AllocsPerRun(100, func() { w.DownstreamShare(0.3) }); n != 0 {
		t.Errorf("DownstreamShare allocates %g times", n)
	}
}

func TestNearEarthWeb(t *testing.T) {
	w, err := NewNearEarthWeb(NearEarthSpec{Length: 1, Speed: 0.5, Diffusivity: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	// The profile solves Dσ″ = Uσ′ with its ends.
	const h = 1e-4
	for _, x := range []units.Length{0.2, 0.6, 0.9} {
		a, b, c := w.ProfileAt(x-h), w.ProfileAt(x), w.ProfileAt(x+h)
		near(t, "steady profile", 0.2*(a-2*b+c)/(h*h), 0.5*(c-a)/(2*h), 1e-5) // 1e-5: rounding of the second difference
	}
	if a, b := w.ProfileAt(0), w.ProfileAt(1); a != 1 || b != 0 {
		t.Errorf("ends of the profile: %g, %g", a, b)
	}
	rest, err := NewNearEarthWeb(NearEarthSpec{Length: 2, Diffusivity: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share at rest", rest.DownstreamShare(0.5), 0.25, 1e-15)
	near(t, "slowest rate at rest", float64(rest.SlowestRate()), math.Pi*math.Pi*0.2/4, 1e-15)
	stiff, err := NewNearEarthWeb(NearEarthSpec{Length: 2, Speed: 1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "share without diffusion", stiff.DownstreamShare(1e-6), 1, 1e-15)
	if v := stiff.DownstreamShare(-1); !math.IsNaN(v) {
		t.Errorf("outside: %g", v)
	}
	for _, s := range []NearEarthSpec{{}, {Length: -1, Speed: 1},
		{Length: 1, Speed: units.Speed(math.Inf(1)), Diffusivity: 1}, {Length: 1, Speed: 1, Diffusivity: -1}} {
		if _, err := NewNearEarthWeb(s); err == nil {
			t.Errorf("%+v accepted", s)
		}
	}
}

func TestWebRemaining(t *testing.T) {
	inf := units.Time(math.Inf(1))
	got := WebRemaining(5, WebStretch{0.4, 0.5}, WebStretch{3, inf}, WebStretch{0.6, 0.5})
	near(t, "two wraps and a span", got, math.Exp(-0.4), 1e-15)
	for _, v := range []float64{WebRemaining(0, WebStretch{1, 1}), WebRemaining(1, WebStretch{-1, 1}),
		WebRemaining(1, WebStretch{1, 0})} {
		if !math.IsNaN(v) {
			t.Errorf("got %g, want NaN", v)
		}
	}
}
