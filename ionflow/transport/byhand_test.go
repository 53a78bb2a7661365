package transport_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// charge is e in C, eps ε0 in F/m, of CODATA 2022.
const charge, eps = 1.602176634e-19, 8.8541878188e-12

// The streams and weights by hand: B(ln 2) = ln 2, B(−ln 2) = 2·ln 2, a jet at its origin's length has doubled,
// stagnation flow at a quarter of the way has three quarters of its speed; sines of 30°, and a square wave.
func TestPartsByHand(t *testing.T) {
	jet := transport.JetFlow{Speed: 12, Origin: 0.04}.At(0.08)
	stagnation := transport.StagnationFlow{Speed: 8, Distance: 0.2}
	quarter := stagnation.At(0.05)
	uniform := transport.UniformFlow{Speed: -3}.At(0.5)
	sine := transport.ACInlet{Frequency: 50, Positive: 8, Negative: 6}
	square := transport.ACInlet{Frequency: 50, Positive: 8, Negative: 6, Square: true}
	at := func(a transport.ACInlet, cycles float64) (p, m float64) {
		x, y := a.At(units.Time(cycles / 50))
		return float64(x), float64(y)
	}
	p1, m1 := at(sine, 1./12)
	p2, m2 := at(sine, 0.75)
	p3, m3 := at(square, 2.2)
	p4, m4 := at(square, 2.7)
	b := transport.Balance{In: 20, Out: 3, Recombined: 5, Side: 7, Stored: 4}
	l := transport.Ledger{In: 20, Out: 3, Recombined: 5, Side: 7, Held: 6, HeldAtStart: 2}
	open := transport.Solution{X: make([]units.Length, 2), PositiveBalance: b,
		NegativeBalance: transport.Balance{In: 1, Out: -40, Side: 43}}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"B(ln 2)", transport.Bernoulli(math.Ln2), math.Ln2}, {"B(−ln 2)", transport.Bernoulli(-math.Ln2), 2 * math.Ln2},
		// Pe = 2·0.3/0.6/… = ln 2 with h = 0.5, d = 2, w = 4·ln 2: (2/0.5)·ln 2·(2·7 − 3)
		{"fitted flux", transport.FittedFlux(7, 3, units.Speed(4*math.Ln2), 2, 0.5), 44 * math.Ln2},
		{"jet, speed", float64(jet.Speed), 4}, {"jet, area", float64(jet.Area), 9}, {"jet, side", float64(jet.Side), 0},
		{"stagnation, speed", float64(quarter.Speed), 6}, {"stagnation, side", float64(quarter.Side), 40},
		{"stagnation, area", float64(quarter.Area), 1}, {"beyond the wall", float64(stagnation.At(0.3).Speed), 0},
		{"uniform, speed", float64(uniform.Speed), -3}, {"uniform, area", float64(uniform.Area), 1},
		{"30°, +", p1, 4}, {"30°, −", m1, 0}, {"270°, +", p2, 0}, {"270°, −", m2, 6},
		{"square, +", p3, 8}, {"square, −", m3, 0}, {"square, second half, +", p4, 0}, {"square, second half, −", m4, 6},
		{"balance", b.Defect(), 1}, {"ledger", l.Defect(), 1}, {"closure", open.Closure(), 2. / 43},
	} {
		if !(math.Abs(c.got-c.want) <= 1e-9*max(1, math.Abs(c.want))) {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	if k := (&transport.Solution{X: make([]units.Length, 2)}).Closure(); k != 0 {
		t.Errorf("nothing crosses, nothing is open: %v", k)
	}
	for i, v := range []float64{transport.FittedFlux(1, 1, 1, 0, 1), transport.FittedFlux(1, 1, 1, 1, 0),
		transport.FittedFlux(1, 1, 1, -1, 1), transport.FittedFlux(1, 1, 1, 1, -1)} {
		if !math.IsNaN(v) {
			t.Errorf("flux %d: %v", i, v)
		}
	}
	p := demo()
	p.Wall.Potential = 7
	m := p.Mirror()
	if m.Positive != p.Negative || m.Negative != p.Positive || m.Wall.Potential != -7 || m.Wall.Charge != -5e-7 {
		t.Errorf("mirror %+v", m)
	}
}

// edgeFlow is bad from a place on.
type edgeFlow struct {
	from      float64
	good, bad transport.FlowPoint
}

func (f edgeFlow) At(x units.Length) transport.FlowPoint {
	if float64(x) >= f.from {
		return f.bad
	}
	return f.good
}

// Both ends of the ranges of a problem, its settings and its stream, which is looked at from the inlet to the surface.
func TestRangesOfProblems(t *testing.T) {
	inf := math.Inf(1)
	flow := func(p transport.FlowPoint) func(*transport.Problem) {
		return func(q *transport.Problem) { q.Flow = edgeFlow{0.08, transport.FlowPoint{Area: 1}, p} }
	}
	for _, c := range []struct {
		change func(*transport.Problem)
		field  string
	}{
		{func(p *transport.Problem) { p.Positive.Mobility = 1 }, ""},
		{func(p *transport.Problem) { p.Positive.Mobility = 1.01 }, "positive.mobility"},
		{func(p *transport.Problem) { p.Negative.Mobility = -1e-9 }, "negative.mobility"},
		{func(p *transport.Problem) { p.Positive.Density = 1e20 }, ""},
		{func(p *transport.Problem) { p.Positive.Density = 1.01e20 }, "positive.density"},
		{func(p *transport.Problem) { p.Positive.Density = 0 }, ""},
		{func(p *transport.Problem) { p.Negative.Density = 0 }, ""},
		{func(p *transport.Problem) { p.Positive.Density, p.Negative.Density = 0.5, 0.5 }, ""},
		{func(p *transport.Problem) { p.Positive.Diffusivity = 1 }, ""},
		{func(p *transport.Problem) { p.Positive.Diffusivity = 1.01 }, "positive.diffusivity"},
		{func(p *transport.Problem) { p.Positive.Diffusivity = -1e-9 }, "positive.diffusivity"},
		{func(p *transport.Problem) { p.Recombination = 1e-9 }, ""},
		{func(p *transport.Problem) { p.Recombination = 1.01e-9 }, "recombination"},
		{func(p *transport.Problem) { p.Temperature = 100 }, ""},
		{func(p *transport.Problem) { p.Temperature = 99.5 }, "temperature"},
		{func(p *transport.Problem) { p.Temperature = 1000 }, ""},
		{func(p *transport.Problem) { p.Temperature = 1000.5 }, "temperature"},
		{func(p *transport.Problem) { p.Length = 1e-6 }, ""}, {func(p *transport.Problem) { p.Length = 0.9e-6 }, "length"},
		{func(p *transport.Problem) { p.Length = 100 }, ""}, {func(p *transport.Problem) { p.Length = 100.5 }, "length"},
		{func(p *transport.Problem) { p.Wall.Charge = 1 }, ""},
		{func(p *transport.Problem) { p.Wall.Charge = 1.01 }, "wall.charge"},
		{func(p *transport.Problem) { p.Wall.Charge = -1 }, ""},
		{func(p *transport.Problem) { p.Wall.Charge = -1.01 }, "wall.charge"},
		{func(p *transport.Problem) { p.Wall.BackGap = 0 }, ""}, {func(p *transport.Problem) { p.Wall.BackGap = 1000 }, ""},
		{func(p *transport.Problem) { p.Wall.BackGap = 1000.5 }, "wall.back_gap"},
		{func(p *transport.Problem) { p.Wall = transport.Wall{Potential: 1e7} }, ""},
		{func(p *transport.Problem) { p.Wall = transport.Wall{Potential: 1.01e7} }, "wall.potential"},
		{func(p *transport.Problem) { p.Wall = transport.Wall{Potential: -1e7} }, ""},
		{func(p *transport.Problem) { p.Wall = transport.Wall{Potential: -1.01e7} }, "wall.potential"},
		{func(p *transport.Problem) {
			p.Wall, p.Positive.Density = transport.Wall{Condition: transport.FloatingPotential}, 0
		}, "wall.condition"},
		{func(p *transport.Problem) { p.Wall = transport.Wall{Condition: transport.FloatingPotential} }, ""},
		{flow(transport.FlowPoint{Speed: 1000, Area: 0.5, Side: 0.5, Crowding: 0.5}), ""},
		{flow(transport.FlowPoint{Speed: -1000, Area: 1}), ""},
		{flow(transport.FlowPoint{Speed: 1000.5, Area: 1}), "flow.at(80 mm).speed"},
		{flow(transport.FlowPoint{Speed: -1000.5, Area: 1}), "flow.at(80 mm).speed"},
		{flow(transport.FlowPoint{}), "flow.at(80 mm).area"},
		{flow(transport.FlowPoint{Area: units.Ratio(inf)}), "flow.at(80 mm).area"},
		{flow(transport.FlowPoint{Area: 1, Side: -1}), "flow.at(80 mm).side"},
		{flow(transport.FlowPoint{Area: 1, Side: units.Frequency(inf)}), "flow.at(80 mm).side"},
		{flow(transport.FlowPoint{Area: 1, Crowding: -1}), "flow.at(80 mm).crowding"},
		{flow(transport.FlowPoint{Area: 1, Crowding: units.Ratio(inf)}), "flow.at(80 mm).crowding"},
		{func(p *transport.Problem) {
			p.Flow = edgeFlow{0.0749, transport.FlowPoint{Area: 1}, transport.FlowPoint{}}
		}, "flow.at(75 mm).area"}, // 15/16 of the way
	} {
		p := demo()
		c.change(&p)
		if err := p.Validate(); c.field == "" && err != nil || c.field != "" && !names(err, c.field) {
			t.Errorf("%v, want a fault of %q", err, c.field)
		}
	}
	for _, c := range []struct {
		s     transport.SolverSettings
		field string
	}{
		{transport.SolverSettings{Tolerance: 1e-12, DensityTolerance: 1e-12, MaxNodes: 128}, ""},
		{transport.SolverSettings{Tolerance: 0.1, DensityTolerance: 1, MaxNodes: 1e6}, ""},
		{transport.SolverSettings{Tolerance: 0.9e-12}, "tolerance"},
		{transport.SolverSettings{Tolerance: 0.101}, "tolerance"},
		{transport.SolverSettings{DensityTolerance: 0.9e-12}, "density_tolerance"},
		{transport.SolverSettings{DensityTolerance: 1.01}, "density_tolerance"},
		{transport.SolverSettings{MaxNodes: 127}, "max_nodes"}, {transport.SolverSettings{MaxNodes: 1e6 + 1}, "max_nodes"},
	} {
		if _, err := transport.NewSolver(c.s); c.field == "" && err != nil || c.field != "" && !names(err, c.field) {
			t.Errorf("%v, want a fault of %q", err, c.field)
		}
	}
	for _, c := range []struct {
		s     transport.TransientSettings
		field string
	}{
		{transport.TransientSettings{Cells: 16, Tolerance: 1e-9}, ""},
		{transport.TransientSettings{Cells: 1e5, Tolerance: 0.1}, ""},
		{transport.TransientSettings{Cells: 15}, "cells"}, {transport.TransientSettings{Cells: 1e5 + 1}, "cells"},
		{transport.TransientSettings{Tolerance: 0.9e-9}, "tolerance"},
		{transport.TransientSettings{Tolerance: 0.101}, "tolerance"},
	} {
		if _, err := transport.NewTransient(demo(), c.s); c.field == "" && err != nil || c.field != "" && !names(err,
			c.field) {
			t.Errorf("%v, want a fault of %q", err, c.field)
		}
	}
	tr := newTransient(t, demo(), transport.TransientSettings{Cells: 16})
	for _, c := range []struct {
		p, m  units.NumberDensity
		field string
	}{{0.5, 0.5, ""}, {1e20, 1e20, ""}, {1.01e20, 0, "positive"}, {0, 1.01e20, "negative"}, {0, -1, "negative"},
		{0, 0, ""}} {
		if err := tr.Fill(c.p, c.m); c.field == "" && err != nil || c.field != "" && !names(err, c.field) {
			t.Errorf("fill: %v, want a fault of %q", err, c.field)
		}
	}
}

// A gap without ions is a capacitor: 100 V over 50 mm are 2 kV/m and ε0 times that on the plate; 0.4 µC/m² before
// metal at 10 mm have σ/(ε0·(1/L + 1/gap)) volts. The mesh is that of the gap in shares of its length.
func TestEmptyGap(t *testing.T) {
	pos, neg := carriers(1, 1)
	p := transport.Problem{Positive: pos, Negative: neg, Length: 0.05, Flow: transport.UniformFlow{}, Temperature: 293.15,
		Wall: transport.Wall{Potential: 100}}
	var r transport.Solution
	plate := newTransient(t, p, transport.TransientSettings{Cells: 64})
	if err := plate.Step(1e-9); err != nil {
		t.Fatal(err)
	}
	near(t, "charge induced", float64(plate.Charge()), eps*2000, 1e-6)
	near(t, "potential", float64(plate.Potential()), 100, 1e-12)
	plate.Snapshot(&r)
	near(t, "field", float64(r.WallField), -2000, 1e-6)
	near(t, "its charge", float64(r.WallCharge), eps*2000, 1e-6)
	if r.Iterations != 0 || !math.IsNaN(r.Error) || !math.IsNaN(r.DensityError) || len(r.X) != 65 {
		t.Errorf("a snapshot has no iteration: %d, %v, %d nodes", r.Iterations, r.Error, len(r.X))
	}
	q := p
	q.Length = 5
	far := newTransient(t, q, transport.TransientSettings{Cells: 64})
	var s transport.Solution
	far.Snapshot(&s)
	for k := range s.X {
		if !(math.Abs(float64(s.X[k]/5-r.X[k]/0.05)) <= 1e-9) {
			t.Fatalf("node %d of two gaps: %v and %v", k, s.X[k]/5, r.X[k]/0.05)
		}
	}
	// Nearly even: the density of nodes is 1/(x + a) + 1/(L − x + a) + 60/L with a = L/1000, whose sum from 0 to L is
	// 2·ln 1001 + 60; the first cell has 1/64 of it.
	first := float64(s.X[1]) / 5
	near(t, "first cell", math.Log1p(first*1e3)+math.Log(1.001/(1.001-first))+60*first, (2*math.Log(1001)+60)/64, 1e-5)
	p.Wall = transport.Wall{Condition: transport.FixedCharge, Charge: 4e-7, BackGap: 0.01}
	kept := newTransient(t, p, transport.TransientSettings{Cells: 64})
	if err := kept.Step(1e-9); err != nil {
		t.Fatal(err)
	}
	kept.Snapshot(&r)
	near(t, "potential of a charge", float64(kept.Potential()), 4e-7/(eps*120), 1e-6)
	near(t, "charge kept", float64(kept.Charge()), 4e-7, 1e-9)
	near(t, "charge shown", float64(r.WallCharge), float64(kept.Charge()), 0)
	near(t, "current", float64(kept.Current()), float64(r.WallCurrent), 0)
	near(t, "current by flux", float64(r.WallCurrent), charge*(r.WallPositive-r.WallNegative), 1e-12)
}

// Both polarities in thin air that carries them: e·u·(n+ − n−) arrives, of a column with twice the end section half
// as much.
func TestCurrentCarriedByAir(t *testing.T) {
	pos, neg := carriers(3e8, 1e8)
	p := transport.Problem{Positive: pos, Negative: neg, Length: 0.05, Flow: transport.UniformFlow{Speed: 10},
		Temperature: 293.15, Wall: transport.Wall{Potential: 0}}
	tr := newTransient(t, p, transport.TransientSettings{Cells: 64, Tolerance: 1e-2})
	if err := tr.Advance(0.1); err != nil {
		t.Fatal(err)
	}
	var r transport.Solution
	tr.Snapshot(&r)
	near(t, "current", float64(tr.Current()), charge*10*2e8, 0.01)
	near(t, "its flux", float64(r.WallCurrent), float64(tr.Current()), 0)
	if a, b, _ := tr.Ledgers(); !(a.In > 0) || !(math.Abs(a.In/b.In-3) <= 1e-3) || tr.Time() != 0.1 {
		t.Errorf("in %v and %v at %v", a.In, b.In, tr.Time())
	}
}

// A mesh of one's own: between its nodes the slopes of the densities count. Ions that only go with the air and
// recombine fall as n0/(1 + αn0x/u).
func TestSlopesOfAMesh(t *testing.T) {
	pos, neg := carriers(1e14, 1e14)
	pos.Mobility = neg.Mobility
	p := transport.Problem{Positive: pos, Negative: neg, Length: 0.1, Flow: transport.UniformFlow{Speed: 10},
		Recombination: 1.6e-12, Temperature: 293.15}
	mesh := make([]units.Length, 201)
	for k := range mesh {
		mesh[k] = units.Length(0.1 * float64(k) / 200)
	}
	var r transport.Solution
	if err := newSolver(t, 0, 0).SolveOn(&p, mesh, &r); err != nil {
		t.Fatal(err)
	}
	for _, k := range []int{0, 20, 90, 150} {
		for _, share := range []float64{0.25, 0.75} {
			x := mesh[k] + units.Length(share)*(mesh[k+1]-mesh[k])
			n, m, _, _ := r.At(x)
			for _, c := range []struct {
				at    units.NumberDensity
				nodes []units.NumberDensity
			}{{n, r.Positive}, {m, r.Negative}} {
				a, b := float64(c.nodes[k]), float64(c.nodes[k+1])
				near(t, "between nodes", (float64(c.at)-a)/(b-a), share, 0.01) // the curve bends by 2 αn0h/u of it
				near(t, "recombination", float64(c.at), 1e14/(1+1.6e-12*1e14*float64(x)/10), 0.01)
			}
		}
	}
}

// Lag by hand, and a patch without charge: thin air carries e·n·u to it, its field is none, an ion crosses in L/u and
// the charge of 1 kV over the gap stands for its own, so that Lag = 4·(L/u)·e·n·u/(ε0·1000 V/L). Half of the ions
// bring half.
func TestPatchByHand(t *testing.T) {
	const n, l, u = 1e10, 0.05, 10.0
	for share, half := range map[float64]bool{1: false, 0.5: true} {
		for sign := range 2 {
			pos, neg := carriers(n, 0)
			if sign == 1 {
				pos, neg = carriers(0, n)
			}
			p := transport.Patch{Speed: 20, Footprint: 0.1, Column: transport.Problem{Positive: pos, Negative: neg, Length: l,
				Flow: transport.UniformFlow{Speed: u}, Temperature: 293.15, Wall: transport.Wall{Condition: transport.FixedCharge}}}
			if half {
				p.Shape = func(units.Ratio) units.Ratio { return 0.5 }
			}
			var r transport.PatchResult
			if err := newSolver(t, 1e-6, 1e-2).Pass(&p, &r); err != nil {
				t.Fatal(err)
			}
			j := charge * n * u * share
			want := j * 0.1 / 20
			if sign == 1 {
				want = -want
			}
			near(t, "collected", float64(r.Residual), want, 0.01)
			near(t, "lag", float64(r.Lag), 4*charge*n*share*l*l/(eps*1000), 0.01)
			near(t, "delivered", float64(r.Delivered), 20*float64(r.Residual), 1e-12)
			near(t, "first current", math.Abs(float64(r.Current[0])), j, 0.01)
			if r.Validity != known.Inside || r.Solves < 4 {
				t.Errorf("%v, %d solves", r.Validity, r.Solves)
			}
		}
	}
}

// A patch that its footprint feeds with 1 − y/Y collects half of what full density would bring, and one that draws its
// ions with μ·σ/ε0 = 5 m/s beside air of 10 m/s has Lag = 4·(L/15 m/s)·e·n·15 m/s/σ. From a Lag of 0.1 on it is
// flagged.
func TestLagByHand(t *testing.T) {
	const l, u = 0.05, 10.0
	pass := func(n, sigma float64, shape func(units.Ratio) units.Ratio) transport.PatchResult {
		pos, neg := carriers(0, n)
		p := transport.Patch{Speed: 20, Footprint: 0.1, Shape: shape,
			Column: transport.Problem{Positive: pos, Negative: neg, Length: l, Flow: transport.UniformFlow{Speed: u},
				Temperature: 293.15, Wall: transport.Wall{Condition: transport.FixedCharge,
					Charge: units.SurfaceChargeDensity(sigma)}}}
		var r transport.PatchResult
		if err := newSolver(t, 1e-6, 1e-2).Pass(&p, &r); err != nil {
			t.Fatal(err)
		}
		return r
	}
	fading := pass(1e10, 0, func(y units.Ratio) units.Ratio { return 1 - y })
	near(t, "fading stream", float64(fading.Residual), -charge*1e10*u*0.1/20/2, 0.01)
	sigma := 5 / 1.6e-4 * eps
	near(t, "drawn", float64(pass(1e9, sigma, nil).Lag), 4*l*charge*1e9/sigma, 0.02)
	for lag, want := range map[float64]known.Validity{0.09: known.Inside, 0.12: known.WrongShape} {
		r := pass(lag*eps*1000/(4*charge*l*l), 0, nil)
		if near(t, "lag", float64(r.Lag), lag, 0.03); r.Validity != want {
			t.Errorf("lag %v: %v", r.Lag, r.Validity)
		}
	}
}

// A zero value has no snapshot.
func TestNoSnapshot(t *testing.T) {
	r := transport.Solution{X: make([]units.Length, 3)}
	if new(transport.Transient).Snapshot(&r); len(r.X) != 0 {
		t.Errorf("nothing has %d nodes", len(r.X))
	}
}

// What is wrong comes back although the context lives; and steps grow with the root of the tolerance, for backward
// Euler errs by the square of a step.
func TestAdvanceTellsFaultsAndKeepsItsTolerance(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	tr := newTransient(t, demo(), transport.TransientSettings{Cells: 32})
	if err := tr.AdvanceContext(ctx, units.Time(math.NaN())); !names(err, "until") {
		t.Errorf("advance: %v", err)
	}
	var r transport.Solution
	bad := demo()
	bad.Temperature = 0
	if err := newSolver(t, 0, 0).SolveContext(ctx, &bad, &r); !names(err, "temperature") {
		t.Errorf("solve: %v", err)
	}
	steps := func(tolerance float64) float64 {
		count, first := 0, 0.0
		tr := newTransient(t, demo(), transport.TransientSettings{Cells: 32, Tolerance: tolerance,
			Inlet: func(at units.Time) (a, b units.NumberDensity) {
				if count++; count == 1 {
					first = float64(at)
				}
				return 2e13, 1.8e13
			}})
		if err := tr.Advance(0.05); err != nil {
			t.Fatal(err)
		}
		// a ten-thousandth of the time in which 13 m/s cross 80 mm, 1 m/s more than the air
		near(t, "first step", first, 1e-4*0.08/13, 1e-12)
		return float64(count)
	}
	loose, tight := steps(1e-3), steps(1e-5)
	if ratio := tight / loose; !(ratio > 4 && ratio < 14) {
		t.Errorf("%v steps at 1e-3, %v at 1e-5: want some ten times as many", loose, tight)
	}
}

// TestDefaultsOfSettings: what is not given is what the comments of the settings say, as an error tells them.
func TestDefaultsOfSettings(t *testing.T) {
	for _, c := range []struct{ given, used transport.SolverSettings }{
		{transport.SolverSettings{Tolerance: 1e-12, MaxNodes: 128},
			transport.SolverSettings{Tolerance: 1e-12, DensityTolerance: 1e-4, MaxNodes: 128}},
		{transport.SolverSettings{DensityTolerance: 1e-12, MaxNodes: 128},
			transport.SolverSettings{Tolerance: 1e-6, DensityTolerance: 1e-12, MaxNodes: 128}},
	} {
		s, err := transport.NewSolver(c.given)
		if err != nil {
			t.Fatal(err)
		}
		p, r := demo(), transport.Solution{}
		if e, ok := errors.AsType[*transport.NotConverged](s.Solve(&p, &r)); !ok || e.Settings != c.used {
			t.Errorf("%+v: %+v", c.given, e)
		}
	}
}
