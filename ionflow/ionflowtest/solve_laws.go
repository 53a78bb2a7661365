package ionflowtest

import (
	"math"

	"pgregory.net/rapid"

	"example.org/pithball/ionflow/transport"
	"example.org/pithball/units"
)

// Steady is what solves the steady one-dimensional problem; [transport.Solver] is
// one. It is asked to solve one problem after another.
type Steady interface {
	// Solve writes the solution of p into dst, or returns an error.
	Solve(p *transport.Problem, dst *transport.Solution) error
}

// SteadyFunc makes a [Steady] of a function.
type SteadyFunc func(p *transport.Problem, dst *transport.Solution) error

// Solve calls the function.
func (f SteadyFunc) Solve(p *transport.Problem, dst *transport.Solution) error { return f(p, dst) }

// SteadyLaws returns the statements about every [Steady], the cheapest first.
func SteadyLaws() []Law[Steady, transport.Problem] {
	return []Law[Steady, transport.Problem]{NotNegative(), Ends(), Balanced(), LessArrives(), CurrentKept(), MirrorImage()}
}

// steady makes a law of a check of one solution.
func steady(name, says, source string, check func(p *transport.Problem, r *transport.Solution, d Domain) error) Law[Steady, transport.Problem] {
	return Law[Steady, transport.Problem]{name, says, source, func(m Steady, p transport.Problem, d Domain) error {
		var r transport.Solution
		if err := m.Solve(&p, &r); err != nil {
			return broken(name, p, "a solution, not: "+err.Error())
		}
		if len(r.X) < 3 {
			return broken(name, p, "three nodes or more", float64(len(r.X)))
		}
		return check(&p, &r, d)
	}}
}

// NotNegative: densities are finite and nowhere below zero.
func NotNegative() Law[Steady, transport.Problem] {
	const name = "not negative"
	return steady(name, "n+ ≥ 0 and n− ≥ 0 at every node and between them", "a density is a count", func(p *transport.Problem, r *transport.Solution, d Domain) error {
		for i := range r.X {
			a, b := r.Positive[i], r.Negative[i]
			if i > 0 {
				c, e, _, _ := r.At((r.X[i-1] + r.X[i]) / 2)
				a, b = min(a, c), min(b, e)
			}
			if !(a >= 0 && b >= 0) || math.IsInf(float64(a), 0) || math.IsInf(float64(b), 0) {
				return broken(name, p, "densities of 0 or more", float64(r.X[i]), float64(a), float64(b))
			}
		}
		return nil
	})
}

// Ends: inlet densities, zero density at the surface and the condition of the
// surface are met.
func Ends() Law[Steady, transport.Problem] {
	const name = "ends"
	return steady(name, "n(0) as given, n(L) = 0, φ(0) = 0, and the condition at the surface", "the boundary conditions", func(p *transport.Problem, r *transport.Solution, d Domain) error {
		n := len(r.X) - 1
		nref := math.Max(float64(p.Positive.Density), float64(p.Negative.Density))
		off := math.Max(math.Abs(float64(r.Positive[0]-p.Positive.Density)), math.Abs(float64(r.Negative[0]-p.Negative.Density)))
		off = math.Max(off, float64(r.Positive[n]+r.Negative[n])) / nref
		off = math.Max(off, math.Abs(float64(r.X[0]))+math.Abs(float64(r.X[n]-p.Length))/float64(p.Length))
		off = math.Max(off, math.Abs(float64(r.Potential[0])))
		var wall float64 // defect of the condition at the surface, relative
		switch p.Wall.Condition {
		case transport.FixedPotential:
			wall = math.Abs(float64(r.WallPotential-p.Wall.Potential)) / (1 + math.Abs(float64(p.Wall.Potential)))
		case transport.FixedCharge:
			front := -units.Epsilon0 * float64(r.WallField)
			back := 0.0
			if p.Wall.BackGap > 0 {
				back = units.Epsilon0 * float64(r.WallPotential) / float64(p.Wall.BackGap)
			}
			wall = math.Abs(front+back-float64(p.Wall.Charge)) / (math.Abs(front) + math.Abs(back) + 1e-15)
		case transport.FloatingPotential:
			wall = math.Abs(r.WallPositive-r.WallNegative) / (r.PositiveBalance.In + r.NegativeBalance.In)
		}
		if !(off <= d.RelTol) || !(wall <= math.Max(d.RelTol, 1e-8)) {
			return broken(name, p, "the conditions met", off, wall)
		}
		return nil
	})
}

