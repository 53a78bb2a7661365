package decay

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// reading is one of the six of the registry's fits: enough to be a fit, few
// enough to be arguments.
type reading struct {
	T units.Time
	V units.Voltage
}

func columns(r [6]reading) ([]units.Time, []units.Voltage) {
	t, v := make([]units.Time, len(r)), make([]units.Voltage, len(r))
	for i, x := range r {
		t[i], v[i] = x.T, x.V
	}
	return t, v
}

const sixReadings = "t#" + age + "time of the reading, later than the one before; v# -1e9…1e9: reading"

// told is what is told about a fit besides its parameters.
type told struct {
	err             float64
	noise           units.Voltage
	chi2, aicc, bic float64
	variance        float64
	last            units.Voltage
	residual        units.Voltage
	fraction        float64
	half            units.Time
	halfLow         units.Time
	halfHigh        units.Time
	tenth           units.Time
	tenthLow        units.Time
	tenthHigh       units.Time
}

// fitOne fits one model and returns its parameters and what is told of it.
func fitOne(m Model, r [6]reading) ([]Param, told, error) {
	t, v := columns(r)
	c, err := FitDecay(t, v, FitSettings{Models: []Model{m}, Independent: true})
	if err != nil {
		return nil, told{}, err
	}
	f := c.Best()
	p := f.Params()
	last := len(r) - 1
	v0 := float64(f.V0())
	half, err := f.TimeToVoltage(0.5*f.V0() + 0.5*f.Offset())
	if err != nil {
		return p, told{}, err
	}
	halves, err := f.TimeToVoltageInterval(0.5*f.V0() + 0.5*f.Offset())
	if err != nil {
		return p, told{}, err
	}
	tenth, err := f.TimeToFraction(0.1)
	if err != nil {
		return p, told{}, err
	}
	tenths, err := f.TimeToFractionInterval(0.1)
	for _, x := range p {
		if err == nil && (math.IsInf(x.Value, 0) || math.IsInf(x.Err, 0)) {
			err = known.Wrong("readings", "a parameter of infinite error", "readings that determine every parameter")
		}
	}
	if err == nil && math.IsInf(float64(max(halves.High, tenths.High)), 1) {
		err = known.Wrong("readings", "a time without an upper end", "readings that limit the times to half and to a tenth")
	}
	return p, told{p[1].Err, units.Voltage(f.Noise()), f.Chi2() / float64(f.DegreesOfFreedom()), f.AICc(), f.BIC(),
		f.Covariance()[0] / (v0 * v0), f.Voltage(t[last]), f.Residuals()[last].Fitted - v[last],
		f.Law().Fraction(t[last] + f.Start()), half, halves.Low, halves.High, tenth, tenths.Low, tenths.High}, err
}

