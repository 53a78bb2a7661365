package decaytest

import (
	"math"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// must returns the law: the drawn arguments are inside the ranges.
func must[T decay.Law](l T, err error) decay.Law {
	if err != nil {
		panic(err)
	}
	return l
}

func seconds(d *lawtest.Draw, name string) units.Time {
	return lawtest.Decades(d, name, units.Millisecond, 1e4*units.Second)
}

// anyLaw draws a law of package decay, without those that fall below zero.
func anyLaw(d *lawtest.Draw) decay.Law {
	composed := lawtest.Pick(d, "composition", "none", "none", "parallel", "mixture", "after", "then")
	a := simple(d)
	if composed == "none" {
		return a
	}
	b := simple(d)
	switch composed {
	case "parallel":
		return must(decay.NewParallel(a, b))
	case "mixture":
		return must(decay.NewMixture([]float64{lawtest.Between(d, "weight", 0.1, 10), 1}, a, b))
	case "after":
		age := seconds(d, "age")
		if a.Fraction(age) < 1e-3 {
			age = 0
		}
		return must(decay.After(a, age))
	}
	if math.IsInf(decay.Rate(b, 0), 0) {
		// Restarted with a vertical tangent: no quotient can see its rate there.
		b, a = a, must(decay.NewExponential(seconds(d, "first")))
	}
	if math.IsInf(decay.Rate(b, 0), 0) {
		return a
	}
	return must(decay.Then(a, seconds(d, "until"), b))
}

// simple draws a law that is not composed of others.
func simple(d *lawtest.Draw) decay.Law {
	kind := lawtest.Pick(d, "law", "exponential", "offset exponential", "two exponentials", "stretched", "power",
		"hyperbolic", "ohmic and mobility", "Curie and von Schweidler", "logarithmic", "transit", "free stripe", "free disc",
		"line under a probe", "spot under a probe")
	tau := seconds(d, "tau")
	unit := func(name string, lo, hi float64) float64 { return lawtest.Between(d, name, lo, hi) }
	const start = 1000 * units.Volt
	switch kind {
	case "exponential":
		return must(decay.NewExponential(tau))
	case "offset exponential":
		return must(decay.NewOffsetExponential(tau, start, lawtest.Between(d, "balance", 0, 900*units.Volt)))
	case "two exponentials":
		weights := []float64{unit("weight", 0.01, 0.99), 0.5}
		return must(decay.NewExponentials(weights, []units.Time{tau, seconds(d, "second tau")}))
	case "stretched":
		return must(decay.NewStretched(tau, unit("beta", 0.2, 1)))
	case "power":
		return must(decay.NewPowerLaw(tau, unit("n", 0.1, 10)))
	case "hyperbolic":
		return must(decay.NewHyperbolic(1 / float64(tau)))
	case "ohmic and mobility":
		return must(decay.NewOhmicMobility(tau, unit("a", 0, 100)))
	case "Curie and von Schweidler":
		return must(decay.NewCurieSchweidler(unit("n", 0, 0.95), unit("A", 0.1, 100), start))
	case "logarithmic":
		return must(decay.NewLogarithmic(lawtest.Between(d, "B", units.Volt, 100*units.Volt), start, tau))
	case "transit":
		return must(decay.NewTransit(tau, unit("m", 0.3, 3)))
	case "free stripe":
		return must(decay.NewFreeStripe(units.Length(tau), units.MetrePerSecond))
	case "free disc":
		return must(decay.NewFreeDisc(units.Length(tau), units.MetrePerSecond))
	case "line under a probe":
		return must(decay.NewLineUnderProbe(units.Length(tau), units.MetrePerSecond))
	}
	return must(decay.NewSpotUnderProbe(units.Length(tau), units.MetrePerSecond))
}

// formula is a law that is 1 up to 0 and NaN for NaN.
func formula(f func(t float64) float64) decay.Law {
	return decay.Function(func(t units.Time) float64 {
		switch x := float64(t); {
		case math.IsNaN(x):
			return x
		case x <= 0:
			return 1
		default:
			return f(x)
		}
	})
}

// wrong is an exponential with a factor on the rate and on the time to a fraction.
type wrong struct {
	decay.Exponential
	rate, times float64
}

func (w wrong) Rate(t units.Time) float64 { return w.rate * w.Exponential.Rate(t) } // [1/s]

func (w wrong) TimeTo(f float64) (units.Time, error) { // f [1]
	t, err := w.Exponential.TimeTo(f)
	return units.Time(w.times * float64(t)), err
}
