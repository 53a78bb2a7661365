package decay

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// FitSettings says how readings are fitted. The zero value fits all models by
// unweighted least squares, with the noise estimated from the residuals.
type FitSettings struct {
	// Models to fit; none means all.
	Models []Model
	// Abs and Rel make the weights 1/(Abs² + (Rel·V)²). Both 0: equal weights.
	Abs units.Voltage // noise that does not depend on the reading
	Rel float64       // [1] noise as a fraction of the reading, 0 … 0.3
	// Known: Abs and Rel are standard deviations. Else only their ratio counts
	// and the noise is estimated from the residuals.
	Known bool
	// Offset adds a voltage Vb that does not decay (zero drift, ion balance) to
	// every model.
	Offset bool
	// StartTime fits how long before t = 0 the charge was deposited, in the models
	// where that can be seen (stretched, transit). In the others it is absorbed
	// exactly by V0 and the other parameters: no record can show it.
	StartTime bool
	// Robust uses Huber's loss, so that a few wild readings hardly count.
	Robust bool
	// Level of the intervals; 0 means 0.95.
	Level float64 // [1]
}

func (s *FitSettings) check() error {
	err := errors.Join(known.NotNegative("settings.abs", s.Abs), known.InRange("settings.rel", s.Rel, 0, 0.3))
	if s.Level != 0 && !(s.Level >= 0.5 && s.Level <= 0.9999) {
		err = errors.Join(err, known.Wrong("settings.level", s.Level, "0.5 … 0.9999, or 0 for 0.95"))
	}
	if s.Known && s.Abs == 0 && s.Rel == 0 {
		err = errors.Join(err, known.Wrong("settings.known", s.Known, "false, or a standard deviation in abs or rel"))
	}
	for i, m := range s.Models {
		if m >= models {
			err = errors.Join(err, known.Wrong(index("settings.models", i), m, "one of AllModels"))
		}
	}
	return err
}

func (s *FitSettings) level() float64 {
	if s.Level == 0 {
		return 0.95
	}
	return s.Level
}

// checkReadings refuses columns that cannot be fitted.
func checkReadings(t []units.Time, v []units.Voltage) error {
	if len(t) != len(v) {
		return known.Wrong("v", len(v), "as many voltages as times")
	}
	if len(t) < 4 {
		return known.Wrong("t", len(t), "at least 4 readings")
	}
	var err error
	for i := range t {
		err = errors.Join(err, known.NotNegative(index("t", i), t[i]), known.Finite(index("v", i), v[i]))
		if i > 0 && !(t[i] > t[i-1]) {
			err = errors.Join(err, known.Wrong(index("t", i), t[i], "later than the reading before, "+t[i-1].String()))
		}
	}
	if err == nil && slices.Max(v) == slices.Min(v) {
		err = known.Wrong("v", v[0], "readings that differ: a constant shows no decay")
	}
	return err
}

// Param is one fitted parameter with its interval.
type Param struct {
	Name string // "V0", "tau", "beta", "t0", "n", "k_v0", "a", "t_tr", "tau1", "tau2", "w1", "Vb", "start"
	Unit string // SI unit of the numbers, "1" for a ratio
	// Value, and its standard error from the covariance: +Inf if the readings do
	// not determine it ([Undetermined]).
	Value, Err float64 // [Unit]
	// Low and High are the interval at the level of the settings from the
	// covariance of the fitted form: ln for times and exponents, logit for β and
	// weights, the value itself for voltages. [Fit.Profile] gives the better one.
	Low, High float64 // [Unit]
}

// Fit is one model fitted to the readings.
type Fit struct {
	model    Model
	settings FitSettings
	params   []Param
	x, cov   []float64 // fitted form, and its covariance
	unit     float64   // [V] of the voltages in x
	cost     float64   // Σ of squared weighted residuals, in units of the noise if it is known
	dof      int
	scale2   float64 // variance of a weighted residual: 1 if the noise is known
	aicc     float64
	bic      float64
	findings []Finding
	residual []float64 // V_fit − V [V]
	weighted []float64 // in standard deviations
	t        []float64
	v        []float64 // in unit
	w        []float64
	law      Law
	lower    []float64
	upper    []float64
}

