package decay

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// PlanFit returns the standard errors to expect of a fit before any reading is
// taken: the Cramér–Rao bound for a model with the given parameters, read at the
// times t with the noise Abs and Rel of the settings, of which at least one must
// be set. values are those of [Fit.Params] in their order: V0 [V], the law's
// parameters, then Vb and start if the settings fit them. It answers how long a
// record must be, and where its readings should lie.
//
// The errors of ln τ, ln t0 and the like are given as errors of the value. The
// bound is for the right law: it does not say that the record can tell laws
// apart. A Correlation in the settings widens it.
func PlanFit(m Model, values []float64, t []units.Time, settings FitSettings) ([]Param, error) { // values [SI]
	if m >= models {
		return nil, known.Wrong("model", m, "one of AllModels")
	}
	settings.Known, settings.Robust = true, false
	settings.Independent = settings.Correlation == 0
	if err := settings.check(); err != nil {
		return nil, err
	}
	n := len(t)
	f := &Fit{model: m, settings: settings, unit: math.Abs(values0(values)), t: make([]float64, n), v: make([]float64, n)}
	for i := range t {
		if err := known.NotNegative(index("t", i), t[i]); err != nil {
			return nil, err
		}
		f.t[i] = float64(t[i])
	}
	if !(f.unit > 0) || math.IsInf(f.unit, 0) {
		return nil, known.Wrong("values[0]", values0(values), "a start voltage other than 0")
	}
	p := &problem{t: f.t, v: f.v, noise: settings.noise(f.unit)}
	p.init(m, settings.Offset, settings.StartTime)
	f.noise, f.offset, f.start, f.dof = p.noise, p.offset, p.start, max(p.n-p.m, 1)
	if len(values) != p.m {
		return nil, known.Wrong("values", len(values), "one for each parameter of the model and the settings")
	}
	if p.n < p.m {
		return nil, known.Wrong("t", p.n, "at least as many readings as parameters")
	}
	f.x, f.lower, f.upper = make([]float64, p.m), make([]float64, p.m), make([]float64, p.m)
	for j := range f.x {
		f.x[j] = f.scaleOf(j).raw(values[j] / f.voltUnit(j))
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
	p.pearson(make([]float64, n), f.x)
	_, vb, amp := p.linear(f.x)
	for i, q := range p.f {
		f.v[i] = amp*q + vb
	}
	f.finish(p, nil)
	return f.Params(), nil
}

// values0 returns the first value, NaN if there is none.
func values0(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	return v[0]
}
