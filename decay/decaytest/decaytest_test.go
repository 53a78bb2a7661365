package decaytest_test

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.org/pithball/decay"
	"example.org/pithball/decay/decaytest"
	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// One seed, so that a run repeats; -rapid.seed=0 draws anew, and fuzzing explores.
func init() { _ = flag.Set("rapid.seed", "1") }

func TestLaws(t *testing.T)       { decaytest.Laws(decaytest.Domain{}).RunModels(t) }
func TestMemoryless(t *testing.T) { decaytest.Memoryless(decaytest.Domain{}).RunModels(t) }
func TestSheets(t *testing.T)     { decaytest.Sheets().Run(t, decaytest.ChargeMaps) }

func TestFitters(t *testing.T)  { decaytest.Fitters().Run(t, decaytest.Exponentials) }
func TestRelaxers(t *testing.T) { decaytest.Relaxers().Run(t, decay.RelaxationBand) }

// TestFinishers tries the solved span, which takes some tenths of a second, at a few
// finishes only.
func TestFinishers(t *testing.T) {
	in := []decaytest.Finish{{Speed: 2, Rho: 1e10, Spread: 0.5, Enough: 0.5}, {Speed: 5, Rho: 1e9, Spread: 1, Enough: 0.3},
		{Speed: 3, Rho: 3e11, Spread: 1.5, Enough: 0.7}}
	if testing.Short() {
		in = in[:1]
	}
	if err := decaytest.Finishers().Check(sheet.AntistatOnSpan, in...); err != nil {
		t.Error(err)
	}
}

func FuzzLaws(f *testing.F) { decaytest.Laws(decaytest.Domain{}).FuzzModels(f) }

// law returns what a constructor made.
func law[T decay.Law](l T, err error) decay.Law {
	if err != nil {
		panic(err)
	}
	return l
}

func restartHyperbolic(f float64) (decay.Law, error) { return decay.NewHyperbolic(0.3 * f) }

func TestProof(t *testing.T) {
	d := decaytest.Domain{}
	exp := law(decay.NewExponential(7))
	if err := errors.Join(decaytest.Laws(d).Prove(), decaytest.Memoryless(d).Prove(), decaytest.Like(exp, d).Prove(),
		decaytest.Autonomous(restartHyperbolic, d).Prove(), decaytest.Sheets().Prove(), decaytest.Fitters().Prove(),
		decaytest.Relaxers().Prove(), decaytest.Finishers().Prove()); err != nil {
		t.Error(err)
	}
}

// TestAutonomous stops and restarts the laws of dV/dt = g(V).
func TestAutonomous(t *testing.T) {
	restart := func(f float64) (decay.Law, error) { return decay.NewOhmicMobility(10, 4*f) }
	decaytest.Autonomous(restart, decaytest.Domain{}).Run(t, law(decay.NewOhmicMobility(10, 4)))
	decaytest.Autonomous(restartHyperbolic, decaytest.Domain{}).Run(t, law(decay.NewHyperbolic(0.3)))
}

// TestLimits checks the laws that contain one another.
func TestLimits(t *testing.T) {
	exact := decaytest.Domain{RelTol: 1e-12}
	exp, hyper := law(decay.NewExponential(7)), law(decay.NewHyperbolic(1))
	stretched, half := law(decay.NewStretched(7, 1)), law(decay.NewExponential(14))
	for _, c := range []struct {
		name      string
		want, got decay.Law
		d         decaytest.Domain
	}{
		{"stretched", exp, stretched, exact},
		{"no mobility", exp, law(decay.NewOhmicMobility(7, 0)), exact},
		// a → ∞ with τ/a fixed: the hyperbola. e^(t/τ) − 1 = t/τ to t/2τ = 5e-7 at 1e6 s.
		{"mobility only", hyper, law(decay.NewOhmicMobility(1e12, 1e12)), decaytest.Domain{RelTol: 1e-6}},
		{"power 1", hyper, law(decay.NewPowerLaw(1, 1)), exact},
		// n → ∞ with t0/n fixed tends to the exponential as t²/(2·n·τ²): 1 % at 10 τ … so few τ only.
		{"great power", exp, law(decay.NewPowerLaw(700, 100)), decaytest.Domain{MaxTime: 0.7, RelTol: 1e-4}},
		{"no offset", exp, law(decay.NewOffsetExponential(7, 1000, 0)), exact},
		{"twins", exp, law(decay.NewExponentials([]float64{1, 2}, []units.Time{7, 7})), exact},
		{"rates add", exp, law(decay.NewParallel(half, half)), exact}, // 1/14 + 1/14 = 1/7
		{"fresh", stretched, law(decay.After(stretched, 0)), exact},
		{"then the same", exp, law(decay.Then(exp, 3, exp)), exact},
	} {
		t.Run(c.name, func(t *testing.T) { decaytest.Like(c.want, c.d).Run(t, c.got) })
	}
}

