package charge

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestImpact(t *testing.T) {
	e := EffectiveModulus(3.3e9, 0.35, units.Pressure(math.Inf(1)), 0)
	checkNear(t, "E* of PMMA on a rigid wall", float64(e), 3.3e9/(1-0.1225), 1)
	for i, c := range [][4]float64{{0, 0, 1, 0}, {1, 0, -1, 0}, {1, -1.1, 1, 0}, {1, 0.6, 1, 0}, {1, 0, 1, -1.1},
		{1, 0, 1, 0.6}, {1, math.NaN(), 1, 0}} {
		if got := EffectiveModulus(units.Pressure(c[0]), c[1], units.Pressure(c[2]), c[3]); !math.IsNaN(float64(got)) {
			t.Errorf("modulus %d: %v", i, got)
		}
	}
	checkNear(t, "incompressible", float64(EffectiveModulus(1e9, 0.5, 1e9, -1)), 1e9/0.75, 1)
	checkNear(t, "two equal bodies", float64(EffectiveModulus(1e9, 0.3, 1e9, 0.3)), 1e9/(2*0.91), 1)
	s := ImpactSpec{Radius: 100 * um, Density: 1180, Modulus: e, Transferred: 50 * uC, Equilibrium: 1e-12}
	i, err := NewImpact(s)
	if err != nil {
		t.Fatal(err)
	}
	checkNear(t, "area at 10 m/s", float64(i.Area(10)), 8.579e-10, 0.005*8.579e-10)
	checkNear(t, "v^0.8", float64(i.Area(20)/i.Area(10)), math.Pow(2, 0.8), 1e-12)
	s.Hardness = 2e8
	p, _ := NewImpact(s)
	checkNear(t, "plastic: ∝ v", float64(p.Area(200)/p.Area(100)), 2, 1e-12)
	// ½mv² = p·A²/(4πR)
	m := 4.0 / 3 * math.Pi * 1e-12 * 1180
	checkNear(t, "plastic energy balance", 2e8*math.Pow(float64(p.Area(100)), 2)/(4*math.Pi*1e-4)/(m*100*100/2), 1, 1e-12)
	// No jump where the plastic area takes over, and the mean pressure there is
	// between first yield and full flow.
	last := 0.0
	for v := 0.01; v < 100; v *= 1.01 {
		a := float64(p.Area(units.Speed(v)))
		if a < last || last > 0 && a/last > 1.0102 {
			t.Fatalf("area jumps at %g m/s: %g to %g", v, last, a)
		}
		if last == 0 && a != float64(i.Area(units.Speed(v))) {
			t.Errorf("slow impact is not elastic")
		}
		if a > float64(i.Area(units.Speed(v)))*1.000001 {
			// Hertz: mean pressure (4E*/3π)·√(δ/R), δ = A/(πR)
			d := float64(i.Area(units.Speed(v))) / (math.Pi * 1e-4)
			if mean := 4 * float64(e) / (3 * math.Pi) * math.Sqrt(d/1e-4); mean < 0.55*2e8 &&
				a > 1.001*float64(i.Area(units.Speed(v))) {
				t.Fatalf("plastic at %g of the hardness", mean/2e8)
			}
		}
		last = a
	}
	// Charge tends to the equilibrium from either side and never crosses it.
	for _, q := range []units.Charge{0, -3e-12, 3e-12} {
		for range 500 {
			n := i.Charge(q, 10)
			if (float64(n)-1e-12)*(float64(q)-1e-12) < -1e-30 {
				t.Fatalf("crosses: %v to %v", q, n)
			}
			q = n
		}
		checkNear(t, "equilibrium", float64(q), 1e-12, 1e-18)
	}
	// A step of more than the whole way ends at the equilibrium.
	s.Equilibrium = 1e-15
	w, _ := NewImpact(s)
	checkNear(t, "large step", float64(w.Charge(-5e-15, 100)), 1e-15, 1e-28)
	s.Equilibrium = 0
	u, _ := NewImpact(s)
	checkNear(t, "no saturation", float64(u.Charge(5e-12, 1)-5e-12), float64(u.Charge(0, 1)), 1e-26)
	checkNear(t, "normal component", float64(Normal(10, units.Angle(math.Pi/6))), 5, 1e-12)
	if !math.IsNaN(float64(i.Area(units.Speed(math.NaN())))) ||
		!math.IsNaN(float64(i.Charge(units.Charge(math.NaN()), 1))) || !math.IsNaN(float64(EffectiveModulus(0, 0, 1, 0))) {
		t.Error("NaN is lost")
	}
	if n := testing.AllocsPerRun(100, func() { i.Charge(0, 10) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
	var f *known.FieldError
	if _, err := NewImpact(ImpactSpec{Radius: 1e-4, Density: 1000, Modulus: 1e9, Transferred: 1e-6,
		Equilibrium: -1e-12}); !errors.As(err, &f) || f.Field != "equilibrium" {
		t.Errorf("opposite signs: %v", err)
	}
	if _, err := NewImpact(ImpactSpec{}); !errors.As(err, &f) {
		t.Errorf("empty: %v", err)
	}
}

func TestPowder(t *testing.T) {
	o, err := FindPowderOperation("pneumatic conveying")
	if err != nil {
		t.Fatal(err)
	}
	lo, hi := o.DoseCharge(0.012)
	checkNear(t, "12 g, least", float64(lo), 1.2e-9, 1e-18)
	checkNear(t, "12 g, greatest", float64(hi), 1.2e-5, 1e-15)
	if lo, _ := o.DoseCharge(-1); !math.IsNaN(float64(lo)) || !math.IsNaN(float64(DoseCharge(1, units.Mass(math.NaN())))) {
		t.Error("negative mass accepted")
	}
	// Gauss: the flux through the wall is the charge inside, for every shape.
	const r, rho = 1.5, 2e-6
	for _, c := range []struct {
		shape        Cloud
		charge, wall float64
	}{{SlabCloud, rho * 2 * r, 2}, {CylinderCloud, rho * math.Pi * r * r, 2 * math.Pi * r}, {SphereCloud,
		rho * 4 / 3 * math.Pi * r * r * r, 4 * math.Pi * r * r}} {
		e, v := CloudField(c.shape, r, 0.2, 1e-5)
		checkNear(t, c.shape.String()+" flux", float64(e)*c.wall*units.Epsilon0, c.charge, 1e-15)
		checkNear(t, c.shape.String()+" potential", float64(v), float64(e)*r/2, 1e-9) // linear field
	}
	if e, v := CloudField(Cloud(9), 1, 1, 1); !math.IsNaN(float64(e)) || !math.IsNaN(float64(v)) {
		t.Error("unknown shape accepted")
	}
	if w, f := ConeEnergy(1, units.Millimetre); !(math.Abs(float64(w)-5.22e-3) <= 1e-12) || f != known.Unpublished {
		t.Errorf("cone: %v, %v", w, f)
	}
	if _, f := ConeEnergy(5, 10*units.Millimetre); f&known.AboveRange == 0 {
		t.Errorf("cone beyond its range: %v", f)
	}
	for rho, want := range map[units.VolumeResistivity]PowderClass{1e5: LowResistivity, 1e6: MediumResistivity,
		9e9: MediumResistivity, 1e10: HighResistivity} {
		if c, err := ClassifyPowder(rho); err != nil || c != want {
			t.Errorf("%v: %v, %v", rho, c, err)
		}
	}
	if _, err := ClassifyPowder(units.VolumeResistivity(math.NaN())); err == nil {
		t.Error("NaN classified")
	}
}

func TestLiquid(t *testing.T) {
	checkNear(t, "18 s at 1 pS/m and εr 2", float64(liquidRelaxation(2, 1e-12)), 17.7, 0.05)
	if !math.IsInf(float64(liquidRelaxation(2, 0)), 1) || !math.IsNaN(float64(liquidRelaxation(0, 1))) {
		t.Error("limits of the relaxation time")
	}
	inf := units.Length(math.Inf(1))
	long, _ := StreamingCurrent(2, 0.1, inf, 5)
	short, _ := StreamingCurrent(2, 0.1, 10, 5)
	checkNear(t, "L = vτ builds up 1 − 1/e", float64(short/long), 1-math.Exp(-1), 1e-12)
	q, f := StreamingDensity(2)
	checkNear(t, "current is density times flow", float64(q)*2*math.Pi*0.01/4, float64(long), 1e-20)
	if f != known.Unpublished {
		t.Errorf("flag %v", f)
	}
	twice, _ := StreamingCurrent(4, 0.2, inf, 5)
	checkNear(t, "∝ v²d²", float64(twice/long), 16, 1e-12)
	for _, c := range [][4]float64{{math.NaN(), 1, 1, 1}, {1, -1, 1, 1}, {1, 1, -1, 1}, {1, 1, 1, math.NaN()}} {
		if i, _ := StreamingCurrent(units.Speed(c[0]), units.Length(c[1]), units.Length(c[2]),
			units.Time(c[3])); !math.IsNaN(float64(i)) {
			t.Errorf("StreamingCurrent%v = %v", c, i)
		}
	}
	if ResidenceKept(0, 0) != 1 || ResidenceKept(1, 0) != 0 || ResidenceKept(1, units.Time(math.Inf(1))) != 1 ||
		ResidenceKept(units.Time(math.Inf(1)), 1) != 0 || !math.IsNaN(ResidenceKept(-1, 1)) {
		t.Error("limits of the residence")
	}
	for _, c := range []struct {
		s    LiquidFlow
		d, v float64
	}{{TwoPhase, 0.1, 1}, {LowConductivity, 0.1, 5}, {LowConductivity, 0.02, 7}, {Conducting, 0.5, 7}} {
		if v, f := VelocityLimit(c.s, units.Length(c.d)); float64(v) != c.v || f != known.Unpublished {
			t.Errorf("%+v: %v, %v", c, v, f)
		}
	}
	if v, _ := VelocityLimit(LiquidFlow(7), 1); !math.IsNaN(float64(v)) {
		t.Error("unknown state accepted")
	}
	checkNear(t, "rubbed soles", float64(RubbedDensity(90e-12, 3000, 0.015)), 18e-6, 1e-15)
	if !math.IsNaN(float64(RubbedDensity(1, 1, 0))) {
		t.Error("area 0 accepted")
	}
}

func TestNames(t *testing.T) {
	for got, want := range map[string]string{TransferRuled.String(): "transfer", BackFlowRuled.String(): "back-flow",
		GasRuled.String(): "gas", Stage(9).String(): "Stage(9)",
		PeelContact.String(): "peel", SlideContact.String(): "slide", Mode(9).String(): "Mode(9)",
		CylinderCloud.String(): "cylinder", Cloud(9).String(): "Cloud(9)",
		MediumResistivity.String(): "medium resistivity", PowderClass(9).String(): "PowderClass(9)"} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