// Model returns the fitted model.
func (f *Fit) Model() Model { return f.model }

// Params returns a copy of the parameters: V0, those of the law, then Vb and
// start if they were fitted.
func (f *Fit) Params() []Param { return slices.Clone(f.params) }

// Param returns the parameter of that name; false if the model has none.
func (f *Fit) Param(name string) (Param, bool) {
	for _, p := range f.params {
		if p.Name == name {
			return p, true
		}
	}
	return Param{}, false
}

// Covariance returns the covariance of the parameters in fitted form (voltages
// as they are, ln of times and exponents, logit of β and weights), row by row in
// the order of Params.
func (f *Fit) Covariance() []float64 { // [fitted units]
	m := len(f.x)
	c := slices.Clone(f.cov)
	for i := range m {
		for j := range m {
			c[i*m+j] *= f.voltUnit(i) * f.voltUnit(j)
		}
	}
	return c
}

// voltUnit is the unit of fitted parameter i: volts for V0 and Vb.
func (f *Fit) voltUnit(i int) float64 {
	if n := f.params[i].Name; n == "V0" || n == "Vb" {
		return f.unit
	}
	return 1
}

// DegreesOfFreedom returns readings minus parameters.
func (f *Fit) DegreesOfFreedom() int { return f.dof }

// Chi2 returns the sum of the squared weighted residuals: χ² if the noise is
// known, else relative to the estimated noise, where it equals the degrees of
// freedom by construction.
func (f *Fit) Chi2() float64 { return f.cost / f.scale2 } // [1]

// Noise returns the standard deviation of a reading of unit weight: the estimate
// from the residuals, or 1 times the stated one if the noise is known. With equal
// weights it is in volts.
func (f *Fit) Noise() float64 { return math.Sqrt(f.scale2) * f.noiseUnit() } // [V, or 1 if weights are given]

func (f *Fit) noiseUnit() float64 {
	if f.settings.Abs == 0 && f.settings.Rel == 0 {
		return f.unit
	}
	return 1
}

// AICc returns Akaike's criterion with the correction for few readings. Only
// differences between fits of the same readings mean something.
func (f *Fit) AICc() float64 { return f.aicc } // [1]

// BIC returns Schwarz's criterion, likewise.
func (f *Fit) BIC() float64 { return f.bic } // [1]

// Findings lists what is doubtful in this fit.
func (f *Fit) Findings() []Finding { return slices.Clone(f.findings) }

// Law returns the fitted law as the fraction of V0 − Vb that is left, from the
// start of the decay.
func (f *Fit) Law() Law { return f.law }

// V0 returns the fitted voltage at the start of the decay.
func (f *Fit) V0() units.Voltage { return units.Voltage(f.params[0].Value) }

// Offset returns the fitted voltage that does not decay, 0 if none was fitted.
func (f *Fit) Offset() units.Voltage {
	p, _ := f.Param("Vb")
	return units.Voltage(p.Value)
}

// Start returns how long before t = 0 the decay began, 0 if that was not fitted.
func (f *Fit) Start() units.Time {
	p, _ := f.Param("start")
	return units.Time(p.Value)
}

// amplitude is what decays: V0 − Vb for the exponential with offset, whose V0 is
// the whole start voltage, else V0.
func (f *Fit) amplitude() float64 {
	if f.model == ModelOffsetExponential {
		return float64(f.V0() - f.Offset())
	}
	return float64(f.V0())
}

// Voltage returns the fitted voltage at time t of the record's clock; NaN for
// NaN.
func (f *Fit) Voltage(t units.Time) units.Voltage {
	return units.Voltage(f.amplitude()*f.law.Fraction(t+f.Start())) + f.Offset()
}

