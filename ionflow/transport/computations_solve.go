package transport

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func arg(name, unit string, low, high float64, doc string) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Low: low, High: high, Doc: doc}
}

// out is a result, which has no range of its own.
func out(name, unit, doc string) compute.Arg { return arg(name, unit, -1e308, 1e308, doc) }

// choice is an argument that selects.
func choice(name, doc string, choices ...string) compute.Arg {
	return compute.Arg{Name: name, Unit: "1", High: float64(len(choices) - 1), Doc: doc, Choices: choices}
}

func args(a ...compute.Arg) []compute.Arg { return a }

func names(s ...string) []string { return s }

// Arguments of the one-dimensional problem, shared by its entries.
var (
	aPos  = arg("positive", "1/m³", 0, 1e18, "density of positive ions at the inlet")
	aNeg  = arg("negative", "1/m³", 0, 1e18, "density of negative ions at the inlet")
	aMuP  = arg("mobility_positive", "m²/(V·s)", 1e-6, 1e-2, "")
	aMuN  = arg("mobility_negative", "m²/(V·s)", 1e-6, 1e-2, "")
	aRec  = arg("recombination", "m³/s", 0, 1e-10, "")
	aGap  = arg("length", "m", 1e-3, 10, "of the gap")
	aFlow = choice("flow", "profile of the air stream", "uniform", "stagnation at the surface", "round jet")
	aAir  = arg("speed", "m/s", 0, 100, "of the air at the inlet")
	aOrig = arg("origin", "m", 1e-3, 10, "distance from the virtual origin to the inlet of a jet")
	aTemp = arg("temperature", "K", 200, 400, "of the air")
)

// column puts the problem of the shared arguments together.
func column(a []float64) Problem {
	p := Problem{
		Positive:      Carrier{Mobility: units.Mobility(a[2]), Density: units.NumberDensity(a[0])},
		Negative:      Carrier{Mobility: units.Mobility(a[3]), Density: units.NumberDensity(a[1])},
		Recombination: units.RecombinationCoefficient(a[4]), Length: units.Length(a[5]), Temperature: units.Temperature(a[9]),
	}
	u := units.Speed(a[7])
	switch a[6] {
	case 0:
		p.Flow = UniformFlow{Speed: u}
	case 1:
		p.Flow = StagnationFlow{Speed: u, Distance: p.Length}
	default:
		p.Flow = JetFlow{Speed: u, Origin: units.Length(a[8])}
	}
	return p
}

func columnArgs(more ...compute.Arg) []compute.Arg {
	return append(args(aPos, aNeg, aMuP, aMuN, aRec, aGap, aFlow, aAir, aOrig, aTemp), more...)
}

