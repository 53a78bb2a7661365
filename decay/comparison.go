package decay

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Finding is a doubt about a fit or a comparison of fits.
type Finding uint8

// The findings.
const (
	// LawsAlike: another law fits so well that the readings cannot tell (AICc
	// within 4 of the best).
	LawsAlike Finding = iota + 1
	// HyperbolaProvesNothing: a hyperbola or a power law is among the laws that
	// fit. Plain ohmic spreading on a free sheet reads the same under a probe, so
	// that no mobility and no trapping follows from it. Repeat at two or three
	// start voltages: a linear leak keeps its time, a mobility law does not.
	HyperbolaProvesNothing
	// RecordShort: the readings do not fall to 1/e of the first one.
	RecordShort
	// LateStart: by the fitted law more than a tenth of the decay was over at the
	// first reading; faster processes are hidden.
	LateStart
	// AtBound: a parameter ended at the limit of its range, where the law turns
	// into a simpler one.
	AtBound
	// Undetermined: the readings do not determine a parameter.
	Undetermined
	// PoorFit: with noise of the stated size such residuals have a chance below
	// 1 in 1000.
	PoorFit
	// PatternedResiduals: the residuals keep their sign in runs that chance makes
	// less than once in 1000 records: another law, or drift.
	PatternedResiduals
	findings
)

var findingTexts = [findings]string{
	LawsAlike:              "the readings cannot tell the best laws apart",
	HyperbolaProvesNothing: "a hyperbola fits, which does not prove mobility or trapping: ohmic spreading on a free sheet reads the same",
	RecordShort:            "the readings do not reach 1/e of the first one",
	LateStart:              "a good part of the decay was over at the first reading",
	AtBound:                "a parameter ended at the limit of its range",
	Undetermined:           "the readings do not determine a parameter",
	PoorFit:                "the residuals are too large for the stated noise",
	PatternedResiduals:     "the residuals follow a pattern",
}

// String returns the finding in words, or "Finding(n)".
func (x Finding) String() string {
	if x < findings && findingTexts[x] != "" {
		return findingTexts[x]
	}
	return fmt.Sprintf("Finding(%d)", uint8(x))
}

// judge adds the findings that one fit shows by itself.
func (f *Fit) judge() {
	n := len(f.v)
	if math.Abs(f.v[n-1]/f.v[0]) > 1/math.E {
		f.add(RecordShort)
	}
	if a := f.law.Fraction(units.Time(f.t[0]) + f.Start()); a < 0.9 {
		f.add(LateStart)
	}
	if f.settings.Known && distuv.ChiSquared(distuv.ChiSquared{K: float64(f.dof)}).Survival(f.cost) < 1e-3 {
		f.add(PoorFit)
	}
	if z := runs(f.weighted); n >= 20 && z < -3.09 { // Φ(−3.09) = 0.001
		f.add(PatternedResiduals)
	}
}

// runs returns the standard score of the number of runs of equal sign in r, by
// the test of A. Wald and J. Wolfowitz, Ann. Math. Stat. 11 (1940) 147; negative
// for too few. 0 if one sign is missing and the record is short.
func runs(r []float64) float64 {
	var pos, neg, count float64
	for i, v := range r {
		if v >= 0 {
			pos++
		} else {
			neg++
		}
		if i == 0 || (v >= 0) != (r[i-1] >= 0) {
			count++
		}
	}
	n := pos + neg
	mean := 2*pos*neg/n + 1
	variance := (mean - 1) * (mean - 2) / (n - 1)
	if !(variance > 0) {
		return 0
	}
	return (count - mean) / math.Sqrt(variance)
}

// Comparison is the fits of several models to one record, the best first.
type Comparison struct {
	fits     []*Fit
	findings []Finding
	failed   []error
}

// FitDecay fits the models to the readings v at the times t and ranks them by
// AICc. Times increase strictly and are not negative; 8 to 12 a decade, from the
// dead time of the meter to three of the slowest times, tell most.
//
// The fits are weighted least squares by Levenberg–Marquardt with analytic
// derivatives, in ln of times and logit of exponents. A model that cannot be
// fitted (too few readings) is left out and listed by Failed; if none can, the
// error joins the reasons. Errors for wrong input are [*known.FieldError]s,
// joined, that name every bad reading.
//
// A good fit is no proof of a mechanism: read [Comparison.Findings].
func FitDecay(t []units.Time, v []units.Voltage, settings FitSettings) (*Comparison, error) {
	if err := errors.Join(settings.check(), checkReadings(t, v)); err != nil {
		return nil, err
	}
	list := settings.Models
	if len(list) == 0 {
		list = AllModels()
	}
	f := newFitter(t, v, settings)
	c := &Comparison{}
	for i, m := range list {
		if settings.Offset && m == ModelExponential && slices.Contains(list, ModelOffsetExponential) || slices.Contains(list[:i], m) {
			continue // the same model twice
		}
		fit, err := f.fit(m)
		if err != nil {
			c.failed = append(c.failed, fmt.Errorf("%v: %w", m, err))
			continue
		}
		c.fits = append(c.fits, fit)
	}
	if len(c.fits) == 0 {
		return nil, errors.Join(c.failed...)
	}
	if settings.Robust {
		c.robustCriteria()
	}
	slices.SortStableFunc(c.fits, func(a, b *Fit) int {
		switch {
		case a.aicc < b.aicc:
			return -1
		case a.aicc > b.aicc:
			return 1
		}
		return len(a.x) - len(b.x)
	})
	c.judge()
	return c, nil
}