// TimeToVoltage returns the time of the record's clock at which the fitted
// voltage is v; [*NeverError] if it stays beyond, [*known.FieldError] if v lies
// above the fitted start or on its other side.
func (f *Fit) TimeToVoltage(v units.Voltage) (units.Time, error) {
	q := float64(v-f.Offset()) / f.amplitude()
	if q <= 0 && float64(v)/float64(f.V0()) > 0 {
		return units.Time(math.Inf(1)), &NeverError{float64(v) / float64(f.V0()), float64(f.Offset()) / float64(f.V0())}
	}
	t, err := TimeTo(f.law, q)
	return t - f.Start(), err
}

// Residual is one point of a residual plot.
type Residual struct {
	Time     units.Time    // as read
	Voltage  units.Voltage // as read
	Fitted   units.Voltage // by the model at that time
	Standard float64       // [1] (fitted − read) in standard deviations of the reading
}

// Residuals returns the points of a residual plot in the order of the readings.
func (f *Fit) Residuals() []Residual {
	out := make([]Residual, len(f.t))
	for i, t := range f.t {
		v := units.Voltage(f.v[i] * f.unit)
		out[i] = Residual{units.Time(t), v, v + units.Voltage(f.residual[i]), f.weighted[i]}
	}
	return out
}

// fitter holds what fits of one record share.
type fitter struct {
	settings FitSettings
	p        problem
	lm       numeric.LM
	unit     float64
	half     float64 // [s] time in which the readings fall by half of their fall
	lo, hi   float64 // [s] first positive and last time
}

func newFitter(t []units.Time, v []units.Voltage, s FitSettings) *fitter {
	f := &fitter{settings: s}
	for _, x := range v {
		f.unit = max(f.unit, math.Abs(float64(x)))
	}
	n := len(t)
	f.p.t, f.p.v, f.p.w = make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range t {
		f.p.t[i], f.p.v[i] = float64(t[i]), float64(v[i])/f.unit
		f.p.w[i] = 1
		if s.Abs != 0 || s.Rel != 0 {
			sd := math.Hypot(float64(s.Abs), s.Rel*float64(v[i]))
			if s.Abs == 0 {
				// A reading of zero has no weight of its own: 1 ‰ of full scale.
				sd = max(sd, s.Rel*1e-3*f.unit)
			}
			f.p.w[i] = f.unit / sd
		}
	}
	f.hi = f.p.t[n-1]
	f.lo = f.p.t[0]
	if f.lo == 0 {
		f.lo = f.p.t[1]
	}
	f.half = halfTime(f.p.t, f.p.v)
	return f
}

// halfTime returns the time in which the readings cross the middle between
// their first and last values, or, if they fall by less than half, where a
// straight line through the ends would.
func halfTime(t, v []float64) float64 {
	n := len(v)
	mid3 := func(a, b, c float64) float64 { return max(min(a, b), min(max(a, b), c)) }
	first, last := mid3(v[0], v[1], v[2]), mid3(v[n-1], v[n-2], v[n-3])
	span := t[n-1] - t[0]
	if r := last / first; r > 0.5 && r < 1 {
		return span * math.Ln2 / -math.Log(r)
	} else if r >= 1 {
		return 10 * span
	}
	mid := 0.5 * (first + last)
	for i := range t {
		if (v[i]-mid)*(first-mid) <= 0 && t[i] > 0 {
			return t[i]
		}
	}
	return 0.5 * span
}

