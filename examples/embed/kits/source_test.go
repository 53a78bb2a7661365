package kits

import (
	"math"
	"testing"

	"example.org/pithball/ionflow/ionflowtest"
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

// bar is a source that takes charge from the web at a constant rate, down to what its
// points need: a share of what it emits, smaller the farther it stands.
type bar struct {
	rate  float64 // [A/m]
	onset float64 // [C/m²]
}

func (b bar) Act(net units.SurfaceChargeDensity, v units.Speed) ioniser.Result {
	q := math.Abs(float64(net))
	left := math.Min(q, math.Max(b.onset, q-b.rate/float64(v)))
	if !(v >= 0) {
		left = math.NaN()
	}
	r := ioniser.Result{Left: units.SurfaceChargeDensity(math.Copysign(left, float64(net)))}
	r.Deposited = r.Left - net
	return r
}

// maker makes bars that bring the smaller a share the farther they stand; far ones
// take the distance to the metal for that to the web.
type maker struct{ far bool }

func (m maker) at(s ioniser.Spec, gap units.Length) (ionflowtest.Actor, error) {
	d, metal := float64(s.Distance), float64(gap)
	share := metal / (metal + d) / (1 + 10*d)
	if m.far {
		share = d / (metal + d) / (1 + 10*metal)
	}
	if e := s.Emitter.Spec(); e.Current > 0 {
		return bar{rate: float64(e.Current) * share}, nil
	}
	reach := float64(s.Points.Body-s.Distance) / float64(s.Points.Body) // [1] of the potential of the web
	onset := units.Epsilon0 * float64(s.Points.Start) / reach / metal   // the web stands before the metal
	return bar{float64(s.Points.Most) * share, onset}, nil
}

func TestSource(t *testing.T) {
	hold(t, ionflowtest.Ionisers())(maker{}.at, maker{far: true}.at, "nearer")
}

// remote is a solver behind a network: what comes back are the fields of a solution.
// hasty brings a density of negative ions that is no number of ions.
type remote struct {
	*transport.Solver
	hasty bool
}

func (r remote) Solve(p *transport.Problem, dst *transport.Solution) error {
	var s transport.Solution
	if err := r.Solver.Solve(p, &s); err != nil {
		return err
	}
	*dst = transport.Solution{X: s.X, Positive: s.Positive, Negative: s.Negative, Potential: s.Potential, Field: s.Field,
		PositiveFlux: s.PositiveFlux, NegativeFlux: s.NegativeFlux, WallPositive: s.WallPositive,
		WallNegative: s.WallNegative,
		WallCurrent:  s.WallCurrent, WallPotential: s.WallPotential, WallField: s.WallField, WallCharge: s.WallCharge,
		InletField: s.InletField, PositiveBalance: s.PositiveBalance, NegativeBalance: s.NegativeBalance,
		Error: s.Error, DensityError: s.DensityError, Validity: s.Validity}
	if r.hasty {
		dst.Negative[len(dst.X)-2] -= s.Negative[0] / 1000
	}
	return nil
}

func TestSolver(t *testing.T) {
	s, err := transport.NewSolver(transport.SolverSettings{Tolerance: 1e-5, DensityTolerance: 1e-3})
	if err != nil {
		t.Fatal(err)
	}
	hold(t, ionflowtest.Steadies(ionflowtest.Domain{}))(remote{Solver: s}, remote{s, true}, "not negative")
}
