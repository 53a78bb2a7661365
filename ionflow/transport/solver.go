package transport

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"

	"example.org/pithball/ionflow/transport/internal/bvp"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// SolverSettings steer a [Solver]. The zero value is right for most work.
type SolverSettings struct {
	// Tolerance is the wanted error of the fluxes at both ends relative to the
	// largest flux in the gap, of the surface potential relative to the largest
	// potential (at least 1 V) and of the fields at both ends relative to the largest
	// field (at least a thousandth of the field at which drift equals air speed).
	// 1e-12 … 0.1, by default (0) 1e-6.
	Tolerance float64 // [1]
	// DensityTolerance is the wanted error of the densities anywhere in the gap,
	// relative to the larger inlet density. A front where one polarity turns back is
	// the costly place. 1e-12 … 1, by default (0) 1e-4.
	DensityTolerance float64 // [1]
	// MaxNodes bounds the mesh: 128 … 1e6, by default (0) 20000.
	MaxNodes int
}

// Solver solves problems one after another. It keeps its workspace, so that
// repeated solves allocate nothing; one goroutine uses it at a time: give each
// goroutine its own, or use [SolveAll].
type Solver struct {
	opt   bvp.Options
	eng   bvp.Engine
	geo   flowAdapter
	data  bvp.Data
	nref  float64
	warm  bool // eng.Final holds a solution
	stop  func() bool
	nodes []float64
	// scratch is the column of [Solver.Pass]
	scratch Solution
}

// NewSolver returns a solver, or the faults of the settings.
func NewSolver(s SolverSettings) (*Solver, error) {
	opt := bvp.Options{Tol: s.Tolerance, DensityTol: s.DensityTolerance, MaxNodes: s.MaxNodes}
	if opt.Tol == 0 {
		opt.Tol = 1e-6
	}
	if opt.DensityTol == 0 {
		opt.DensityTol = 1e-4
	}
	if opt.MaxNodes == 0 {
		opt.MaxNodes = 20000
	}
	err := errors.Join(known.InRange("tolerance", opt.Tol, 1e-12, 0.1),
		known.InRange("density_tolerance", opt.DensityTol, 1e-12, 1))
	if opt.MaxNodes < 128 || opt.MaxNodes > 1e6 {
		err = errors.Join(err, known.Wrong("max_nodes", opt.MaxNodes, "128 … 1e6"))
	}
	if err != nil {
		return nil, err
	}
	return &Solver{opt: opt}, nil
}

// NotConverged is the error of a solve that met no solution within its limits.
// There is no result beside it.
type NotConverged struct {
	Problem    Problem        // the parameters
	Settings   SolverSettings // as used
	Update     float64        // [1] last scaled Newton update, the residual of the iteration
	Estimate   float64        // [1] last estimate of the error, 0 if there was none
	Iterations int            // Newton steps of the last attempt
	Singular   bool           // the last linear system had no solution
}

// Error names the residual and the parameters.
func (e *NotConverged) Error() string {
	p := &e.Problem
	return fmt.Sprintf("ionflow: no solution to the tolerance %.3g: last Newton update %.3g after %d steps, error "+
		"estimate %.3g"+
		" (inlet %v and %v, gap %v, speed %v at the inlet, %v: %v, %v)",
		e.Settings.Tolerance, e.Update, e.Iterations, e.Estimate,
		p.Positive.Density, p.Negative.Density, p.Length, p.Flow.At(0).Speed, p.Wall.Condition, p.Wall.Potential,
		p.Wall.Charge)
}

// Balance is the account of one polarity along the gap, per area of the inlet.
type Balance struct {
	In         float64 // [1/(m²·s)] through the inlet
	Out        float64 // [1/(m²·s)] to the surface
	Recombined float64 // [1/(m²·s)] lost to the other polarity
	Side       float64 // [1/(m²·s)] carried off by side flow
	Stored     float64 // [1/(m²·s)] rate of accumulation, 0 in a steady solution
}

