package decay

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/pithball/internal/numeric"
)

// ModelComparison is the fits of several models to one record, the best first. It
// comes from [FitDecay]; the zero value has no fits.
type ModelComparison struct {
	fits     []*Fit
	findings []Finding
	failed   []error
}

// Best returns the fit of the least AICc among the laws that have not collapsed
// into a simpler one; nil for the zero Comparison.
func (c *ModelComparison) Best() *Fit {
	if len(c.fits) == 0 {
		return nil
	}
	return c.fits[0]
}

// Fits returns all fits, the best first, those that have collapsed into a
// simpler law last.
func (c *ModelComparison) Fits() []*Fit { return slices.Clone(c.fits) }

// Of returns the fit of a model, nil if it was not fitted.
func (c *ModelComparison) Of(m Model) *Fit {
	for _, f := range c.fits {
		if f.model == m {
			return f
		}
	}
	return nil
}

// Weight returns the Akaike weight of fit i in the order of Fits: its share of
// exp(−ΔAICc/2). NaN for an index out of range. Source: K. P. Burnham and D. R.
// Anderson, Model Selection and Multimodel Inference, 2nd ed. (Springer 2002),
// section 2.9.
func (c *ModelComparison) Weight(i int) float64 { // [1]
	if i < 0 || i >= len(c.fits) {
		return math.NaN()
	}
	sum := 0.0
	for _, f := range c.fits {
		sum += numeric.Exp(-0.5 * (f.aicc - c.fits[i].aicc))
	}
	return 1 / sum
}

// Findings lists what is doubtful, those of the best fit included.
func (c *ModelComparison) Findings() []Finding { return slices.Clone(c.findings) }

// Failed returns the models that could not be fitted, each with its reason.
func (c *ModelComparison) Failed() []error { return slices.Clone(c.failed) }

// within are the laws that each law contains as a limit, at which its further
// parameters say nothing.
var within = [models][]Model{
	ModelOffsetExponential: {ModelExponential},
	ModelTwoExponentials:   {ModelExponential, ModelOffsetExponential},
	ModelStretched:         {ModelExponential},
	ModelPowerLaw:          {ModelExponential, ModelHyperbolic},
	ModelOhmicMobility:     {ModelExponential, ModelHyperbolic},
}

// Levels of the comparison.
const (
	alike        = 4    // difference in AICc up to which laws are alike
	collapseOdds = 0.01 // chance below which a further parameter is one
)

// rank works out the criteria, says which laws have collapsed into simpler ones
// and sorts. late are fits that begin before t = 0, for the finding ClockLate
// only.
func (c *ModelComparison) rank(late []*Fit) {
	all := slices.Concat(c.fits, late)
	if c.fits[0].settings.Robust {
		robustDeviances(all)
	}
	for _, f := range all {
		f.criteria(1)
	}
	first := slices.MinFunc(c.fits, func(a, b *Fit) int { return cmp.Compare(a.aicc, b.aicc) })
	// Correlated readings are fewer than they look: the quasi-likelihood form of
	// the criterion, with the variance inflation of a slow pattern. One standard
	// error of the correlation off, so that independent readings hardly lose.
	if n := len(first.t); n >= 16 && !first.settings.Independent {
		rho := first.settings.Correlation
		if rho == 0 {
			rho = max(first.Correlation()-1/math.Sqrt(float64(n)), 0)
		}
		if rho > 0 {
			for _, f := range all {
				f.criteria((1 + rho) / (1 - rho))
			}
		}
	}
	for _, f := range c.fits {
		f.collapse(c)
	}
	slices.SortStableFunc(c.fits, func(a, b *Fit) int {
		if a.collapsed != b.collapsed {
			if a.collapsed {
				return 1
			}
			return -1
		}
		return cmp.Or(cmp.Compare(a.aicc, b.aicc), cmp.Compare(len(a.x), len(b.x)))
	})
	for _, f := range c.fits {
		f.judge()
	}
	c.judge(late)
}

// criteria works out AICc and BIC from the deviance, which correlation has
// inflated by the factor inflation.
func (f *Fit) criteria(inflation float64) {
	k, n := float64(len(f.x)), float64(len(f.t))
	if !f.settings.Known && !f.settings.Robust {
		k++ // the noise is a parameter too
	}
	f.inflation = inflation
	f.aicc = f.deviance/inflation + 2*k + 2*k*(k+1)/math.Max(n-k-1, 1)
	f.bic = f.deviance/inflation + k*math.Log(n)
}

// robustDeviances replaces the deviances of robust fits by twice their loss, with
// the least of their scales for all: E. Ronchetti, Stat. Probab. Lett. 3 (1985) 21.
func robustDeviances(fits []*Fit) {
	s := math.Inf(1)
	for _, f := range fits {
		s = min(s, math.Sqrt(f.scale2))
	}
	for _, f := range fits {
		f.deviance = 0
		for _, r := range f.pearson {
			f.deviance += 2 * tukey.rho(r/s)
		}
	}
}

// collapse finds whether f describes the readings better than the laws that it
// contains, by the F test of the further parameters.
func (f *Fit) collapse(c *ModelComparison) {
	for _, m := range within[f.model] {
		if m == ModelExponential && f.settings.Offset && f.model != ModelOffsetExponential && c.Of(m) == nil {
			m = ModelOffsetExponential
		}
		small := c.Of(m)
		if small == nil || len(small.x) >= len(f.x) {
			continue
		}
		if gain := small.deviance - f.deviance; gain <= 0 || f.odds(gain, len(f.x)-len(small.x)) > collapseOdds {
			f.into, f.collapsed = m, true
			return
		}
	}
}

// odds returns the chance that so many further parameters lower the deviance by
// gain or more, if they are none.
func (f *Fit) odds(gain float64, parameters int) float64 { // [1]
	more, dof := float64(parameters), float64(f.dof)
	gain /= f.inflation
	switch {
	case f.settings.Known:
		return distuv.ChiSquared{K: more}.Survival(gain)
	case !f.settings.Robust: // from n·ln of the cost to the cost
		gain = math.Expm1(gain/float64(len(f.t))) * dof
	}
	if gain > 1e6*more {
		return 0
	}
	return distuv.F{D1: more, D2: dof}.Survival(gain / more)
}

// Order of a power law that ohmic spreading under a probe can give: 1 for a line
// of charge, 2 for a spot, with room for what lies between and for the fit.
const leastOrder, mostOrder = 0.8, 2.5

func (c *ModelComparison) judge(late []*Fit) {
	best := c.fits[0]
	add := func(x Finding) {
		if !slices.Contains(c.findings, x) {
			c.findings = append(c.findings, x)
		}
	}
	for _, x := range best.findings {
		add(x)
	}
	for _, f := range c.fits[1:] {
		if !f.collapsed && f.aicc-best.aicc <= alike {
			add(LawsAlike)
		}
	}
	if c.hyperbolic() {
		add(HyperbolaProvesNothing)
	}
	for _, f := range late {
		if best.aicc-f.aicc > alike {
			add(ClockLate)
		}
	}
	slices.Sort(c.findings)
}

// hyperbolic reports whether the record shows a hyperbola of the orders that
// ohmic spreading gives.
func (c *ModelComparison) hyperbolic() bool {
	best := c.fits[0]
	if best.model != ModelHyperbolic && best.model != ModelPowerLaw {
		return false
	}
	if e := c.Of(ModelExponential); e != nil && e.aicc-best.aicc <= alike {
		return false
	}
	if p := c.Of(ModelPowerLaw); p != nil {
		n := numeric.Exp(p.x[2])
		return n >= leastOrder && n <= mostOrder
	}
	return true
}
