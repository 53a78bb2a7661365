package decaytest

import (
	"fmt"
	"math"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

// Input is one point at which a statement is tried.
type Input struct {
	T  units.Time // time since the start, >= 0
	DT units.Time // a further time, > 0
	Q  float64    // [1] a fraction, 0 < Q <= 1
}

// Domain bounds the inputs for which the law under test claims to hold. The zero
// value is right for most laws.
type Domain struct {
	MinTime units.Time // shortest time tried; 0 means 1e-6 s
	MaxTime units.Time // longest time tried; 0 means 1e6 s
	RelTol  float64    // [1] slack for rounding, not for physics; 0 means 1e-9
	Below   bool       // the law may fall below 0 (a balance voltage of the other sign)
}

func (d Domain) filled() Domain {
	if d.MinTime == 0 {
		d.MinTime = 1e-6 * units.Second
	}
	if d.MaxTime == 0 {
		d.MaxTime = 1e6 * units.Second
	}
	if d.RelTol == 0 {
		d.RelTol = 1e-9
	}
	return d
}

// Law is one statement that holds for every decay. (A law of decay is a
// [decay.Law]; this is a law about them.)
type Law struct {
	Name   string // stable; name of the subtest
	Says   string // the relation in one line
	Source string // where physics or the contract says so
	// Check returns a [*Violation] if the statement fails for m at in.
	Check func(m decay.Law, in Input, d Domain) error
}

// Violation reports a broken statement; errors.As finds it.
type Violation struct {
	Law  string    // name of the statement
	In   Input     // where
	Got  []float64 // [see Want] what the law gave
	Want string    // what it should have given
}

// Error says all of it in one line.
func (v *Violation) Error() string {
	return fmt.Sprintf("%s: at t = %v, dt = %v, q = %g: got %g, want %s", v.Law, v.In.T, v.In.DT, v.In.Q, v.Got, v.Want)
}

// Laws returns the statements that hold for every law of decay, the cheapest
// first.
func Laws() []Law {
	return []Law{Start(), Finite(), Bounded(), Monotone(), Continuous(), RateMatches(), InverseMatches(), TimeMatches()}
}

// Start: the fraction is 1 at and before the start.
func Start() Law {
	const name = "start"
	return Law{name, "f(0) = 1 and f(t) = 1 before", "definition of the fraction", func(m decay.Law, in Input, d Domain) error {
		a, b := m.Fraction(0), m.Fraction(-in.DT)
		if math.Abs(a-1) <= d.RelTol && math.Abs(b-1) <= d.RelTol {
			return nil
		}
		return &Violation{name, in, []float64{a, b}, "1 at 0 and 1 at −dt"}
	}}
}

// Finite: finite times give finite fractions, NaN gives NaN.
func Finite() Law {
	const name = "finite"
	return Law{name, "finite in, finite out; NaN in, NaN out", "contract of decay.Law", func(m decay.Law, in Input, d Domain) error {
		a, b := m.Fraction(in.T), m.Fraction(units.Time(math.NaN()))
		if !math.IsNaN(a) && !math.IsInf(a, 0) && math.IsNaN(b) {
			return nil
		}
		return &Violation{name, in, []float64{a, b}, "a finite number at t and NaN at NaN"}
	}}
}

// Bounded: no charge comes from nowhere and none changes its sign (unless the
// domain says so).
func Bounded() Law {
	const name = "bounded"
	return Law{name, "0 <= f(t) <= 1", "a leak cannot add charge", func(m decay.Law, in Input, d Domain) error {
		f := m.Fraction(in.T)
		low := 0.0
		if d.Below {
			low = -1
		}
		if f <= 1+d.RelTol && f >= low-d.RelTol {
			return nil
		}
		return &Violation{name, in, []float64{f}, fmt.Sprintf("%g … 1", low)}
	}}
}

// Monotone: what is left never grows.
func Monotone() Law {
	const name = "monotone"
	return Law{name, "f(t + dt) <= f(t)", "no source; energy only falls", func(m decay.Law, in Input, d Domain) error {
		a, b := m.Fraction(in.T), m.Fraction(in.T+in.DT)
		if b <= a+d.RelTol*math.Abs(a) {
			return nil
		}
		return &Violation{name, in, []float64{a, b}, "the second no greater than the first"}
	}}
}

// Continuous: charge leaves by a finite current, so that a short time takes
// little: the fall over dt vanishes as dt is halved.
func Continuous() Law {
	const name = "continuous"
	return Law{name, "f(t) − f(t + h) → 0 as h → 0", "finite currents", func(m decay.Law, in Input, d Domain) error {
		lo, hi := float64(in.T), float64(in.T+in.DT)
		for range 80 { // keep the half with the greater fall
			mid := lo + 0.5*(hi-lo)
			if mid <= lo || mid >= hi {
				break
			}
			a, b, c := m.Fraction(units.Time(lo)), m.Fraction(units.Time(mid)), m.Fraction(units.Time(hi))
			if math.Abs(a-b) >= math.Abs(b-c) {
				hi = mid
			} else {
				lo = mid
			}
		}
		// A vertical tangent is continuous too: a stretched exponential of exponent
		// 0.2 falls by 1e-3 in one step of float64. A jump is more than 1e-2.
		a, b := m.Fraction(units.Time(lo)), m.Fraction(units.Time(hi))
		if lo == 0 || math.Abs(a-b) <= 1e-2 {
			return nil
		}
		return &Violation{name, Input{units.Time(lo), units.Time(hi - lo), in.Q}, []float64{a, b}, "two values within 0.01"}
	}}
}

// RateMatches: where the law knows its rate, the rate is the slope of the
// fraction and not positive.
func RateMatches() Law {
	const name = "rate"
	return Law{name, "f′(t) = lim (f(t+h) − f(t−h))/2h, and f′ <= 0", "definition", func(m decay.Law, in Input, d Domain) error {
		r, ok := m.(decay.Rater)
		if !ok || in.T == 0 {
			return nil
		}
		t := float64(in.T)
		slope := func(a, b float64) float64 {
			return (m.Fraction(units.Time(b)) - m.Fraction(units.Time(a))) / (b - a)
		}
		// Slopes of four steps round t. For a smooth law they differ by 1e-4 of
		// t·f″; at a kink or a vertical tangent every value between them is a slope.
		h := 1e-4 * t
		l2, l1, r1, r2 := slope(t-h, t-0.5*h), slope(t-0.5*h, t), slope(t, t+0.5*h), slope(t+0.5*h, t+h)
		bend := math.Max(math.Abs(l1-l2), math.Abs(r2-r1)) // how far a slope changes in half a step
		lo, hi := min(l1, l2, r1, r2)-bend, max(l1, l2, r1, r2)+bend
		got := r.Rate(in.T)
		tol := 1e-6*math.Abs(lo) + 8e-15*math.Max(math.Abs(m.Fraction(in.T)), 1e-3)/h + 1e-300
		if got <= 0 && got >= lo-tol && got <= hi+tol {
			return nil
		}
		return &Violation{name, in, []float64{got}, fmt.Sprintf("between %g and %g (± %g) and not positive", lo, hi, tol)}
	}}
}

// InverseMatches: where the law knows its inverse, the fraction at the time to q
// is q, or the law says that it never gets there and stays above.
func InverseMatches() Law {
	const name = "inverse"
	return Law{name, "f(t(q)) = q", "definition", func(m decay.Law, in Input, d Domain) error {
		l, ok := m.(decay.Timer)
		if !ok {
			return nil
		}
		return checkTime(name, m, l.TimeTo, in, d)
	}}
}

// TimeMatches: [decay.TimeTo] agrees with the law, with or without an inverse.
func TimeMatches() Law {
	const name = "time to a fraction"
	return Law{name, "f(TimeTo(f, q)) = q", "definition", func(m decay.Law, in Input, d Domain) error {
		// Hide the inverse: the search must find the same crossing.
		bare := decay.Function(m.Fraction)
		return checkTime(name, m, func(q float64) (units.Time, error) { return decay.TimeTo(bare, q) }, in, d)
	}}
}

func checkTime(name string, m decay.Law, timeTo func(float64) (units.Time, error), in Input, d Domain) error {
	t, err := timeTo(in.Q)
	if err != nil || math.IsInf(float64(t), 0) {
		if f := m.Fraction(d.MaxTime); f >= in.Q-d.RelTol {
			return nil
		}
		return &Violation{name, in, []float64{float64(t)}, fmt.Sprintf("a time: the law falls below q by %v (error: %v)", d.MaxTime, err)}
	}
	if t == 0 {
		if m.Fraction(0) <= in.Q || in.Q > 1-1e-12 || m.Fraction(units.Time(math.SmallestNonzeroFloat64)) <= in.Q {
			return nil
		}
		return &Violation{name, in, []float64{0}, "a time above 0"}
	}
	// f may be steep: compare within the change of f over a few ulp of t.
	f := m.Fraction(t)
	lo, hi := m.Fraction(t*(1-1e-12)), m.Fraction(t*(1+1e-12))
	if f <= lo+d.RelTol && f >= hi-d.RelTol && in.Q <= lo+d.RelTol*in.Q+1e-12 && in.Q >= hi-d.RelTol*in.Q-1e-12 {
		return nil
	}
	return &Violation{name, in, []float64{float64(t), f}, fmt.Sprintf("a time at which %g is left", in.Q)}
}

// Memoryless: what is left after t decays as the fresh charge does. It holds for
// one exponential only and is not among [Laws].
func Memoryless() Law {
	const name = "memoryless"
	return Law{name, "f(t + dt) = f(t)·f(dt)", "linear leak with one time constant", func(m decay.Law, in Input, d Domain) error {
		a, b := m.Fraction(in.T+in.DT), m.Fraction(in.T)*m.Fraction(in.DT)
		// t + dt is rounded: its error times the rate, relative (t+dt)/τ·2⁻⁵³ = −ln f·2⁻⁵³.
		tol := d.RelTol*math.Abs(b)*(1-math.Log(math.Max(math.Abs(b), 1e-300))) + 1e-300
		if math.Abs(a-b) <= tol {
			return nil
		}
		return &Violation{name, in, []float64{a}, fmt.Sprintf("%g", b)}
	}}
}

// Autonomous returns the statement that a law which depends on the start value
// through an equation dV/dt = g(V) can be stopped and restarted: restart gives
// the law of the same equation started at the fraction f of the first start.
func Autonomous(restart func(f float64) (decay.Law, error)) Law { // f [1]
	const name = "autonomous"
	return Law{name, "f(t + dt) = f(t)·f_restarted(dt)", "uniqueness of the solution of dV/dt = g(V)", func(m decay.Law, in Input, d Domain) error {
		f := m.Fraction(in.T)
		if f == 0 {
			return nil
		}
		next, err := restart(f)
		if err != nil {
			return &Violation{name, in, []float64{f}, "a law restarted there: " + err.Error()}
		}
		a, b := m.Fraction(in.T+in.DT), f*next.Fraction(in.DT)
		tol := d.RelTol*math.Abs(b)*(1-math.Log(math.Max(math.Abs(b), 1e-300))) + 1e-300
		if math.Abs(a-b) <= tol {
			return nil
		}
		return &Violation{name, in, []float64{a}, fmt.Sprintf("%g", b)}
	}}
}
