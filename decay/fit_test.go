package decay_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// logTimes returns n times, equal in ln t, from a to b.
func logTimes(a, b float64, n int) []units.Time {
	t := make([]units.Time, n)
	for i := range t {
		t[i] = units.Time(a * math.Pow(b/a, float64(i)/float64(n-1)))
	}
	return t
}

// read returns v0·law + vb at the times, with noise of standard deviation sd.
func read(law decay.Law, t []units.Time, v0, vb, sd float64, rng *rand.Rand) []units.Voltage {
	v := make([]units.Voltage, len(t))
	for i := range t {
		v[i] = units.Voltage(v0*law.Fraction(t[i]) + vb)
		if sd > 0 {
			v[i] += units.Voltage(sd * rng.NormFloat64())
		}
	}
	return v
}

// truths are laws to recover, one for each model, with the names and values of
// their parameters.
func truths() map[decay.Model]struct {
	law    decay.Law
	params map[string]float64
} {
	type truth = struct {
		law    decay.Law
		params map[string]float64
	}
	return map[decay.Model]truth{
		decay.ModelExponential: {must(decay.NewExponential(12)), map[string]float64{"tau": 12}},
		decay.ModelOffsetExponential: {must(decay.NewOffsetExponential(12, 1000, 150)),
			map[string]float64{"tau": 12, "Vb": 150}},
		decay.ModelTwoExponentials: {must(decay.NewExponentials([]float64{.6, .4}, []units.Time{2, 40})),
			map[string]float64{"tau1": 2, "tau2": 40, "w1": .6}},
		decay.ModelStretched:     {must(decay.NewStretched(12, .6)), map[string]float64{"tau": 12, "beta": .6}},
		decay.ModelPowerLaw:      {must(decay.NewPowerLaw(3, 1.7)), map[string]float64{"t0": 3, "n": 1.7}},
		decay.ModelHyperbolic:    {must(decay.NewHyperbolic(.2)), map[string]float64{"k_v0": .2}},
		decay.ModelOhmicMobility: {must(decay.NewOhmicMobility(30, 4)), map[string]float64{"tau": 30, "a": 4}},
		decay.ModelTransit:       {must(decay.NewTransit(8, 1)), map[string]float64{"t_tr": 8}},
	}
}

// TestFitExact recovers every law from readings without noise, of either sign,
// and ranks no law before it.
func TestFitExact(t *testing.T) {
	times := logTimes(0.1, 150, 60)
	for m, truth := range truths() {
		for _, v0 := range []float64{1000, -20} {
			c, err := decay.FitDecay(times, read(truth.law, times, v0, 0, 0, nil), decay.FitSettings{Abs: 1e-3, Known: true})
			if err != nil {
				t.Errorf("%v: %v", m, err)
				continue
			}
			f := c.Of(m)
			if f == nil {
				t.Errorf("%v: not fitted: %v", m, c.Failed())
				continue
			}
			near(t, fmt.Sprintf("%v V0", m), float64(f.V0()), v0, 1e-7)
			for name, want := range truth.params {
				p, ok := f.Param(name)
				if name == "Vb" {
					want *= v0 / 1000
				}
				if !ok {
					t.Errorf("%v: no parameter %s", m, name)
				}
				near(t, fmt.Sprintf("%v %s", m, name), p.Value, want, 1e-6)
			}
			// Laws that contain the true one as a special case fit as well; the
			// criterion must charge them for their parameters.
			if c.Best().Model() != m {
				t.Errorf("%v (V0 %g): best is %v, AICc %g against %g", m, v0, c.Best().Model(), c.Best().AICc(), f.AICc())
			}
		}
	}
}

