package transport_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func demo() transport.Problem {
	pos, neg := carriers(2e13, 1.8e13)
	return transport.Problem{Positive: pos, Negative: neg, Length: 0.08, Flow: transport.JetFlow{Speed: 12, Origin: 0.04},
		Recombination: 1.6e-12, Temperature: 296,
		Wall: transport.Wall{Condition: transport.FixedCharge, Charge: 5e-7, BackGap: 0.2}}
}

func TestValidateNamesTheField(t *testing.T) {
	for _, c := range []struct {
		field string
		spoil func(*transport.Problem)
	}{
		{"positive.mobility", func(p *transport.Problem) { p.Positive.Mobility = 0 }},
		{"positive.mobility", func(p *transport.Problem) { p.Positive.Mobility = units.Mobility(math.NaN()) }},
		{"negative.density", func(p *transport.Problem) { p.Negative.Density = -1 }},
		{"negative.diffusivity", func(p *transport.Problem) { p.Negative.Diffusivity = units.Diffusivity(math.Inf(1)) }},
		{"positive.density", func(p *transport.Problem) { p.Positive.Density, p.Negative.Density = 0, 0 }},
		{"length", func(p *transport.Problem) { p.Length = 0 }},
		{"recombination", func(p *transport.Problem) { p.Recombination = -1 }},
		{"temperature", func(p *transport.Problem) { p.Temperature = 20 }},
		{"wall.charge", func(p *transport.Problem) { p.Wall.Charge = units.SurfaceChargeDensity(math.NaN()) }},
		{"wall.back_gap", func(p *transport.Problem) { p.Wall.BackGap = -1 }},
		{"wall.condition", func(p *transport.Problem) { p.Wall.Condition = 9 }},
		{"wall.condition", func(p *transport.Problem) {
			p.Wall.Condition = transport.FloatingPotential
			p.Negative.Density = 0
		}},
		{"flow", func(p *transport.Problem) { p.Flow = nil }},
		{"flow.at(0 m).speed", func(p *transport.Problem) { p.Flow = transport.UniformFlow{Speed: units.Speed(math.NaN())} }},
		{"flow.at(0 m).side", func(p *transport.Problem) { p.Flow = transport.StagnationFlow{Speed: 1} }},
	} {
		p := demo()
		c.spoil(&p)
		err := p.Validate()
		if !names(err, c.field) {
			t.Errorf("want a fault of %s, got %v", c.field, err)
		}
		var r transport.Solution
		if err := newSolver(t, 0, 0).Solve(&p, &r); !names(err, c.field) || r.X != nil {
			t.Errorf("Solve: want a fault of %s and no result, got %v, %d nodes", c.field, err, len(r.X))
		}
	}
	p := demo()
	if err := p.Validate(); err != nil {
		t.Error(err)
	}
	if _, err := transport.NewSolver(transport.SolverSettings{Tolerance: 1, DensityTolerance: -1,
		MaxNodes: 5}); !names(err, "tolerance") || !names(err, "density_tolerance") || !names(err, "max_nodes") {
		t.Errorf("settings: %v", err)
	}
}

// names reports whether err holds a FieldError of the field among those joined.
func names(err error, field string) bool {
	if f, ok := errors.AsType[*known.FieldError](err); ok && f.Field == field {
		return true
	}
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range j.Unwrap() {
			if names(e, field) {
				return true
			}
		}
	}
	return false
}

// TestNotConverged: a tolerance that cannot be met within the nodes allowed is a
// typed error with the residual and the parameters, and leaves no result.
func TestNotConverged(t *testing.T) {
	s, err := transport.NewSolver(transport.SolverSettings{Tolerance: 1e-12, DensityTolerance: 1e-12, MaxNodes: 256})
	if err != nil {
		t.Fatal(err)
	}
	p := demo()
	r := transport.Solution{WallPositive: 7}
	e, ok := errors.AsType[*transport.NotConverged](s.Solve(&p, &r))
	if !ok {
		t.Fatal("no NotConverged")
	}
	if e.Problem.Wall != p.Wall || e.Problem.Length != p.Length || !(e.Estimate > 1e-12) || e.Settings.MaxNodes != 256 ||
		e.Error() == "" {
		t.Errorf("%+v", e)
	}
	if r.WallPositive != 7 || r.X != nil {
		t.Error("the destination was changed")
	}
}

