package ionflow_test

import (
	"math"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// TestTipLawsByHand: δ of the laws is 1 at 25 °C, 293.15/298.15 of the relative density that is asked for. √(δ·r)
// is 1 for 1 cm at δ = 1 and for 1/4 cm at δ = 4, 2 for 4 cm at δ = 1: 31·1.308, 4·31·1.308, 31·1.154 and, of the
// sphere, 27.2·1.54 and 27.2·1.27 kV/cm.
func TestTipLawsByHand(t *testing.T) {
	const one = 293.15 / 298.15
	for _, c := range []struct {
		law   ionflow.TipLaw
		r     units.Length
		delta float64
		want  float64 // [V/m]
	}{
		{ionflow.PeekCylinder, 0.01, one, 40.548e5}, {ionflow.PeekCylinder, 0.0025, 4 * one, 162.192e5},
		{ionflow.PeekCylinder, 0.04, one, 35.774e5},
		{ionflow.PeekSphere, 0.01, one, 41.888e5}, {ionflow.PeekSphere, 0.04, one, 34.544e5},
	} {
		e, _ := ionflow.OnsetField(c.law, c.r, c.delta)
		if !(math.Abs(float64(e)/c.want-1) <= 1e-12) {
			t.Errorf("%v, %v, %v: %v, want %v", c.law, c.r, c.delta, float64(e), c.want)
		}
	}
	// ln(4d/r) = 2 at d = e²/4 of r: the voltage is the field times the radius; at e³/4 half as much again.
	for power, times := range map[float64]float64{2: 1, 3: 1.5} {
		v, _ := ionflow.OnsetVoltage(ionflow.PeekCylinder, 0.01, units.Length(0.01*math.Exp(power)/4), one)
		if !(math.Abs(float64(v)/(40548*times)-1) <= 1e-12) {
			t.Errorf("%v V", float64(v))
		}
	}
}

// TestNoTip: what is no tip has no onset.
func TestNoTip(t *testing.T) {
	for _, c := range []struct {
		law   ionflow.TipLaw
		r     units.Length
		delta float64
	}{{0, 0, 1}, {0, -1e-5, 1}, {0, 1e-5, 0}, {0, 1e-5, -1}, {2, 1e-5, 1}, {0, units.Length(math.NaN()), 1}} {
		if e, _ := ionflow.OnsetField(c.law, c.r, c.delta); !math.IsNaN(float64(e)) {
			t.Errorf("%+v: %v", c, e)
		}
	}
	for _, d := range []units.Length{1e-5, 0.5e-5, 0} {
		if v, _ := ionflow.OnsetVoltage(0, 1e-5, d, 1); !math.IsNaN(float64(v)) {
			t.Errorf("%v before a tip of 10 µm: %v", d, v)
		}
	}
}
