package decay

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Profile returns the profile-likelihood interval of a parameter at the level of
// the settings: the values at which the sum of squares, minimised over all other
// parameters, has risen by
//
//	q²·s²,  s² the noise variance, q the normal or Student quantile
//
// An end beyond the range of the parameter is ±Inf for a voltage and 0 or +Inf
// (1 for β and weights) else: the readings set no limit there. It is not
// available for robust fits. Errors: [*known.FieldError] for an unknown name or a
// robust fit.
//
// Source: D. M. Bates and D. G. Watts, Nonlinear Regression Analysis and Its
// Applications (Wiley 1988), chapter 6.
func (f *Fit) Profile(name string) (low, high float64, err error) { // [unit of the parameter]
	j := slices.IndexFunc(f.params, func(p Param) bool { return p.Name == name })
	if j < 0 {
		return math.NaN(), math.NaN(), errParam(f, name)
	}
	if f.settings.Robust {
		return math.NaN(), math.NaN(), known.Wrong("settings.robust", true, "false: a robust fit has no likelihood")
	}
	p := &problem{t: f.t, v: f.v, w: f.w}
	p.init(f.model, f.settings.Offset, f.settings.StartTime)
	low, high = f.profileEnd(p, j, -1), f.profileEnd(p, j, 1)
	return low, high, nil
}

// scaleOf returns how parameter j is fitted.
func (f *Fit) scaleOf(j int) scale {
	switch n := f.params[j].Name; {
	case n == "V0" || n == "Vb":
		return linear
	case n == "start":
		return logarithm
	}
	return modelInfos[f.model].params[j-1].scale
}

// profileEnd finds one end of the interval of parameter j.
func (f *Fit) profileEnd(p *problem, j int, side float64) float64 {
	m := len(f.x)
	fixed := make([]bool, m)
	fixed[j] = true
	lm := numeric.LM{Lower: f.lower, Upper: f.upper, Fixed: fixed, Tol: 1e-9}
	target := f.quantile()
	start := slices.Clone(f.x)
	x := make([]float64, m)
	// g is the signed root of the rise minus the target, nearly linear in the
	// displacement.
	g := func(c float64) float64 {
		copy(x, start)
		x[j] = f.x[j] + side*c
		cost, _ := lm.Solve(p, x, p.n)
		copy(start, x) // warm start of the next
		return math.Sqrt(max(cost-f.cost, 0)/f.scale2) - target
	}
	se := math.Sqrt(f.cov[j*m+j])
	if !(se > 0) || math.IsInf(se, 1) {
		se = 0.1
	}
	room := f.upper[j] - f.x[j]
	if side < 0 {
		room = f.x[j] - f.lower[j]
	}
	lo, hi := 0.0, min(target*se, room)
	gh := g(hi)
	for range 30 {
		if gh >= 0 {
			break
		}
		if hi >= room {
			return f.openEnd(j, side)
		}
		lo, hi = hi, min(1.6*hi, room)
		gh = g(hi)
	}
	if !(gh >= 0) {
		return f.openEnd(j, side)
	}
	c, err := numeric.Brent(g, lo, hi, 1e-5, 0)
	if err != nil {
		return math.NaN()
	}
	v := f.scaleOf(j).natural(f.x[j] + side*c)
	return v * f.voltUnit(j)
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

// PlanFit returns the standard errors to expect of a fit before any reading is
// taken: the Cramér–Rao bound for a model with the given parameters, read at the
// times t with the noise Abs and Rel of the settings, of which at least one must
// be set. values are those of [Fit.Params] in their order: V0 [V], the law's
// parameters, then Vb and start if the settings fit them. It answers how long a
// record must be, and where its readings should lie.
//
// The errors of ln τ, ln t0 and the like are given as errors of the value. The
// bound is for the right law: it does not say that the record can tell laws
// apart.
func PlanFit(m Model, values []float64, t []units.Time, settings FitSettings) ([]Param, error) { // values [SI]
	if m >= models {
		return nil, known.Wrong("model", m, "one of AllModels")
	}
	settings.Known = true
	if err := settings.check(); err != nil {
		return nil, err
	}
	p := &problem{t: make([]float64, len(t)), w: make([]float64, len(t))}
	for i := range t {
		if err := known.NotNegative(index("t", i), t[i]); err != nil {
			return nil, err
		}
		p.t[i], p.w[i] = float64(t[i]), 1
	}
	p.v = make([]float64, len(t))
	p.init(m, settings.Offset, settings.StartTime)
	if len(values) != p.m {
		return nil, known.Wrong("values", len(values), "one for each parameter of the model and the settings")
	}
	if p.n < p.m {
		return nil, known.Wrong("t", p.n, "at least as many readings as parameters")
	}
	if v0 := math.Abs(values[0]); !(v0 > 0) || math.IsInf(v0, 0) {
		return nil, known.Wrong("values[0]", values[0], "a start voltage other than 0")
	}
	f := &Fit{model: m, settings: settings, unit: math.Abs(values[0]), dof: max(p.n-p.m, 1), t: p.t, v: p.v, w: p.w,
		residual: make([]float64, p.n), weighted: make([]float64, p.n)}
	f.x = make([]float64, p.m)
	f.lower, f.upper = make([]float64, p.m), make([]float64, p.m)
	for j := range f.x {
		s := linear
		switch {
		case j > 0 && j <= p.k:
			s = modelInfos[m].params[j-1].scale
		case p.start && j == p.m-1:
			s = logarithm
		}
		v := values[j]
		if s == linear {
			v /= f.unit
		}
		f.x[j] = s.raw(v)
		if math.IsNaN(f.x[j]) || math.IsInf(f.x[j], 0) {
			return nil, known.Wrong(index("values", j), values[j], "a value inside the range of the parameter")
		}
		f.lower[j], f.upper[j] = math.Inf(-1), math.Inf(1)
	}
	var err error
	if f.law, err = m.law(values[1 : 1+p.k]); err != nil {
		return nil, err
	}
	// What would be read: the model itself.
	r, jac := make([]float64, p.n), make([]float64, p.n*p.m)
	p.Eval(r, nil, f.x)
	copy(p.v, r)
	for i := range p.w {
		p.w[i] = f.unit / math.Hypot(float64(settings.Abs), settings.Rel*p.v[i]*f.unit)
	}
	p.Eval(r, jac, f.x)
	f.finish(p, r, jac, 1)
	return f.params, nil
}