// TestMirror: exchanging the polarities exchanges the densities and turns the
// sign of field, potential and current.
func TestMirror(t *testing.T) {
	a, b := newSolver(t, 1e-9, 1e-4), newSolver(t, 1e-9, 1e-4)
	for _, c := range ionCases(t) {
		p := c.problem()
		q := p.Mirror()
		var r, m transport.Solution
		if err := errors.Join(a.Solve(&p, &r), b.Solve(&q, &m)); err != nil {
			t.Fatal(err)
		}
		flux := max(r.WallPositive, r.WallNegative)
		for _, d := range []float64{(r.WallPositive - m.WallNegative) / flux, (r.WallNegative - m.WallPositive) / flux,
			float64(r.WallCurrent+m.WallCurrent) / (flux * units.ElementaryCharge),
			float64(r.WallPotential+m.WallPotential) / max(1, math.Abs(float64(r.WallPotential)))} {
			if !(math.Abs(d) <= 2e-9) {
				t.Errorf("case %s: mirror off by %g", c.Name, d)
			}
		}
	}
}

// TestRecombinationByOtherQuadrature: the balance closes also when the losses are
// integrated by another rule over the finished solution (two Gauss points an
// interval).
func TestRecombinationByOtherQuadrature(t *testing.T) {
	s := newSolver(t, 1e-9, 1e-7)
	for _, c := range ionCases(t) {
		p := c.problem()
		r := solve(t, s, p)
		rec, side := 0.0, 0.0
		for i := 1; i < len(r.X); i++ {
			h := float64(r.X[i] - r.X[i-1])
			for _, g := range []float64{0.5 - 0.5/math.Sqrt(3), 0.5 + 0.5/math.Sqrt(3)} {
				x := r.X[i-1] + units.Length(g*h)
				n, m, _, _ := r.At(x)
				f := p.Flow.At(x)
				rec += h / 2 * float64(f.Area) * float64(p.Recombination) * float64(n) * float64(m)
				side += h / 2 * float64(f.Area) * float64(f.Side) * float64(m)
			}
		}
		b := r.NegativeBalance
		if d := (b.In - b.Out - rec - side) / b.In; !(math.Abs(d) <= 1e-6) {
			t.Errorf("case %s: open by %g", c.Name, d)
		}
	}
}

// TestSolveNext: a warm start gives the same answer within the tolerance.
func TestSolveNext(t *testing.T) {
	warm, cold := newSolver(t, 1e-7, 1e-3), newSolver(t, 1e-7, 1e-3)
	var a, b transport.Solution
	p := demo()
	for i := range 20 {
		p.Wall.Charge = units.SurfaceChargeDensity(-1e-6 + 1e-7*float64(i))
		if err := errors.Join(warm.SolveNext(&p, &a), cold.Solve(&p, &b)); err != nil {
			t.Fatal(err)
		}
		flux := max(b.PositiveBalance.In, b.NegativeBalance.In)
		if d := math.Abs(a.WallPositive-b.WallPositive) / flux; !(d <= 2e-7) {
			t.Errorf("σ = %v: warm and cold differ by %g", p.Wall.Charge, d)
		}
	}
	// from a far problem too
	c := ionCases(t)[2]
	q := c.problem()
	if err := errors.Join(warm.SolveNext(&q, &a), cold.Solve(&q, &b)); err != nil {
		t.Fatal(err)
	}
	near(t, "after a jump", a.WallNegative, b.WallNegative, 2e-7)
}

