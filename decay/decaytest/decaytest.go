// Package decaytest checks that a [decay.Law] behaves as a decay must, and that what
// evolves charge on a sheet obeys the laws of every sheet. It is for the test suites
// of other projects that write laws of their own, and it is what pithball checks its
// own laws with:
//
//	func TestMyLaw(t *testing.T) {
//		decaytest.Laws(decaytest.Domain{}).Run(t, myLaw)
//	}
//
// See package lawtest for what a kit can do. (A law of decay is a [decay.Law]; a
// [lawtest.Law] is a law about them.) Import this package from tests only.
package decaytest

import (
	"fmt"
	"math"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Input is one point at which a law of decay is tried.
type Input struct {
	T  units.Time // time since the start, now and then 0
	DT units.Time // a further time, > 0
	Q  float64    // [1] a fraction, 1e-6 … 1
}

// Domain bounds the inputs for which the law under test claims to hold. The zero
// value is right for most laws.
type Domain struct {
	MinTime units.Time // shortest time tried; 0 means 1e-6 s
	MaxTime units.Time // longest time tried; 0 means 1e6 s
	RelTol  float64    // [1] slack for rounding, not for physics; 0 means 1e-9
	Below   bool       // the law may fall below 0 (a balance voltage of the other sign)
}

// kit is a kit on the domain, which it fills.
func kit(d *Domain) lawtest.Kit[decay.Law, Input] {
	if d.MinTime == 0 {
		d.MinTime = 1e-6 * units.Second
	}
	if d.MaxTime == 0 {
		d.MaxTime = 1e6 * units.Second
	}
	if d.RelTol == 0 {
		d.RelTol = 1e-9
	}
	lo, hi := d.MinTime, d.MaxTime
	return lawtest.Kit[decay.Law, Input]{Models: anyLaw, Input: func(g *lawtest.Draw, _ decay.Law) Input {
		in := Input{T: lawtest.Decades(g, "t", lo, hi), DT: lawtest.Decades(g, "dt", lo, hi),
			Q: lawtest.Between(g, "q", 1e-6, 1)}
		if g.Int("at the start", 0, 9) == 9 {
			in.T = 0
		}
		return in
	}}
}

type law = lawtest.Law[decay.Law, Input]

// Laws returns the laws of every law of decay; [decay.Law] says what they ask beyond
// physics. The models drawn are laws of package decay with times from 1 ms to
// 10 000 s, simple and composed, without those that fall below 0. TimeTo and Rate are
// checked where the model has them as [decay.Timer] and [decay.Rater] ask.
func Laws(d Domain) lawtest.Kit[decay.Law, Input] {
	k := kit(&d)
	k.Laws = append(valueLaws(d), slopeLaws(d)...)
	return k
}

// Memoryless returns the law that what is left after t decays as the fresh charge
// does. It holds for one exponential only.
func Memoryless(d Domain) lawtest.Kit[decay.Law, Input] {
	k := kit(&d)
	k.Models = func(g *lawtest.Draw) decay.Law { return must(decay.NewExponential(seconds(g, "tau"))) }
	k.Laws = []law{{
		Name: "memoryless", Says: "f(t + dt) = f(t)·f(dt)", Source: "linear leak with one time constant",
		Broken: must(decay.NewStretched(3*units.Second, 0.5)), // has an age
		Check: func(m decay.Law, in Input) error {
			return restarted(m.Fraction(in.T+in.DT), m.Fraction(in.T)*m.Fraction(in.DT), d)
		},
	}}
	return k
}

// Autonomous returns the law that a decay which depends on the start value through an
// equation dV/dt = g(V) can be stopped and restarted: restart gives the law of the
// same equation started at the fraction f of the first start.
func Autonomous(restart func(f float64) (decay.Law, error), d Domain) lawtest.Kit[decay.Law, Input] { // f [1]
	k := kit(&d)
	k.Models = nil
	k.Laws = []law{{
		Name: "autonomous", Says: "f(t + dt) = f(t)·f_restarted(dt)", Source: "uniqueness of the solution of dV/dt = g(V)",
		Broken: formula(func(t float64) float64 { return 1 / (1 + t*t) }), // begins slowly, whatever is there
		Check: func(m decay.Law, in Input) error {
			f := m.Fraction(in.T)
			if f == 0 {
				return lawtest.Skip("nothing is left")
			}
			next, err := restart(f)
			if err != nil {
				return lawtest.Refused(err)
			}
			return restarted(m.Fraction(in.T+in.DT), f*next.Fraction(in.DT), d)
		},
	}}
	return k
}

// restarted compares a decay with one in two steps. t + dt is rounded: its error times
// the rate is relative (t+dt)/τ·2⁻⁵³ = −ln f·2⁻⁵³.
func restarted(got, want float64, d Domain) error {
	tol := d.RelTol*math.Abs(want)*(1-math.Log(math.Max(math.Abs(want), 1e-300))) + 1e-300
	return lawtest.That(math.Abs(got-want) <= tol, fmt.Sprint(want), got)
}

// Like returns the law that another law gives the same, to the domain's RelTol of the
// greater of both and 1e-12: a fast law against a slow one, or a law against its
// limit.
func Like(want decay.Law, d Domain) lawtest.Kit[decay.Law, Input] {
	k := kit(&d)
	k.Models = nil
	k.Laws = []law{{
		Name: "like", Says: fmt.Sprintf("the fractions of a %T", want), Source: "two ways to one number",
		Broken: decay.Function(func(t units.Time) float64 { return 0.99*want.Fraction(t) + 0.01 }),
		Check: func(m decay.Law, in Input) error {
			a, b := want.Fraction(in.T), m.Fraction(in.T)
			ok := math.Abs(a-b) <= d.RelTol*math.Max(math.Abs(a), math.Abs(b))+1e-12
			return lawtest.That(ok, fmt.Sprint(a), b)
		},
	}}
	return k
}
