package decay_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestElectrodes(t *testing.T) {
	ring := must(decay.NewRing(30.48*units.Millimetre, 57.15*units.Millimetre))
	near(t, "there and back", float64(ring.Resistance(ring.SheetResistance(3.3e9))), 3.3e9, 1e-14)
	// Narrow gap: ring and mean diameter agree to x²/12 with x = ln(d2/d1).
	for _, x := range []float64{0.5, 0.1, 0.01} {
		d2 := units.Length(0.05 * math.Exp(x))
		a, b := must(decay.NewRing(0.05, d2)), must(decay.NewRingMeanDiameter(0.05, d2))
		near(t, "mean diameter over exact", b.Factor()/a.Factor()-1, x*x/12, 0.02)
	}
	// A ring of very narrow gap is a pair of bars rolled up: π·d/gap.
	narrow := must(decay.NewRing(0.1, 0.1+1e-7))
	near(t, "rolled-up bars", narrow.Factor(), must(decay.NewBars(units.Length(math.Pi*0.1), 0.5e-7)).Factor(), 1e-6)
	for _, e := range decay.NamedElectrodes() {
		if e.Name == "" || e.Source.Provenance == known.Unstated || !(e.Electrode.Factor() > 0) {
			t.Errorf("named electrode not filled in: %+v", e)
		}
	}
	for what, v := range map[string]float64{
		"R 0": float64(ring.SheetResistance(0)), "R < 0": float64(ring.SheetResistance(-1)),
		"rho NaN":      float64(ring.Resistance(units.SheetResistance(math.NaN()))),
		"no thickness": float64(must(decay.NewGuardedElectrode(1, 2)).Resistivity(1, 0)),
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s: got %g, want NaN", what, v)
		}
	}
}

// TestClasses: edges belong where the standard puts them, and a resistance is
// never classified as a resistivity.
func TestClasses(t *testing.T) {
	for _, c := range []struct {
		r    units.Resistance
		want decay.ResistanceClass
	}{{9.9e3, decay.Conductive}, {1e4, decay.Dissipative}, {9.9e10, decay.Dissipative}, {1e11, decay.Insulating}} {
		if got, err := decay.ClassIEC61340_5_3.OfRing(c.r); got != c.want || err != nil {
			t.Errorf("ring %v: %v, %v, want %v", c.r, got, err, c.want)
		}
	}
	// 1e11 Ω between the rings is 1e12 Ω per square: the same material is at the
	// insulating edge of both schemes.
	ring := must(decay.NewRing(30.48*units.Millimetre, 57.15*units.Millimetre))
	if got, err := decay.ClassEIA541.OfSheet(ring.SheetResistance(1.001e11)); got != decay.Insulating || err != nil {
		t.Errorf("EIA-541 at 1e12 Ω/sq: %v, %v", got, err)
	}
	var f *known.FieldError
	if _, err := decay.ClassEIA541.OfRing(1e11); !errors.As(err, &f) || f.Field != "measure" {
		t.Errorf("a ring resistance in a scheme of resistivity: %v", err)
	}
	if _, err := decay.ClassIEC61340_5_3.OfRing(-1); !errors.As(err, &f) {
		t.Errorf("negative resistance: %v", err)
	}
	if got, err := decay.ClassIEC60079_32_1Surface.OfRing(1e11); got != decay.Unclassified || err != nil {
		t.Errorf("at the limit of IEC TS 60079-32-1: %v, %v", got, err)
	}
	if got, err := decay.ClassIEC60079_32_1.OfVolume(1e9); got != decay.Dissipative || err != nil {
		t.Errorf("1e9 Ω·m: %v, %v", got, err)
	}
	if got, err := decay.ClassEIA541Volume.OfVolume(1e9); got != decay.Insulating || err != nil {
		t.Errorf("1e11 Ω·cm: %v, %v", got, err)
	}
	if lo, hi := decay.ClassEIA541.Limits(); lo != 1e5 || hi != 1e12 ||
		decay.ClassEIA541.Measure() != decay.SurfaceResistivity {
		t.Errorf("EIA-541: %g, %g, %v", lo, hi, decay.ClassEIA541.Measure())
	}
}

