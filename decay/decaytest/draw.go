package decaytest

import (
	"math"

	"pgregory.net/rapid"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

// must returns the law: the drawn arguments are inside the ranges.
func must[T decay.Law](l T, err error) decay.Law {
	if err != nil {
		panic(err)
	}
	return l
}

func time(t *rapid.T, name string) units.Time {
	return units.Time(math.Exp(rapid.Float64Range(math.Log(1e-3), math.Log(1e4)).Draw(t, "ln "+name)))
}

// AnyLaw draws a law of package decay with times from 1 ms to 10 000 s, those
// that fall below zero left out.
func AnyLaw() *rapid.Generator[decay.Law] {
	return rapid.OneOf(Simple(), rapid.Custom(func(t *rapid.T) decay.Law {
		a, b := Simple().Draw(t, "a"), Simple().Draw(t, "b")
		switch rapid.IntRange(0, 3).Draw(t, "composition") {
		case 0:
			return must(decay.NewParallel(a, b))
		case 1:
			return must(decay.NewMixture([]float64{rapid.Float64Range(0.1, 10).Draw(t, "weight"), 1}, a, b))
		case 2:
			age := time(t, "age")
			if a.Fraction(age) < 1e-3 {
				age = 0
			}
			return must(decay.After(a, age))
		}
		if math.IsInf(decay.Rate(b, 0), 0) {
			// Restarted with a vertical tangent: no quotient can see its rate there.
			b = a
			a = must(decay.NewExponential(time(t, "first")))
		}
		if math.IsInf(decay.Rate(b, 0), 0) {
			return a
		}
		return must(decay.Then(a, time(t, "until"), b))
	}))
}

// Simple draws a law of package decay that is not composed of others.
func Simple() *rapid.Generator[decay.Law] {
	return rapid.Custom(func(t *rapid.T) decay.Law {
		tau := time(t, "tau")
		unit := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		switch rapid.IntRange(0, 13).Draw(t, "kind") {
		case 0:
			return must(decay.NewExponential(tau))
		case 1:
			return must(decay.NewOffsetExponential(tau, 1000*units.Volt, units.Voltage(unit("vb", 0, 900))))
		case 2:
			return must(decay.NewExponentials([]float64{unit("w", 0.01, 0.99), 0.5}, []units.Time{tau, time(t, "tau2")}))
		case 3:
			return must(decay.NewStretched(tau, unit("beta", 0.2, 1)))
		case 4:
			return must(decay.NewPowerLaw(tau, unit("n", 0.1, 10)))
		case 5:
			return must(decay.NewHyperbolic(1 / float64(tau)))
		case 6:
			return must(decay.NewOhmicMobility(tau, unit("a", 0, 100)))
		case 7:
			return must(decay.NewCurieSchweidler(unit("n", 0, 0.95), unit("A", 0.1, 100), 1000*units.Volt))
		case 8:
			return must(decay.NewLogarithmic(units.Voltage(unit("B", 1, 100)), 1000*units.Volt, tau))
		case 9:
			return must(decay.NewTransit(tau, unit("m", 0.3, 3)))
		case 10:
			return must(decay.NewFreeStripe(units.Length(tau), units.MetrePerSecond))
		case 11:
			return must(decay.NewFreeDisc(units.Length(tau), units.MetrePerSecond))
		case 12:
			return must(decay.NewLineUnderProbe(units.Length(tau), units.MetrePerSecond))
		}
		return must(decay.NewSpotUnderProbe(units.Length(tau), units.MetrePerSecond))
	})
}

// wrong is a law with a wrong rate or inverse.
type wrong struct {
	decay.Exponential
	rate  float64 // factor on the rate
	times float64 // factor on the time
}

// Rate returns the wrong rate.
func (w wrong) Rate(t units.Time) float64 { return w.rate * w.Exponential.Rate(t) } // [1/s]

// TimeTo returns the wrong time.
func (w wrong) TimeTo(f float64) (units.Time, error) { // f [1]
	t, err := w.Exponential.TimeTo(f)
	return units.Time(w.times * float64(t)), err
}

// swallow is a law that makes a plausible number of NaN.
func swallow(t units.Time) float64 {
	if float64(t) > 1 {
		return 1 / float64(t)
	}
	return 1
}

// Broken returns one wrong law for every statement of [Laws] and [Memoryless]:
// a suite that does not notice it is not working.
func Broken() map[string]decay.Law {
	exp, err := decay.NewExponential(3 * units.Second)
	if err != nil {
		panic(err)
	}
	f := func(g func(t float64) float64) decay.Law {
		return decay.Function(func(t units.Time) float64 {
			switch x := float64(t); {
			case math.IsNaN(x):
				return x
			case x <= 0:
				return 1
			default:
				return g(x)
			}
		})
	}
	return map[string]decay.Law{
		"start":              decay.Function(func(t units.Time) float64 { return math.Exp(-float64(t) / 3) }), // grows before the start
		"finite":             decay.Function(swallow),                                                         // makes a number of NaN
		"bounded":            f(func(t float64) float64 { return math.Exp(-t) * (1 - t) }),                    // changes sign
		"monotone":           f(func(t float64) float64 { return 0.5 + 0.5*math.Cos(t) }),                     // comes back
		"continuous":         f(func(t float64) float64 { return 1 / (1 + math.Floor(t)) }),                   // jumps
		"rate":               wrong{exp, 2, 1},                                                                // factor two
		"inverse":            wrong{exp, 1, math.Ln2},                                                         // half-time for τ
		"time to a fraction": f(func(t float64) float64 { return 1 / (1 + t) / (1 + 0*math.Log(2-t)) }),       // NaN after 2 s
		"memoryless":         must(decay.NewStretched(3*units.Second, 0.5)),                                   // has an age
	}
}

// Problem is a law, a time and the fraction that somebody else says is left.
type Problem struct {
	Name   string     // what is computed
	Source string     // by whom or how
	Law    decay.Law  // the law
	T      units.Time // time since the start
	Want   float64    // [1] fraction left
	RelTol float64    // [1] accuracy of the source
}

// Published returns problems with known answers, computed outside pithball.
func Published() []Problem {
	return []Problem{
		{"exponential at its time constant", "definition of e", must(decay.NewExponential(2 * units.Second)), 2 * units.Second, 0.36787944117144233, 1e-15},
		{"ohmic and mobility, a = 1, at τ", "dV/dt = −V − V² integrated by scipy DOP853", must(decay.NewOhmicMobility(1*units.Second, 1)), 1 * units.Second, 0.22539967356, 1e-10},
		{"stretched, τ 100 s, β 0.5, at 530.189811 s", "root by scipy brentq", must(decay.NewStretched(100*units.Second, 0.5)), 530.1898110478 * units.Second, 0.1, 1e-9},
		{"transit, five transit times", "fan solution by hand, 1/(2·5)", must(decay.NewTransit(1*units.Second, 1)), 5 * units.Second, 0.1, 1e-15},
		{"stripe on a free sheet, a/v = 0.2 s, at 0.3 s", "spectral integral by mpmath", must(decay.NewFreeStripe(10*units.Millimetre, 0.05*units.MetrePerSecond)), 0.3 * units.Second, 0.3743340836219976, 1e-14},
		{"disc on a free sheet, a/v = 0.2 s, at 0.3 s", "Hankel integral by mpmath", must(decay.NewFreeDisc(10*units.Millimetre, 0.05*units.MetrePerSecond)), 0.3 * units.Second, 0.1679497056621563, 1e-14},
	}
}