// TestNoAllocation: repeated solves allocate nothing.
func TestNoAllocation(t *testing.T) {
	s := newSolver(t, 1e-7, 1e-3)
	p := demo()
	mesh := gradedMesh(0.08, 400)
	var r transport.Solution
	for name, f := range map[string]func() error{
		"Solve":     func() error { return s.Solve(&p, &r) },
		"SolveNext": func() error { return s.SolveNext(&p, &r) },
		"SolveOn":   func() error { return s.SolveOn(&p, mesh, &r) },
	} {
		if err := f(); err != nil {
			t.Fatal(err)
		}
		if n := testing.AllocsPerRun(5, func() {
			if f() != nil {
				t.Error(name)
			}
		}); n != 0 {
			t.Errorf("%s: %g allocations", name, n)
		}
	}
}

func TestSolveOnMesh(t *testing.T) {
	s := newSolver(t, 0, 0)
	p := demo()
	var r transport.Solution
	for _, c := range []struct {
		mesh  []units.Length
		field string
	}{{nil, "mesh"}, {[]units.Length{0, 0.08}, "mesh"}, {[]units.Length{0, 0.04, 0.04, 0.08}, "mesh[2]"},
		{[]units.Length{0, units.Length(math.NaN()), 0.08}, "mesh[1]"}, {[]units.Length{0, 0.04, 0.07}, "mesh"}} {
		if err := s.SolveOn(&p, c.mesh, &r); !names(err, c.field) {
			t.Errorf("%v: %v", c.mesh, err)
		}
	}
	// three nodes are a mesh, and give densities above zero
	if err := s.SolveOn(&p, []units.Length{0, 0.04, 0.08}, &r); err != nil || !(r.Positive[1] > 0 && r.Negative[1] > 0) {
		t.Errorf("%v, %v", err, r.Positive)
	}
	if !math.IsNaN(r.Error) {
		t.Error("a given mesh has no error estimate")
	}
}

// TestAtOutside: places outside the gap, and NaN, give NaN.
func TestAtOutside(t *testing.T) {
	r := solve(t, newSolver(t, 0, 0), demo())
	for _, x := range []units.Length{-1e-9, 0.081, units.Length(math.NaN())} {
		p, m, v, e := r.At(x)
		if !math.IsNaN(float64(p)) || !math.IsNaN(float64(m)) || !math.IsNaN(float64(v)) || !math.IsNaN(float64(e)) {
			t.Errorf("At(%v) = %v %v %v %v", x, p, m, v, e)
		}
	}
	p, _, v, _ := r.At(0)
	if float64(p) != 2e13 || v != 0 {
		t.Errorf("At(0) = %v, %v", p, v)
	}
	if p, m, v, _ := r.At(0.08); p != 0 || m != 0 || v != r.WallPotential {
		t.Errorf("At(L) = %v, %v, %v", p, m, v)
	}
}

// TestAtOfOthers: a solution that another solver wrote has no slopes of its densities; between its nodes run
// straight lines, and a short slice gives NaN.
func TestAtOfOthers(t *testing.T) {
	s := transport.Solution{X: []units.Length{0, 1, 3}, Positive: []units.NumberDensity{8, 4, 0},
		Negative: []units.NumberDensity{2, 2, 1}, Potential: []units.Voltage{0, -5, -15},
		Field: []units.ElectricField{5, 5, 5}}
	for x, want := range map[units.Length][4]float64{0: {8, 2, 0, 5}, 0.5: {6, 2, -2.5, 5}, 2: {2, 1.5, -10, 5},
		3: {0, 1, -15, 5}} {
		p, m, v, e := s.At(x)
		if got := [4]float64{float64(p), float64(m), float64(v), float64(e)}; got != want {
			t.Errorf("At(%v) = %v, want %v", x, got, want)
		}
	}
	s.Field = s.Field[:2]
	if p, _, _, e := s.At(0.5); !math.IsNaN(float64(p)) || !math.IsNaN(float64(e)) {
		t.Errorf("At with a field too few = %v, %v, want NaN", p, e)
	}
}