// fit fits one model; with start not nil from there only.
func (f *fitter) fit(m Model) (*Fit, error) {
	p := &f.p
	p.init(m, f.settings.Offset, f.settings.StartTime)
	if p.n < p.m+2 {
		return nil, known.Wrong("t", p.n, "at least two readings more than the parameters of the "+m.String())
	}
	info := &modelInfos[m]
	lower, upper := make([]float64, p.m), make([]float64, p.m)
	for j := range lower {
		lower[j], upper[j] = math.Inf(-1), math.Inf(1)
	}
	for j := range p.k {
		lower[1+j], upper[1+j] = m.bounds(j, f.lo, f.hi)
	}
	if p.start {
		lower[p.m-1], upper[p.m-1] = math.Log(1e-6*f.lo), math.Log(1e2*f.hi)
	}
	f.lm.Lower, f.lm.Upper, f.lm.Fixed = lower, upper, nil
	x, best := make([]float64, p.m), make([]float64, p.m)
	cost, bestCost := 0.0, math.Inf(1)
	var last error
	for _, q := range m.starts(f.half) {
		copy(x[1:], q)
		if p.start {
			x[p.m-1] = math.Log(0.1 * f.half)
		}
		p.amplitudes(x)
		cost, last = f.solve(x)
		if cost < bestCost {
			bestCost = cost
			copy(best, x)
		}
	}
	if math.IsInf(bestCost, 1) {
		return nil, last
	}
	if m == ModelTwoExponentials && best[1] > best[2] { // the faster first
		best[1], best[2], best[3] = best[2], best[1], -best[3]
	}
	fit := &Fit{
		model: m, settings: f.settings, unit: f.unit, cost: bestCost, dof: p.n - p.m, x: best,
		t: p.t, v: p.v, w: p.w, lower: lower, upper: upper,
		residual: make([]float64, p.n), weighted: make([]float64, p.n),
	}
	r, jac := make([]float64, p.n), make([]float64, p.n*p.m)
	p.Eval(r, jac, best)
	v := make([]float64, p.k)
	for j := range v {
		v[j] = info.params[j].scale.natural(best[1+j])
	}
	var err error
	if fit.law, err = m.law(v); err != nil {
		return nil, err
	}
	fit.finish(p, r, jac, f.robustScale(r, p.m))
	return fit, nil
}

// solve runs the solver, again and again with Huber weights if asked for.
func (f *fitter) solve(x []float64) (float64, error) {
	if !f.settings.Robust {
		return f.lm.Solve(&f.p, x, f.p.n)
	}
	w := f.p.w
	trial := slices.Clone(w)
	f.p.w = trial
	defer func() { f.p.w = w }()
	r := make([]float64, f.p.n)
	var cost float64
	var err error
	old := slices.Clone(x)
	for range 50 {
		_, err = f.lm.Solve(&f.p, x, f.p.n)
		copy(trial, w)
		f.p.Eval(r, nil, x)
		s := f.robustScale(r, f.p.m)
		move := 0.0
		for j := range x {
			move = max(move, math.Abs(x[j]-old[j]))
			old[j] = x[j]
		}
		cost = 0
		for i := range r {
			cost += 2 * huberLoss(r[i], s)
			if a := math.Abs(r[i]); a > huberC*s {
				trial[i] = w[i] * math.Sqrt(huberC*s/a)
			}
		}
		if move < 1e-9 {
			break
		}
	}
	return cost, err
}

// huberC is the usual constant of Huber's loss: 95 % efficient for Gaussian
// noise. Source: P. J. Huber, Robust Statistics (Wiley 1981).
const huberC = 1.345

// huberLoss returns Huber's ρ, with scale s: r²/2 within c·s, linear outside.
func huberLoss(r, s float64) float64 {
	a, c := math.Abs(r), huberC*s
	if a <= c {
		return 0.5 * r * r
	}
	return c * (a - 0.5*c)
}

// robustScale returns the scale of the weighted residuals: the median of their
// sizes over 0.6745, which for Gaussian noise is the standard deviation,
// corrected for m parameters.
func (f *fitter) robustScale(r []float64, m int) float64 {
	if f.settings.Known {
		return 1
	}
	a := make([]float64, len(r))
	for i, v := range r {
		a[i] = math.Abs(v)
	}
	slices.Sort(a)
	n := len(a)
	med := 0.5 * (a[(n-1)/2] + a[n/2])
	return max(med/0.6744897501960817*math.Sqrt(float64(n)/float64(n-m)), 0x1p-52)
}

