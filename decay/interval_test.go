package decay_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat/distuv"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestIntervalByScan compares the interval of a time with a scan that shares
// nothing with the fit: for an exponential through V(t) = v the start voltage is
// v·e^(t/τ), and τ is found by golden section.
func TestIntervalByScan(t *testing.T) {
	rng := rand.New(rand.NewPCG(21, 1))
	times := logTimes(0.3, 20, 14)
	law := must(decay.NewExponential(12))
	const sd = 40.0
	v := read(law, times, 1000, 0, sd, rng)
	sum := func(v0, tau float64) float64 {
		s := 0.0
		for i := range times {
			d := v0*math.Exp(-float64(times[i])/tau) - float64(v[i])
			s += d * d / (sd * sd)
		}
		return s
	}
	golden := func(f func(float64) float64, a, b float64) float64 {
		g := (math.Sqrt(5) - 1) / 2
		for range 100 {
			if c, d := b-g*(b-a), a+g*(b-a); f(c) < f(d) {
				b = d
			} else {
				a = c
			}
		}
		return f(0.5 * (a + b))
	}
	c := must(decay.FitDecay(times, v, decay.FitSettings{Models: []decay.Model{decay.ModelExponential}, Abs: sd,
		Known: true, Independent: true}))
	f := c.Best()
	tau, _ := f.Param("tau")
	least := sum(float64(f.V0()), tau.Value)
	limit := least + distuv.ChiSquared{K: 1}.Quantile(0.95)
	for _, target := range []float64{600, 100, 20} {
		got := must(f.TimeToVoltageInterval(units.Voltage(target)))
		rise := func(x float64) float64 {
			return golden(func(lt float64) float64 {
				tau := math.Exp(lt)
				return sum(target*math.Exp(x/tau), tau)
			}, 0, 5) - limit
		}
		for what, end := range map[string]float64{"low": float64(got.Low), "high": float64(got.High)} {
			// The interval is found to 1e-4 of its logarithmic width.
			if a, b := rise(end*(1-2e-4)), rise(end*(1+2e-4)); a*b > 0 {
				t.Errorf("%g V, %s end %g s: the scan rises by %g and %g there, want a crossing", target, what, end, a, b)
			}
		}
		if want := must(f.TimeToVoltage(units.Voltage(target))); got.Time != want {
			t.Errorf("%g V: time %v, want %v", target, got.Time, want)
		}
	}
	// A fraction of the fitted start is τ·ln(1/q): its interval is that of τ.
	lo, hi, err := f.Profile("tau")
	if err != nil {
		t.Fatal(err)
	}
	got := must(f.TimeToFractionInterval(0.1))
	near(t, "low end of t10 over that of τ", float64(got.Low)/lo, math.Ln10, 5e-4)
	near(t, "high end of t10 over that of τ", float64(got.High)/hi, math.Ln10, 5e-4)
	near(t, "t10", float64(must(f.TimeToFraction(0.1))), tau.Value*math.Ln10, 1e-9)
}

// TestIntervalLimits: targets that are never reached, or were passed before the
// clock, or are none.
func TestIntervalLimits(t *testing.T) {
	rng := rand.New(rand.NewPCG(22, 1))
	times := logTimes(0.3, 100, 40)
	law := must(decay.NewOffsetExponential(12, 1000, 150))
	v := read(law, times, 1000, 0, 3, rng)
	c := must(decay.FitDecay(times, v, decay.FitSettings{}))
	f := c.Of(decay.ModelOffsetExponential)
	got := must(f.TimeToVoltageInterval(100))
	if !math.IsInf(float64(got.Time), 1) || !math.IsInf(float64(got.High), 1) || !(got.Low > 60) {
		t.Errorf("100 V, with 150 V left for good: %+v", got)
	}
	spread, err := c.TimeToVoltage(100)
	var never *decay.NeverError
	if !errors.As(err, &never) || !math.IsInf(float64(spread.High), 1) || !(spread.Low > 0) || len(spread.Laws) == 0 {
		t.Errorf("100 V by all laws: %+v, %v", spread, err)
	}
	// Above the plateau by less than its error: reached, but the readings set no upper limit.
	plateau, _ := f.Param("Vb")
	got = must(f.TimeToVoltageInterval(f.Offset() + units.Voltage(plateau.Err)))
	if !(got.Low > 30) || !math.IsInf(float64(got.High), 1) {
		t.Errorf("just above the plateau: %+v", got)
	}
	// Above the start by less than its error: passed at the clock's zero, perhaps later.
	over := must(f.TimeToVoltageInterval(f.V0() * 1.0005))
	if over.Time != 0 || over.Low != 0 || !(over.High > 0 && over.High < 1) {
		t.Errorf("just above the start: %+v", over)
	}
	var field *known.FieldError
	for _, bad := range []units.Voltage{0, -5} {
		if _, err := f.TimeToVoltageInterval(bad); !errors.As(err, &field) {
			t.Errorf("time to %v: %v", bad, err)
		}
		if _, err := c.TimeToVoltage(bad); !errors.As(err, &field) {
			t.Errorf("time to %v by all laws: %v", bad, err)
		}
	}
	for _, q := range []float64{0, 1, -1, math.NaN()} {
		if _, err := f.TimeToFractionInterval(q); !errors.As(err, &field) || field.Field != "fraction" {
			t.Errorf("time to the fraction %g: %v", q, err)
		}
		if _, err := c.TimeToFraction(q); !errors.As(err, &field) {
			t.Errorf("time to the fraction %g by all laws: %v", q, err)
		}
	}
	// The same record upside down has the same times.
	for i := range v {
		v[i] = -v[i]
	}
	mirror := must(decay.FitDecay(times, v, decay.FitSettings{}))
	a, b := must(c.TimeToVoltage(400)), must(mirror.TimeToVoltage(-400))
	near(t, "negative record, low", float64(b.Low), float64(a.Low), 1e-6)
	near(t, "negative record, high", float64(b.High), float64(a.High), 1e-6)
}