// TestComputed compares with answers computed outside pithball.
func TestComputed(t *testing.T) {
	for _, p := range []struct {
		name, source string
		law          decay.Law
		t            units.Time
		want, tol    float64 // [1] fraction left, and the accuracy of the source
	}{
		{"exponential at its time constant", "definition of e", law(decay.NewExponential(2)), 2, 0.36787944117144233, 1e-15},
		{"ohmic and mobility, a = 1, at τ", "dV/dt = −V − V² integrated by a Runge–Kutta method of order 8",
			law(decay.NewOhmicMobility(1, 1)), 1, 0.22539967356, 1e-10},
		{"stretched, τ 100 s, β 0.5, at 530.189811 s", "root by bisection and inverse quadratic steps",
			law(decay.NewStretched(100, 0.5)), 530.1898110478, 0.1, 1e-9},
		{"transit, five transit times", "fan solution by hand, 1/(2·5)", law(decay.NewTransit(1, 1)), 5, 0.1, 1e-15},
		{"stripe on a free sheet, a/v = 0.2 s, at 0.3 s", "spectral integral in multiple precision",
			law(decay.NewFreeStripe(10*units.Millimetre, 0.05)), 0.3, 0.3743340836219976, 1e-14},
		{"disc on a free sheet, a/v = 0.2 s, at 0.3 s", "Hankel integral in multiple precision",
			law(decay.NewFreeDisc(10*units.Millimetre, 0.05)), 0.3, 0.1679497056621563, 1e-14},
	} {
		if got := p.law.Fraction(p.t); !(math.Abs(got-p.want) <= p.tol*p.want) {
			t.Errorf("%s (%s): got %.16g, want %.16g, tolerance %g", p.name, p.source, got, p.want, p.tol)
		}
	}
}

// A law of one's own, checked without a test: a leak that forgets that a meter cannot
// read before the charge was there.
func ExampleLaws() {
	mine := decay.Function(func(t units.Time) float64 { return math.Exp(-float64(t) / 10) })
	fmt.Println(decaytest.Laws(decaytest.Domain{}).Check(mine))
	// Output:
	// start: f(0) = 1 and f(t) = 1 before
	// 	why: definition of the fraction
	// 	model: decay.Function
	// 	T: 1 s
	// 	DT: 1 s
	// 	Q: 1
	// 	got: 1, 1.1051709180756477
	// 	want: 1 at 0 and 1 at −dt
}

// An evolver of one's own, which loses charge over the border of its mesh.
func ExampleSheets() {
	lossy := func(s sheet.MapSpec) (decaytest.Evolver, error) {
		e, err := sheet.NewChargeMap(s)
		return border{e}, err
	}
	var v *lawtest.Violation // the first of them
	if err := decaytest.Sheets().Check(lossy); errors.As(err, &v) {
		fmt.Printf("%s\ngot: %s\nwant: %s\n", v.Input, v.Got, v.Want)
	}
	// Output:
	// Sheet.Support: free span
	// Sheet.Thickness: 1 µm
	// Sheet.RelativePermittivity: 1
	// Sheet.SurfaceResistivity: 100 MΩ/sq
	// Charge: 64 values, 0 but for [0] 1
	// Rows: 1
	// Pixel: 2 mm
	// T: 100 µs
	// DT: 100 µs
	// Shift: 1
	// Waves: 0
	// got: 0
	// want: 1 in value 0
}

type border struct{ decaytest.Evolver }

func (b border) MapTo(dst []float64, t units.Time) error {
	err := b.Evolver.MapTo(dst, t)
	dst[0] = 0
	return err
}

// halves has an inverse and a rate that are not those of package decay: nobody would call them.
type halves struct{ decay.Law }

func (halves) TimeTo(f float64) units.Time { return units.Time(-math.Log2(f)) }
func (halves) Rate(t float64) float64      { return -math.Ln2 * math.Exp2(-t) }

// TestOtherSignature: a method of another signature is told, never passed over.
func TestOtherSignature(t *testing.T) {
	m := halves{law(decay.NewExponential(1 / math.Ln2))}
	k := decaytest.Laws(decaytest.Domain{})
	var told []string
	for _, l := range k.Laws {
		one := k
		one.Laws = []lawtest.Law[decay.Law, decaytest.Input]{l}
		var v *lawtest.Violation
		if errors.As(one.Check(m), &v) {
			told = append(told, l.Name+": "+v.Got+"; "+v.Want)
		}
	}
	want := []string{
		"rate: a method Rate of type func(decaytest_test.halves, float64) float64; Rate(t units.Time) float64",
		"inverse: a method TimeTo of type func(decaytest_test.halves, float64) units.Time; " +
			"TimeTo(f float64) (units.Time, error)",
	}
	if diff := cmp.Diff(want, told); diff != "" {
		t.Error(diff)
	}
}