var columnSource = known.Source{Provenance: known.Published,
	Cite: "equations: A. Castellanos (ed.), Electrohydrodynamics, Springer 1998; scheme: D. L. Scharfetter, H. K. Gummel, IEEE Trans. Electron Devices 16 (1969) 64–77; U. M. Ascher, R. M. M. Mattheij, R. D. Russell, SIAM 1995"}

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	return []compute.Entry{
		{Name: "ionflow.Bernoulli", Doc: "Weight of the exponentially fitted flux, B(z) = z/(exp z − 1).", Args: args(arg("z", "1", -1e6, 1e6, "cell Péclet number")),
			Results: args(out("weight", "1", "")), Covers: names("Bernoulli"), Source: columnSource,
			Eval: func(r, a []float64) error { r[0] = Bernoulli(a[0]); return nil }},
		{Name: "ionflow.FittedFlux", Doc: "Exponentially fitted flux between two nodes, J = (D/h)·[B(−Pe)·n1 − B(Pe)·n2].",
			Args:    args(arg("n1", "1/m³", 0, 1e20, "upstream"), arg("n2", "1/m³", 0, 1e20, "downstream"), arg("speed", "m/s", -1e4, 1e4, "u ± μE"), arg("diffusivity", "m²/s", 1e-12, 1, ""), arg("distance", "m", 1e-12, 10, "")),
			Results: args(out("flux", "1/(m²·s)", "")), Covers: names("FittedFlux"), Source: columnSource,
			Eval: func(r, a []float64) error {
				r[0] = FittedFlux(units.NumberDensity(a[0]), units.NumberDensity(a[1]), units.Speed(a[2]), units.Diffusivity(a[3]), units.Length(a[4]))
				return nil
			}},
		{Name: "ionflow.Solver.Solve", Doc: "Steady ions of both polarities between an inlet and a surface: drift, diffusion, air, recombination, space charge.",
			Args: columnArgs(choice("wall", "condition of the surface", "fixed potential", "fixed charge", "floating"), arg("potential", "V", -1e6, 1e6, "for a fixed potential"),
				arg("charge", "C/m²", -1e-3, 1e-3, "for a fixed charge"), arg("back_gap", "m", 0, 100, "air-equivalent distance to metal behind, 0 for none"), arg("place", "1", 0, 1, "share of the gap at which densities are given")),
			Results: args(out("positive_flux", "1/(m²·s)", "to the surface"), out("negative_flux", "1/(m²·s)", "to the surface"), out("current", "A/m²", "net, to the surface"), out("wall_potential", "V", ""),
				out("wall_field", "V/m", ""), out("inlet_field", "V/m", ""), out("wall_charge", "C/m²", ""), out("positive_density", "1/m³", "at the place"), out("negative_density", "1/m³", "at the place"),
				out("error", "1", "estimated"), out("closure", "1", "defect of the balance")),
			Covers: names("NewSolver", "Solver.Solve", "Problem.Validate", "Solution.At", "Solution.Closure", "Balance.Defect", "UniformFlow.At", "StagnationFlow.At", "JetFlow.At"), Source: columnSource,
			Eval: evalSolve},
		{Name: "ionflow.Solver.SolveOn", Doc: "The same by exponentially fitted finite volumes on an even mesh.",
			Args:    columnArgs(arg("potential", "V", -1e6, 1e6, "of the surface"), arg("cells", "1", 2, 1e5, "")),
			Results: args(out("positive_flux", "1/(m²·s)", "to the surface"), out("negative_flux", "1/(m²·s)", "to the surface"), out("closure", "1", "defect of the balance")),
			Covers:  names("Solver.SolveOn"), Source: columnSource,
			Eval: func(r, a []float64) error {
				p := column(a)
				p.Wall.Potential = units.Voltage(a[10])
				s, err := NewSolver(SolverSettings{})
				if err != nil {
					return err
				}
				n := int(a[11])
				mesh := make([]units.Length, n+1)
				for i := range mesh {
					mesh[i] = units.Length(a[5] * float64(i) / float64(n))
				}
				mesh[n] = p.Length
				var sol Solution
				if err := s.SolveOn(&p, mesh, &sol); err != nil {
					return err
				}
				r[0], r[1], r[2] = sol.WallPositive, sol.WallNegative, sol.Closure()
				return nil
			}},
		{Name: "ionflow.WallCurrentsTo", Doc: "Net current to a surface of given charge, and to its mirror image with all signs exchanged.",
			Args:    columnArgs(arg("charge", "C/m²", -1e-3, 1e-3, "")),
			Results: args(out("current", "A/m²", ""), out("mirror", "A/m²", "")), Covers: names("WallCurrentsTo", "Problem.Mirror"), Source: columnSource,
			Eval: func(r, a []float64) error {
				p := column(a)
				p.Wall = Wall{Condition: FixedCharge, Charge: units.SurfaceChargeDensity(a[10])}
				j := make([]units.CurrentDensity, 2)
				err := WallCurrentsTo(j, []Problem{p, p.Mirror()}, SolverSettings{}, 1)
				r[0], r[1] = float64(j[0]), float64(j[1])
				return err
			}},
		{Name: "ionflow.Transient.Advance", Doc: "A charged surface under a constant, sine or square AC stream of ions that starts at time 0.",
			Args: columnArgs(arg("charge", "C/m²", -1e-3, 1e-3, "at the start"), arg("back_gap", "m", 0, 100, "air-equivalent distance to metal behind, 0 for none"),
				choice("drive", "of the source", "constant", "sine", "square"), arg("frequency", "1/s", 0.1, 1e4, ""), arg("time", "s", 1e-6, 10, "")),
			Results: args(out("charge", "C/m²", ""), out("current", "A/m²", ""), out("potential", "V", ""), out("unaccounted", "1", "share of the ions")),
			Covers: names("NewTransient", "Transient.Advance", "Transient.Step", "Transient.Time", "Transient.Charge", "Transient.Current", "Transient.Potential",
				"Transient.Ledgers", "Ledger.Defect", "ACInlet.At"), Source: columnSource,
			Eval: evalTransient},
		{Name: "ionflow.Solver.Pass", Doc: "A charged patch that moves through an ion stream, column by column.",
			Args:    columnArgs(arg("charge", "C/m²", -1e-3, 1e-3, "at the start"), arg("back_gap", "m", 0, 100, "air-equivalent distance to metal behind, 0 for none"), arg("surface_speed", "m/s", 1e-3, 100, ""), arg("footprint", "m", 1e-3, 10, "")),
			Results: args(out("residual", "C/m²", ""), out("delivered", "A/m", "net current per width"), out("lag", "1", "")), Covers: names("Solver.Pass", "Solver.SolveNext"), Source: columnSource,
			Eval: func(r, a []float64) error {
				c := column(a)
				c.Wall = Wall{Condition: FixedCharge, Charge: units.SurfaceChargeDensity(a[10]), BackGap: units.Length(a[11])}
				s, err := NewSolver(SolverSettings{DensityTolerance: 1e-2})
				if err != nil {
					return err
				}
				var res PatchResult
				err = s.Pass(&Patch{Column: c, Speed: units.Speed(a[12]), Footprint: units.Length(a[13])}, &res)
				r[0], r[1], r[2] = float64(res.Residual), float64(res.Delivered), float64(res.Lag)
				return err
			}},
	}
}