// finish fills in what follows from the solution.
func (f *Fit) finish(p *problem, r, jac []float64, robust float64) {
	n, m := p.n, p.m
	a := make([]float64, m*m)
	for i := range n {
		row := jac[i*m : i*m+m]
		for j, x := range row {
			for k, y := range row {
				a[j*m+k] += x * y
			}
		}
	}
	f.cov = make([]float64, m*m)
	ok := numeric.InvertSPD(f.cov, a, m)
	f.scale2 = 1
	if !f.settings.Known {
		f.scale2 = max(f.cost/float64(f.dof), 0x1p-100)
	}
	factor := f.scale2
	if f.settings.Robust {
		// Asymptotic covariance of an M-estimate, Huber (1981) section 7.6.
		psi2, inner := 0.0, 0.0
		for _, v := range r {
			c := min(math.Abs(v), huberC*robust)
			psi2 += c * c
			if math.Abs(v) <= huberC*robust {
				inner++
			}
		}
		f.scale2 = robust * robust
		factor = psi2 / float64(f.dof) / math.Pow(inner/float64(n), 2)
	}
	if !ok {
		f.findings = append(f.findings, Undetermined)
		for i := range f.cov {
			f.cov[i] = math.Inf(1)
		}
	}
	for i := range f.cov {
		if f.cov[i] != 0 {
			f.cov[i] *= factor
		}
	}
	sd := math.Sqrt(f.scale2)
	for i := range r {
		f.residual[i] = r[i] / p.w[i] * f.unit
		f.weighted[i] = r[i] / sd
	}
	q := f.quantile()
	info := &modelInfos[f.model]
	names := make([]paramInfo, 0, m)
	names = append(names, paramInfo{"V0", "V", linear})
	names = append(names, info.params...)
	if p.offset {
		names = append(names, paramInfo{"Vb", "V", linear})
	}
	if p.start {
		names = append(names, paramInfo{"start", "s", logarithm})
	}
	f.params = make([]Param, m)
	for j, in := range names {
		x, e := f.x[j], math.Sqrt(f.cov[j*m+j])
		v := in.scale.natural(x)
		par := Param{in.name, in.unit, v, e * in.scale.slope(v), in.scale.natural(x - q*e), in.scale.natural(x + q*e)}
		if in.unit == "V" {
			par.Value, par.Err, par.Low, par.High = par.Value*f.unit, par.Err*f.unit, par.Low*f.unit, par.High*f.unit
		}
		f.params[j] = par
		if x <= f.lower[j] || x >= f.upper[j] {
			f.add(AtBound)
		}
		if in.scale != linear && e > 2 {
			f.add(Undetermined)
		}
	}
	k := float64(m)
	nn := float64(n)
	var deviance float64
	if f.settings.Known {
		deviance = f.cost
	} else {
		k++ // the noise is a parameter too
		deviance = nn * math.Log(max(f.cost, 0x1p-100)/nn)
	}
	f.aicc = deviance + 2*k + 2*k*(k+1)/math.Max(nn-k-1, 1)
	f.bic = deviance + k*math.Log(nn)
	f.judge()
}

func (f *Fit) add(x Finding) {
	if !slices.Contains(f.findings, x) {
		f.findings = append(f.findings, x)
	}
}

// quantile returns the factor of a standard error at the level of the settings:
// normal if the noise is known, Student's t with the degrees of freedom if not.
func (f *Fit) quantile() float64 {
	p := 0.5 + 0.5*f.settings.level()
	if f.settings.Known {
		return distuv.UnitNormal.Quantile(p)
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(f.dof)}.Quantile(p)
}