// TestCostOfTheWrongLaw reproduces what a plain exponential, and a straight line
// through ln V, make of a stretched decay: data τ 50 s, β 0.6, 1000 V, 25 readings
// equal in ln t from 0.1 to 1000 s. The expected values were computed by a program apart
// (Levenberg–Marquardt; a straight line through the logarithms of readings above 1 V) and are printed to three digits.
func TestCostOfTheWrongLaw(t *testing.T) {
	truth := must(decay.NewStretched(50, .6))
	times := logTimes(0.1, 1000, 25)
	v := read(truth, times, 1000, 0, 0, nil)
	c := must(decay.FitDecay(times, v, decay.FitSettings{}))
	near(t, "true time to 100 V", float64(must(truth.TimeTo(.1))), 200.8, 0.0005)

	f := c.Of(decay.ModelExponential)
	tau, _ := f.Param("tau")
	near(t, "exponential V0", float64(f.V0()), 914, 0.001)
	near(t, "exponential tau", tau.Value, 52.4, 0.002)
	near(t, "exponential t(100 V)", float64(must(f.TimeToVoltage(100))), 116, 0.005)

	// The straight line through ln V that is not offered as a fit.
	var n, sx, sy, sxx, sxy float64
	for i := range times {
		if v[i] > 1 {
			x, y := float64(times[i]), math.Log(float64(v[i]))
			n, sx, sy, sxx, sxy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y
		}
	}
	slope := (n*sxy - sx*sy) / (n*sxx - sx*sx)
	v0, tl := math.Exp((sy-slope*sx)/n), -1/slope
	near(t, "line V0", v0, 696, 0.002)
	near(t, "line tau", tl, 155, 0.005)
	near(t, "line t(100 V)", tl*math.Log(v0/100), 301, 0.005)

	best := c.Best()
	if best.Model() != decay.ModelStretched {
		t.Errorf("best is %v", best.Model())
	}
	near(t, "best t(100 V)", float64(must(best.TimeToVoltage(100))), 200.8, 0.0005)
	if !slices.Contains(f.Findings(), decay.PatternedResiduals) {
		t.Errorf("the exponential's residuals show no pattern: %v", f.Findings())
	}
}

func TestFitFindings(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	long := logTimes(0.3, 100, 40)
	has := func(c *decay.ModelComparison, x decay.Finding) bool { return slices.Contains(c.Findings(), x) }

	// A probe over a line of charge on a plain ohmic sheet: the hyperbola wins and
	// proves nothing.
	probe := must(decay.NewLineUnderProbe(20*units.Millimetre, 0.05))
	c := must(decay.FitDecay(long, read(probe, long, 1000, 0, 3, rng), decay.FitSettings{}))
	if !has(c, decay.HyperbolaProvesNothing) {
		t.Errorf("ohmic sheet under a probe: best %v, findings %v", c.Best().Model(), c.Findings())
	}
	// A clean exponential over five time constants does not raise it.
	exp := must(decay.NewExponential(12))
	c = must(decay.FitDecay(long, read(exp, long, 1000, 0, 3, rng), decay.FitSettings{}))
	if has(c, decay.HyperbolaProvesNothing) || c.Best().Model() == decay.ModelHyperbolic {
		t.Errorf("exponential: best %v, findings %v", c.Best().Model(), c.Findings())
	}
	// A record of 0.3 τ with 2 % noise tells no laws apart.
	short := logTimes(0.1, 3.6, 25)
	c = must(decay.FitDecay(short, read(exp, short, 1000, 0, 20, rng), decay.FitSettings{}))
	if !has(c, decay.LawsAlike) || !has(c, decay.RecordShort) {
		t.Errorf("short record: findings %v", c.Findings())
	}
	spread := must(c.TimeToVoltage(100))
	if !spread.Extrapolated || !(spread.Most > 1.5*spread.Least) {
		t.Errorf("time to 100 V from a record that ends at 740 V: %+v", spread)
	}
	// Ten times the stated noise.
	c = must(decay.FitDecay(long, read(exp, long, 1000, 0, 20, rng),
		decay.FitSettings{Abs: 2, Known: true, Models: []decay.Model{decay.ModelExponential}}))
	if !has(c, decay.PoorFit) {
		t.Errorf("stated noise too small: findings %v", c.Findings())
	}
	// First reading long after the deposit.
	late := logTimes(6, 100, 30)
	c = must(decay.FitDecay(late, read(exp, late, 1000, 0, 3, rng),
		decay.FitSettings{Models: []decay.Model{decay.ModelExponential}}))
	if !has(c, decay.LateStart) {
		t.Errorf("late start: findings %v", c.Findings())
	}
	// An exponential fitted by the ohmic and mobility law has no mobile part.
	c = must(decay.FitDecay(long, read(exp, long, 1000, 0, 0, nil),
		decay.FitSettings{Models: []decay.Model{decay.ModelOhmicMobility}}))
	if !has(c, decay.AtBound) && !has(c, decay.Undetermined) {
		a, _ := c.Best().Param("a")
		t.Errorf("exponential as ohmic and mobility: a = %g, findings %v", a.Value, c.Findings())
	}
	for x := decay.LawsAlike; x <= decay.PatternedResiduals; x++ {
		if x.String() == "" || x.String() == decay.Finding(99).String() {
			t.Errorf("finding %d has no text", x)
		}
	}
}