// Defect returns In − Out − Recombined − Side − Stored [1/(m²·s)], which is 0 but
// for rounding and the last step of the iteration.
func (b Balance) Defect() float64 { return b.In - b.Out - b.Recombined - b.Side - b.Stored } // [1/(m²·s)]

func (b Balance) largest() float64 {
	return max(math.Abs(b.In), math.Abs(b.Out), math.Abs(b.Recombined), math.Abs(b.Side), math.Abs(b.Stored))
}

// Solution of a [Problem]. The zero value is ready as a destination; its slices
// are reused. The collocation does not keep densities positive by itself: in 84 of 297 random problems one undershot
// somewhere, by 9e-5 of the inlet density at most, which is below DensityTolerance. Such a density is given as 0;
// fluxes and balances are those of the scheme and have no part in it.
type Solution struct {
	X            []units.Length        // nodes of the mesh
	Positive     []units.NumberDensity // n+
	Negative     []units.NumberDensity // n−
	Potential    []units.Voltage       // φ
	Field        []units.ElectricField // E, positive towards the surface
	PositiveFlux []float64             // [1/(m²·s)] J+ along x
	NegativeFlux []float64             // [1/(m²·s)] J− along x

	// At the surface: the fluxes that arrive, the net current e(J+ − J−), the
	// potential, the field before it and its net charge.
	WallPositive  float64 // [1/(m²·s)]
	WallNegative  float64 // [1/(m²·s)]
	WallCurrent   units.CurrentDensity
	WallPotential units.Voltage
	WallField     units.ElectricField
	WallCharge    units.SurfaceChargeDensity
	InletField    units.ElectricField

	PositiveBalance Balance // of the positive ions
	NegativeBalance Balance // of the negative ions

	// Error and DensityError are the estimated errors in the terms of
	// [SolverSettings]; NaN for a solution on a given mesh.
	Error        float64 // [1]
	DensityError float64 // [1]
	Iterations   int     // Newton steps on the last mesh
	// Validity is AboveRange where a field anywhere is above [BreakdownField]: the
	// equations know no discharge.
	Validity known.Validity

	dp, dm []float64 // slopes of the densities [1/m⁴]
}

// BreakdownField is the field of 3 MV/m above which a [Solution] is flagged: air at
// ambient pressure then breaks down over gaps of millimetres and more. Common
// practice, no source; short gaps stand more.
const BreakdownField = 3e6 * units.VoltPerMetre

// Solve solves the problem from a cold start to the tolerance into dst. It
// returns the faults of the problem, or a [*NotConverged]; dst is then not
// changed.
//
// Method: exponentially fitted finite volumes (positive on any mesh) with a full
// Newton iteration on their block-tridiagonal system give the start; continuation
// in the space charge is used only where that fails. Collocation of fourth order
// on meshes graded into the layers and fitted to the solution gives the result;
// every mesh is halved, the difference gives the error, and the mesh is refined
// until the error meets the tolerance.
func (s *Solver) Solve(p *Problem, dst *Solution) error { return s.solve(p, dst, false) }

// SolveNext is Solve, started from the last solution of the solver. It is two to
// three times faster for a problem close to the last one, and falls back to a cold
// start.
func (s *Solver) SolveNext(p *Problem, dst *Solution) error { return s.solve(p, dst, s.warm) }

func (s *Solver) solve(p *Problem, dst *Solution, warm bool) error {
	if err := s.take(p); err != nil {
		return err
	}
	var o bvp.Outcome
	if warm {
		o = s.eng.SolveNext(&s.data, s.opt)
	}
	if !o.Converged {
		o = s.eng.Solve(&s.data, s.opt)
	}
	if !o.Converged {
		s.warm = false
		return s.fault(p, o)
	}
	s.warm = true
	k := s.eng.Final
	n := len(k.X)
	dst.resize(n)
	for i, x := range k.X {
		pp, m, v, e, jp, jm, dp, dm := k.At(&s.data, i)
		dst.put(i, x, pp, m, v, e, jp, jm, s.nref)
		dst.dp[i], dst.dm[i] = dp*s.nref, dm*s.nref
	}
	dst.finish(k.Ends(&s.data), &s.data, s.nref)
	dst.Error, dst.DensityError, dst.Iterations = o.Error, o.DensityError, o.Iterations
	return nil
}