// TestSpreadHolds: the averaged interval lies within the envelope, the weights
// add to one, and an extrapolated time says so.
func TestSpreadHolds(t *testing.T) {
	rng := rand.New(rand.NewPCG(23, 1))
	law := must(decay.NewExponential(12))
	for _, end := range []float64{4, 60} {
		times := logTimes(0.1, end, 25)
		c := must(decay.FitDecay(times, read(law, times, 1000, 0, 10, rng), decay.FitSettings{}))
		for _, q := range []float64{0.9, 0.5, 0.1} {
			s, err := c.TimeToFraction(q)
			var never *decay.NeverError
			if err != nil && !errors.As(err, &never) {
				t.Fatal(err)
			}
			name := fmt.Sprintf("record of %g s, fraction %g: %+v", end, q, s)
			sum := 0.0
			for _, l := range s.Laws {
				sum += l.Weight
				if l.Low < s.Least || l.High > s.Most || !(l.Low <= l.Time && l.Time <= l.High) {
					t.Errorf("%s: law %v outside the envelope or its own interval", name, l.Model)
				}
			}
			if !(math.Abs(sum-1) <= 1e-12) || s.Low < s.Least*(1-1e-4) || s.High > s.Most*(1+1e-4) || !(s.Low <= s.High) {
				t.Errorf("%s: weights %g or ends out of order", name, sum)
			}
			if s.Extrapolated != (float64(s.Best) > end) {
				t.Errorf("%s: extrapolated?", name)
			}
		}
	}
}

// TestZeroFits: what was not made by FitDecay says so and never panics.
func TestZeroFits(t *testing.T) {
	var f decay.Fit
	var c decay.ModelComparison
	var field *known.FieldError
	_, err1 := f.TimeToVoltage(1)
	_, err2 := f.TimeToFractionInterval(0.5)
	_, _, err3 := f.Profile("V0")
	_, err4 := c.TimeToVoltage(1)
	_, err5 := c.TimeToFraction(0.5)
	for i, err := range []error{err1, err2, err3, err4, err5} {
		if !errors.As(err, &field) {
			t.Errorf("error %d: %v", i, err)
		}
	}
	for i, x := range []float64{float64(f.V0()), float64(f.Offset()), float64(f.Start()), float64(f.Voltage(1)), f.Chi2(),
		f.Noise(),
		f.AICc(), f.BIC(), f.Correlation(), c.Weight(0)} {
		if !math.IsNaN(x) {
			t.Errorf("number %d of a zero fit: %g", i, x)
		}
	}
	if c.Best() != nil || len(c.Fits())+len(c.Findings())+len(c.Failed()) > 0 || c.Of(0) != nil || f.Law() != nil ||
		len(f.Params())+len(f.Covariance())+len(f.Residuals())+len(f.Findings()) > 0 {
		t.Error("a zero fit has something")
	}
	if _, ok := f.Param("V0"); ok {
		t.Error("a zero fit has a parameter")
	}
	if _, ok := f.CollapsedInto(); ok {
		t.Error("a zero fit has collapsed")
	}
}

// TestBeyondZero: a voltage between zero and an offset of the other sign has a time, which the law gives, and neither
// an interval nor a panic.
func TestBeyondZero(t *testing.T) {
	var times []units.Time
	var v []units.Voltage
	for i := range 14 {
		s := 0.4 * float64(i)
		times = append(times, units.Time(s))
		v = append(v, units.Voltage(1200*math.Exp(-s)-200))
	}
	c, err := decay.FitDecay(times, v, decay.FitSettings{Abs: 1, Known: true})
	if err != nil {
		t.Fatal(err)
	}
	got, err := c.TimeToVoltage(-100)
	var field *known.FieldError
	if !errors.As(err, &field) || field.Field != "voltage" {
		t.Fatalf("%+v, %v", got, err)
	}
	if !(math.Abs(float64(got.Best)-math.Log(12)) < 0.02) { // 1200·e^−t = 100
		t.Errorf("%v, want ln 12 s", got.Best)
	}
	for _, x := range []units.Time{got.Low, got.High, got.Least, got.Most} {
		if !math.IsNaN(float64(x)) {
			t.Errorf("%+v", got)
		}
	}
	if s, err := c.TimeToVoltage(100); err != nil || !(s.Low < s.Best && s.Best < s.High) ||
		!(math.Abs(float64(s.Best)-math.Log(4)) < 0.02) { // 1200·e^−t = 300
		t.Errorf("%+v, %v", s, err)
	}
}
