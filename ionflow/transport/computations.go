package transport

import (
	"context"
	_ "embed" // for the sentences

	"example.org/pithball/internal/progress"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// column is the one-dimensional problem of an entry, without its wall.
type column struct {
	Positive, Negative                 units.NumberDensity
	PositiveMobility, NegativeMobility units.Mobility
	Recombination                      units.RecombinationCoefficient
	Length                             units.Length
	Flow                               int
	Speed                              units.Speed
	Origin                             units.Length
	Temperature                        units.Temperature
}

const (
	aColumn = "positive 0…1e18: density of positive ions at the inlet; " +
		"negative 0…1e18: density of negative ions at the inlet; " +
		"mobility_positive 1e-6…1e-2: of positive ions; mobility_negative 1e-6…1e-2: of negative ions; " +
		"recombination 0…1e-10: coefficient; " +
		"length 1e-3…10: of the gap; flow {uniform|stagnation at the surface|round jet}: profile of the air stream; " +
		"speed 0…100: of the air at the inlet; origin 1e-3…10: distance from the virtual origin to the inlet of a jet; " +
		"temperature 200…400: of the air"
	aStart = "charge -1e-3…1e-3: at the start; back_gap 0…100: air-equivalent distance to metal behind, 0 for none"
	flux   = " [1/(m²·s)]: to the surface"
)

func (c column) problem(w Wall) Problem {
	p := Problem{Positive: Carrier{Mobility: c.PositiveMobility, Density: c.Positive},
		Negative:      Carrier{Mobility: c.NegativeMobility, Density: c.Negative},
		Recombination: c.Recombination, Length: c.Length, Temperature: c.Temperature, Wall: w}
	switch c.Flow {
	case 0:
		p.Flow = UniformFlow{Speed: c.Speed}
	case 1:
		p.Flow = StagnationFlow{Speed: c.Speed, Distance: c.Length}
	default:
		p.Flow = JetFlow{Speed: c.Speed, Origin: c.Origin}
	}
	return p
}

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	source := known.Source{Provenance: known.Computed, Cite: "equations: A. Castellanos (ed.), Electrohydrodynamics, " +
		"Springer 1998; " +
		"scheme: D. L. Scharfetter, H. K. Gummel, IEEE Trans. Electron Devices 16 (1969) 64–77; " +
		"U. M. Ascher, R. M. M. Mattheij, R. D. Russell, SIAM 1995"}
	return compute.List("transport", sentences, []compute.Entry{
		compute.Of11("Bernoulli", Bernoulli, source, "z -1e6…1e6: cell Péclet number -> weight: of the exponentially "+
			"fitted flux"),
		compute.Of51("FittedFlux", FittedFlux, source, "n1 0…1e20: upstream; n2 0…1e20: downstream; "+
			"speed -1e4…1e4: u ± μE; diffusivity 1e-12…1: of the ions",
			"distance 1e-12…10: between the nodes -> flux [1/(m²·s)]: downstream"),
		compute.Of("Solver.Solve", solve, source,
			"= Steady ions of both polarities between an inlet and a surface: drift, diffusion, air, recombination, space "+
				"charge.",
			aColumn, "wall {fixed potential|fixed charge|floating}: condition of the surface; "+
				"potential -1e6…1e6: for a fixed potential",
			"charge -1e-3…1e-3: for a fixed charge; back_gap 0…100: air-equivalent distance to metal behind, 0 for none",
			"place 0…1: share of the gap at which densities are given",
			"-> positive_flux"+flux+"; negative_flux"+flux+"; current: net, to the surface; wall_potential: of the surface",
			"wall_field: at the surface; inlet_field: at the inlet; wall_charge: of the surface",
			"positive_density: at the place; negative_density: at the place; error: estimated; closure: defect of the balance"),
		compute.Of44("Solver.SolveOn", func(ctx context.Context, c column, v units.Voltage, cells int) (p, n, closure float64,
			err error) {
			s, err := NewSolver(SolverSettings{})
			if err != nil {
				return
			}
			mesh := make([]units.Length, cells+1)
			for i := range mesh {
				mesh[i] = units.Length(float64(c.Length) * float64(i) / float64(cells))
			}
			mesh[cells] = c.Length
			var sol Solution
			problem := c.problem(Wall{Potential: v})
			err = s.SolveOnContext(ctx, &problem, mesh, &sol)
			return sol.WallPositive, sol.WallNegative, sol.Closure(), err
		}, source, "= The same by exponentially fitted finite volumes on an even mesh.", aColumn,
			"potential -1e6…1e6: of the surface; cells 2…1e5: of the mesh",
			"-> positive_flux"+flux+"; negative_flux"+flux+"; closure: defect of the balance"),
		compute.Of33("WallCurrentsTo", func(ctx context.Context, c column,
			q units.SurfaceChargeDensity) (units.CurrentDensity,
			units.CurrentDensity, error) {
			p := c.problem(Wall{Condition: FixedCharge, Charge: q})
			j := make([]units.CurrentDensity, 2)
			err := WallCurrentsToContext(ctx, j, []Problem{p, p.Mirror()}, SolverSettings{}, 1)
			return j[0], j[1], err
		}, source, "= Net current to a surface of given charge, and to its mirror image with all signs exchanged.", aColumn,
			"charge -1e-3…1e-3: of the surface -> current: to the surface; mirror: to the mirror image"),
		compute.Of("Transient.Advance", advance, source, "= A charged surface under a constant, sine or square AC "+
			"stream of ions that starts at time 0.",
			aColumn, aStart, "drive {constant|sine|square}: of the source; frequency 0.1…1e4: of the source; "+
				"time 1e-6…10: since the start",
			"-> charge: then; current: then; potential: then; unaccounted: share of the ions"),
		compute.Of64("Solver.Pass", func(ctx context.Context, c column, q units.SurfaceChargeDensity, h units.Length,
			v units.Speed,
			f units.Length) (units.SurfaceChargeDensity, units.LineCurrent, units.Ratio, error) {
			s, err := NewSolver(SolverSettings{DensityTolerance: 1e-2})
			if err != nil {
				return 0, 0, 0, err
			}
			var res PatchResult
			err = s.PassContext(ctx, &Patch{Column: c.problem(Wall{Condition: FixedCharge, Charge: q, BackGap: h}), Speed: v,
				Footprint: f}, &res)
			return res.Residual, res.Delivered, res.Lag, err
		}, source, "= A charged patch that moves through an ion stream, column by column.", aColumn, aStart,
			"surface_speed 1e-3…100: of the patch; footprint 1e-3…10: of the stream along the travel",
			"-> residual: with which the patch leaves; delivered: net current per width; "+
				"lag: ion transit over the time of change"),
	})
}

