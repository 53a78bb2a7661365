package ioniser

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// A factor on the current is one on 1/v: twice the current at v is the model at v/2. A fit returns what it was fitted
// to, and in the middle of a constant current it is the ratio of what was taken.
func TestFitted(t *testing.T) {
	for _, s := range []Spec{pointSpec(t, 0.03), blownSpec(t, 0.1, 100), tinsel(0.025, 0.1)} {
		p := at(t, s, 0.3)
		near(t, "twice", float64(p.Times(2).Act(4e-6, 6).Left), float64(p.Act(4e-6, 3).Left), 1e-12)
		near(t, "once", float64(p.Times(1).Act(4e-6, 6).Left), float64(p.Act(4e-6, 6).Left), 1e-12)
		f, err := p.Fit(4e-6, 2.9e-6, 6)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "fitted", float64(f.Act(4e-6, 6).Left), 2.9e-6, 1e-6)
		g, _ := p.Fit(4e-6, p.Act(4e-6, 60).Left, 60)
		near(t, "itself", g.Factor(), 1, 1e-6)
		if f.Place() != p {
			t.Error("another place")
		}
		if n, err := p.Fit(4e-6, 5e-6, 6); err != nil || n.Factor() != 0 || n.Act(4e-6, 6).Deposited != 0 ||
			n.Act(4e-6, 6).Validity&known.BelowRange == 0 || n.Act(4e-6, 0).Deposited != 0 {
			t.Error("a bar that takes nothing", n.Factor(), err)
		}
		all, err := p.Fit(4e-6, -1e-6, 6)
		if err != nil || !(all.Factor() > 0) || math.IsInf(all.Factor(), 0) {
			t.Error("a bar that takes more than all", all.Factor(), err)
		}
	}
	// Emission limited: 1e-9 A/m takes I'/v whatever the field, so twice as much taken is twice the factor.
	s := blownSpec(t, 0.1, 100)
	e := s.Emitter.Spec()
	e.Current = 1e-9
	s.Emitter = emitter(t, e)
	p := at(t, s, 0.3)
	full := float64(p.Current(1e-5))
	f, err := p.Fit(1e-5, units.SurfaceChargeDensity(1e-5-2*full/5), 5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "ratio", f.Factor(), 2, 0.01)

	q := at(t, tinsel(0.025, 0.05), 0.3)
	_, on := q.DeadBand()
	for _, c := range [][3]float64{{0, 0, 1}, {float64(on) / 2, 0, 1}, {math.NaN(), 0, 1}, {1e-5, math.NaN(), 1},
		{1e-5, 1e-6, 0}, {1e-5, 1e-6, math.NaN()}} {
		_, err := q.Fit(units.SurfaceChargeDensity(c[0]), units.SurfaceChargeDensity(c[1]), units.Speed(c[2]))
		var f *known.FieldError
		if !errors.As(err, &f) {
			t.Errorf("%v: %v", c, err)
		}
	}
	for _, k := range []float64{-1, math.NaN(), math.Inf(1)} {
		if !math.IsNaN(float64(q.Times(k).Act(1e-5, 1).Left)) {
			t.Errorf("factor %g", k)
		}
	}
}