func evalSolve(r, a []float64) error {
	p := column(a)
	p.Wall = Wall{Condition: WallCondition(a[10]), Potential: units.Voltage(a[11]), Charge: units.SurfaceChargeDensity(a[12]), BackGap: units.Length(a[13])}
	s, err := NewSolver(SolverSettings{Tolerance: 1e-8})
	if err != nil {
		return err
	}
	var sol Solution
	if err := s.Solve(&p, &sol); err != nil {
		return err
	}
	r[0], r[1], r[2], r[3] = sol.WallPositive, sol.WallNegative, float64(sol.WallCurrent), float64(sol.WallPotential)
	r[4], r[5], r[6] = float64(sol.WallField), float64(sol.InletField), float64(sol.WallCharge)
	n, m, _, _ := sol.At(units.Length(a[14] * a[5]))
	r[7], r[8], r[9], r[10] = float64(n), float64(m), sol.Error, sol.Closure()
	return nil
}

func evalTransient(r, a []float64) error {
	p := column(a)
	p.Wall = Wall{Condition: FixedCharge, Charge: units.SurfaceChargeDensity(a[10]), BackGap: units.Length(a[11])}
	set := TransientSettings{Tolerance: 1e-3}
	half := a[14] // [s] to the next switch
	if a[12] > 0 {
		set.Inlet = ACInlet{Frequency: units.Frequency(a[13]), Positive: p.Positive.Density, Negative: p.Negative.Density, Square: a[12] == 2}.At
		half = 0.5 / a[13]
	}
	t, err := NewTransient(p, set)
	if err != nil {
		return err
	}
	for i := 1; float64(t.Time()) < a[14]; i++ {
		if err := t.Advance(units.Time(min(half*float64(i), a[14]))); err != nil {
			return err
		}
	}
	pos, neg, _ := t.Ledgers()
	r[0], r[1], r[2] = float64(t.Charge()), float64(t.Current()), float64(t.Potential())
	r[3] = max(pos.Defect()/max(pos.In+pos.HeldAtStart, 1), neg.Defect()/max(neg.In+neg.HeldAtStart, 1))
	return nil
}
