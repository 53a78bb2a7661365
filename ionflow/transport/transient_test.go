package transport_test

import (
	"math"
	"testing"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

func newTransient(t *testing.T, p transport.Problem, s transport.TransientSettings) *transport.Transient {
	t.Helper()
	tr, err := transport.NewTransient(p, s)
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// still is a wide gap of air at rest, filled evenly: in its middle the ions
// know nothing of the walls for a while, and follow the equations of a free
// parcel, dn±/dt = −αn+n− ∓ (eμ±/ε0)·n±·(n+ − n−).
func still(t *testing.T, mup, mum, alpha float64) *transport.Transient {
	p := transport.Problem{
		Positive: transport.Carrier{Mobility: units.Mobility(mup), Density: 1.2e13},
		Negative: transport.Carrier{Mobility: units.Mobility(mum), Density: 1e13},
		Length:   1, Flow: transport.UniformFlow{}, Recombination: units.RecombinationCoefficient(alpha), Temperature: 293.15}
	tr := newTransient(t, p, transport.TransientSettings{Cells: 100, Tolerance: 1e-5})
	if err := tr.Fill(1.2e13, 1e13); err != nil {
		t.Fatal(err)
	}
	return tr
}

func middle(tr *transport.Transient) (p, m float64) {
	var r transport.Solution
	tr.Snapshot(&r)
	a, b, _, _ := r.At(0.5)
	return float64(a), float64(b)
}

// TestParcelFirstOrder: backward Euler is of first order; two step sizes
// extrapolated meet the parcel's values at 10 ms (Runge–Kutta of order 8 to 1e-12:
// 9.936865e12, 8.779947e12).
func TestParcelFirstOrder(t *testing.T) {
	var last, order, before, better float64
	for _, n := range []int{32, 64, 128, 256} {
		tr := still(t, 1.4e-4, 1.6e-4, 1.6e-12)
		for range n {
			if err := tr.Step(units.Time(0.01 / float64(n))); err != nil {
				t.Fatal(err)
			}
		}
		p, m := middle(tr)
		e := math.Abs(p/9.936865e12-1) + math.Abs(m/8.779947e12-1)
		if last > 0 {
			order = math.Log2(last / e)
			better = 2*p - before
		}
		last, before = e, p
	}
	near(t, "extrapolated", better, 9.936865e12, 2e-6)
	if !(order > 0.95 && order < 1.05) {
		t.Errorf("order %.3f, want 1", order)
	}
}

// TestLangevinIdentity: with α = 2eμ/ε0 and equal mobilities each species decays
// as n0/(1 + eμ(n+0 + n−0)t/ε0).
func TestLangevinIdentity(t *testing.T) {
	const mu = 1.5e-4
	alpha := 2 * units.ElementaryCharge * mu / units.Epsilon0
	tr := still(t, mu, mu, alpha)
	if err := tr.Advance(0.01); err != nil {
		t.Fatal(err)
	}
	p, m := middle(tr)
	q := 1 + units.ElementaryCharge*mu*2.2e13*0.01/units.Epsilon0
	// the tolerance of a step is 1e-5, some tens of steps are taken
	near(t, "n+", p, 1.2e13/q, 1e-3)
	near(t, "n-", m, 1e13/q, 1e-3)
	if tr.Time() != 0.01 {
		t.Errorf("time %v", tr.Time())
	}
}

// TestTransientSettles: a run with constant data comes to the steady solution,
// within the first-order error of its mesh.
func TestTransientSettles(t *testing.T) {
	for _, c := range ionCases(t) {
		if c.Name != "D" && c.Name != "E" {
			continue
		}
		p := c.problem()
		steady := solve(t, newSolver(t, 1e-7, 1e-3), p)
		if p.Wall.Condition == transport.FixedCharge {
			// a charge that is held is a charge that goes nowhere: hold the potential
			p.Wall = transport.Wall{Condition: transport.FixedPotential, Potential: steady.WallPotential}
		}
		var e [2]float64
		for i, cells := range []int{200, 400} {
			tr := newTransient(t, p, transport.TransientSettings{Cells: cells, Tolerance: 1e-3})
			if err := tr.Advance(0.5); err != nil { // the gap fills in 10 to 20 ms
				t.Fatal(err)
			}
			var r transport.Solution
			tr.Snapshot(&r)
			e[i] = math.Abs(r.WallNegative/steady.WallNegative - 1)
		}
		if !(e[1] < 0.02 && e[1] < 0.6*e[0]) {
			t.Errorf("case %s: off by %.2g with 200 cells, %.2g with 400", c.Name, e[0], e[1])
		}
	}
}

// TestLedger: every ion and every charge is accounted for.
func TestLedger(t *testing.T) {
	pos, neg := carriers(3e13, 2.5e13)
	p := transport.Problem{Positive: pos, Negative: neg, Length: 0.05,
		Flow:          transport.StagnationFlow{Speed: 8, Distance: 0.06},
		Recombination: 1.6e-12, Temperature: 293.15,
		Wall: transport.Wall{Condition: transport.FixedCharge, Charge: 2e-6, BackGap: 0.01}}
	ac := transport.ACInlet{Frequency: 100, Positive: 3e13, Negative: 2.5e13}
	tr := newTransient(t, p, transport.TransientSettings{Tolerance: 1e-3, Inlet: ac.At})
	if err := tr.Fill(1e12, 2e12); err != nil {
		t.Fatal(err)
	}
	for i := range 6 {
		if err := tr.Advance(units.Time(0.005 * float64(i+1))); err != nil {
			t.Fatal(err)
		}
		var r transport.Solution
		tr.Snapshot(&r)
		if k := r.Closure(); !(k <= 1e-8) {
			t.Errorf("%v: rates open by %g", tr.Time(), k)
		}
		// Gauss' law at the surface holds with the charge that it has kept
		sigma := units.Epsilon0 * (float64(r.WallPotential)/0.01 - float64(r.WallField))
		if d := math.Abs(sigma - float64(tr.Charge())); !(d <= 1e-9*2e-6) {
			t.Errorf("%v: field for %g C/m², charge %v", tr.Time(), sigma, tr.Charge())
		}
		for k := range r.X {
			if r.Positive[k] < 0 || r.Negative[k] < 0 {
				t.Fatalf("%v: density below zero", tr.Time())
			}
		}
	}
	a, b, gained := tr.Ledgers()
	for _, l := range []transport.Ledger{a, b} {
		if d := math.Abs(l.Defect()) / (l.In + l.HeldAtStart); !(d <= 1e-8) {
			t.Errorf("ions unaccounted for: %g of all, %+v", d, l)
		}
		if !(l.Recombined > 0 && l.Side > 0 && l.Held > 0) {
			t.Errorf("a term is missing: %+v", l)
		}
	}
	want := units.ElementaryCharge * (a.Out - b.Out)
	near(t, "charge gained", float64(gained), want, 1e-9)
	near(t, "charge", float64(tr.Charge()), 2e-6+want, 1e-9)
	if !(math.Abs(float64(tr.Charge())) < 2e-6) {
		t.Errorf("2 µC/m² in a dense AC stream is still %v after 30 ms", tr.Charge())
	}
}

// TestRipple: a square wave of so few ions that they make no field, carried at u
// to an insulated surface, swings its charge by e·n·u/(2f) from peak to peak. (Its
// potential swings by that over the capacitance only where the ions in the gap,
// which induce a potential before they arrive, are few beside it: u/f ≫ L.)
func TestRipple(t *testing.T) {
	const n, u, f = 1e10, 10.0, 50.0
	pos, neg := carriers(n, n)
	p := transport.Problem{Positive: pos, Negative: neg, Length: 0.05, Flow: transport.UniformFlow{Speed: u},
		Temperature: 293.15,
		Wall:        transport.Wall{Condition: transport.FixedCharge, BackGap: 1e-3}}
	ac := transport.ACInlet{Frequency: f, Positive: n, Negative: n, Square: true}
	tr := newTransient(t, p, transport.TransientSettings{Cells: 400, Tolerance: 1e-4, Inlet: ac.At})
	lo, hi := math.Inf(1), math.Inf(-1)
	const half = 0.5 / f
	for i := range 8 {
		for k := range 10 { // look ten times in each half wave, also at L/u after each switch
			if err := tr.Advance(units.Time(half * (float64(i) + float64(k+1)/10))); err != nil {
				t.Fatal(err)
			}
			if i >= 4 {
				lo, hi = min(lo, float64(tr.Charge())), max(hi, float64(tr.Charge()))
			}
		}
	}
	// the scheme spreads the edges of the bunches with D = u·h/2, to s = √(h·L) = 2.5
	// mm; that takes 2·√(2/π)·s, 4 mm, from a bunch of 100 mm, and the steps as much again
	want := units.ElementaryCharge * n * u / (2 * f)
	if got := hi - lo; !(got > 0.92*want && got < 1.001*want) {
		t.Errorf("ripple %.4g C/m², want %.4g C/m²", got, want)
	}
}

// TestArrival: the first ions arrive when air has carried them over.
func TestArrival(t *testing.T) {
	pos, neg := carriers(1e10, 1e10)
	p := transport.Problem{Positive: pos, Negative: neg, Length: 0.1, Flow: transport.UniformFlow{Speed: 5},
		Temperature: 293.15}
	tr := newTransient(t, p, transport.TransientSettings{Cells: 400})
	full := 5 * 1e10 * units.ElementaryCharge
	var arrived [3]float64
	for i, at := range []float64{0.016, 0.020, 0.024} {
		if err := tr.Advance(units.Time(at)); err != nil {
			t.Fatal(err)
		}
		var r transport.Solution
		tr.Snapshot(&r)
		arrived[i] = r.WallPositive * units.ElementaryCharge / full
	}
	// the front has a width of √(h·L) ≈ 6 mm, 1.2 ms
	if !(arrived[0] < 0.01 && arrived[1] > 0.4 && arrived[1] < 0.6 && arrived[2] > 0.99) {
		t.Errorf("share of the full flux at 0.8, 1, 1.2 of L/u: %.3f", arrived)
	}
}

func TestTransientFaults(t *testing.T) {
	p := demo()
	if _, err := transport.NewTransient(p, transport.TransientSettings{Cells: 3, Tolerance: 1}); !names(err, "cells") ||
		!names(err, "tolerance") {
		t.Error(err)
	}
	q := p
	q.Wall = transport.Wall{Condition: transport.FloatingPotential}
	if _, err := transport.NewTransient(q, transport.TransientSettings{}); !names(err, "wall.condition") {
		t.Error(err)
	}
	tr := newTransient(t, p, transport.TransientSettings{Inlet: func(units.Time) (a, b units.NumberDensity) {
		return -1, 0
	}})
	if err := tr.Advance(1e-3); !names(err, "inlet.positive") || tr.Time() != 0 {
		t.Errorf("%v at %v", err, tr.Time())
	}
	if err := tr.Step(0); !names(err, "dt") {
		t.Error(err)
	}
	if err := tr.Advance(units.Time(math.NaN())); !names(err, "until") {
		t.Error(err)
	}
	if err := tr.Fill(-1, 0); !names(err, "positive") {
		t.Error(err)
	}
	tr = newTransient(t, p, transport.TransientSettings{})
	if err := tr.Step(1e-4); err != nil {
		t.Fatal(err)
	}
	if err := tr.Fill(0, 0); !names(err, "time") {
		t.Error(err)
	}
	if n := testing.AllocsPerRun(5, func() { _ = tr.Step(1e-5) }); n != 0 {
		t.Errorf("a step makes %g allocations", n)
	}
}
