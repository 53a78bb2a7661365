package decay

import (
	"math"
	"slices"
	"sync"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// Param is one fitted parameter with its interval.
type Param struct {
	Name string // "V0", "tau", "beta", "t0", "n", "k_v0", "a", "t_tr", "tau1", "tau2", "w1", "Vb", "start"
	Unit string // SI unit of the numbers, "1" for a ratio
	// Value, and its standard error: +Inf if the readings do not determine it
	// ([Undetermined]).
	Value, Err float64 // [Unit]
	// Low and High are the interval at the level of the settings from the
	// covariance of the fitted form: ln for times and exponents, logit for β and
	// weights, for voltages the scale on which the noise is even. [Fit.Profile]
	// gives the better one where few readings or much noise bend it.
	Low, High float64 // [Unit]
}

// Fit is one model fitted to the readings. A Fit comes from [FitDecay]; the
// methods of the zero value give NaN, nil or an error.
type Fit struct {
	model         Model
	settings      FitSettings
	offset, start bool
	x             []float64 // fitted form
	unit          float64   // [V] of the voltages in x
	noise         noise
	cost          float64 // Σ of squared deviances (or the robust loss), in units of the noise if it is known
	dof           int
	scale2        float64 // variance of a weighted residual: 1 if the noise is known
	deviance      float64 // −2 ln of the likelihood, up to what all fits of a record share
	inflation     float64 // of the deviance by the correlation of the readings
	aicc, bic     float64
	findings      []Finding
	collapsed     bool
	into          Model
	t, v, fitted  []float64 // [s], [unit], [unit]
	pearson       []float64 // (fitted − v)/sd(fitted)
	law           Law
	lower, upper  []float64

	// For the errors: derivatives over the noise (n×m), residuals as they move the
	// estimate, (JᵀJ)⁻¹ and whether it exists.
	jac, moving, inverse []float64
	regular              bool
	score                float64 // standard score of a start before t = 0, where that was not fitted

	learn, once sync.Once // of serial; of its covariances and the parameters
	serial      *serial
	params      []Param
}

// Model returns the fitted model.
func (f *Fit) Model() Model { return f.model }

// Params returns a copy of the parameters: V0, those of the law, then Vb and
// start if they were fitted.
func (f *Fit) Params() []Param {
	f.spread()
	return slices.Clone(f.params)
}

// Param returns the parameter of that name; false if the model has none.
func (f *Fit) Param(name string) (Param, bool) {
	f.spread()
	for _, p := range f.params {
		if p.Name == name {
			return p, true
		}
	}
	return Param{Value: math.NaN(), Err: math.NaN(), Low: math.NaN(), High: math.NaN()}, false
}

// Covariance returns the covariance of the parameters in fitted form (voltages
// as they are, ln of times and exponents, logit of β and weights), row by row in
// the order of Params.
func (f *Fit) Covariance() []float64 { // [fitted units]
	f.spread()
	m := len(f.x)
	c := make([]float64, m*m)
	for i := range m {
		for j := range m {
			c[i*m+j] = f.covariance(i, j) * f.voltUnit(i) * f.voltUnit(j)
		}
	}
	return c
}

func (f *Fit) covariance(i, j int) float64 {
	m := len(f.x)
	if f.serial == nil {
		if i == j {
			return math.Inf(1)
		}
		return 0
	}
	v := 0.0
	for k, w := range f.serial.weight {
		v += w * f.serial.cov[k][i*m+j]
	}
	return v
}

// Correlation returns the correlation of one reading's error with the next: the
// one stated, or the likeliest by the residuals; 0 if the readings are stated to
// be independent, NaN if the residuals do not say.
func (f *Fit) Correlation() float64 { // [1]
	f.correlate()
	if f.serial == nil {
		return math.NaN()
	}
	return f.serial.mode
}

// voltUnit is the unit of fitted parameter i: volts for V0 and Vb.
func (f *Fit) voltUnit(i int) float64 {
	if f.scaleOf(i) == linear {
		return f.unit
	}
	return 1
}

// DegreesOfFreedom returns readings minus parameters.
func (f *Fit) DegreesOfFreedom() int { return f.dof }

// Chi2 returns the sum of the squared residuals over their variance: χ² if the
// noise is known, else relative to the estimated noise, where it equals the
// degrees of freedom by construction.
func (f *Fit) Chi2() float64 { // [1]
	if f.law == nil {
		return math.NaN()
	}
	return sumSquares(f.pearson) / f.scale2
}

func sumSquares(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v * v
	}
	return s
}

// Noise returns the noise estimated from the residuals, as a multiple of the
// Abs and Rel of the settings; without these in volts. 1 if they are known.
func (f *Fit) Noise() float64 { // [V, or 1 if the settings have a noise]
	if f.law == nil {
		return math.NaN()
	}
	s := math.Sqrt(f.scale2)
	if f.settings.Abs == 0 && f.settings.Rel == 0 {
		return s * f.unit
	}
	return s
}

