package hazard

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// The distributions have the stated quantiles, felt before pain, and a person
// charged slowly is charged as by the steady current, suddenly by ε0·E·A/C.
func TestShockAndInduced(t *testing.T) {
	p, err := NewConductor(ConductorSpec{Body: Person, Capacitance: 100e-12, Resistance: 1e9})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what   string
		m      ShockThreshold
		lo, hi units.Voltage // 5 and 95 % on 100 pF
	}{
		{"felt", FeltThreshold(), 987, 2279}, // 1500 V·√(3.0/1.3)^∓1
		{"pain, women", PainThreshold(Women), 1300, 2500},
		{"pain, men", PainThreshold(Men), 1500, 3000},
		{"fright, women", FrightThreshold(Women), 1500, 4000},
		{"fright, men", FrightThreshold(Men), 2500, 6000},
		{"unknown sex", PainThreshold(9), 1300, 2500},
	} {
		if err := c.m.Check(); err != nil {
			t.Error(err)
		}
		lo, hi := c.m.Share(p.Energy(c.lo)), c.m.Share(p.Energy(c.hi))
		if !(math.Abs(lo-0.05) <= 1e-3) || !(math.Abs(hi-0.95) <= 1e-3) {
			t.Errorf("%s: %.4f … %.4f", c.what, lo, hi)
		}
		mid := units.Voltage(math.Sqrt(float64(c.lo) * float64(c.hi)))
		if got := c.m.Share(p.Energy(mid)); !(math.Abs(got-0.5) <= 1e-3) || c.m.Share(0) != 0 || c.m.Share(1e6) != 1 {
			t.Errorf("%s: %g at %v", c.what, got, mid)
		}
		if !math.IsNaN(c.m.Share(-1)) || !math.IsNaN(c.m.Share(units.Energy(math.NaN()))) {
			t.Error("negative energy")
		}
	}
	// The trade's fact: a shock is felt from about 1,500 V (common practice, no source).
	if got := FeltThreshold().Share(p.Energy(1500)); !(math.Abs(got-0.5) <= 1e-3) {
		t.Errorf("%g feel 1.5 kV", got)
	}
	// Nobody hurts who does not feel, nobody starts more easily than it hurts; log-normals
	// of different width cross in their tails, hence the hundredth.
	for v := units.Voltage(500); v < 8000; v += 100 {
		w := p.Energy(v)
		for _, s := range []Sex{Women, Men} {
			felt, pain, fright := FeltThreshold().Share(w), PainThreshold(s).Share(w), FrightThreshold(s).Share(w)
			if pain > felt+0.01 || fright > pain+0.01 {
				t.Errorf("%v, %v: felt %.3f, pain %.3f, fright %.3f", v, s, felt, pain, fright)
			}
		}
	}
	if (ShockThreshold{}).Check() == nil || !math.IsNaN((ShockThreshold{}).Share(1)) {
		t.Error("zero threshold accepted")
	}
	const e, a = 100e3, 0.5 // 100 kV/m on 0.5 m²: 0.443 µC, 4.43 kV on 100 pF
	if r := p.Induced(e, a, 0); !near(float64(r.Voltage), 4427.1, 1e-4) {
		t.Errorf("%+v", r)
	}
	i := units.Current(units.Epsilon0 * e * a / 2)
	if got, want := p.Induced(e, a, 2).Voltage, p.After(2, i); !near(float64(got), float64(want), 1e-12) {
		t.Errorf("%v, want %v", got, want)
	}
	if r := p.Induced(e, -1, 0); !math.IsNaN(float64(r.Voltage)) {
		t.Errorf("%+v", r)
	}
}

// TRGS 727, Annex D, as quoted by the German federal institute for occupational
// safety (electric shock dossier): harmful above 50 µC or 350 mJ.
func TestShockHarmFigures(t *testing.T) {
	if w, q := float64(ShockHarmEnergy), float64(ShockHarmCharge); !near(w, 0.350, 1e-12) || !near(q, 50e-6, 1e-12) {
		t.Errorf("%g J, %g C", w, q)
	}
}
