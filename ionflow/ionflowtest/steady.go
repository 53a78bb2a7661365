package ionflowtest

import (
	"math"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Steady is what solves the steady one-dimensional problem; [transport.Solver] is one.
//
// It is asked to solve one problem after another. Beyond physics, the laws ask: every
// problem is solved, or both it and its mirror image are refused by an error; three
// nodes or more; a solution that states its error may miss a balance by it.
type Steady interface {
	// Solve writes the solution of p into dst, or returns an error.
	Solve(p *transport.Problem, dst *transport.Solution) error
}

// SteadyFunc makes a [Steady] of a function.
type SteadyFunc func(p *transport.Problem, dst *transport.Solution) error

// Solve calls the function.
func (f SteadyFunc) Solve(p *transport.Problem, dst *transport.Solution) error { return f(p, dst) }

type steadyLaw = lawtest.Law[Steady, transport.Problem]

// Steadies returns the laws of every [Steady].
func Steadies(d Domain) lawtest.Kit[Steady, transport.Problem] {
	d = d.filled()
	return lawtest.Kit[Steady, transport.Problem]{Laws: append(nodeLaws(d), fluxLaws(d)...), Input: column}
}

// solved checks the solution of one problem.
func solved(check func(p *transport.Problem, r *transport.Solution) error) func(m Steady, p transport.Problem) error {
	return func(m Steady, p transport.Problem) error {
		var r transport.Solution
		if err := m.Solve(&p, &r); err != nil {
			return lawtest.That(false, "a solution", err)
		}
		if len(r.X) < 3 {
			return lawtest.That(false, "three nodes or more", len(r.X))
		}
		return check(&p, &r)
	}
}

// bad spoils a solution of our own.
func bad(spoil func(r *transport.Solution)) Steady {
	s := must(transport.NewSolver(transport.SolverSettings{Tolerance: 1e-5, DensityTolerance: 1e-3}))
	return SteadyFunc(func(p *transport.Problem, r *transport.Solution) error {
		err := s.Solve(p, r)
		if err == nil {
			spoil(r)
		}
		return err
	})
}

// stated is the error that a solution states.
func stated(r *transport.Solution) float64 {
	if r.Error >= 0 && r.Error < 1 {
		return r.Error
	}
	return 1e-3
}

// greatest returns the greatest magnitude.
func greatest(xs ...float64) float64 {
	g := 0.0
	for _, x := range xs {
		g = math.Max(g, math.Abs(x))
	}
	return g
}

// nodeLaws are about what stands at the nodes.
func nodeLaws(d Domain) []steadyLaw {
	return []steadyLaw{{
		Name: "not negative", Says: "n+ ≥ 0 and n− ≥ 0 at every node and between them", Source: "a density is a count",
		Broken: bad(func(r *transport.Solution) { r.Positive[len(r.X)/2] = -1 }), // swings
		Check: solved(func(p *transport.Problem, r *transport.Solution) error {
			for i := range r.X {
				a, b := r.Positive[i], r.Negative[i]
				if i > 0 {
					c, e, _, _ := r.At((r.X[i-1] + r.X[i]) / 2)
					a, b = min(a, c), min(b, e)
				}
				if !(a >= 0 && b >= 0) || math.IsInf(float64(a+b), 0) {
					return lawtest.That(false, "densities of 0 or more at "+r.X[i].String(), a, b)
				}
			}
			return nil
		}),
	}, {
		Name: "ends", Says: "n(0) as given, n(L) = 0, φ(0) = 0, and the condition at the surface",
		Source: "the boundary conditions",
		Broken: bad(func(r *transport.Solution) { r.Negative[0] *= 0.999 }),
		Check: solved(func(p *transport.Problem, r *transport.Solution) error {
			n := len(r.X) - 1
			ref := greatest(float64(p.Positive.Density), float64(p.Negative.Density))
			inlet := greatest(float64(r.Positive[0]-p.Positive.Density), float64(r.Negative[0]-p.Negative.Density)) / ref
			outlet := float64(r.Positive[n]+r.Negative[n]) / ref
			place := abs(r.X[0]) + abs(r.X[n]-p.Length)/float64(p.Length)
			off, wall := greatest(inlet, outlet, place, float64(r.Potential[0])), missed(p, r)
			return lawtest.That(off <= d.RelTol && wall <= math.Max(d.RelTol, 1e-8), "the conditions met", off, wall)
		}),
	}}
}

// missed is the defect of the condition at the surface, relative.
func missed(p *transport.Problem, r *transport.Solution) float64 {
	switch p.Wall.Condition {
	case transport.FixedPotential:
		return abs(r.WallPotential-p.Wall.Potential) / (1 + abs(p.Wall.Potential))
	case transport.FixedCharge:
		front, back := -units.Epsilon0*float64(r.WallField), 0.0
		if p.Wall.BackGap > 0 {
			back = units.Epsilon0 * float64(r.WallPotential) / float64(p.Wall.BackGap)
		}
		return math.Abs(front+back-float64(p.Wall.Charge)) / (math.Abs(front) + math.Abs(back) + 1e-15)
	case transport.FloatingPotential:
		return math.Abs(r.WallPositive-r.WallNegative) / (r.PositiveBalance.In + r.NegativeBalance.In)
	}
	return 0
}

// fluxLaws are about what flows.
func fluxLaws(d Domain) []steadyLaw {
	return []steadyLaw{{
		Name: "balanced", Says: "in = out + recombined + side, for both polarities, and equally many of both recombine",
		Source: "ions are conserved, and recombine in pairs",
		Broken: bad(func(r *transport.Solution) { r.PositiveBalance.Recombined *= 2 }), // counts pairs for one
		Check: solved(func(p *transport.Problem, r *transport.Solution) error {
			plus, minus := r.PositiveBalance, r.NegativeBalance
			big := greatest(plus.In, minus.In)
			pair := math.Abs(plus.Recombined-minus.Recombined) / big
			open := greatest(plus.Defect(), minus.Defect()) / big
			area := float64(p.Flow.At(p.Length).Area) / float64(p.Flow.At(0).Area)
			wall := greatest(r.WallPositive*area-plus.Out, r.WallNegative*area-minus.Out) / big
			return lawtest.That(greatest(open, pair, wall) <= d.RelTol+stated(r), "a balance that closes", open, pair, wall)
		}),
	}, {
		Name: "less arrives", Says: "out ≤ in for either polarity, and nothing comes off the surface",
		Source: "nothing makes ions in the gap",
		Broken: bad(func(r *transport.Solution) { r.NegativeBalance.Out = r.NegativeBalance.In * 1.5 }),
		Check: solved(func(p *transport.Problem, r *transport.Solution) error {
			slack := (d.RelTol + stated(r)) * greatest(r.PositiveBalance.In, r.NegativeBalance.In)
			for _, b := range []transport.Balance{r.PositiveBalance, r.NegativeBalance} {
				if !(b.Out <= b.In+slack && b.Out >= -slack && b.Recombined >= -slack && b.Side >= -slack) {
					return lawtest.That(false, "0 ≤ out ≤ in, losses of 0 or more", b.In, b.Out, b.Recombined, b.Side)
				}
			}
			return nil
		}),
	}, {
		Name: "current kept", Says: "A·(J+ − J−) does not change along a gap without side flow",
		Source: "recombination takes equally many of both",
		Broken: bad(func(r *transport.Solution) { r.PositiveFlux[1] *= 1.01 }), // not conservative
		Check: solved(func(p *transport.Problem, r *transport.Solution) error {
			lo, hi, big := math.Inf(1), math.Inf(-1), 0.0
			for i, x := range r.X {
				f := p.Flow.At(x)
				if f.Side > 0 {
					return lawtest.Skip("it flows out sideways")
				}
				j := float64(f.Area) * (r.PositiveFlux[i] - r.NegativeFlux[i])
				lo, hi = math.Min(lo, j), math.Max(hi, j)
				big = math.Max(big, float64(f.Area)*greatest(r.PositiveFlux[i], r.NegativeFlux[i]))
			}
			return lawtest.That(hi-lo <= d.RelTol*big, "one net current all along", lo, hi)
		}),
	}, {
		Name: "mirror image", Says: "the problem with all signs exchanged has the solution with all signs exchanged",
		Source: "the equations know no sign",
		Broken: bad(func(r *transport.Solution) { r.WallPositive *= 1.02 }), // one mobility off
		Check: func(m Steady, p transport.Problem) error {
			q := p.Mirror()
			var r, s transport.Solution
			e1, e2 := m.Solve(&p, &r), m.Solve(&q, &s)
			if e1 != nil || e2 != nil {
				return lawtest.That(e1 != nil && e2 != nil, "a solution of both or of neither", e1, e2)
			}
			big := greatest(greatest(r.PositiveFlux...), greatest(r.NegativeFlux...))
			off := greatest(r.WallPositive-s.WallNegative, r.WallNegative-s.WallPositive) / big
			volt := abs(r.WallPotential+s.WallPotential) / (1 + abs(r.WallPotential))
			tol := d.RelTol + 2*(stated(&r)+stated(&s))
			return lawtest.That(off <= tol && volt <= 10*tol, "the mirror image", off, volt)
		},
	}}
}

// column draws problems over the practical range: gaps of 5 mm … 0.5 m, air at rest or
// at 0.1 … 50 m/s in any of the three profiles, 1e9 … 1e15 ions per m³, surfaces of
// ±20 kV, ±30 µC/m² with or without metal behind, or floating.
func column(d *lawtest.Draw, _ Steady) transport.Problem {
	mobility := func(name string) units.Mobility { return lawtest.Decades(d, name, units.Mobility(1e-4), 2e-4) }
	p := transport.Problem{Temperature: units.Celsius(20),
		Length:        lawtest.Decades(d, "length", 5*units.Millimetre, 0.5*units.Metre),
		Recombination: lawtest.Decades(d, "recombination", units.RecombinationCoefficient(1e-12), 3e-12),
		Positive: transport.Carrier{Mobility: mobility("positive mobility"),
			Density: lawtest.Decades(d, "positive", density(1e9), 1e15)},
		Negative: transport.Carrier{Mobility: mobility("negative mobility")},
	}
	p.Negative.Density = density(float64(p.Positive.Density) * lawtest.Decades(d, "balance", 0.2, 5.0))
	u := lawtest.Decades(d, "air", 0.1*units.MetrePerSecond, 50*units.MetrePerSecond)
	switch lawtest.Pick(d, "flow", "none", "uniform", "stagnation", "jet") {
	case "none":
		p.Flow = transport.UniformFlow{}
	case "uniform":
		p.Flow = transport.UniformFlow{Speed: u}
	case "stagnation":
		p.Flow = transport.StagnationFlow{Speed: u, Distance: p.Length}
	default:
		p.Flow = transport.JetFlow{Speed: u, Origin: lawtest.Decades(d, "origin", units.Centimetre, 0.2*units.Metre)}
	}
	switch wall := lawtest.Pick(d, "wall", "potential", "charge", "charge before metal", "floating"); wall {
	case "potential":
		p.Wall = transport.Wall{Condition: transport.FixedPotential,
			Potential: lawtest.EitherSign(d, "potential", units.Volt, 20*units.Kilovolt)}
	case "floating":
		p.Wall = transport.Wall{Condition: transport.FloatingPotential}
	default:
		p.Wall = transport.Wall{Condition: transport.FixedCharge, Charge: lawtest.EitherSign(d, "charge", sigma(1e-9), 3e-5)}
		if wall != "charge" {
			p.Wall.BackGap = lawtest.Decades(d, "metal behind", 0.1*units.Millimetre, 0.1*units.Metre)
		}
	}
	return p
}
