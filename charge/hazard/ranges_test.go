package hazard

import (
	"math"
	"testing"

	"example.org/pithball/internal/rangecheck"
	"example.org/pithball/units"
)

// TestRanges: the ranges that the comments of specs state, both ends taken and what
// lies beyond refused by name.
func TestRanges(t *testing.T) {
	check := func(of, name string, try func(v float64) error, in, out []float64) {
		for _, fault := range rangecheck.Faults(of, name, try, in, out) {
			t.Error(fault)
		}
	}
	body := func(set func(s *ConductorSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := ConductorSpec{Body: Metal, Capacitance: 1e-10, Resistance: 1e9}
			set(&s, v)
			_, err := NewConductor(s)
			return err
		}
	}
	check("NewConductor", "conductor.capacitance", body(func(s *ConductorSpec, v float64) {
		s.Capacitance = units.Capacitance(v)
	}), []float64{1e-13, 0.5}, []float64{0})
	check("NewConductor", "conductor.resistance", body(func(s *ConductorSpec, v float64) {
		s.Resistance = units.Resistance(v)
	}), []float64{0.5, 1e15}, []float64{0})
	check("NewConductor", "conductor.sparkover", body(func(s *ConductorSpec, v float64) {
		s.Sparkover = units.Voltage(v)
	}), []float64{0, 0.5}, []float64{-0.5})
	layer := func(set func(l *ChargedLayer, v float64)) func(v float64) error {
		return func(v float64) error {
			l := ChargedLayer{Thickness: 1e-4, RelativePermittivity: 3}
			set(&l, v)
			_, err := PropagatingBrush(l)
			return err
		}
	}
	check("PropagatingBrush", "layer.density", layer(func(l *ChargedLayer, v float64) {
		l.Density = units.SurfaceChargeDensity(v)
	}), []float64{-0.5, 0, 0.5}, nil)
	check("PropagatingBrush", "layer.breakdown", layer(func(l *ChargedLayer, v float64) {
		l.Breakdown = units.Voltage(v)
	}), []float64{0, 0.5}, []float64{-0.5})
	check("PropagatingBrush", "layer.thickness", layer(func(l *ChargedLayer, v float64) {
		l.Thickness = units.Length(v)
	}), []float64{1e-9, 0.5}, []float64{0})
	check("PropagatingBrush", "layer.relative_permittivity", layer(func(l *ChargedLayer, v float64) {
		l.RelativePermittivity = v
	}), []float64{1, 1e4}, []float64{0.99, 1.01e4})
	shock := func(set func(m *ShockThreshold, v float64)) func(v float64) error {
		return func(v float64) error {
			m := ShockThreshold{Median: 1e-3, LogSD: 0.5}
			set(&m, v)
			return m.Check()
		}
	}
	check("ShockThreshold", "shock.median", shock(func(m *ShockThreshold, v float64) { m.Median = units.Energy(v) }),
		[]float64{1e-9, 0.5}, []float64{0, -0.5})
	check("ShockThreshold", "shock.log_sd", shock(func(m *ShockThreshold, v float64) { m.LogSD = v }),
		[]float64{1e-9, 0.5}, []float64{0, -0.5})
	for zone, ok := range map[int]bool{-1: false, 0: true, 1: true, 2: false} {
		for group, held := range map[GasGroup]bool{NoGroup: false, IIA: true, IIC: true, IIC + 1: false} {
			if _, err := BrushLimitsFromMemory(zone, group); (err == nil) != (ok && held) {
				t.Errorf("zone %d, group %v: %v", zone, group, err)
			}
		}
	}
}

// TestShareOfPeople: half at the median, Φ(1) = 0.841345 a deviation above it, none without
// energy; a threshold that is none gives no share.
func TestShareOfPeople(t *testing.T) {
	m := ShockThreshold{Median: 1e-3, LogSD: 0.5}
	for _, c := range []struct {
		m       ShockThreshold
		w, want float64
	}{{m, 1e-3, 0.5}, {m, 1e-3 * math.Exp(0.5), 0.841345}, {m, 1e-3 * math.Exp(-0.5), 0.158655}, {m, 0, 0},
		{m, -1, math.NaN()}, {m, math.NaN(), math.NaN()}, {ShockThreshold{LogSD: 0.5}, 1, math.NaN()},
		{ShockThreshold{Median: 1}, 2, math.NaN()}, {ShockThreshold{Median: 1, LogSD: -1}, 2, math.NaN()},
		{ShockThreshold{Median: -1, LogSD: 1}, 2, math.NaN()}} {
		got := c.m.Share(units.Energy(c.w))
		if math.IsNaN(got) != math.IsNaN(c.want) || !math.IsNaN(got) && !(math.Abs(got-c.want) <= 1e-6) {
			t.Errorf("%+v at %g J: %g, want %g", c.m, c.w, got, c.want)
		}
	}
}

// TestShort: two digits, without an exponent from 0.0001 to below a million.
func TestShort(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 1.234e-5: "1.2e-05", 9.96e-5: "0.0001", 1.26e-4: "0.00013",
		-0.0314: "-0.031", 4.84: "4.8", 126: "130", 123456: "120000", 949999: "950000", 996000: "1e+06", 1.2e6: "1.2e+06",
		-3.14e-5: "-3.1e-05"} {
		if got := short(x); got != want {
			t.Errorf("%g: %s, want %s", x, got, want)
		}
	}
}

// TestSmallGap: a body that sparks at half a volt is cut there too.
func TestSmallGap(t *testing.T) {
	c, err := NewConductor(ConductorSpec{Body: Metal, Capacitance: 1e-10, Resistance: 1e9, Sparkover: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	if s := c.Charged(1e-9); s.Voltage != 0.5 || !s.Sparks || !near(float64(s.SparkEvery), 0.1*math.Ln2, 1e-12) {
		t.Errorf("charged %+v", s)
	}
	if v := c.After(1, 1e-9); v != 0.5 {
		t.Errorf("after 10 τ: %v", v)
	}
	// ε0·10 V/m·1 m²/100 pF = 0.885 V.
	if s := c.Induced(10, 1, 0); s.Voltage != 0.5 || !s.Sparks {
		t.Errorf("induced %+v", s)
	}
	for _, bad := range []ChargedConductor{c.Induced(10, -0.1, 1), c.Induced(10, 1, -0.1)} {
		if !math.IsNaN(float64(bad.Voltage)) {
			t.Errorf("induced %+v", bad)
		}
	}
}
