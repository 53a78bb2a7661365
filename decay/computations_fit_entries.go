package decay

import (
	"fmt"
	"math"
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// readingsOfEntry is the number of readings of the registry's fit: enough to be
// a fit, few enough to be arguments.
const readingsOfEntry = 6

func fitEntries() []compute.Entry {
	var readings []compute.Arg
	for i := 1; i <= readingsOfEntry; i++ {
		readings = append(readings, argAge(fmt.Sprintf("t%d", i), "time of the reading, later than the one before"),
			compute.Arg{Name: fmt.Sprintf("v%d", i), Unit: "V", Doc: "reading", Low: -1e9, High: 1e9})
	}
	var fitted []compute.Entry
	for _, m := range []Model{ModelExponential, ModelHyperbolic, ModelStretched} {
		fitted = append(fitted, fitEntry(m, readings))
	}
	return append(fitted, compareEntry(readings), compute.Entry{
		Name: "decay.PlanExponential", Doc: "Relative standard error to expect of τ from n equal steps over span·τ with noise·V0 on each reading, V0 free.",
		Args: []compute.Arg{{Name: "n", Unit: "1", Doc: "readings", Low: 3, High: 10000}, {Name: "span", Unit: "1", Doc: "length of the record over τ", Low: 1e-6, High: 1000},
			{Name: "noise", Unit: "1", Doc: "standard deviation of a reading over V0", Low: 1e-12, High: 1}},
		Results: []compute.Arg{resRatio("error", "standard error of τ over τ")},
		Covers:  []string{"PlanFit"},
		Source:  derived("Cramér–Rao bound: inverse of the Fisher matrix"),
		Eval: func(dst, a []float64) error {
			n := int(a[0])
			t := make([]units.Time, n)
			for i := range t {
				t[i] = units.Time(a[1] * float64(i) / float64(n-1))
			}
			p, err := PlanFit(ModelExponential, []float64{1, 1}, t, FitSettings{Abs: units.Voltage(a[2])})
			if err != nil {
				return err
			}
			dst[0] = p[1].Err
			return nil
		},
	})
}

func fitEntry(m Model, readings []compute.Arg) compute.Entry {
	results := []compute.Arg{{Name: "v0", Unit: "V", Doc: "fitted start voltage", Low: -1e12, High: 1e12}}
	for _, p := range modelInfos[m].params {
		results = append(results, compute.Arg{Name: p.name, Unit: p.unit, Doc: "of the fitted law", Low: 0, High: 1e308})
	}
	volts := func(name, doc string) compute.Arg {
		return compute.Arg{Name: name, Unit: "V", Doc: doc, Low: -1e12, High: 1e12}
	}
	results = append(results, compute.Arg{Name: "err", Unit: results[1].Unit, Doc: "standard error of the first parameter of the law", Low: 0, High: 1e308},
		volts("noise", "standard deviation of the residuals"), resRatio("chi2_over_dof", "1 by construction when the noise is estimated"),
		resRatio("aicc", "Akaike's criterion, corrected"), resRatio("bic", "Schwarz's criterion"), resRatio("var_v0", "variance of the start voltage over its square"),
		volts("v_at_t6", "fitted voltage at the last time"), volts("residual6", "fitted minus read at the last time"), resRatio("fraction_at_t6", "of what decays, left at the last time"),
		resTime("t_half", "time of the record at which half of the start voltage is left"))
	return compute.Entry{
		Name: "decay.FitDecay." + []string{ModelExponential: "Exponential", ModelHyperbolic: "Hyperbolic", ModelStretched: "Stretched"}[m],
		Doc:  "Unweighted least-squares fit of the " + m.String() + " to six readings.",
		Args: readings, Results: results,
		Covers: []string{"FitDecay", "Comparison.Best", "Fit.Params", "Fit.Covariance", "Fit.DegreesOfFreedom", "Fit.Chi2", "Fit.Noise",
			"Fit.AICc", "Fit.BIC", "Fit.Law", "Fit.V0", "Fit.Offset", "Fit.Start", "Fit.Voltage", "Fit.TimeToVoltage", "Fit.Residuals"},
		Source: derived("Levenberg–Marquardt minimum of the sum of squares"),
		Eval: func(dst, a []float64) error {
			t, v := make([]units.Time, readingsOfEntry), make([]units.Voltage, readingsOfEntry)
			for i := range t {
				t[i], v[i] = units.Time(a[2*i]), units.Voltage(a[2*i+1])
			}
			c, err := FitDecay(t, v, FitSettings{Models: []Model{m}})
			if err != nil {
				return err
			}
			p := c.Best().Params()
			for i := range p {
				dst[i] = p[i].Value
			}
			d := dst[len(p):]
			d[0] = p[1].Err
			f := c.Best()
			last := t[readingsOfEntry-1]
			v0 := float64(f.V0())
			d[1], d[2] = f.Noise(), f.Chi2()/float64(f.DegreesOfFreedom())
			d[3], d[4], d[5] = f.AICc(), f.BIC(), f.Covariance()[0]/(v0*v0)
			d[6], d[7] = float64(f.Voltage(last)), float64(f.Residuals()[readingsOfEntry-1].Fitted-v[readingsOfEntry-1])
			d[8] = f.Law().Fraction(last + f.Start())
			half, err := f.TimeToVoltage(0.5*f.V0() + 0.5*f.Offset())
			d[9] = float64(half)
			if err == nil && slices.ContainsFunc(dst, func(x float64) bool { return math.IsInf(x, 0) }) {
				err = known.Wrong("readings", "a parameter of infinite error", "readings that determine every parameter")
			}
			return err
		},
	}
}

// compareEntry fits all models to six readings and says which is best.
func compareEntry(readings []compute.Arg) compute.Entry {
	names := make([]string, models)
	for i, m := range AllModels() {
		names[i] = m.String()
	}
	return compute.Entry{
		Name: "decay.FitDecay.Compare",
		Doc:  "All models fitted to six readings with noise of a known standard deviation: the best by AICc, its share, and the time to a voltage with the spread between the laws.",
		Args: append(append([]compute.Arg(nil), readings...), argVolts("noise", "standard deviation of a reading"), argVolts("v", "voltage to be reached")),
		Results: []compute.Arg{{Name: "best", Unit: "1", Doc: "best model", Low: 0, High: float64(models - 1), Choices: names}, resRatio("weight", "Akaike weight of the best"),
			resRatio("fitted", "models fitted"), resRatio("failed", "models that could not be fitted"), resRatio("findings", "number of doubts"), resRatio("best_findings", "of them on the best fit alone"),
			resRatio("exponential_over_best", "AICc of the exponential above that of the best"), resTime("t", "time to the voltage by the best"), resTime("t_least", "least of the laws"),
			resRatio("v0_low", "lower end of the profile interval of V0 over V0"), resRatio("v0_high", "upper end")},
		Covers: []string{"FitDecay", "AllModels", "Comparison.Best", "Comparison.Fits", "Comparison.Of", "Comparison.Weight", "Comparison.Findings", "Comparison.Failed",
			"Comparison.TimeToVoltage", "Fit.Model", "Fit.Findings", "Fit.Profile", "Fit.Param"},
		Source: derived("Levenberg–Marquardt minimum of the sum of squares; K. P. Burnham and D. R. Anderson, Model Selection and Multimodel Inference (Springer 2002)"),
		Eval: func(dst, a []float64) error {
			t, v := make([]units.Time, readingsOfEntry), make([]units.Voltage, readingsOfEntry)
			for i := range t {
				t[i], v[i] = units.Time(a[2*i]), units.Voltage(a[2*i+1])
			}
			n := 2 * readingsOfEntry
			c, err := FitDecay(t, v, FitSettings{Abs: units.Voltage(a[n]), Known: true})
			if err != nil {
				return err
			}
			f := c.Best()
			dst[0], dst[1], dst[2] = float64(f.Model()), c.Weight(0), float64(len(c.Fits()))
			dst[3], dst[4], dst[5] = float64(len(c.Failed())), float64(len(c.Findings())), float64(len(f.Findings()))
			if e := c.Of(ModelExponential); e != nil {
				dst[6] = e.AICc() - f.AICc()
			}
			s, err := c.TimeToVoltage(units.Voltage(a[n+1]))
			if err != nil {
				return err
			}
			dst[7], dst[8] = float64(s.Best), float64(s.Least)
			lo, hi, err := f.Profile("V0")
			if err != nil {
				return err
			}
			p, _ := f.Param("V0")
			dst[9], dst[10] = lo/p.Value, hi/p.Value
			if math.IsInf(dst[9], 0) || math.IsInf(dst[10], 0) {
				return known.Wrong("v0", "no limit", "readings that limit the start voltage")
			}
			return nil
		},
	}
}
