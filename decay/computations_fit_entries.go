package decay

import (
	"fmt"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
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
	return append(fitted, compute.Entry{
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
	results = append(results, compute.Arg{Name: "err", Unit: results[1].Unit, Doc: "standard error of the first parameter of the law", Low: 0, High: 1e308})
	return compute.Entry{
		Name: "decay.FitDecay." + []string{ModelExponential: "Exponential", ModelHyperbolic: "Hyperbolic", ModelStretched: "Stretched"}[m],
		Doc:  "Unweighted least-squares fit of the " + m.String() + " to six readings.",
		Args: readings, Results: results,
		Covers: []string{"FitDecay", "Comparison.Best", "Comparison.Fits", "Comparison.Of", "Comparison.Weight", "Comparison.Findings", "Comparison.Failed",
			"Comparison.TimeToVoltage", "Fit.Params", "Fit.Param", "Fit.Model", "Fit.Covariance", "Fit.DegreesOfFreedom", "Fit.Chi2", "Fit.Noise",
			"Fit.AICc", "Fit.BIC", "Fit.Findings", "Fit.Law", "Fit.V0", "Fit.Offset", "Fit.Start", "Fit.Voltage", "Fit.TimeToVoltage",
			"Fit.Residuals", "Fit.Profile", "AllModels"},
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
			dst[len(p)] = p[1].Err
			return nil
		},
	}
}