// SolveOn solves the problem by the exponentially fitted finite volumes on the
// given mesh, which runs from 0 to the length of the gap in at least three
// strictly rising nodes. The scheme is positive on any mesh, and of first order in
// the node distance h wherever the cell Péclet number |u ± μE|h/D is above one, as
// it is in nearly all of a gap with moving air; second order below. Use it for
// comparisons and for meshes of your own; [Solver.Solve] is more accurate at less
// cost. Errors as for Solve.
func (s *Solver) SolveOn(p *Problem, mesh []units.Length, dst *Solution) error {
	if err := s.take(p); err != nil {
		return err
	}
	if len(mesh) < 3 || mesh[0] != 0 || mesh[len(mesh)-1] != p.Length {
		return known.Wrong("mesh", fmt.Sprintf("%d nodes", len(mesh)), fmt.Sprintf("3 or more from 0 to %v", p.Length))
	}
	s.nodes = s.nodes[:0]
	for i, x := range mesh {
		if i > 0 && !(x > mesh[i-1]) {
			return known.Wrong(fmt.Sprintf("mesh[%d]", i), x, fmt.Sprintf("more than %v", mesh[i-1]))
		}
		s.nodes = append(s.nodes, float64(x))
	}
	st := s.eng.SolveOn(&s.data, s.nodes, 1e-7)
	if !st.Converged {
		return s.fault(p, bvp.Outcome{Status: st})
	}
	g := &s.eng.Volumes
	n := len(g.X)
	dst.resize(n)
	g.Nodes(&s.data, func(i int, pp, m, v, e, jp, jm float64) {
		dst.put(i, g.X[i], pp, m, v, e, jp, jm, s.nref)
	})
	dst.chords()
	dst.finish(g.Ends(&s.data), &s.data, s.nref)
	dst.Error, dst.DensityError, dst.Iterations = math.NaN(), math.NaN(), st.Iterations
	return nil
}

func (s *Solver) take(p *Problem) error {
	if err := p.Validate(); err != nil {
		return err
	}
	s.nref = p.data(&s.data, &s.geo)
	s.data.Stop = s.stop
	return nil
}

func (s *Solver) fault(p *Problem, o bvp.Outcome) error {
	return &NotConverged{Problem: *p,
		Settings: SolverSettings{Tolerance: s.opt.Tol, DensityTolerance: s.opt.DensityTol, MaxNodes: s.opt.MaxNodes},
		Update:   o.Update, Estimate: o.Error, Iterations: o.Iterations, Singular: o.Singular}
}

// Closure returns the larger defect of the two balances over the largest term of
// either [1]. Where no polarity crosses the gap all terms are rounding, and so is their ratio.
func (s *Solution) Closure() float64 { // [1]
	if len(s.X) == 0 { // nothing was solved
		return math.NaN()
	}
	d := max(math.Abs(s.PositiveBalance.Defect()), math.Abs(s.NegativeBalance.Defect()))
	if d == 0 {
		return 0
	}
	return d / max(s.PositiveBalance.largest(), s.NegativeBalance.largest())
}

func (s *Solution) resize(n int) {
	s.X = slices.Grow(s.X[:0], n)[:n]
	s.Positive = slices.Grow(s.Positive[:0], n)[:n]
	s.Negative = slices.Grow(s.Negative[:0], n)[:n]
	s.Potential = slices.Grow(s.Potential[:0], n)[:n]
	s.Field = slices.Grow(s.Field[:0], n)[:n]
	s.PositiveFlux = slices.Grow(s.PositiveFlux[:0], n)[:n]
	s.NegativeFlux = slices.Grow(s.NegativeFlux[:0], n)[:n]
	s.dp = slices.Grow(s.dp[:0], n)[:n]
	s.dm = slices.Grow(s.dm[:0], n)[:n]
}