func TestFitOffsetAndStart(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	times := logTimes(0.2, 200, 60)
	law := must(decay.NewStretched(12, .6))
	// Deposited 5 s before the clock began, and the meter is 40 V off.
	aged := decay.Function(func(t units.Time) float64 { return law.Fraction(t + 5) })
	v := read(aged, times, 1000, 40, 0.5, rng)
	c := must(decay.FitDecay(times, v, decay.FitSettings{Models: []decay.Model{decay.ModelStretched}, Offset: true,
		StartTime: true}))
	f := c.Best()
	for name, want := range map[string]float64{"V0": 1000, "tau": 12, "beta": .6, "Vb": 40, "start": 5} {
		p, ok := f.Param(name)
		// Five standard errors, and those small enough to mean something.
		if !ok || !(math.Abs(p.Value-want) <= 5*p.Err) || !(p.Err < 0.2*want) {
			t.Errorf("%s: got %g ± %g, want %g", name, p.Value, p.Err, want)
		}
	}
	near(t, "voltage at 10 s", float64(f.Voltage(10)), 1000*law.Fraction(15)+40, 1e-3)
	near(t, "time to 100 V", float64(must(f.TimeToVoltage(100))), float64(must(law.TimeTo(.06)))-5, 0.05)
	var never *decay.NeverError
	if _, err := f.TimeToVoltage(10); !errors.As(err, &never) {
		t.Errorf("10 V is below the offset: got %v", err)
	}
}

func TestFitRobust(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	times := logTimes(0.3, 60, 60)
	exp := must(decay.NewExponential(12))
	v := read(exp, times, 1000, 0, 5, rng)
	for _, i := range []int{7, 20, 33, 48} { // four wild readings
		v[i] += 400
	}
	one := decay.FitSettings{Models: []decay.Model{decay.ModelExponential}}
	plain := must(decay.FitDecay(times, v, one)).Best()
	one.Robust = true
	robust := must(decay.FitDecay(times, v, one)).Best()
	p, _ := plain.Param("tau")
	r, _ := robust.Param("tau")
	if !(math.Abs(r.Value-12) < 0.3) || !(math.Abs(p.Value-12) > 2*math.Abs(r.Value-12)) {
		t.Errorf("tau 12 s with wild readings: robust %g ± %g, plain %g ± %g", r.Value, r.Err, p.Value, p.Err)
	}
	if !(math.Abs(r.Value-12) < 4*r.Err) {
		t.Errorf("robust error too small: %g ± %g", r.Value, r.Err)
	}
	var field *known.FieldError
	if _, _, err := robust.Profile("tau"); !errors.As(err, &field) {
		t.Errorf("profile of a robust fit: %v", err)
	}
	if c := must(decay.FitDecay(times, v, decay.FitSettings{Robust: true})); c.Best().Model() != decay.ModelExponential &&
		c.Of(decay.ModelExponential).AICc()-c.Best().AICc() > 6 {
		t.Errorf("robust comparison: best %v", c.Best().Model())
	}
}

// TestPlanFit compares the errors planned with the scatter of 400 fits.
func TestPlanFit(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	times := logTimes(0.3, 60, 24)
	law := must(decay.NewStretched(12, .6))
	plan := must(decay.PlanFit(decay.ModelStretched, []float64{1000, 12, .6}, times, decay.FitSettings{Abs: 5}))
	const sets = 400
	sum := make([]float64, len(plan))
	for range sets {
		c := must(decay.FitDecay(times, read(law, times, 1000, 0, 5, rng),
			decay.FitSettings{Models: []decay.Model{decay.ModelStretched}}))
		for i, p := range c.Best().Params() {
			sum[i] += (p.Value - plan[i].Value) * (p.Value - plan[i].Value)
		}
	}
	for i, p := range plan {
		// The standard deviation of 400 draws is known to 3.5 %; 4 of those, and
		// 2 % for the curvature of the model.
		near(t, "scatter of "+p.Name, math.Sqrt(sum[i]/sets), p.Err, 0.16)
	}
	var field *known.FieldError
	for _, bad := range []struct {
		m decay.Model
		v []float64
		s decay.FitSettings
	}{
		{decay.ModelExponential, []float64{1000}, decay.FitSettings{Abs: 1}},
		{decay.ModelExponential, []float64{1000, -1}, decay.FitSettings{Abs: 1}},
		{decay.ModelExponential, []float64{0, 1}, decay.FitSettings{Abs: 1}},
		{decay.ModelExponential, []float64{1000, 1}, decay.FitSettings{}},
		{decay.Model(99), []float64{1000, 1}, decay.FitSettings{Abs: 1}},
	} {
		if _, err := decay.PlanFit(bad.m, bad.v, times, bad.s); !errors.As(err, &field) {
			t.Errorf("PlanFit(%v, %v, %+v): got %v", bad.m, bad.v, bad.s, err)
		}
	}
}

