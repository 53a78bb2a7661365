package decay_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// exponentialRecord is 1000 V·e^(−t/12 s) with noise of 5 V.
func exponentialRecord(n int) ([]units.Time, []units.Voltage) {
	times := logTimes(0.3, 60, n)
	return times, read(must(decay.NewExponential(12)), times, 1000, 0, 5, rand.New(rand.NewPCG(21, uint64(n))))
}

// TestIntervalsByTables: half of the interval of V0 over its error is the quantile of Student's distribution with
// readings minus parameters as degrees of freedom, and of the normal one where the noise is known (M. Abramowitz and
// I. Stegun, Handbook of Mathematical Functions, tables 26.10 and 26.1, from memory).
func TestIntervalsByTables(t *testing.T) {
	times, v := exponentialRecord(12)
	for _, c := range []struct {
		s    decay.FitSettings
		want float64
	}{
		{decay.FitSettings{Independent: true}, 2.228},
		{decay.FitSettings{Independent: true, Level: 0.9}, 1.812},
		{decay.FitSettings{Independent: true, Robust: true}, 2.228},
		{decay.FitSettings{Independent: true, Abs: 5}, 2.228},
		{decay.FitSettings{Independent: true, Abs: 5, Known: true}, 1.960},
		{decay.FitSettings{Independent: true, Abs: 5, Known: true, Level: 0.99}, 2.576},
	} {
		c.s.Models = []decay.Model{decay.ModelExponential}
		f := must(decay.FitDecay(times, v, c.s)).Best()
		p, _ := f.Param("V0")
		near(t, "interval over error", (p.High-p.Low)/2/p.Err, c.want, 5e-4)
		if f.DegreesOfFreedom() != 10 {
			t.Errorf("%d degrees of freedom", f.DegreesOfFreedom())
		}
	}
}

// TestResidualsAreStandard: squares of standard residuals add up to the degrees of freedom where the noise is
// estimated, to χ² where it is known; each is fitted less read over the noise.
func TestResidualsAreStandard(t *testing.T) {
	times, v := exponentialRecord(12)
	for _, s := range []decay.FitSettings{{}, {Abs: 2, Known: true}} {
		s.Models = []decay.Model{decay.ModelExponential}
		f := must(decay.FitDecay(times, v, s)).Best()
		noise, sum := float64(f.Noise()), 0.0
		if s.Known {
			near(t, "known noise", noise, 1, 0)
			noise = 2
		}
		for _, r := range f.Residuals() {
			near(t, "residual", r.Standard*noise, float64(r.Fitted-r.Voltage), 1e-9)
			sum += r.Standard * r.Standard
		}
		near(t, "χ²", f.Chi2(), sum, 1e-12)
		if !s.Known {
			near(t, "estimated noise", sum, 10, 1e-9)
		}
	}
}

// TestCorrelationInTheCriteria: a correlation of ½ that is stated counts (1 + ½)/(1 − ½) = 3 readings as one in AICc
// and BIC, from 16 readings on; the estimate stays.
func TestCorrelationInTheCriteria(t *testing.T) {
	for n, inflation := range map[int]float64{15: 1, 16: 3} {
		times, v := exponentialRecord(n)
		s := decay.FitSettings{Abs: 5, Known: true, Independent: true, Models: []decay.Model{decay.ModelExponential}}
		a := must(decay.FitDecay(times, v, s)).Best()
		s.Independent, s.Correlation = false, 0.5
		b := must(decay.FitDecay(times, v, s)).Best()
		free := 4 + 12/float64(n-3) // two parameters
		near(t, "AICc", a.AICc()-free, a.Chi2(), 1e-9)
		near(t, "AICc of correlated readings", b.AICc()-free, a.Chi2()/inflation, 1e-9)
		near(t, "BIC of correlated readings", b.BIC()-2*math.Log(float64(n)), a.Chi2()/inflation, 1e-9)
		near(t, "correlation", b.Correlation(), 0.5, 0)
	}
}

// TestWeightsByHand: exp(−Δ/2) over their sum; none beyond the list.
func TestWeightsByHand(t *testing.T) {
	times, v := exponentialRecord(24)
	c := must(decay.FitDecay(times, v, decay.FitSettings{}))
	fits, sum := c.Fits(), 0.0
	for _, f := range fits {
		sum += math.Exp((fits[0].AICc() - f.AICc()) / 2)
	}
	for i, f := range fits {
		near(t, f.Model().String(), c.Weight(i), math.Exp((fits[0].AICc()-f.AICc())/2)/sum, 1e-12)
	}
	if !math.IsNaN(c.Weight(-1)) || !math.IsNaN(c.Weight(len(fits))) {
		t.Error("a weight beyond the list")
	}
}

