package transport

import (
	"context"
	"errors"
	"math"

	"example.org/pithball/internal/progress"
	"example.org/pithball/ionflow/transport/internal/bvp"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TransientSettings steer a [Transient]. The zero value is right for most work.
type TransientSettings struct {
	// Cells of the mesh, nearly even with short cells at both ends; 16 … 1e5, by
	// default (0) 400. The scheme is of first order in their size: a bunch of ions
	// of pitch λ loses about the share (2π/λ)²·(h/2)·L of its contrast on its way L.
	Cells int
	// Tolerance is the error allowed in one time step: of the densities in the mean
	// over the gap, relative to the larger density of the problem, of the potential
	// relative to its largest value (at least 1 V). 1e-9 … 0.1, by default (0) 1e-4.
	Tolerance float64 // [1]
	// Inlet gives the densities at the inlet as a function of time; by default (nil)
	// they are those of the problem. Values that are negative or not finite stop the
	// run with an error.
	Inlet func(t units.Time) (positive, negative units.NumberDensity)
}

// Transient is the time-dependent form of [Problem]: ∂n±/∂t on the left of the
// two continuity equations, and a surface that keeps what arrives,
//
//	dσ/dt = e·(J+ − J−) at the surface, for FixedCharge (σ starts at Wall.Charge);
//
// a surface of FixedPotential is a plate that carries the current off.
//
// Method: exponentially fitted finite volumes in space, backward Euler in time,
// the surface charge implicit in the same Newton iteration. Of first order in
// both; positive; conserves ions and charge to the accuracy of the iteration.
// One goroutine uses it at a time. The zero value, which is none, gives NaN and errors.
type Transient struct {
	p      Problem
	geo    flowAdapter
	st     bvp.Stepper
	nref   float64
	tol    float64
	inlet  func(t units.Time) (positive, negative units.NumberDensity)
	charge float64 // [C/m²] on the surface
	start  float64 // [C/m²] at the start
	dt     float64 // [s] next step to try
	ledger [2]Balance
	held   [2]float64 // [1/m²] ions in the gap at the start
}

// NewTransient returns the problem at time 0, with no ions in the gap, or its
// faults. A floating surface is refused: give FixedCharge with charge 0, which
// floats by itself.
func NewTransient(p Problem, s TransientSettings) (*Transient, error) {
	if s.Cells == 0 {
		s.Cells = 400
	}
	if s.Tolerance == 0 {
		s.Tolerance = 1e-4
	}
	err := errors.Join(p.Validate(), known.InRange("tolerance", s.Tolerance, 1e-9, 0.1))
	if s.Cells < 16 || s.Cells > 1e5 {
		err = errors.Join(err, known.Wrong("cells", s.Cells, "16 … 1e5"))
	}
	if p.Wall.Condition == FloatingPotential {
		err = errors.Join(err, known.Wrong("wall.condition", p.Wall.Condition, "fixed charge 0: a surface that keeps what "+
			"arrives floats by itself"))
	}
	if err != nil {
		return nil, err
	}
	t := &Transient{p: p, tol: s.Tolerance, inlet: s.Inlet}
	t.nref = p.data(&t.st.D, &t.geo)
	if p.Wall.Condition == FixedCharge {
		t.charge = float64(p.Wall.Charge)
		t.st.D.Kind = bvp.WallStep
	}
	t.start = t.charge
	l := float64(p.Length)
	t.st.Start(bvp.Graded(nil, l, 1e-3*l, 1e-3*l, 60, s.Cells))
	return t, nil
}

// Fill puts ions of even density into the gap, as it is before the first step.
// After a step, and for densities outside 0 … 1e20 1/m³, it is an error.
func (t *Transient) Fill(positive, negative units.NumberDensity) error {
	err := errors.Join(known.InRange("positive", positive, 0, 1e20), known.InRange("negative", negative, 0, 1e20))
	if t.st.T != 0 {
		err = errors.Join(err, known.Wrong("time", t.Time(), "0 s"))
	}
	if err != nil {
		return err
	}
	for i := range t.st.P {
		t.st.P[i], t.st.M[i] = float64(positive)/t.nref, float64(negative)/t.nref
	}
	return nil
}

// Time returns the time reached.
func (t *Transient) Time() units.Time {
	if t.none() != nil {
		return units.Time(math.NaN())
	}
	return units.Time(t.st.T)
}

// none returns an error for the zero value.
func (t *Transient) none() error {
	if len(t.st.X) == 0 {
		return known.Wrong("transient", "zero value", "a problem from NewTransient")
	}
	return nil
}

// Charge returns the charge of the surface: what it has kept, or for a plate of
// fixed potential the charge that the field induces on it.
func (t *Transient) Charge() units.SurfaceChargeDensity {
	if t.none() != nil {
		return units.SurfaceChargeDensity(math.NaN())
	}
	if t.p.Wall.Condition == FixedCharge {
		return units.SurfaceChargeDensity(t.charge)
	}
	return units.SurfaceChargeDensity(-units.Epsilon0 * t.st.Ends(&t.st.D).EL)
}

// Current returns the net current that arrives at the surface now.
func (t *Transient) Current() units.CurrentDensity {
	if t.none() != nil {
		return units.CurrentDensity(math.NaN())
	}
	e := t.st.Ends(&t.st.D)
	return units.CurrentDensity(units.ElementaryCharge * (e.JL[0] - e.JL[1]) * t.nref)
}

// Potential returns the potential of the surface now.
func (t *Transient) Potential() units.Voltage {
	if t.none() != nil {
		return units.Voltage(math.NaN())
	}
	return units.Voltage(t.st.Ends(&t.st.D).VL)
}

// Snapshot writes the present state into dst; its balances are rates and close
// with the term Stored.
func (t *Transient) Snapshot(dst *Solution) {
	g := &t.st.Volumes
	n := len(g.X)
	if n == 0 {
		dst.resize(0) // of the zero value there is nothing to write
		return
	}
	dst.resize(n)
	g.Nodes(&t.st.D, func(i int, p, m, v, e, jp, jm float64) { dst.put(i, g.X[i], p, m, v, e, jp, jm, t.nref) })
	dst.chords()
	dst.finish(g.Ends(&t.st.D), &t.st.D, t.nref)
	if t.p.Wall.Condition == FixedCharge {
		dst.WallCharge = units.SurfaceChargeDensity(t.charge)
	}
	dst.Error, dst.DensityError, dst.Iterations = math.NaN(), math.NaN(), 0
}

// Ledger is the account of a [Transient] from its start, per area of the inlet.
type Ledger struct {
	In, Out, Recombined, Side float64 // [1/m²] ions
	Held, HeldAtStart         float64 // [1/m²] ions in the gap
}

// Defect returns In − Out − Recombined − Side − (Held − HeldAtStart) [1/m²].
func (l Ledger) Defect() float64 { // [1/m²]
	return l.In - l.Out - l.Recombined - l.Side - (l.Held - l.HeldAtStart)
}

// Ledgers returns the accounts of both polarities, and the charge that the
// surface has gained from its start: for a surface of fixed charge it equals
// e·(Out+ − Out−)·A(0)/A(L).
func (t *Transient) Ledgers() (positive, negative Ledger, gained units.SurfaceChargeDensity) {
	if t.none() != nil {
		nan := math.NaN()
		l := Ledger{In: nan, Out: nan, Recombined: nan, Side: nan, Held: nan, HeldAtStart: nan}
		return l, l, units.SurfaceChargeDensity(nan)
	}
	held := t.st.Held(&t.st.D)
	var out [2]Ledger
	for k, b := range t.ledger {
		out[k] = Ledger{In: b.In, Out: b.Out, Recombined: b.Recombined, Side: b.Side, Held: held[k] * t.nref,
			HeldAtStart: t.held[k]}
	}
	return out[0], out[1], units.SurfaceChargeDensity(t.charge - t.start)
}

// Step advances by exactly dt in one backward Euler step, without regard to the
// tolerance. On an error the state is as before.
func (t *Transient) Step(dt units.Time) error {
	if err := errors.Join(t.none(), known.Positive("dt", dt)); err != nil {
		return err
	}
	_, err := t.step(float64(dt), math.Inf(1))
	return err
}

// Advance goes on to the time until, in steps that meet the tolerance. Let it end
// where the data jump (the switching instants of a square wave): each call starts
// with short steps. Where it cannot go on it returns a [*NotConverged] and stays at
// the time reached.
func (t *Transient) Advance(until units.Time) error { return t.advance(context.Background(), until) }

func (t *Transient) advance(ctx context.Context, until units.Time) error {
	if err := errors.Join(t.none(), known.Finite("until", until)); err != nil {
		return err
	}
	end := float64(until)
	t.st.Forget()
	l := float64(t.p.Length)
	fast := l / (1 + math.Abs(float64(t.p.Flow.At(0).Speed)))
	t.dt = 1e-4 * fast
	least := 1e-9 * fast
	begin := t.st.T
	for t.st.T < end {
		if err := ctx.Err(); err != nil {
			return err
		}
		progress.Tell(ctx, (t.st.T-begin)/(end-begin))
		dt, left := t.dt, end-t.st.T
		if left <= dt {
			dt = left
		} else if left < 2*dt { // no sliver at the end
			dt = left / 2
		}
		est, err := t.step(dt, t.tol)
		change := 0.8 * math.Sqrt(t.tol/est) // the error goes with the square of the step
		switch {
		case err == nil && est <= t.tol:
			t.dt = math.Max(dt*math.Min(2, change), least)
			if end-t.st.T < 1e-12*math.Abs(end) {
				t.st.T = end
			}
		case dt <= least:
			if err == nil {
				err = t.fault(bvp.Status{}, est)
			}
			return err
		case err != nil:
			if _, ok := errors.AsType[*NotConverged](err); !ok {
				return err
			}
			t.dt = dt / 4
		default:
			t.dt = dt * math.Max(0.2, change)
		}
	}
	return nil
}

func (t *Transient) fault(st bvp.Status, est float64) error {
	return &NotConverged{Problem: t.p, Settings: SolverSettings{Tolerance: t.tol, MaxNodes: len(t.st.X)},
		Update: st.Update, Estimate: est, Iterations: st.Iterations, Singular: st.Singular}
}

// step tries one step; an estimate above limit leaves the state as before.
func (t *Transient) step(dt, limit float64) (float64, error) {
	d := &t.st.D
	if t.inlet != nil {
		p, m := t.inlet(units.Time(t.st.T + dt))
		if err := errors.Join(known.InRange("inlet.positive", p, 0, 1e20),
			known.InRange("inlet.negative", m, 0, 1e20)); err != nil {
			return 0, err
		}
		d.N0 = [2]float64{float64(p) / t.nref, float64(m) / t.nref}
	}
	per := units.ElementaryCharge * t.nref * dt // [C·s/m] charge a step brings per unit of scaled flux
	if d.Kind == bvp.WallStep {
		d.Wall, d.Gain = t.charge/units.Epsilon0, per/units.Epsilon0
	}
	if t.st.T == 0 {
		h := t.st.Held(d)
		t.held = [2]float64{h[0] * t.nref, h[1] * t.nref}
	}
	est, st := t.st.Step(dt, limit)
	if !st.Converged {
		return est, t.fault(st, est)
	}
	if est > limit {
		return est, nil
	}
	e := t.st.Ends(d)
	_, a0, _, _ := d.Geo.Flow(0)
	_, aL, _, _ := d.Geo.Flow(d.L)
	for k := range t.ledger {
		b := &t.ledger[k]
		b.In += e.J0[k] * t.nref * dt
		b.Out += e.JL[k] * aL / a0 * t.nref * dt
		b.Recombined += e.Recombined * t.nref * dt
		b.Side += e.Side[k] * t.nref * dt
	}
	if d.Kind == bvp.WallStep {
		t.charge += per * (e.JL[0] - e.JL[1])
	}
	return est, nil
}

// ACInlet is a source that sends ions of either polarity in turn: of a sine wave
// each half sends its own polarity in proportion, of a square wave at full
// density. It is the drive of an AC or pulsed emitter as the air stream sees it.
type ACInlet struct {
	Frequency units.Frequency     // above 0
	Positive  units.NumberDensity // at the peak of the positive half
	Negative  units.NumberDensity // at the peak of the negative half
	Square    bool                // full density all through each half, instead of a sine
}

// At returns the densities at time t, the positive half first.
func (a ACInlet) At(t units.Time) (positive, negative units.NumberDensity) {
	phase := float64(a.Frequency) * float64(t) // cycles since the start
	s := math.Sin(2 * math.Pi * phase)
	if a.Square {
		s = 1
		if phase-math.Floor(phase) >= 0.5 {
			s = -1
		}
	}
	return units.NumberDensity(float64(a.Positive) * math.Max(0, s)),
		units.NumberDensity(float64(a.Negative) * math.Max(0, -s))
}
