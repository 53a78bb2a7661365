package decay

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units/known"
)

// Profile returns the profile-likelihood interval of a parameter at the level of
// the settings: the values at which the quasi-deviance, minimised over all other
// parameters, has risen by
//
//	κ²·q²·s²,  s² the noise variance, q the normal or Student quantile,
//
// and κ the widening by the correlation of the residuals. An end beyond the range
// of the parameter is ±Inf for a voltage and 0 or +Inf (1 for β and weights) else:
// the readings set no limit there. It is not available for robust fits. Errors:
// [*known.FieldError] for an unknown name, a robust fit or the zero Fit.
//
// Source: D. M. Bates and D. G. Watts, Nonlinear Regression Analysis and Its
// Applications (Wiley 1988), chapter 6.
func (f *Fit) Profile(name string) (low, high float64, err error) { // [unit of the parameter]
	f.spread()
	j := slices.IndexFunc(f.params, func(p Param) bool { return p.Name == name })
	switch {
	case f.law == nil:
		err = errZeroFit()
	case j < 0:
		err = known.Wrong("parameter", name, "one of the parameters of the "+f.model.String())
	case f.settings.Robust:
		err = known.Wrong("settings.robust", true, "false: a robust fit has no likelihood")
	}
	if err != nil {
		return math.NaN(), math.NaN(), err
	}
	p := f.problem()
	low, high = f.profileEnd(p, j, -1), f.profileEnd(p, j, 1)
	return low, high, nil
}

func errZeroFit() error { return known.Wrong("fit", "zero value", "a fit made by FitDecay") }

// problem returns the problem that the fit solved.
func (f *Fit) problem() *problem {
	p := &problem{t: f.t, v: f.v, noise: f.noise}
	p.init(f.model, f.offset, f.start)
	if p.noise.r == 0 {
		p.w = make([]float64, p.n)
		for i := range p.w {
			p.w[i] = 1 / p.noise.a
		}
	}
	return p
}

// widening returns by how much the correlation of the residuals widens the
// interval of the combination c of the fitted form: 1 for independent readings.
func (f *Fit) widening(c []float64) float64 {
	_, half := f.deviation(c)
	plain := f.quantile() * math.Sqrt(quadratic(f.inverse, c)*f.scale2)
	if k := half / plain; k > 0 && !math.IsInf(k, 1) {
		return k
	}
	return 1
}

// solved is a solution on the way along a profile.
type solved struct {
	y, z float64
	x    []float64
}

// trail keeps the solutions of a profile, so that each begins at its nearest
// neighbour and none is sought twice.
type trail []solved

// from returns the solution nearest to y, and whether it is that of y.
func (t trail) from(y float64) (solved, bool) {
	best := t[0]
	for _, s := range t[1:] {
		if math.Abs(s.y-y) < math.Abs(best.y-y) {
			best = s
		}
	}
	return best, best.y == y
}

// profileEnd finds one end of the interval of parameter j. The start voltage
// goes along ln V0: where the law is steep near t = 0 it is known to a factor, not
// to so many volts.
func (f *Fit) profileEnd(p *problem, j int, side float64) float64 {
	m := len(f.x)
	fixed := make([]bool, m)
	fixed[j] = true
	lm := numeric.LM{Lower: f.lower, Upper: f.upper, Fixed: fixed, Tol: 1e-9}
	c := make([]float64, m)
	c[j] = 1
	target := f.quantile() * f.widening(c)
	at := func(d float64) float64 { return f.x[j] + side*d }
	se := math.Sqrt(f.inverse[j*m+j] * f.scale2)
	room := f.upper[j] - f.x[j]
	if side < 0 {
		room = f.x[j] - f.lower[j]
	}
	if j == 0 {
		grow := side
		at = func(d float64) float64 { return f.x[0] * numeric.Exp(grow*d) }
		se, room = se/math.Abs(f.x[0]), math.Log(1e9)
		if f.x[0] < 0 { // the lower end is the larger one in size
			grow = -side
		}
	}
	path := trail{{0, -target, f.x}}
	// g is the signed root of the rise minus the target, nearly linear in the
	// displacement.
	g := func(d float64) float64 {
		s, same := path.from(d)
		if same {
			return s.z
		}
		x := slices.Clone(s.x)
		x[j] = at(d)
		cost, _ := lm.Solve(p, x, p.n)
		z := math.Sqrt(max(cost-f.cost, 0)/f.scale2) - target
		path = append(path, solved{d, z, x})
		return z
	}
	if !(se > 0) || math.IsInf(se, 1) {
		se = 0.1
	}
	lo, hi := 0.0, min(target*se, room)
	if f.scaleOf(j) != linear || j == 0 {
		hi = min(hi, 0.5) // along a bent valley by short steps
	}
	gh := g(hi)
	for range 60 {
		if gh >= 0 {
			break
		}
		if hi >= room {
			return f.openEnd(j, side)
		}
		lo, hi = hi, min(1.4*hi, room)
		gh = g(hi)
	}
	if !(gh >= 0) {
		return f.openEnd(j, side)
	}
	d, err := numeric.Brent(g, lo, hi, 1e-5, 0)
	if err != nil {
		return math.NaN()
	}
	return f.scaleOf(j).natural(at(d)) * f.voltUnit(j)
}

// openEnd is the end of the range of parameter j.
func (f *Fit) openEnd(j int, side float64) float64 {
	switch s := f.scaleOf(j); {
	case s == linear:
		return math.Inf(int(side))
	case side < 0:
		return 0
	case s == logit:
		return 1
	}
	return math.Inf(1)
}
