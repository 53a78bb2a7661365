package hazard

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// An idler on ceramic bearings: 0.4 µC/m² on 1.25 m at 220 m/min through 4 GΩ and
// 180 pF; by hand 1.83 µA, 7.33 kV, 4.84 mJ, 0.72 s.
func TestConductorCharged(t *testing.T) {
	c, err := NewConductor(ConductorSpec{Body: Metal, Capacitance: 180 * units.Picofarad, Resistance: 4 * units.Gigohm})
	if err != nil {
		t.Fatal(err)
	}
	i := units.Current(0.4e-6 * 1.25 * 220 / 60)
	s := c.Charged(i)
	if !near(float64(s.Voltage), 7333.33, 1e-5) || !near(float64(s.Energy), 4.84e-3, 1e-3) ||
		!near(float64(s.TimeConstant), 0.72, 1e-12) || s.Sparks {
		t.Errorf("%+v", s)
	}
	spec := c.Spec()
	spec.Sparkover = 7000
	sparking, err := NewConductor(spec)
	if err != nil {
		t.Fatal(err)
	}
	s = sparking.Charged(-i)
	if s.Voltage != -7000 || !s.Sparks || !near(float64(s.SparkEvery), -0.72*math.Log(1-7000/7333.333333), 1e-6) {
		t.Errorf("%+v", s)
	}
	// The body gets to the sparkover voltage just when SparkEvery says.
	free := c.After(s.SparkEvery, i)
	if !near(float64(free), 7000, 1e-9) {
		t.Errorf("after %v: %v", s.SparkEvery, free)
	}
	if v := c.Charged(units.Current(math.NaN())); !math.IsNaN(float64(v.Voltage)) || !math.IsNaN(float64(v.Energy)) ||
		v.Sparks {
		t.Errorf("NaN: %+v", v)
	}
}

// ½CV²: 100 pF at 3, 5, 10 kV is 0.45, 1.25, 5 mJ (printed 1.3 for the second),
// 90 pF at 3 kV 0.405 mJ; 0.25 mJ on 100 pF needs 2236 V.
func TestConductorEnergy(t *testing.T) {
	c, err := NewConductor(ConductorSpec{Body: Person, Capacitance: 100 * units.Picofarad, Resistance: 1})
	if err != nil {
		t.Fatal(err)
	}
	for v, want := range map[units.Voltage]float64{3000: 0.45e-3, 5000: 1.25e-3, 10000: 5e-3} {
		if got := float64(c.Energy(v)); !near(got, want, 1e-12) {
			t.Errorf("%v: %g J", v, got)
		}
		if back := c.VoltageForEnergy(c.Energy(v)); !near(float64(back), float64(v), 1e-12) {
			t.Errorf("%v back as %v", v, back)
		}
	}
}

// ½CV² of an insulator is an error by design.
func TestInsulatorHasNoEnergy(t *testing.T) {
	_, err := NewConductor(ConductorSpec{Body: Insulator, Capacitance: 1e-10, Resistance: 1})
	var fe *known.FieldError
	if !errors.As(err, &fe) || fe.Field != "conductor.body" || !strings.Contains(fe.Want, "½CV²") {
		t.Fatalf("got %v", err)
	}
	for field, s := range map[string]ConductorSpec{
		"conductor.body":        {Capacitance: 1, Resistance: 1},
		"conductor.capacitance": {Body: Metal, Resistance: 1},
		"conductor.resistance":  {Body: Metal, Capacitance: 1, Resistance: units.Resistance(math.Inf(1))},
		"conductor.sparkover":   {Body: Metal, Capacitance: 1, Resistance: 1, Sparkover: -1},
	} {
		if _, err := NewConductor(s); !errors.As(err, &fe) || fe.Field != field {
			t.Errorf("%s: got %v", field, err)
		}
	}
}

// TestSparkoverByHand: 1 µA on 1 GΩ and 100 pF rises to 1 kV with τ = 0.1 s, 632.12 V
// after τ; a gap of 500 V cuts it, one of 700 V does not yet. A field of 100 kV/m on
// 0.5 m² that grows at once drives ε0·1e5·0.5/100 pF = 4427.1 V; a gap of 3 kV cuts
// it with a spark of ½·100 pF·(3 kV)² = 0.45 mJ, one of 5 kV does not.
func TestSparkoverByHand(t *testing.T) {
	for _, c := range []struct{ gap, after, induced float64 }{{0, 632.12, 4427.1}, {500, 500, 500}, {700, 632.12, 700},
		{3000, 632.12, 3000}, {5000, 632.12, 4427.1}} {
		body, err := NewConductor(ConductorSpec{Body: Person, Capacitance: 100 * units.Picofarad,
			Resistance: 1e9 * units.Ohm, Sparkover: units.Voltage(c.gap)})
		if err != nil {
			t.Fatal(err)
		}
		for _, sign := range []float64{1, -1} {
			if v := body.After(0.1, units.Current(sign*1e-6)); !near(float64(v), sign*c.after, 1e-5) {
				t.Errorf("gap %g V: %v after τ, want %g", c.gap, v, sign*c.after)
			}
			x := body.Induced(units.ElectricField(sign*1e5), 0.5, 0)
			if !near(float64(x.Voltage), sign*c.induced, 1e-4) || x.Sparks != (c.gap != 0 && c.gap < 4427) ||
				!near(float64(x.Energy), 0.5*100e-12*c.induced*c.induced, 3e-4) {
				t.Errorf("gap %g V: %+v, want %g V", c.gap, x, sign*c.induced)
			}
		}
	}
}

// TestOpenGap: 10 mm of air of normal density break down at 24.22·1 + 6.08·√1 = 30.3 kV
// (Meek and Craggs, Electrical Breakdown of Gases, quoted elsewhere).
func TestOpenGap(t *testing.T) {
	v, valid := gas.BreakdownVoltage(10*units.Millimetre, 1)
	if d := float64(v)/float64(OpenGap) - 1; !(d >= 0 && d < 0.05) {
		t.Errorf("10 mm break down at %v (%v), an open gap counts as %v", v, valid, OpenGap)
	}
}