// Balanced: what enters arrives, recombines or leaves sideways.
func Balanced() Law[Steady, transport.Problem] {
	const name = "balanced"
	return steady(name, "in = out + recombined + side, for both polarities, and equally many of both recombine", "ions are conserved, and recombine in pairs", func(p *transport.Problem, r *transport.Solution, d Domain) error {
		big := math.Max(math.Abs(r.PositiveBalance.In), math.Abs(r.NegativeBalance.In))
		pair := math.Abs(r.PositiveBalance.Recombined - r.NegativeBalance.Recombined)
		open := math.Max(math.Abs(r.PositiveBalance.Defect()), math.Abs(r.NegativeBalance.Defect()))
		area := float64(p.Flow.At(p.Length).Area) / float64(p.Flow.At(0).Area)
		wall := math.Max(math.Abs(r.WallPositive*area-r.PositiveBalance.Out), math.Abs(r.WallNegative*area-r.NegativeBalance.Out))
		tol := (d.RelTol + finite(r.Error)) * big // a solver that states its error may miss by it
		if !(open <= tol) || !(pair <= tol) || !(wall <= tol) {
			return broken(name, p, "a balance that closes", open/big, pair/big, wall/big)
		}
		return nil
	})
}

// LessArrives: no more ions of a polarity arrive than enter.
func LessArrives() Law[Steady, transport.Problem] {
	const name = "less arrives"
	return steady(name, "out ≤ in for either polarity, and nothing comes off the surface", "nothing makes ions in the gap", func(p *transport.Problem, r *transport.Solution, d Domain) error {
		big := math.Max(math.Abs(r.PositiveBalance.In), math.Abs(r.NegativeBalance.In))
		slack := (d.RelTol + finite(r.Error)) * big
		for _, b := range []transport.Balance{r.PositiveBalance, r.NegativeBalance} {
			if !(b.Out <= b.In+slack) || !(b.Out >= -slack) || !(b.Recombined >= -slack) || !(b.Side >= -slack) {
				return broken(name, p, "0 ≤ out ≤ in, losses of 0 or more", b.In, b.Out, b.Recombined, b.Side)
			}
		}
		return nil
	})
}

func finite(x float64) float64 {
	if x >= 0 && x < 1 {
		return x
	}
	return 1e-3
}

// CurrentKept: without side flow the net current through every cross-section is
// the same.
func CurrentKept() Law[Steady, transport.Problem] {
	const name = "current kept"
	return steady(name, "A·(J+ − J−) does not change along a gap without side flow", "recombination takes equally many of both", func(p *transport.Problem, r *transport.Solution, d Domain) error {
		lo, hi, big := math.Inf(1), math.Inf(-1), 0.0
		for i, x := range r.X {
			f := p.Flow.At(x)
			if f.Side > 0 {
				return nil
			}
			j := float64(f.Area) * (r.PositiveFlux[i] - r.NegativeFlux[i])
			lo, hi = math.Min(lo, j), math.Max(hi, j)
			big = math.Max(big, float64(f.Area)*math.Max(math.Abs(r.PositiveFlux[i]), math.Abs(r.NegativeFlux[i])))
		}
		if !(hi-lo <= d.RelTol*big) {
			return broken(name, p, "one net current all along", lo, hi)
		}
		return nil
	})
}

// MirrorImage: exchanging the polarities exchanges the fluxes and turns the sign
// of the potential.
func MirrorImage() Law[Steady, transport.Problem] {
	const name = "mirror image"
	return Law[Steady, transport.Problem]{name, "the problem with all signs exchanged has the solution with all signs exchanged", "the equations know no sign", func(m Steady, p transport.Problem, d Domain) error {
		q := p.Mirror()
		var r, s transport.Solution
		if e1, e2 := m.Solve(&p, &r), m.Solve(&q, &s); e1 != nil || e2 != nil {
			if (e1 == nil) == (e2 == nil) {
				return nil
			}
			return broken(name, p, "a solution of both or of neither")
		}
		big := 0.0
		for i := range r.X {
			big = math.Max(big, math.Max(math.Abs(r.PositiveFlux[i]), math.Abs(r.NegativeFlux[i])))
		}
		off := math.Max(math.Abs(r.WallPositive-s.WallNegative), math.Abs(r.WallNegative-s.WallPositive)) / big
		volt := math.Abs(float64(r.WallPotential+s.WallPotential)) / (1 + math.Abs(float64(r.WallPotential)))
		if tol := d.RelTol + 2*(finite(r.Error)+finite(s.Error)); !(off <= tol) || !(volt <= 10*tol) {
			return broken(name, p, "the mirror image", off, volt)
		}
		return nil
	}}
}

