package decay_test

import (
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/units"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{decay.ClassScheme{}, decay.ModelComparison{}, decay.CurieSchweidler{}, decay.Electrode{},
		decay.Exponential{}, decay.Exponentials{}, decay.Fit{}, decay.FloatingFilm{}, decay.FreeDisc{},
		decay.FreeStripe{}, decay.GuardedElectrode{}, decay.Hyperbolic{}, decay.Later{}, decay.Layer{},
		decay.LineUnderProbe{}, decay.Liquid{}, decay.Logarithmic{}, decay.Mixture{}, decay.OffsetExponential{},
		decay.OhmicMobility{}, decay.Parallel{}, decay.PassLimit{}, decay.PlateMonitor{}, decay.PowerLaw{},
		decay.Sequence{}, decay.SpotUnderProbe{}, decay.Stack{}, decay.Stretched{}, decay.Transit{}, decay.ConductingFilm{},
		decay.Left{}, decay.TimeSpread{}}
	law, err := decay.NewExponential(1)
	if err != nil {
		t.Fatal(err)
	}
	args := []any{law, units.Celsius(20), "V0"}
	for _, f := range zerocheck.Faults(".", values, args, map[string]string{
		"Liquid.Law": "the zero Exponential, which answers NaN",
		"Stack.Law":  "the zero Exponentials, which answer NaN",
	}) {
		t.Error(f)
	}
	for _, v := range values {
		l, ok := v.(decay.Law)
		if !ok {
			continue
		}
		for _, x := range []units.Time{-1, 0, 1, units.Time(math.Inf(1))} {
			if f := l.Fraction(x); !math.IsNaN(f) {
				t.Errorf("%T: %g of the start is left after %v", l, f, x)
			}
			if r, ok := l.(decay.Rater); ok && !math.IsNaN(r.Rate(x)) {
				t.Errorf("%T: falls by %g 1/s after %v", l, r.Rate(x), x)
			}
		}
		if x, err := decay.TimeTo(l, 0.5); err == nil {
			t.Errorf("%T: falls to one half in %v", l, x)
		}
	}
	if _, err := (decay.PlateMonitor{}).DischargeTime(func(units.Voltage) units.Current { return 1e-9 },
		1000, 100); err == nil {
		t.Error("the zero PlateMonitor is discharged")
	}
	var none decay.Function
	if f := none.Fraction(1); !math.IsNaN(f) {
		t.Errorf("no closure gives %g", f)
	}
}
