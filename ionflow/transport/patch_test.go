package transport_test

import (
	"math"
	"testing"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestPassUnipolar: with ions of one polarity only, drawn to the charge, the
// current is known in closed form (see TestUnipolarWithAir), and dσ/dt = −j(σ) is
// integrated here by a plain Runge–Kutta rule of fourth order in 2000 steps.
func TestPassUnipolar(t *testing.T) {
	const n, u, l, mu, sigma, speed, footprint = 2e13, 4.0, 0.04, 1.6e-4, 3e-6, 2.0, 0.1
	pos, neg := carriers(0, n)
	j := func(s float64) float64 { // [A/m²]
		k := units.ElementaryCharge * mu * n / units.Epsilon0
		w0 := -k*l + math.Hypot(k*l, u+mu*s/units.Epsilon0)
		return -units.ElementaryCharge * n * w0
	}
	s, h := sigma, footprint/speed/2000
	for range 2000 {
		k1 := j(s)
		k2 := j(s + h/2*k1)
		k3 := j(s + h/2*k2)
		k4 := j(s + h*k3)
		s += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
	}
	var r transport.PatchResult
	err := newSolver(t, 1e-6, 1e-2).Pass(&transport.Patch{
		Column: transport.Problem{Positive: pos, Negative: neg, Length: l, Flow: transport.UniformFlow{Speed: u},
			Temperature: 293.15,
			Wall:        transport.Wall{Condition: transport.FixedCharge, Charge: sigma}},
		Speed: speed, Footprint: footprint}, &r)
	if err != nil {
		t.Fatal(err)
	}
	// diffusion, left out above, shifts the current by 3·D/(w0·L) = 4e-5 of itself
	if d := math.Abs(float64(r.Residual) - s); !(d <= 5e-5*math.Abs(s-sigma)) {
		t.Errorf("residual %v, want %g", r.Residual, s)
	}
	near(t, "delivered", float64(r.Delivered), speed*(float64(r.Residual)-sigma), 1e-12)
	last := len(r.Y) - 1
	if r.Y[0] != 0 || !(math.Abs(float64(r.Y[last])-footprint) <= 1e-12) || r.Charge[last] != r.Residual ||
		r.Charge[0] != sigma {
		t.Errorf("trace from %v to %v, %v to %v", r.Y[0], r.Y[last], r.Charge[0], r.Charge[last])
	}
}

// TestPassLimits: a fast surface keeps its charge, a slow one comes to the charge
// at which no net current flows; a stream without ions does nothing.
func TestPassLimits(t *testing.T) {
	pos, neg := carriers(2e13, 2.1e13)
	p := transport.Patch{
		Column: transport.Problem{Positive: pos, Negative: neg, Length: 0.05,
			Flow: transport.StagnationFlow{Speed: 5, Distance: 0.06}, Recombination: 1.6e-12, Temperature: 293.15,
			Wall: transport.Wall{Condition: transport.FixedCharge, Charge: -2e-6}},
		Speed: 1e4, Footprint: 0.05}
	s := newSolver(t, 1e-6, 1e-2)
	var r transport.PatchResult
	if err := s.Pass(&p, &r); err != nil {
		t.Fatal(err)
	}
	near(t, "fast", float64(r.Residual), -2e-6, 1e-3)
	if r.Validity != known.WrongShape {
		t.Errorf("5 µs under the stream: lag %v, %v", r.Lag, r.Validity)
	}
	p.Speed = 0.1
	if err := s.Pass(&p, &r); err != nil {
		t.Fatal(err)
	}
	q := p.Column
	q.Wall = transport.Wall{Condition: transport.FloatingPotential}
	floating := solve(t, newSolver(t, 1e-8, 1e-2), q)
	if d := math.Abs(float64(r.Residual - floating.WallCharge)); !(d <= 1e-5*2e-6) {
		t.Errorf("after 0.5 s, 27 relaxation times: %v, a floating surface has %v", r.Residual, floating.WallCharge)
	}
	p.Shape = func(units.Ratio) units.Ratio { return 0 }
	if err := s.Pass(&p, &r); err != nil || r.Residual != -2e-6 {
		t.Errorf("no ions: %v, %v", r.Residual, err)
	}
}

// TestBreakdownFlag: σ/ε0 above 3 MV/m, 27 µC/m², is computed and flagged.
func TestBreakdownFlag(t *testing.T) {
	p := demo()
	p.Flow = transport.UniformFlow{Speed: 5} // a jet would widen, and its inlet have the larger field
	p.Wall = transport.Wall{Condition: transport.FixedCharge, Charge: 3e-5}
	s := newSolver(t, 1e-5, 1e-2)
	if r := solve(t, s, p); r.Validity != known.AboveRange {
		t.Errorf("30 µC/m²: %v", r.Validity)
	}
	var r transport.PatchResult
	if err := s.Pass(&transport.Patch{Column: p, Speed: 100, Footprint: 0.1}, &r); err != nil ||
		r.Validity&known.AboveRange == 0 {
		t.Errorf("patch of 30 µC/m²: %v, %v", r.Validity, err)
	}
	p.Wall.Charge = 2e-5
	if r := solve(t, s, p); r.Validity != known.Inside {
		t.Errorf("20 µC/m²: %v", r.Validity)
	}
	// the destination is reused: no allocation from the second pass on
	pass := transport.Patch{Column: p, Speed: 100, Footprint: 0.1}
	if n := testing.AllocsPerRun(3, func() { _ = s.Pass(&pass, &r) }); n > 1 {
		t.Errorf("a pass makes %g allocations", n)
	}
}

func TestPassFaults(t *testing.T) {
	p := transport.Patch{Column: demo(), Speed: 0, Footprint: units.Length(math.NaN())}
	p.Column.Wall = transport.Wall{}
	p.Column.Length = 0
	var r transport.PatchResult
	err := newSolver(t, 0, 0).Pass(&p, &r)
	for _, f := range []string{"speed", "footprint", "column.wall.condition", "length"} {
		if !names(err, f) {
			t.Errorf("no fault of %s in %v", f, err)
		}
	}
	p = transport.Patch{Column: demo(), Speed: 1, Footprint: 0.1, Shape: func(units.Ratio) units.Ratio { return 2 }}
	if err := newSolver(t, 0, 0).Pass(&p, &r); !names(err, "shape") {
		t.Error(err)
	}
}
