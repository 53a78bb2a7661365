package transport

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Patch is a charged element of a surface that moves past an ion stream. While it
// is under the footprint of the stream it takes up ions as the steady column above
// it delivers them:
//
//	dσ/dt = e·(J+ − J−)(σ, place),  t = y/Speed,  0 ≤ y ≤ Footprint
//
// The column is one-dimensional (ions cross the gap straight, no exchange between
// neighbouring columns) and quasi-steady (ions cross faster than σ changes; the
// result says by how much). One face only: the one towards the stream.
type Patch struct {
	// Column is the gap above the patch; its Wall is of FixedCharge and holds the
	// charge with which the patch arrives, and the gap to metal behind.
	Column    Problem
	Speed     units.Speed  // of the surface, above 0
	Footprint units.Length // of the stream along the direction of travel, above 0
	// Shape, if not nil, gives the inlet densities at y/Footprint in 0 … 1 as a
	// share of those of the column, 0 … 1.
	Shape func(y units.Ratio) units.Ratio
}

// PatchResult is what happened to a [Patch]. The zero value is ready as a
// destination; its slices are reused.
type PatchResult struct {
	Y       []units.Length               // places under the footprint, rising
	Charge  []units.SurfaceChargeDensity // of the patch there
	Current []units.CurrentDensity       // that arrives there, net

	Residual  units.SurfaceChargeDensity // with which the patch leaves
	Delivered units.LineCurrent          // Speed·(Residual − first charge): net current per width
	// Lag is the largest ratio of the time in which an ion crosses the gap to the
	// time in which the charge changes by a quarter of its first value; the
	// quasi-steady picture needs it small.
	Lag units.Ratio
	// Validity is WrongShape where Lag is above 0.1, and AboveRange where the field
	// of a column is above [BreakdownField].
	Validity known.Validity
	Solves   int // steady problems solved
}

// Pass carries the patch through the stream. The error of σ is kept below the
// tolerance of the solver, or 1e-6 if that is smaller, relative to the first charge
// (or to the charge ε0·1 kV over the gap if that is larger), by an embedded
// Runge–Kutta pair of third order; steady problems are solved one after another,
// each started from the last. Errors: the faults of the patch, or a [*NotConverged].
// Source of the pair: Bogacki, Shampine, Appl. Math. Lett. 2 (1989) 321–325.
func (s *Solver) Pass(p *Patch, dst *PatchResult) error {
	err := errors.Join(known.Positive("speed", p.Speed), known.Positive("footprint", p.Footprint))
	if p.Column.Wall.Condition != FixedCharge {
		err = errors.Join(err, known.Wrong("column.wall.condition", p.Column.Wall.Condition, FixedCharge.String()))
	}
	if err = errors.Join(err, p.Column.Validate()); err != nil {
		return err
	}
	r := passRun{s: s, p: p, col: p.Column}
	sigma := float64(p.Column.Wall.Charge)
	first := sigma
	scale := math.Max(math.Abs(sigma), units.Epsilon0*1000/float64(p.Column.Length))
	tol := math.Max(s.opt.Tol, 1e-6) * scale
	*dst = PatchResult{Y: dst.Y[:0], Charge: dst.Charge[:0], Current: dst.Current[:0]}
	end := float64(p.Footprint) / float64(p.Speed) // [s] under the stream
	t := 0.0
	k1, err := r.rate(0, sigma)
	if err != nil {
		return err
	}
	dst.add(0, sigma, k1)
	h := end / 20
	if k1 != 0 {
		h = math.Min(h, 0.05*scale/math.Abs(k1))
	}
	for t < end {
		if r.solves > 100000 || h < 1e-12*end {
			return &NotConverged{Problem: r.col, Settings: SolverSettings{Tolerance: s.opt.Tol}, Update: k1,
				Iterations: r.solves}
		}
		h = math.Min(h, end-t)
		k2, e2 := r.rate((t+h/2)/end, sigma+h/2*k1)
		k3, e3 := r.rate((t+h*3/4)/end, sigma+h*3/4*k2)
		next := sigma + h*(2*k1+3*k2+4*k3)/9
		k4, e4 := r.rate((t+h)/end, next)
		if err := errors.Join(e2, e3, e4); err != nil {
			return err
		}
		est := math.Abs(h * (-5*k1/72 + k2/12 + k3/9 - k4/8))
		if est <= tol {
			dst.Lag = max(dst.Lag, units.Ratio(4*r.crossing*math.Abs(k1)/scale))
			t += h
			sigma, k1 = next, k4
			dst.add(math.Min(t, end)*float64(p.Speed), sigma, k1)
		}
		h *= math.Min(3, math.Max(0.2, 0.9*math.Cbrt(tol/math.Max(est, 1e-300))))
		if end-t < 1e-12*end {
			break
		}
	}
	dst.Residual = units.SurfaceChargeDensity(sigma)
	dst.Delivered = units.LineCurrent(float64(p.Speed) * (sigma - first))
	if !(dst.Lag <= 0.1) {
		dst.Validity |= known.WrongShape
	}
	dst.Validity |= r.flags
	dst.Solves = r.solves
	return nil
}

func (r *PatchResult) add(y, sigma, j float64) {
	r.Y = append(r.Y, units.Length(y))
	r.Charge = append(r.Charge, units.SurfaceChargeDensity(sigma))
	r.Current = append(r.Current, units.CurrentDensity(j))
}

// passRun solves the columns of one pass.
type passRun struct {
	s        *Solver
	p        *Patch
	col      Problem
	crossing float64 // [s] of the faster species in the last column
	solves   int
	flags    known.Validity // of all columns
}

// rate returns the net current density [A/m²] at the place y in 0…1 for the
// charge sigma [C/m²].
func (r *passRun) rate(y, sigma float64) (float64, error) {
	r.col.Wall.Charge = units.SurfaceChargeDensity(sigma)
	if r.p.Shape != nil {
		w := r.p.Shape(units.Ratio(y))
		if !(w >= 0 && w <= 1) {
			return 0, known.Wrong("shape", w, "0 … 1")
		}
		if w == 0 {
			return 0, nil // no ions, no current
		}
		r.col.Positive.Density = units.NumberDensity(float64(r.p.Column.Positive.Density) * float64(w))
		r.col.Negative.Density = units.NumberDensity(float64(r.p.Column.Negative.Density) * float64(w))
	}
	if err := r.s.SolveNext(&r.col, &r.s.scratch); err != nil {
		return 0, err
	}
	r.solves++
	r.flags |= r.s.scratch.Validity
	// an ion of the polarity that the surface draws crosses at u + μ|E|
	fast := math.Abs(float64(r.col.Flow.At(0).Speed)) +
		math.Max(float64(r.col.Positive.Mobility), float64(r.col.Negative.Mobility))*math.Abs(float64(r.s.scratch.WallField))
	r.crossing = float64(r.col.Length) / math.Max(fast, 1e-300)
	return float64(r.s.scratch.WallCurrent), nil
}