// solved is what is told about a steady solution.
type solved struct {
	positive, negative       float64
	current                  units.CurrentDensity
	potential                units.Voltage
	field, inlet             units.ElectricField
	charge                   units.SurfaceChargeDensity
	nPositive, nNegative     units.NumberDensity
	estimated, closureDefect float64
}

func solve(ctx context.Context, c column, condition int, v units.Voltage, q units.SurfaceChargeDensity, h units.Length,
	place float64) (solved, error) {
	p := c.problem(Wall{Condition: WallCondition(condition), Potential: v, Charge: q, BackGap: h})
	s, err := NewSolver(SolverSettings{Tolerance: 1e-8})
	if err != nil {
		return solved{}, err
	}
	var sol Solution
	if err := s.SolveContext(ctx, &p, &sol); err != nil {
		return solved{}, err
	}
	n, m, _, _ := sol.At(units.Length(place * float64(c.Length)))
	return solved{sol.WallPositive, sol.WallNegative, sol.WallCurrent, sol.WallPotential, sol.WallField, sol.InletField,
		sol.WallCharge, n, m,
		sol.Error, sol.Closure()}, nil
}

func advance(ctx context.Context, c column, q units.SurfaceChargeDensity, h units.Length, drive int, f units.Frequency,
	end units.Time) (charge units.SurfaceChargeDensity, j units.CurrentDensity, v units.Voltage, lost float64, err error) {
	p := c.problem(Wall{Condition: FixedCharge, Charge: q, BackGap: h})
	set := TransientSettings{Tolerance: 1e-3}
	half := float64(end) // [s] to the next switch
	if drive > 0 {
		set.Inlet = ACInlet{Frequency: f, Positive: p.Positive.Density, Negative: p.Negative.Density, Square: drive == 2}.At
		half = 0.5 / float64(f)
	}
	t, err := NewTransient(p, set)
	if err != nil {
		return
	}
	for i := 1; t.Time() < end; i++ {
		to := min(half*float64(i), float64(end))
		part := progress.Part(ctx, float64(t.Time())/float64(end), to/float64(end))
		if err = t.AdvanceContext(part, units.Time(to)); err != nil {
			return
		}
	}
	pos, neg, _ := t.Ledgers()
	return t.Charge(), t.Current(), t.Potential(),
		max(pos.Defect()/max(pos.In+pos.HeldAtStart, 1), neg.Defect()/max(neg.In+neg.HeldAtStart, 1)), nil
}
