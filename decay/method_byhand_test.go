package decay_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestMethodsByHand: electrodes, plates and limits of test methods from their printed formulae, worked out by hand.
func TestMethodsByHand(t *testing.T) {
	guarded := must(decay.NewGuardedElectrode(50*units.Millimetre, 60*units.Millimetre))
	plate := must(decay.NewPlateMonitor(20e-12, 1e13)) // RC = 200 s
	for what, c := range map[string][2]float64{
		"area of 55 mm":               {float64(guarded.Area()), 2.375829444277281e-3}, // π·0.055²/4
		"1 TΩ through 0.5 mm":         {float64(guarded.Resistivity(1e12, 0.5e-3)), 4.751658888554562e12},
		"ring 1 : e":                  {must(decay.NewRing(1, math.E)).Factor(), 2 * math.Pi},
		"ring of 30 and 50 mm, mean":  {must(decay.NewRingMeanDiameter(30e-3, 50e-3)).Factor(), 4 * math.Pi},
		"bars":                        {must(decay.NewBars(25e-3, 2e-3)).Factor(), 12.5},
		"10 % in 300 s of 15 pF":      {float64(decay.LeastLeakage(15e-12, 0.1, 300)), 1.8982443162e14}, // 0.10536
		"swing at rest":               {float64(decay.Swing(0.5, 0, 3)), 0.5},
		"swing of 2π·f·τ = π/2":       {float64(decay.Swing(0.5, 0.5, 0.5)), 0.26851463607315793}, // ½/√(1 + π²/4)
		"plate's own":                 {float64(plate.SelfTime()), 200},
		"besides its own, 1/40−1/200": {float64(must(plate.Corrected(40))), 50},
		"0.1 mm at 1 V":               {float64(decay.TransitTime(1e-4, 1e-9, 1)), 10}, // 1e-8/1e-9
		"to 10 % of 2·ln 10":          {float64(decay.LimitTau(0.1, 2)), 0.8685889638065036},
	} {
		near(t, what, c[0], c[1], 1e-10)
	}
	// The first reading is the highest, the lowest.
	if o, s := decay.OffsetSwing([]units.Voltage{6, 1, 2}); o != 3 || s != 5 {
		t.Errorf("offset %v, swing %v", o, s)
	}
	if o, s := decay.OffsetSwing([]units.Voltage{-3, 1, 2}); o != 0 || s != 5 {
		t.Errorf("offset %v, swing %v", o, s)
	}
	for what, v := range map[string]float64{
		"negative amplitude": float64(decay.Swing(-1, 1, 1)), "negative time": float64(decay.Swing(1, 1, -1)),
		"no capacitance": float64(decay.LeastLeakage(0, 0.1, 1)), "no time": float64(decay.LeastLeakage(1, 0.1, 0)),
		"no loss": float64(decay.LeastLeakage(1, 0, 1)), "no thickness": float64(decay.TransitTime(0, 1, 1)),
		"no mobility": float64(decay.TransitTime(1, 0, 1)), "no voltage": float64(decay.TransitTime(1, 1, 0)),
	} {
		if !math.IsNaN(v) {
			t.Errorf("%s: %g, want NaN", what, v)
		}
	}
	// A current that is NaN is named, and is no current with jumps.
	var f *known.FieldError
	_, err := plate.DischargeTime(func(v units.Voltage) units.Current {
		if v > 500 {
			return units.Current(math.NaN())
		}
		return 1e-9
	}, 1000, 100)
	if !errors.As(err, &f) || f.Value != "NaN" {
		t.Errorf("NaN above 500 V: %v", err)
	}
}

// TestNamedElectrodesByHand: 2π/ln(d2/d1) of the rings (4-digit logarithms: ln 1.8750 = 0.62861, ln 1.125 = 0.117783,
// ln 1.37302 = 0.317012) and length over gap of the blades and bars.
func TestNamedElectrodesByHand(t *testing.T) {
	want := []float64{9.9954, 53.345, 19.820, 10, 12.5}
	list := decay.NamedElectrodes()
	if len(list) != len(want) {
		t.Fatalf("%d electrodes", len(list))
	}
	for i, e := range list {
		near(t, e.Name, e.Electrode.Factor(), want[i], 1e-4)
	}
}

// TestPassLimitsByHand: the limits as the methods print them (from memory, as the list itself says): start voltage,
// fraction and time.
func TestPassLimitsByHand(t *testing.T) {
	want := [][3]float64{{5000, 0.01, 2}, {5000, 0.01, 2}, {5000, 0.1, 0.5}, {5000, 0.1, 0.5}, {0, 0.5, 4},
		{1000, 0.1, 20}}
	list := decay.PassLimits()
	if len(list) != len(want) {
		t.Fatalf("%d limits", len(list))
	}
	for i, p := range list {
		if got := [3]float64{float64(p.Start), p.Fraction, float64(p.Within)}; got != want[i] {
			t.Errorf("%s: %v, want %v", p.Name, got, want[i])
		}
	}
}