func TestFitBadInput(t *testing.T) {
	good := []units.Time{0, 1, 2, 3, 4, 5}
	volts := []units.Voltage{100, 60, 36, 22, 13, 8}
	for _, c := range []struct {
		name, field string
		t           []units.Time
		v           []units.Voltage
		s           decay.FitSettings
	}{
		{"lengths", "v", good, volts[:5], decay.FitSettings{}},
		{"few", "t", good[:3], volts[:3], decay.FitSettings{}},
		{"same time twice", "t[2]", []units.Time{0, 1, 1, 3, 4, 5}, volts, decay.FitSettings{}},
		{"back in time", "t[3]", []units.Time{0, 1, 2, 1.5, 4, 5}, volts, decay.FitSettings{}},
		{"before zero", "t[0]", []units.Time{-1, 1, 2, 3, 4, 5}, volts, decay.FitSettings{}},
		{"NaN", "v[1]", good, []units.Voltage{100, units.Voltage(math.NaN()), 36, 22, 13, 8}, decay.FitSettings{}},
		{"Inf", "v[4]", good, []units.Voltage{100, 60, 36, 22, units.Voltage(math.Inf(1)), 8}, decay.FitSettings{}},
		{"constant", "v", good, []units.Voltage{5, 5, 5, 5, 5, 5}, decay.FitSettings{}},
		{"noise", "settings.abs", good, volts, decay.FitSettings{Abs: -1}},
		{"relative noise", "settings.rel", good, volts, decay.FitSettings{Rel: .5}},
		{"level", "settings.level", good, volts, decay.FitSettings{Level: 95}},
		{"known without noise", "settings.known", good, volts, decay.FitSettings{Known: true}},
		{"model", "settings.models[0]", good, volts, decay.FitSettings{Models: []decay.Model{77}}},
	} {
		_, err := decay.FitDecay(c.t, c.v, c.s)
		var field *known.FieldError
		if !errors.As(err, &field) || field.Field != c.field {
			t.Errorf("%s: got %v, want an error of %s", c.name, err, c.field)
		}
	}
	// Models with too many parameters for the record are listed, not fatal.
	c := must(decay.FitDecay(good[:5], volts[:5], decay.FitSettings{}))
	if c.Of(decay.ModelTwoExponentials) != nil || len(c.Failed()) == 0 {
		t.Errorf("two exponentials through five readings: failed list %v", c.Failed())
	}
}

func TestFitReport(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	times := logTimes(0.3, 60, 30)
	exp := must(decay.NewExponential(12))
	v := read(exp, times, 1000, 0, 5, rng)
	c := must(decay.FitDecay(times, v, decay.FitSettings{Independent: true}))
	sum := 0.0
	for i := range c.Fits() {
		sum += c.Weight(i)
	}
	near(t, "sum of Akaike weights", sum, 1, 1e-12)
	f := c.Of(decay.ModelExponential)
	near(t, "estimated noise", f.Noise(), 5, 0.5) // χ of 28 degrees of freedom: ±13 %, 4 sigma
	near(t, "chi2 over degrees of freedom", f.Chi2(), float64(f.DegreesOfFreedom()), 1e-9)
	rss := 0.0
	for i, r := range f.Residuals() {
		if r.Time != times[i] || !(math.Abs(float64(r.Fitted-f.Voltage(r.Time))) <= 1e-9) {
			t.Errorf("residual %d: %+v, fitted %v", i, r, f.Voltage(r.Time))
		}
		rss += float64(r.Fitted-v[i]) * float64(r.Fitted-v[i])
	}
	near(t, "noise from the residuals", math.Sqrt(rss/28), f.Noise(), 1e-9)
	cov := f.Covariance()
	p := f.Params()
	near(t, "covariance of V0", math.Sqrt(cov[0]), p[0].Err, 1e-12)
	near(t, "covariance of ln tau", math.Sqrt(cov[3])*p[1].Value, p[1].Err, 1e-12)
	// Equal amplitudes and offsets in the criterion: AICc by its definition.
	n, k := 30.0, 3.0
	near(t, "AICc", f.AICc()-c.Of(decay.ModelHyperbolic).AICc(),
		n*math.Log(rss/sumsq(c.Of(decay.ModelHyperbolic))), 1e-9)
	near(t, "BIC - AICc", f.BIC()-f.AICc(), k*math.Log(n)-2*k-2*k*(k+1)/(n-k-1), 1e-9)
}

func sumsq(f *decay.Fit) float64 {
	s := 0.0
	for _, r := range f.Residuals() {
		d := float64(r.Fitted - r.Voltage)
		s += d * d
	}
	return s
}
