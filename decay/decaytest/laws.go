package decaytest

import (
	"fmt"
	"math"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// valueLaws are about the fractions of a law.
func valueLaws(d Domain) []law {
	low := 0.0
	if d.Below {
		low = -1
	}
	return []law{{
		Name: "start", Says: "f(0) = 1 and f(t) = 1 before", Source: "definition of the fraction",
		Broken: decay.Function(func(t units.Time) float64 { return math.Exp(-float64(t) / 3) }), // grows before the start
		Check: func(m decay.Law, in Input) error {
			a, b := m.Fraction(0), m.Fraction(-in.DT)
			return lawtest.That(math.Abs(a-1) <= d.RelTol && math.Abs(b-1) <= d.RelTol, "1 at 0 and 1 at −dt", a, b)
		},
	}, {
		Name: "finite", Says: "finite in, finite out; NaN in, NaN out", Source: "contract of decay.Law",
		// Makes a plausible number of NaN.
		Broken: decay.Function(func(t units.Time) float64 {
			if t > 1 {
				return 1 / float64(t)
			}
			return 1
		}),
		Check: func(m decay.Law, in Input) error {
			return lawtest.Total(m.Fraction(in.T), m.Fraction(units.Time(math.NaN())))
		},
	}, {
		Name: "bounded", Says: fmt.Sprintf("%g <= f(t) <= 1", low), Source: "a leak cannot add charge, nor change its sign",
		Broken: formula(func(t float64) float64 { return math.Exp(-t) * (1 - t) }), // changes sign
		Check: func(m decay.Law, in Input) error {
			f := m.Fraction(in.T)
			return lawtest.That(f <= 1+d.RelTol && f >= low-d.RelTol, fmt.Sprintf("%g … 1", low), f)
		},
	}, {
		Name: "monotone", Says: "f(t + dt) <= f(t)", Source: "no source; energy only falls",
		Broken: formula(func(t float64) float64 { return 0.5 + 0.5*math.Cos(t) }), // comes back
		Check: func(m decay.Law, in Input) error {
			a, b := m.Fraction(in.T), m.Fraction(in.T+in.DT)
			return lawtest.That(b <= a+d.RelTol*math.Abs(a), "the second no greater than the first", a, b)
		},
	}, {
		Name: "continuous", Says: "f(t) − f(t + h) → 0 as h → 0", Source: "charge leaves by finite currents",
		Broken: formula(func(t float64) float64 { return 1 / (1 + math.Floor(t)) }), // jumps
		Check:  continuous,
	}}
}

func continuous(m decay.Law, in Input) error {
	at := func(t float64) float64 { return m.Fraction(units.Time(t)) }
	lo, hi := float64(in.T), float64(in.T+in.DT)
	for range 80 { // keep the half with the greater fall
		mid := lo + 0.5*(hi-lo)
		if mid <= lo || mid >= hi {
			break
		}
		if f := at(mid); math.Abs(at(lo)-f) >= math.Abs(f-at(hi)) {
			hi = mid
		} else {
			lo = mid
		}
	}
	// A vertical tangent is continuous too: a stretched exponential of exponent 0.2
	// falls by 1e-3 in one step of float64. A jump is more than 1e-2.
	ok := lo == 0 || math.Abs(at(lo)-at(hi)) <= 1e-2
	when := fmt.Sprintf("at %v and %.2g s later", units.Time(lo), hi-lo)
	return lawtest.That(ok, "two values within 0.01", at(lo), at(hi), when)
}

// slopeLaws are about rate and inverse.
func slopeLaws(d Domain) []law {
	exp := must(decay.NewExponential(3 * units.Second)).(decay.Exponential)
	return []law{{
		Name: "rate", Says: "f′(t) = lim (f(t+h) − f(t−h))/2h, and f′ <= 0", Source: "definition",
		Broken: wrong{exp, 2, 1}, // factor two
		Check:  rate,
	}, {
		Name: "inverse", Says: "f(t(q)) = q", Source: "definition",
		Broken: wrong{exp, 1, math.Ln2}, // half-time for τ
		Check: func(m decay.Law, in Input) error {
			l, ok := m.(decay.Timer)
			if !ok {
				return lawtest.Lacks(m, "TimeTo(f float64) (units.Time, error)")
			}
			return inverse(m, l.TimeTo, in, d)
		},
	}, {
		Name: "time to a fraction", Says: "f(TimeTo(f, q)) = q", Source: "definition",
		// NaN after 2 s.
		Broken: formula(func(t float64) float64 { return 1 / (1 + t) / (1 + 0*math.Log(2-t)) }),
		Check: func(m decay.Law, in Input) error {
			// Hide the inverse: the search must find the same crossing.
			bare := decay.Function(m.Fraction)
			return inverse(m, func(q float64) (units.Time, error) { return decay.TimeTo(bare, q) }, in, d)
		},
	}}
}

// rate compares with slopes of four steps round t. For a smooth law they differ by
// 1e-4 of t·f″; at a kink or a vertical tangent every value between them is a slope.
func rate(m decay.Law, in Input) error {
	r, ok := m.(decay.Rater)
	switch {
	case !ok:
		return lawtest.Lacks(m, "Rate(t units.Time) float64")
	case in.T == 0:
		return nil
	}
	t := float64(in.T)
	slope := func(a, b float64) float64 { return (m.Fraction(units.Time(b)) - m.Fraction(units.Time(a))) / (b - a) }
	h := 1e-4 * t
	l2, l1, r1, r2 := slope(t-h, t-0.5*h), slope(t-0.5*h, t), slope(t, t+0.5*h), slope(t+0.5*h, t+h)
	bend := math.Max(math.Abs(l1-l2), math.Abs(r2-r1)) // how far a slope changes in half a step
	lo, hi := min(l1, l2, r1, r2)-bend, max(l1, l2, r1, r2)+bend
	got := r.Rate(in.T)
	tol := 1e-6*math.Abs(lo) + 8e-15*math.Max(math.Abs(m.Fraction(in.T)), 1e-3)/h + 1e-300
	ok = got <= 0 && got >= lo-tol && got <= hi+tol
	return lawtest.That(ok, fmt.Sprintf("from %g to %g (± %g) per second and not positive", lo, hi, tol), got)
}

// inverse checks that the fraction at the time to q is q, or that the law stays above.
func inverse(m decay.Law, timeTo func(float64) (units.Time, error), in Input, d Domain) error {
	t, err := timeTo(in.Q)
	switch {
	case err != nil || math.IsInf(float64(t), 0):
		f := m.Fraction(d.MaxTime)
		return lawtest.That(f >= in.Q-d.RelTol, fmt.Sprintf("a time: the law falls to %g by %v", f, d.MaxTime), t, err)
	case t == 0:
		ok := m.Fraction(0) <= in.Q || in.Q > 1-1e-12 || m.Fraction(units.Time(math.SmallestNonzeroFloat64)) <= in.Q
		return lawtest.That(ok, "a time above 0", t)
	}
	// f may be steep: compare within the change of f over a few ulp of t.
	f, lo, hi := m.Fraction(t), m.Fraction(t*(1-1e-12)), m.Fraction(t*(1+1e-12))
	ok := f <= lo+d.RelTol && f >= hi-d.RelTol && in.Q <= lo+d.RelTol*in.Q+1e-12 && in.Q >= hi-d.RelTol*in.Q-1e-12
	return lawtest.That(ok, fmt.Sprintf("a time at which %g is left", in.Q), t, f)
}