// TestFractionsAreFractions: a time to a fraction is asked for between 0 and 1 only, and is that of so much of the
// voltage at the start of the clock.
func TestFractionsAreFractions(t *testing.T) {
	times, v := exponentialRecord(24)
	f := must(decay.FitDecay(times, v, decay.FitSettings{Models: []decay.Model{decay.ModelExponential}})).Best()
	tau, _ := f.Param("tau")
	near(t, "time to 1/e", float64(must(f.TimeToFraction(1/math.E))), tau.Value, 1e-9)
	for _, q := range []float64{0, 1, 1.5, math.NaN()} {
		if got, err := f.TimeToFraction(q); err == nil {
			t.Errorf("time to %g: %v", q, got)
		}
		if got, err := f.TimeToFractionInterval(q); err == nil {
			t.Errorf("interval of the time to %g: %v", q, got)
		}
	}
}

// TestRobustInterval: without wild readings the interval of a robust fit is that of least squares within the 5 % that
// it loses (Huber) and what a scale from 60 residuals scatters by (1.17/√60 = 15 %, twice).
func TestRobustInterval(t *testing.T) {
	times, v := exponentialRecord(60)
	width := func(robust bool) float64 {
		f := must(decay.FitDecay(times, v, decay.FitSettings{Independent: true, Robust: robust,
			Models: []decay.Model{decay.ModelExponential}})).Best()
		i := must(f.TimeToVoltageInterval(200))
		return math.Log(float64(i.High) / float64(i.Low))
	}
	near(t, "robust over least squares", width(true)/width(false), 1, 0.35)
}

// TestCompositionsRefuse: half a sequence is none, and a mixture needs as many weights as laws.
func TestCompositionsRefuse(t *testing.T) {
	l := must(decay.NewExponential(1))
	for what, err := range map[string]error{
		"no first": second(decay.Then(nil, 1, l)), "no next": second(decay.Then(l, 1, nil)),
		"until": second(decay.Then(l, -1, l)), "age": second(decay.After(l, -1)), "no law": second(decay.After(nil, 1)),
		"nothing left": second(decay.After(decay.Constant(0), 1)), "none": second(decay.NewParallel()),
		"a weight": second(decay.NewMixture([]float64{1}, l, l)), "a zero": second(decay.NewMixture([]float64{1, 0}, l, l)),
		"m": second(decay.NewTransit(1, 0.09)), "n": second(decay.NewPowerLaw(1, 100.5)),
		"ε_r below 1": second(decay.NewLiquid(1e-9, 0.99)), "ε_r above 200": second(decay.NewLiquid(1e-9, 201)),
		"ε_r above 200, slow": second(decay.NewLowConductivityLiquid(1e-8, 1e-3, 200.5)),
		"ε_r above 1e4":       decay.Layer{Thickness: 1, Permittivity: 10001, Resistivity: 1}.Check("layer"),
	} {
		if err == nil {
			t.Errorf("%s: accepted", what)
		}
	}
	for what, err := range map[string]error{
		"m": second(decay.NewTransit(1, 0.1)), "n": second(decay.NewPowerLaw(1, 100)),
		"ε_r 1": second(decay.NewLiquid(1e-9, 1)), "ε_r 200": second(decay.NewLiquid(1e-9, 200)),
		"ε_r 200, slow": second(decay.NewLowConductivityLiquid(1e-8, 1e-3, 200)),
		"ε_r 1e4":       decay.Layer{Thickness: 1, Permittivity: 1e4, Resistivity: 1}.Check("layer"),
	} {
		if err != nil {
			t.Errorf("%s: %v", what, err)
		}
	}
	// A sum of which nearly all is slow: τ·ln 2 of the slow one, 1e-15 of it aside.
	sum := must(decay.NewExponentials([]float64{1e-15, 1}, []units.Time{1, 2}))
	near(t, "half time", float64(must(sum.TimeTo(0.5))), 2*math.Ln2, 1e-12)
}

// TestProfileOfCorrelatedReadings: on a slow law errors with the correlation ρ of neighbours count √((1 + ρ)/(1 − ρ))
// times: √3 at ½, 1/√3 at −½, less what the ends of the record change.
func TestProfileOfCorrelatedReadings(t *testing.T) {
	times, v := exponentialRecord(80)
	width := func(rho float64) float64 {
		f := must(decay.FitDecay(times, v, decay.FitSettings{Abs: 5, Known: true, Independent: rho == 0, Correlation: rho,
			Models: []decay.Model{decay.ModelExponential}})).Best()
		low, high, err := f.Profile("tau")
		if err != nil {
			t.Fatal(err)
		}
		return math.Log(high / low)
	}
	near(t, "at ½", width(0.5)/width(0), math.Sqrt(3), 0.1)
	near(t, "at −½", width(-0.5)/width(0), 1/math.Sqrt(3), 0.1)
}

// TestPlanRefuses: a value that its parameter cannot have is named.
func TestPlanRefuses(t *testing.T) {
	times, _ := exponentialRecord(12)
	for i, v := range [][]float64{{math.Inf(-1), 12, 0}, {1000, 0, 0}, {1000, 12, math.Inf(-1)}, {1000, 12, math.NaN()}} {
		p, err := decay.PlanFit(decay.ModelOffsetExponential, v, times, decay.FitSettings{Abs: 5})
		var field *known.FieldError
		if want := []string{"values[0]", "values[1]", "values[2]", "values[2]"}[i]; !errors.As(err, &field) ||
			field.Field != want {
			t.Errorf("%v: %v, %v", v, p, err)
		}
	}
}