// robustCriteria replaces the criteria of robust fits by those of the Huber
// loss, with the least of their scales for all: E. Ronchetti, Stat. Probab.
// Lett. 3 (1985) 21.
func (c *Comparison) robustCriteria() {
	s := math.Inf(1)
	for _, f := range c.fits {
		s = min(s, math.Sqrt(f.scale2))
	}
	for _, f := range c.fits {
		q := 0.0
		sd := math.Sqrt(f.scale2)
		for _, r := range f.weighted {
			q += 2 * huberLoss(r*sd/s, 1)
		}
		n, k := float64(len(f.t)), float64(len(f.x))
		f.aicc = q + 2*k + 2*k*(k+1)/math.Max(n-k-1, 1)
		f.bic = q + k*math.Log(n)
	}
}

func (c *Comparison) judge() {
	best := c.fits[0]
	add := func(x Finding) {
		if !slices.Contains(c.findings, x) {
			c.findings = append(c.findings, x)
		}
	}
	for _, x := range best.findings {
		add(x)
	}
	for i, f := range c.fits {
		if f.aicc-best.aicc > 4 {
			continue
		}
		if i > 0 {
			add(LawsAlike)
		}
		if f.model == ModelHyperbolic || f.model == ModelPowerLaw {
			add(HyperbolaProvesNothing)
		}
	}
	slices.Sort(c.findings)
}

// Best returns the fit of the least AICc.
func (c *Comparison) Best() *Fit { return c.fits[0] }

// Fits returns all fits, the best first.
func (c *Comparison) Fits() []*Fit { return slices.Clone(c.fits) }

// Of returns the fit of a model, nil if it was not fitted.
func (c *Comparison) Of(m Model) *Fit {
	for _, f := range c.fits {
		if f.model == m {
			return f
		}
	}
	return nil
}

// Weight returns the Akaike weight of fit i in the order of Fits: its share of
// exp(−ΔAICc/2). Source: K. P. Burnham and D. R. Anderson, Model Selection and
// Multimodel Inference, 2nd ed. (Springer 2002), section 2.9.
func (c *Comparison) Weight(i int) float64 { // [1]
	sum := 0.0
	for _, f := range c.fits {
		sum += math.Exp(-0.5 * (f.aicc - c.fits[0].aicc))
	}
	return math.Exp(-0.5*(c.fits[i].aicc-c.fits[0].aicc)) / sum
}

// Findings lists what is doubtful, those of the best fit included.
func (c *Comparison) Findings() []Finding { return slices.Clone(c.findings) }

// Failed returns the models that could not be fitted, each with its reason.
func (c *Comparison) Failed() []error { return slices.Clone(c.failed) }

// TimeSpread is a time to a voltage as the fitted laws see it.
type TimeSpread struct {
	Best units.Time // by the best fit
	// Least and Most over all laws within 10 AICc of the best; Most is +Inf if
	// one of them never gets there.
	Least, Most units.Time
	// Extrapolated: the voltage is below every reading. The spread between the
	// laws is then the least of the uncertainty.
	Extrapolated bool
}

// TimeToVoltage returns the time of the record's clock at which the voltage is
// v, with the spread between the laws that the readings do not rule out. Errors
// as [Fit.TimeToVoltage] of the best fit.
func (c *Comparison) TimeToVoltage(v units.Voltage) (TimeSpread, error) {
	best := c.fits[0]
	t, err := best.TimeToVoltage(v)
	if err != nil {
		return TimeSpread{t, t, t, true}, err
	}
	s := TimeSpread{Best: t, Least: t, Most: t, Extrapolated: true}
	for _, f := range c.fits[1:] {
		if f.aicc-best.aicc > 10 {
			continue
		}
		x, err := f.TimeToVoltage(v)
		var never *NeverError
		switch {
		case errors.As(err, &never):
			s.Most = units.Time(math.Inf(1))
		case err == nil:
			s.Least, s.Most = min(s.Least, x), max(s.Most, x)
		}
	}
	for _, r := range best.v {
		if r*best.unit/float64(v) <= 1 {
			s.Extrapolated = false
		}
	}
	return s, nil
}

// errParam says that a fit has no such parameter.
func errParam(f *Fit, name string) error {
	return known.Wrong("parameter", name, "one of the parameters of the "+f.model.String())
}