// Columns draws problems over the practical range: gaps of 5 mm … 0.5 m, air at
// rest or at 0.1 … 50 m/s in any of the three profiles, 1e9 … 1e15 ions per m³,
// surfaces of ±20 kV, ±30 µC/m² with or without metal behind, or floating.
func Columns() *rapid.Generator[transport.Problem] {
	return rapid.Custom(func(t *rapid.T) transport.Problem {
		sign := 1.0
		if rapid.Bool().Draw(t, "minus") {
			sign = -1
		}
		p := transport.Problem{
			Positive: transport.Carrier{Mobility: units.Mobility(span(t, "mu+", 1e-4, 2e-4)), Density: units.NumberDensity(span(t, "n+", 1e9, 1e15))},
			Negative: transport.Carrier{Mobility: units.Mobility(span(t, "mu-", 1e-4, 2e-4))},
			Length:   units.Length(span(t, "L", 5e-3, 0.5)), Recombination: units.RecombinationCoefficient(span(t, "alpha", 1e-12, 3e-12)), Temperature: units.Celsius(20),
		}
		p.Negative.Density = units.NumberDensity(float64(p.Positive.Density) * span(t, "balance", 0.2, 5))
		u := units.Speed(span(t, "u", 0.1, 50))
		switch rapid.IntRange(0, 3).Draw(t, "flow") {
		case 0:
			p.Flow = transport.UniformFlow{}
		case 1:
			p.Flow = transport.UniformFlow{Speed: u}
		case 2:
			p.Flow = transport.StagnationFlow{Speed: u, Distance: p.Length}
		default:
			p.Flow = transport.JetFlow{Speed: u, Origin: units.Length(span(t, "origin", 0.01, 0.2))}
		}
		switch rapid.IntRange(0, 3).Draw(t, "wall") {
		case 0:
			p.Wall = transport.Wall{Condition: transport.FixedPotential, Potential: units.Voltage(sign * span(t, "V", 1, 2e4))}
		case 1:
			p.Wall = transport.Wall{Condition: transport.FixedCharge, Charge: units.SurfaceChargeDensity(sign * span(t, "sigma", 1e-9, 3e-5))}
		case 2:
			p.Wall = transport.Wall{Condition: transport.FixedCharge, Charge: units.SurfaceChargeDensity(sign * span(t, "sigma", 1e-9, 3e-5)), BackGap: units.Length(span(t, "back", 1e-4, 0.1))}
		default:
			p.Wall = transport.Wall{Condition: transport.FloatingPotential}
		}
		return p
	})
}

// BrokenSteadies returns for each of the [SteadyLaws] a solver that breaks it, made from
// a right one. Some break others too.
func BrokenSteadies(right Steady) map[string]Steady {
	spoil := func(f func(p *transport.Problem, r *transport.Solution)) Steady {
		return SteadyFunc(func(p *transport.Problem, r *transport.Solution) error {
			if err := right.Solve(p, r); err != nil {
				return err
			}
			f(p, r)
			return nil
		})
	}
	return map[string]Steady{
		"not negative": spoil(func(p *transport.Problem, r *transport.Solution) { r.Positive[len(r.X)/2] = units.NumberDensity(-1) }), // swings
		"ends":         spoil(func(p *transport.Problem, r *transport.Solution) { r.Negative[0] *= 0.999 }),
		"balanced":     spoil(func(p *transport.Problem, r *transport.Solution) { r.PositiveBalance.Recombined *= 2 }), // counts pairs for one
		"less arrives": spoil(func(p *transport.Problem, r *transport.Solution) {
			r.NegativeBalance.Out = r.NegativeBalance.In * 1.5
		}),
		"current kept": spoil(func(p *transport.Problem, r *transport.Solution) { r.PositiveFlux[1] *= 1.01 }), // not conservative
		"mirror image": spoil(func(p *transport.Problem, r *transport.Solution) {
			r.WallPositive *= 1.02 // one mobility off
		}),
	}
}