// AICc returns Akaike's criterion with the correction for few readings. Only
// differences between fits of the same readings mean something.
func (f *Fit) AICc() float64 { return f.orNaN(f.aicc) } // [1]

// BIC returns Schwarz's criterion, likewise.
func (f *Fit) BIC() float64 { return f.orNaN(f.bic) } // [1]

func (f *Fit) orNaN(x float64) float64 {
	if f.law == nil {
		return math.NaN()
	}
	return x
}

// Findings lists what is doubtful in this fit.
func (f *Fit) Findings() []Finding { return slices.Clone(f.findings) }

// CollapsedInto returns the simpler model that this fit has turned into: with
// its further parameters it describes the readings no better than chance allows.
// False if it stands for itself. A collapsed law is no rival of the simpler one.
func (f *Fit) CollapsedInto() (Model, bool) { return f.into, f.collapsed }

// Law returns the fitted law as the fraction of V0 − Vb that is left, from the
// start of the decay; nil for the zero Fit.
func (f *Fit) Law() Law { return f.law }

// V0 returns the fitted voltage at the start of the decay.
func (f *Fit) V0() units.Voltage {
	if f.law == nil {
		return units.Voltage(math.NaN())
	}
	return units.Voltage(f.x[0] * f.unit)
}

// Offset returns the fitted voltage that does not decay, 0 if none was fitted.
func (f *Fit) Offset() units.Voltage {
	if !f.offset {
		return units.Voltage(f.orNaN(0))
	}
	return units.Voltage(f.x[1+len(modelInfos[f.model].params)] * f.unit)
}

// Start returns how long before t = 0 the decay began, 0 if that was not fitted.
func (f *Fit) Start() units.Time {
	if !f.start {
		return units.Time(f.orNaN(0))
	}
	return units.Time(numeric.Exp(f.x[len(f.x)-1]))
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
	if f.law == nil {
		return units.Voltage(math.NaN())
	}
	return units.Voltage(f.amplitude()*f.law.Fraction(t+f.Start())) + f.Offset()
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
	sd := math.Sqrt(f.scale2)
	for i, t := range f.t {
		out[i] = Residual{
			units.Time(t), units.Voltage(f.v[i] * f.unit), units.Voltage(f.fitted[i] * f.unit), f.pearson[i] / sd,
		}
	}
	return out
}

// finish fills in what follows from the solution.
func (f *Fit) finish(p *problem, robustScale func(r []float64, m int) float64) {
	n, m := p.n, p.m
	f.jac, f.fitted, f.pearson = make([]float64, n*m), make([]float64, n), make([]float64, n)
	p.jacobian(f.jac, f.fitted, f.x)
	for i, v := range f.fitted {
		f.pearson[i] = (v - p.v[i]) / p.noise.sd(v)
	}
	a := make([]float64, m*m)
	for i := range n {
		row := f.jac[i*m : i*m+m]
		for j, x := range row {
			for k, y := range row[:j+1] {
				a[j*m+k] += x * y
			}
		}
	}
	for j := range m {
		for k := range j {
			a[k*m+j] = a[j*m+k]
		}
	}
	f.inverse = make([]float64, m*m)
	f.regular = numeric.InvertSPD(f.inverse, a, m)
	f.moving = f.pearson
	f.scale2 = 1
	switch {
	case f.settings.Robust:
		// An M-estimate moves with ψ(r)/mean ψ′: Huber (1981) section 7.6.
		s := robustScale(f.pearson, m)
		f.scale2 = s * s
		f.moving = make([]float64, n)
		slope := 0.0
		for _, r := range f.pearson {
			slope += tukey.slope(r/s) / float64(n)
		}
		for i, r := range f.pearson {
			f.moving[i] = r * tukey.weight(r/s) / max(slope, 0.1)
		}
	case !f.settings.Known:
		f.scale2 = max(sumSquares(f.pearson)/float64(f.dof), 0x1p-100)
	}
	variance := f.scale2
	if f.settings.Robust {
		variance = sumSquares(f.moving) / float64(f.dof)
	}
	if modelInfos[f.model].aged && !f.start && f.regular {
		f.score = startScore(f, p) / math.Sqrt(variance)
	}
	for j := range m {
		if f.x[j] <= f.lower[j] || f.x[j] >= f.upper[j] {
			f.add(AtBound)
		}
		v := f.inverse[j*m+j]
		if !f.regular || math.IsInf(v, 1) || f.scaleOf(j) != linear && math.Sqrt(v*variance) > 2 {
			f.add(Undetermined)
		}
	}
	f.deviance = f.cost
	if !f.settings.Known && !f.settings.Robust {
		f.deviance = float64(n) * math.Log(max(f.cost, 0x1p-100)/float64(n))
	}
}

