package decay_test

import (
	"fmt"
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

// TestLawsByHand: fraction and rate of every law from its printed formula, worked out by hand at times that make the
// numbers short, below and above 1 s; then the time to that fraction, nothing before t = 0, and NaN for NaN.
func TestLawsByHand(t *testing.T) {
	hyperbolic := func(k float64) decay.Law { return must(decay.NewHyperbolic(k)) }
	for _, c := range []struct {
		name           string
		law            decay.Law
		at             units.Time
		fraction, rate float64
	}{
		// e^−½, e^−¼, e^−1
		{"exponential", must(decay.NewExponential(2)), 1, 0.6065306597126334, -0.3032653298563167},
		{"offset", must(decay.NewOffsetExponential(2, 1000, 100)), 0.5, 0.8009207047642644, -0.3504603523821322},
		{"sum", must(decay.NewExponentials([]float64{3, 1}, []units.Time{1, 4})), 0.5, 0.675522220430624,
			-0.5100540511960123},
		{"stretched", must(decay.NewStretched(4, 0.5)), 1, 0.6065306597126334, -0.15163266492815836},
		{"stretched", must(decay.NewStretched(4, 0.5)), 0.25, 0.7788007830714049, -0.38940039153570245},
		{"stretched, β = 1", must(decay.NewStretched(4, 1)), 4, 0.36787944117144233, -0.09196986029286058},
		{"power", must(decay.NewPowerLaw(2, 3)), 0.5, 0.512, -0.6144}, // 0.8³
		{"hyperbola", hyperbolic(0.5), 0.5, 0.8, -0.32},
		{"ohmic and mobility", must(decay.NewOhmicMobility(2, 3)), 0.44628710262841953, 0.5, -0.625}, // 2·ln 1.25
		{"transit", must(decay.NewTransit(2, 1)), 0.5, 0.875, -0.25},
		{"transit, after", must(decay.NewTransit(2, 1)), 4, 0.25, -0.0625},
		{"transit, m = 2", must(decay.NewTransit(3, 2)), 0.75, 11. / 12, -1. / 9},
		{"transit, m = 2, after", must(decay.NewTransit(3, 2)), 12, 1. / 3, -1. / 72},
		{"transit, m = 1/8", must(decay.NewTransit(2, 0.125)), 0.9, 0.6, -4. / 9},
		{"absorption", must(decay.NewCurieSchweidler(0.5, 10, -1000)), 0.25, 0.99, -0.02},
		{"logarithm", must(decay.NewLogarithmic(20, -500, 2)), 0.5, 0.9910742579474316, -0.016}, // ln 1.25
		// atan(4/3), 1.28/π
		{"stripe", must(decay.NewFreeStripe(0.1, 0.1)), 0.75, 0.5903344706017331, -0.40743665431525206},
		{"disc", must(decay.NewFreeDisc(0.2, 0.5)), 0.3, 0.4, -1.28}, // 3-4-5
		{"line", must(decay.NewLineUnderProbe(0.2, 0.1)), 0.5, 0.8, -0.32},
		{"spot", must(decay.NewSpotUnderProbe(0.2, 0.1)), 0.5, 0.64, -0.512},
		{"after 1 s", must(decay.After(hyperbolic(1), 1)), 2, 0.5, -0.125},
		{"after 1 s", must(decay.After(hyperbolic(1), 1)), 0.5, 0.8, -0.32},
		{"both", must(decay.NewParallel(hyperbolic(1), hyperbolic(3))), 0.5, 4. / 15, -112. / 225},
		{"side by side", must(decay.NewMixture([]float64{1, 3}, hyperbolic(1), hyperbolic(3))), 0.5, 7. / 15,
			-106. / 225},
		{"first", must(decay.Then(hyperbolic(1), 1, hyperbolic(2))), 0.5, 2. / 3, -4. / 9},
		{"then", must(decay.Then(hyperbolic(1), 1, hyperbolic(2))), 1.5, 0.25, -0.25},
	} {
		what := fmt.Sprintf("%s at %v", c.name, c.at)
		near(t, what+": fraction", c.law.Fraction(c.at), c.fraction, 1e-14)
		near(t, what+": rate", decay.Rate(c.law, c.at), c.rate, 1e-14)
		near(t, what+": time", float64(must(decay.TimeTo(c.law, c.fraction))), float64(c.at), 1e-12)
		if f, r := c.law.Fraction(-0.5), decay.Rate(c.law, -0.5); f != 1 || r != 0 {
			t.Errorf("%s before t = 0: %g, rate %g", c.name, f, r)
		}
		if f := c.law.Fraction(units.Time(math.NaN())); !math.IsNaN(f) {
			t.Errorf("%s of NaN: %g", c.name, f)
		}
	}
	// The ends that a formula does not give.
	if r := must(decay.NewStretched(4, 0.5)).Rate(0); !math.IsInf(r, -1) {
		t.Errorf("stretched at once: %g", r)
	}
	near(t, "stretched, β = 1, at once", must(decay.NewStretched(4, 1)).Rate(0), -0.25, 0)
	near(t, "0.02·√3000 > 1", must(decay.NewCurieSchweidler(0.5, 10, 1000)).Rate(3000), 0, 0)
	near(t, "ln 3 > 1", must(decay.NewLogarithmic(500, 500, 2)).Rate(4), 0, 0)
}

// TestMeanTimeByHand: (τ/β)·Γ(1/β) with Γ(2) = 1, Γ(4) = 6 and Γ(1) = 1.
func TestMeanTimeByHand(t *testing.T) {
	for _, c := range []struct{ beta, want float64 }{{0.5, 6}, {0.25, 72}, {1, 3}} {
		near(t, fmt.Sprint(c.beta), float64(must(decay.NewStretched(3, c.beta)).MeanTime()), c.want, 1e-14)
	}
}

// TestTimeToLooksAtPowersOfTwo: a law that falls below the half only from 1.1 to 1.15 s is caught at 2⁵⁰·1e-15 =
// 1.1259 s, as documented.
func TestTimeToLooksAtPowersOfTwo(t *testing.T) {
	dip := decay.Function(func(t units.Time) float64 {
		if t > 1.1 && t < 1.15 {
			return 0.1
		}
		return 1
	})
	near(t, "dip", float64(must(decay.TimeTo(dip, 0.5))), 1.1, 1e-14)
}

// TestModelText: every model is written by its name and read back; what is no model is refused.
func TestModelText(t *testing.T) {
	for _, m := range decay.AllModels() {
		b, err := m.MarshalText()
		if err != nil || string(b) != m.String() {
			t.Errorf("%v: %q, %v", m, b, err)
		}
		back := decay.Model(200)
		if err := back.UnmarshalText(b); err != nil || back != m {
			t.Errorf("%q: %v, %v", b, back, err)
		}
	}
	none := decay.Model(len(decay.AllModels()))
	if b, err := none.MarshalText(); err == nil || none.String() != fmt.Sprintf("Model(%d)", len(decay.AllModels())) {
		t.Errorf("%v: %q", none, b)
	}
}