// chords sets the slopes of the densities to those between the neighbours.
func (s *Solution) chords() {
	n := len(s.X)
	for i := range n {
		a, b := max(i-1, 0), min(i+1, n-1)
		h := float64(s.X[b] - s.X[a])
		s.dp[i] = float64(s.Positive[b]-s.Positive[a]) / h
		s.dm[i] = float64(s.Negative[b]-s.Negative[a]) / h
	}
}

// put writes node i. Rounding, and errors below the density error, can leave a
// density slightly under zero; it is zero then.
func (s *Solution) put(i int, x, p, m, v, e, jp, jm, nref float64) {
	s.X[i] = units.Length(x)
	s.Positive[i] = units.NumberDensity(max(0, p) * nref)
	s.Negative[i] = units.NumberDensity(max(0, m) * nref)
	s.Potential[i], s.Field[i] = units.Voltage(v), units.ElectricField(e)
	s.PositiveFlux[i], s.NegativeFlux[i] = jp*nref, jm*nref
}

func (s *Solution) finish(e bvp.Ends, d *bvp.Data, nref float64) {
	s.WallPositive, s.WallNegative = e.JL[0]*nref, e.JL[1]*nref
	s.WallCurrent = units.CurrentDensity(units.ElementaryCharge * (e.JL[0] - e.JL[1]) * nref)
	s.WallPotential, s.WallField, s.InletField = units.Voltage(e.VL), units.ElectricField(e.EL), units.ElectricField(e.E0)
	s.WallCharge = units.SurfaceChargeDensity(units.Epsilon0 * (e.VL*d.Back - e.EL))
	s.Validity = known.Inside
	for _, f := range s.Field {
		if !(math.Abs(float64(f)) <= float64(BreakdownField)) {
			s.Validity = known.AboveRange
			break
		}
	}
	_, a0, _, _ := d.Geo.Flow(0)
	_, aL, _, _ := d.Geo.Flow(d.L)
	for k, b := range [2]*Balance{&s.PositiveBalance, &s.NegativeBalance} {
		*b = Balance{In: e.J0[k] * nref, Out: e.JL[k] * aL / a0 * nref, Recombined: e.Recombined * nref,
			Side: e.Side[k] * nref, Stored: e.Stored[k] * nref}
	}
}

// At returns densities, potential and field at any place of the gap, by cubics
// through values and slopes of the neighbouring nodes (densities not below
// zero). A solution that no Solver of this package wrote has no slopes of its
// densities: straight lines then. Outside 0 … L, for NaN, and where a slice is
// shorter than X, all are NaN.
func (s *Solution) At(x units.Length) (positive, negative units.NumberDensity, potential units.Voltage,
	field units.ElectricField) {
	n := len(s.X) - 1
	if n < 1 || !(x >= s.X[0] && x <= s.X[n]) ||
		min(len(s.Positive), len(s.Negative), len(s.Potential), len(s.Field)) <= n {
		nan := math.NaN()
		return units.NumberDensity(nan), units.NumberDensity(nan), units.Voltage(nan), units.ElectricField(nan)
	}
	i := min(max(sort.Search(len(s.X), func(i int) bool { return s.X[i] > x })-1, 0), n-1)
	h := float64(s.X[i+1] - s.X[i])
	t := float64(x-s.X[i]) / h
	between := func(y []units.NumberDensity, d []float64) float64 {
		a, b := float64(y[i]), float64(y[i+1])
		if len(d) <= n {
			return a + t*(b-a)
		}
		return bvp.Cubic(a, b, h*d[i], h*d[i+1], t)
	}
	p, m := between(s.Positive, s.dp), between(s.Negative, s.dm)
	v := bvp.Cubic(float64(s.Potential[i]), float64(s.Potential[i+1]), -h*float64(s.Field[i]), -h*float64(s.Field[i+1]), t)
	e := float64(s.Field[i]) + t*float64(s.Field[i+1]-s.Field[i])
	return units.NumberDensity(max(0, p)), units.NumberDensity(max(0, m)), units.Voltage(v), units.ElectricField(e)
}