// startScore returns how much the residuals ask for a start before t = 0: the
// projection on its derivative, less what the other parameters take up, over the
// length of what is left. Positive for a start earlier than t = 0.
func startScore(f *Fit, p *problem) float64 {
	n, m := p.n, p.m
	_, _, amp := p.linear(f.x)
	d, b := make([]float64, n), make([]float64, m)
	for i, dt := range p.dt {
		if dt != 0 && !math.IsInf(dt, 0) {
			d[i] = amp * dt / p.noise.sd(f.fitted[i])
		}
		for j, v := range f.jac[i*m : i*m+m] {
			b[j] += v * d[i]
		}
	}
	dot, length := 0.0, 0.0
	for i, v := range d {
		for j, x := range f.jac[i*m : i*m+m] {
			for k, y := range b {
				v -= x * f.inverse[j*m+k] * y
			}
		}
		dot -= v * f.moving[i] // the residual is fitted − read
		length += v * v
	}
	return dot / math.Sqrt(max(length, 1e-300))
}

func (f *Fit) add(x Finding) {
	if !slices.Contains(f.findings, x) {
		f.findings = append(f.findings, x)
		slices.Sort(f.findings)
	}
}

// correlate works out what the residuals say of their correlation when that is
// first asked for.
func (f *Fit) correlate() {
	f.learn.Do(func() {
		if !f.regular || slices.ContainsFunc(f.inverse, func(v float64) bool { return math.IsInf(v, 0) }) {
			return
		}
		in := serialInput{jac: f.jac, e: f.moving, inverse: f.inverse, t: f.t, n: len(f.t), m: len(f.x),
			known: f.settings.Known && !f.settings.Robust}
		if f.settings.Independent || f.settings.Correlation != 0 {
			f.serial = fixedSerial(in, f.settings.Correlation)
			return
		}
		f.serial = newSerial(in)
	})
}

// spread works out the errors when they are first asked for.
func (f *Fit) spread() {
	f.correlate()
	f.once.Do(func() {
		if f.serial != nil {
			if !f.settings.Independent && f.settings.Correlation == 0 {
				f.serial.drift()
			}
			f.serial.fill()
		}
		if f.law != nil {
			f.fillParams()
		}
	})
}

// deviation returns the standard error of the combination c of the fitted form,
// and half of its interval.
func (f *Fit) deviation(c []float64) (se, half float64) {
	f.spread()
	if f.serial == nil {
		return math.Inf(1), math.Inf(1)
	}
	return f.serial.deviation(c, f.freedom(), f.quantile())
}

// fillParams makes the parameters with their intervals.
func (f *Fit) fillParams() {
	m := len(f.x)
	f.params = make([]Param, m)
	c := make([]float64, m)
	for j := range f.params {
		in := f.paramInfo(j)
		x := f.x[j]
		v := in.scale.natural(x)
		par := Param{in.name, in.unit, v, math.Inf(1), in.scale.natural(math.Inf(-1)), in.scale.natural(math.Inf(1))}
		if f.serial != nil {
			c[j] = 1
			e, half := f.serial.deviation(c, f.freedom(), f.quantile())
			c[j] = 0
			par.Err = e * in.scale.slope(v)
			par.Low, par.High = in.scale.natural(x-half), in.scale.natural(x+half)
			if in.scale == linear {
				par.Low, par.High = f.noise.move(x, -half), f.noise.move(x, half)
			}
		}
		if in.scale == linear { // the voltages
			par.Value, par.Err, par.Low, par.High = par.Value*f.unit, par.Err*f.unit, par.Low*f.unit, par.High*f.unit
		}
		f.params[j] = par
	}
}

// paramInfo describes fitted parameter j.
func (f *Fit) paramInfo(j int) paramInfo {
	info := modelInfos[f.model].params
	switch {
	case j == 0:
		return paramInfo{"V0", "V", linear}
	case j <= len(info):
		return info[j-1]
	case f.offset && j == 1+len(info):
		return paramInfo{"Vb", "V", linear}
	}
	return paramInfo{"start", "s", logarithm}
}

// scaleOf returns how parameter j is fitted.
func (f *Fit) scaleOf(j int) scale { return f.paramInfo(j).scale }

// freedom returns the degrees of freedom of the errors: +Inf if the noise is
// known.
func (f *Fit) freedom() float64 {
	if f.settings.Known && !f.settings.Robust {
		return math.Inf(1)
	}
	return float64(f.dof)
}

// quantile returns the factor of a standard error at the level of the settings:
// normal if the noise is known, Student's t with the degrees of freedom if not.
func (f *Fit) quantile() float64 {
	p := 0.5 + 0.5*f.settings.level()
	if nu := f.freedom(); !math.IsInf(nu, 1) {
		return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(p)
	}
	return distuv.UnitNormal.Quantile(p)
}