func fitComputations() []compute.Entry {
	source := derived("Levenberg–Marquardt minimum of the sum of squares")
	const about = "noise: standard deviation of the residuals; " +
		"chi2_over_dof: 1 by construction when the noise is estimated; " +
		"aicc: Akaike's criterion, corrected; bic: Schwarz's criterion; " +
		"var_v0: variance of the start voltage over its square; " +
		"v_at_t6: fitted voltage at the last time; residual6: fitted minus read at the last time; " +
		"fraction_at_t6: of what decays, left at the last time; " +
		"t_half: time of the record at which half of the start voltage is left; " +
		"t_half_low: lower end of its 95 % interval; t_half_high: upper end; " +
		"t_tenth: time at which a tenth of the voltage at t = 0 is left; " +
		"t_tenth_low: lower end of its 95 % interval; t_tenth_high: upper end"
	const doc = "= Unweighted least-squares fit of one law to six readings with independent errors."
	type V = units.Voltage
	return []compute.Entry{
		compute.Of14("FitDecay.Exponential", func(r [6]reading) (V, units.Time, told, error) {
			p, t, err := fitOne(ModelExponential, r)
			if err != nil {
				return 0, 0, t, err
			}
			return V(p[0].Value), units.Time(p[1].Value), t, nil
		}, source, doc, sixReadings, "-> v0: fitted start voltage; tau: of the fitted law; err [s]: standard error of tau",
			about),
		compute.Of14("FitDecay.Hyperbolic", func(r [6]reading) (V, float64, told, error) {
			p, t, err := fitOne(ModelHyperbolic, r)
			if err != nil {
				return 0, 0, t, err
			}
			return V(p[0].Value), p[1].Value, t, nil
		}, source, doc, sixReadings, "-> v0: fitted start voltage; k_v0 [1/s]: of the fitted law; "+
			"err [1/s]: standard error of k_v0", about),
		compute.Of("FitDecay.Stretched", func(r [6]reading) (V, units.Time, float64, told, error) {
			p, t, err := fitOne(ModelStretched, r)
			if err != nil {
				return 0, 0, 0, t, err
			}
			return V(p[0].Value), units.Time(p[1].Value), p[2].Value, t, nil
		}, source, doc, sixReadings, "-> v0: fitted start voltage; tau: of the fitted law; beta: of the fitted law; "+
			"err [s]: standard error of tau", about),
		compute.Of32("FitDecay.Compare", compareSix,
			derived("Levenberg–Marquardt minimum of the sum of squares; "+
				"K. P. Burnham and D. R. Anderson, Model Selection and Multimodel Inference (Springer 2002)"),
			"= All models fitted to six readings with noise of a known standard deviation: the best by AICc, its share, "+
				"and the time to a voltage with the spread between the laws.",
			sixReadings, "noise"+volts+"standard deviation of a reading; v"+volts+"voltage to be reached",
			"-> best: best model; weight: Akaike weight of the best; fitted: models fitted; "+
				"failed: models that could not be fitted",
			"findings: number of doubts; best_findings: of them on the best fit alone; "+
				"exponential_over_best: AICc of the exponential above that of the best",
			"t: time to the voltage by the best; t_least: least end of the intervals of the laws",
			"v0_low: lower end of the profile interval of V0 over V0; v0_high: upper end",
			"t_low: lower end of the 95 % interval of the time, doubt about the law included; t_high: upper end; "+
				"t_most: greatest end of the intervals of the laws",
			"t_tenth: time to a tenth of the voltage at t = 0 by the best",
			"correlation: of one reading's error with the next; collapsed: laws that have turned into simpler ones"),
		compute.Of32("PlanExponential", func(n int, span, noise float64) (float64, error) {
			t := make([]units.Time, n)
			for i := range t {
				t[i] = units.Time(span * float64(i) / float64(n-1))
			}
			p, err := PlanFit(ModelExponential, []float64{1, 1}, t, FitSettings{Abs: V(noise)})
			if err != nil {
				return 0, err
			}
			return p[1].Err, nil
		}, derived("Cramér–Rao bound: inverse of the Fisher matrix"),
			"= Relative standard error to expect of τ from n equal steps over span·τ with noise·V0 on each reading, V0 free.",
			"n 3…10000: readings; span 1e-6…1000: length of the record over τ; "+
				"noise 1e-12…1: standard deviation of a reading over V0",
			"-> error: standard error of τ over τ"),
	}
}

// compared is what is told about the fits of all models.
type compared struct {
	best             Model
	weight           float64
	fitted, failed   int
	findings, ofBest int
	exponential      float64
	t, least         units.Time
	low, high        float64
	tLow, tHigh      units.Time
	most             units.Time
	tenth            units.Time
	correlation      float64
	collapsed        int
}

// compareSix fits all models to six readings and says which is best.
func compareSix(r [6]reading, noise, v units.Voltage) (out compared, err error) {
	t, u := columns(r)
	c, err := FitDecay(t, u, FitSettings{Abs: noise, Known: true})
	if err != nil {
		return out, err
	}
	f := c.Best()
	out = compared{best: f.Model(), weight: c.Weight(0), fitted: len(c.Fits()), failed: len(c.Failed()),
		findings: len(c.Findings()), ofBest: len(f.Findings())}
	if e := c.Of(ModelExponential); e != nil {
		out.exponential = e.AICc() - f.AICc()
	}
	s, err := c.TimeToVoltage(v)
	if err != nil {
		return out, err
	}
	lo, hi, err := f.Profile("V0")
	if err != nil {
		return out, err
	}
	p, _ := f.Param("V0")
	out.t, out.least, out.low, out.high = s.Best, s.Least, lo/p.Value, hi/p.Value
	out.tLow, out.tHigh, out.most, out.correlation = s.Low, s.High, s.Most, f.Correlation()
	for _, x := range c.Fits() {
		if _, yes := x.CollapsedInto(); yes {
			out.collapsed++
		}
	}
	tenth, err := c.TimeToFraction(0.1)
	out.tenth = tenth.Best
	switch {
	case err != nil:
	case math.IsInf(out.low, 0) || math.IsInf(out.high, 0):
		err = known.Wrong("v0", "no limit", "readings that limit the start voltage")
	case math.IsInf(float64(out.most), 1) || math.IsNaN(out.correlation):
		err = known.Wrong("readings", "a time without an upper end",
			"readings that limit the time to the voltage by every law")
	}
	return out, err
}