// TestSweep: rows do not depend on the number of goroutines; a bad row is NaN and
// is named.
func TestSweep(t *testing.T) {
	ps := make([]transport.Problem, 40)
	for i := range ps {
		ps[i] = demo()
		ps[i].Wall.Charge = units.SurfaceChargeDensity(-1e-6 + 5e-8*float64(i))
	}
	ps[17].Temperature = 0
	one, many := make([]units.CurrentDensity, 40), make([]units.CurrentDensity, 40)
	err := transport.WallCurrentsTo(one, ps, transport.SolverSettings{}, 1)
	if !sweepNames(err, "temperature") {
		t.Errorf("error: %v", err)
	}
	_ = transport.WallCurrentsTo(many, ps, transport.SolverSettings{}, 4)
	sols := make([]transport.Solution, 40)
	_ = transport.SolveAll(sols, ps, transport.SolverSettings{}, 3)
	for i := range ps {
		if i == 17 {
			if !math.IsNaN(float64(one[i])) || !math.IsNaN(float64(many[i])) || sols[i].X != nil {
				t.Error("the bad row holds a number")
			}
			continue
		}
		if one[i] != many[i] || one[i] != sols[i].WallCurrent || math.IsNaN(float64(one[i])) {
			t.Errorf("row %d: %v, %v, %v", i, one[i], many[i], sols[i].WallCurrent)
		}
	}
	if !slices.IsSorted(many[20:]) && !slices.IsSortedFunc(many[20:], func(a, b units.CurrentDensity) int {
		return int(math.Copysign(1, float64(b-a)))
	}) {
		t.Error("the current does not run with the charge of the surface")
	}
	if err := transport.WallCurrentsTo(one[:3], ps, transport.SolverSettings{}, 0); !names(err, "dst") {
		t.Errorf("short destination: %v", err)
	}
	if err := transport.SolveAll(sols, ps, transport.SolverSettings{Tolerance: 2}, 0); !names(err, "tolerance") {
		t.Errorf("bad settings: %v", err)
	}
}

func sweepNames(err error, field string) bool {
	f, ok := errors.AsType[*known.FieldError](err)
	return ok && f.Field == field
}

// spreading is a stream that widens and loses air sideways: A = 1 + x/W, A·u = U(1
// − x/W), s = U/(W·A).
type spreading struct{ u, w float64 }

func (f spreading) At(x units.Length) transport.FlowPoint {
	t := float64(x) / f.w
	return transport.FlowPoint{Speed: units.Speed(f.u * (1 - t) / (1 + t)), Area: units.Ratio(1 + t),
		Side: units.Frequency(f.u / (f.w * (1 + t)))}
}

// TestOwnProfile: a profile of the caller's own, with a cross-section and a side
// flow at once: balances close, both schemes agree, and ions that only go with the
// air leave in the proportion of the air, (A·u)(0) − (A·u)(L) over (A·u)(0).
func TestOwnProfile(t *testing.T) {
	s := newSolver(t, 1e-8, 1e-5)
	pos, neg := carriers(2e13, 1.5e13)
	p := transport.Problem{Positive: pos, Negative: neg, Length: 0.05, Flow: spreading{8, 0.2}, Recombination: 1.6e-12,
		Temperature: 293.15,
		Wall:        transport.Wall{Condition: transport.FixedPotential, Potential: -200}}
	r := solve(t, s, p)
	var v transport.Solution
	if err := s.SolveOn(&p, gradedMesh(0.05, 3200), &v); err != nil {
		t.Fatal(err)
	}
	if a, b := r.Closure(), v.Closure(); !(a <= 1e-10 && b <= 1e-10) {
		t.Errorf("balances open by %g and %g", a, b)
	}
	near(t, "volumes", v.WallNegative, r.WallNegative, 2e-3) // first order, 3200 cells
	near(t, "volumes, side", v.PositiveBalance.Side, r.PositiveBalance.Side, 2e-3)
	p.Positive.Density, p.Negative.Density, p.Recombination, p.Wall.Potential = 1, 1, 0, 0
	r = solve(t, s, p)
	for _, b := range []transport.Balance{r.PositiveBalance, r.NegativeBalance} {
		near(t, "share that leaves with the air", b.Side/b.In, 0.25, 1e-4) // L/W; diffusion D/(u·L) < 2e-5
	}
}