func TestPlate(t *testing.T) {
	p := must(decay.NewPlateMonitor(decay.MonitorCapacitance, 1e15))
	near(t, "self time", float64(p.SelfTime()), 2e4, 1e-14)
	// A linear current is the exponential; both signs alike.
	linear := func(v units.Voltage) units.Current { return units.Current(2e-12 * float64(v)) }
	for _, sign := range []units.Voltage{1, -1} {
		got := must(p.DischargeTime(linear, sign*1000, sign*100))
		near(t, "linear current", float64(got), 20e-12/(2e-12+1e-15)*math.Ln10, 1e-10)
	}
	// A constant current is a straight line: C·ΔV/I, the own leakage aside.
	big := must(decay.NewPlateMonitor(20e-12, 1e20))
	near(t, "constant current", float64(must(big.DischargeTime(func(units.Voltage) units.Current {
		return 1e-9
	}, 1000, 100))), 20e-12*900/1e-9, 1e-7)
	var never *decay.NeverError
	if _, err := p.DischargeTime(func(v units.Voltage) units.Current {
		return units.Current(1e-12 * float64(v-150))
	}, 1000, 100); !errors.As(err, &never) || !(math.Abs(never.Floor-0.15/1.001) < 1e-9) {
		t.Errorf("balance at 150 V: got %v, want a floor of 0.15", err)
	}
	var f *known.FieldError
	if _, err := p.DischargeTime(func(units.Voltage) units.Current {
		return units.Current(math.NaN())
	}, 1000, 100); !errors.As(err, &f) || f.Field != "i" {
		t.Errorf("NaN current: %v", err)
	}
	if _, err := p.DischargeTime(linear, 1000, -100); !errors.As(err, &f) || f.Field != "v1" {
		t.Errorf("through zero: %v", err)
	}
	if _, err := p.DischargeTime(nil, 1000, 100); !errors.As(err, &f) || f.Field != "i" {
		t.Errorf("no current: %v", err)
	}
	if _, err := p.Corrected(3e4); !errors.As(err, &f) {
		t.Errorf("slower than its own leakage: %v", err)
	}
	if _, err := decay.PlateDecayTime(1, 1000, 100, 100); !errors.As(err, &never) {
		t.Errorf("balance at the end voltage: %v", err)
	}
	offset, swing := decay.OffsetSwing([]units.Voltage{-5, 15, -5, 15})
	if offset != 5 || swing != 20 {
		t.Errorf("offset %v, swing %v", offset, swing)
	}
	if o, s := decay.OffsetSwing(nil); !math.IsNaN(float64(o)) || !math.IsNaN(float64(s)) {
		t.Errorf("no readings: %v, %v", o, s)
	}
	if o, s := decay.OffsetSwing([]units.Voltage{1, units.Voltage(math.NaN())}); !math.IsNaN(float64(o)) ||
		!math.IsNaN(float64(s)) {
		t.Errorf("NaN among the readings: %v, %v", o, s)
	}
	for what, v := range map[string]float64{
		"loss 1": float64(decay.LeastLeakage(1, 1, 1)), "f < 0": float64(decay.Swing(1, -1,
			1)),
		"limit": float64(decay.LimitTau(1, 1)),
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s: got %g, want NaN", what, v)
		}
	}
}

func TestPassLimits(t *testing.T) {
	for _, p := range decay.PassLimits() {
		if p.Name == "" || p.Source.Cite == "" || p.Source.Provenance == known.Unstated {
			t.Errorf("not filled in: %+v", p)
		}
		law := must(decay.NewExponential(p.Tau() * 0.999))
		if ok, _, err := p.Passes(law); !ok || err != nil {
			t.Errorf("%s: an exponential just inside fails: %v", p.Name, err)
		}
		law = must(decay.NewExponential(p.Tau() * 1.001))
		if ok, _, err := p.Passes(law); ok || err != nil {
			t.Errorf("%s: an exponential just outside passes: %v", p.Name, err)
		}
		if ok, _, err := p.Passes(decay.Constant(1)); ok || err == nil {
			t.Errorf("%s: a charge that stays passes", p.Name)
		}
	}
}
