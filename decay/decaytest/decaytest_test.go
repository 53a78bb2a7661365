package decaytest_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/decay"
	"example.org/pithball/decay/decaytest"
	"example.org/pithball/units"
)

func TestAnyLaw(t *testing.T) {
	decaytest.Run(t, decaytest.AnyLaw(), decaytest.Domain{})
}

func FuzzAnyLaw(f *testing.F) {
	decaytest.Fuzz(f, decaytest.Simple(), decaytest.Domain{})
}

// TestLawsBite proves that every statement fails for the law that breaks it.
func TestLawsBite(t *testing.T) {
	var inputs []decaytest.Input
	for _, x := range []units.Time{0.1, 0.7, 1.5, 3, 7, 20} {
		inputs = append(inputs, decaytest.Input{T: x, DT: 2, Q: 0.4}, decaytest.Input{T: x, DT: 0.9, Q: 0.1})
	}
	broken := decaytest.Broken()
	all := append(decaytest.Laws(), decaytest.Memoryless())
	if len(all) != len(broken) {
		t.Errorf("%d statements, %d broken laws", len(all), len(broken))
	}
	for _, s := range all {
		m, ok := broken[s.Name]
		if !ok {
			t.Errorf("no broken law for %q", s.Name)
			continue
		}
		d := decaytest.Domain{MinTime: 1e-6, MaxTime: 1e6, RelTol: 1e-9}
		var err error
		for _, in := range inputs {
			err = errors.Join(err, s.Check(m, in, d))
		}
		var v *decaytest.Violation
		if !errors.As(err, &v) || v.Law != s.Name {
			t.Errorf("%s: the broken law passed: %v", s.Name, err)
		}
	}
}

func TestMemoryless(t *testing.T) {
	exp, err := decay.NewExponential(5)
	if err != nil {
		t.Fatal(err)
	}
	decaytest.Run(t, rapid.Just[decay.Law](exp), decaytest.Domain{}, decaytest.With(decaytest.Memoryless()))
}

// TestAutonomous stops and restarts the laws of dV/dt = g(V).
func TestAutonomous(t *testing.T) {
	ohmic, err := decay.NewOhmicMobility(10, 4)
	if err != nil {
		t.Fatal(err)
	}
	hyper, err := decay.NewHyperbolic(0.3)
	if err != nil {
		t.Fatal(err)
	}
	decaytest.Run(t, rapid.Just[decay.Law](ohmic), decaytest.Domain{},
		decaytest.With(decaytest.Autonomous(func(f float64) (decay.Law, error) { return decay.NewOhmicMobility(10, 4*f) })))
	decaytest.Run(t, rapid.Just[decay.Law](hyper), decaytest.Domain{},
		decaytest.With(decaytest.Autonomous(func(f float64) (decay.Law, error) { return decay.NewHyperbolic(0.3 * f) })))
}

// TestLimits checks the laws that contain one another.
func TestLimits(t *testing.T) {
	d := decaytest.Domain{RelTol: 1e-12}
	exp, _ := decay.NewExponential(7)
	stretched, _ := decay.NewStretched(7, 1)
	decaytest.Equivalent(t, exp, stretched, d)
	mobile, _ := decay.NewOhmicMobility(7, 0)
	decaytest.Equivalent(t, exp, mobile, d)
	// a → ∞ with τ/a fixed: the hyperbola. e^(t/τ) − 1 = t/τ to t/2τ = 5e-7 at 1e6 s.
	hyper, _ := decay.NewHyperbolic(1)
	insulator, _ := decay.NewOhmicMobility(1e12, 1e12)
	decaytest.Equivalent(t, hyper, insulator, decaytest.Domain{RelTol: 1e-6})
	power, _ := decay.NewPowerLaw(1, 1)
	decaytest.Equivalent(t, hyper, power, d)
	// n → ∞ with t0/n fixed tends to the exponential as t²/(2·n·τ²): 1 % at 10 τ … so few τ only.
	wide, _ := decay.NewPowerLaw(700, 100)
	decaytest.Equivalent(t, exp, wide, decaytest.Domain{MaxTime: 0.7, RelTol: 1e-4})
	offset, _ := decay.NewOffsetExponential(7, 1000, 0)
	decaytest.Equivalent(t, exp, offset, d)
	twins, _ := decay.NewExponentials([]float64{1, 2}, []units.Time{7, 7})
	decaytest.Equivalent(t, exp, twins, d)
	half, _ := decay.NewExponential(14)
	both, _ := decay.NewParallel(half, half) // rates add: 1/14 + 1/14 = 1/7
	decaytest.Equivalent(t, exp, both, d)
	fresh, _ := decay.After(stretched, 0)
	decaytest.Equivalent(t, stretched, fresh, d)
	seq, _ := decay.Then(exp, 3, exp)
	decaytest.Equivalent(t, exp, seq, d)
}

func TestPublished(t *testing.T) {
	for _, p := range decaytest.Published() {
		if got := p.Law.Fraction(p.T); !(math.Abs(got-p.Want) <= p.RelTol*p.Want) {
			t.Errorf("%s (%s): got %.16g, want %.16g, tolerance %g", p.Name, p.Source, got, p.Want, p.RelTol)
		}
	}
}

// A law of one's own, checked at a few points without a test engine: a leak that
// forgets that a meter cannot read before the charge was there.
func ExampleCheck() {
	mine := decay.Function(func(t units.Time) float64 { return math.Exp(-float64(t) / 10) })
	err := decaytest.Check(mine, decaytest.Domain{}, nil, decaytest.Input{T: 5, DT: 10, Q: 0.5})
	var v *decaytest.Violation
	if errors.As(err, &v) {
		fmt.Printf("%s: got %.3f, want %s\n", v.Law, v.Got, v.Want)
	}
	// Output:
	// start: got [1.000 2.718], want 1 at 0 and 1 at −dt
}
