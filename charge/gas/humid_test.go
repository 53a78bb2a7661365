package gas

import (
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Increase in % per mmHg of vapour at 20 °C as measured by Kuffel (1961); 1 mmHg is
// 133.32 Pa/(461.5 J/(kg·K)·293.15 K) = 0.9855 g/m³.
func TestHumiditySlope(t *testing.T) {
	const perMMHg = 133.322 / (461.5 * 293.15) // [kg/m³]
	for _, c := range []struct{ cm, percent float64 }{{0.5092, 0.1913}, {1.0221, 0.2221}, {2.0050, 0.2701},
		{2.5202, 0.2760}, {3.0251, 0.2707}} {
		s, v := HumiditySlope(units.Length(c.cm / 100))
		lo, hi := s.Limits()
		if m := c.percent / 100 / perMMHg; !(m > lo && m < hi) || v != known.Inside {
			t.Errorf("%g cm: measured %.4g, band %.4g … %.4g, %v", c.cm, m, lo, hi, v)
		}
	}
	if s, v := HumiditySlope(100 * um); v != known.BelowRange || !(s.Spread > 0.4) {
		t.Errorf("100 µm: %+v, %v", s, v)
	}
	if _, v := HumiditySlope(0.1); v != known.AboveRange {
		t.Error("10 cm is not flagged")
	}
}

func TestHumidityFactor(t *testing.T) {
	if k, v := HumidityFactor(units.Centimetre, 8.5e-3); k != 1 || v != known.Inside {
		t.Errorf("reference: %g, %v", k, v)
	}
	last := 0.0
	for h := 0.0; h < 0.03; h += 1e-3 {
		k, v := HumidityFactor(units.Centimetre, units.VapourDensity(h))
		if k <= last || k < 0.98 || k > 1.05 || (v&known.AboveRange != 0) != (h > 0.020) {
			t.Errorf("%g kg/m³: %g, %v", h, k, v)
		}
		last = k
	}
	for _, c := range []struct{ d, h float64 }{{0, 1e-3}, {-1, 1e-3}, {math.NaN(), 1e-3}, {1e-2, -1}, {1e-2, math.NaN()},
		{1e-2, math.Inf(1)}} {
		if k, v := HumidityFactor(units.Length(c.d), units.VapourDensity(c.h)); !math.IsNaN(k) || v&known.WrongShape == 0 &&
			c.d > 0 && v != known.WrongShape {
			t.Errorf("%+v: %g, %v", c, k, v)
		}
	}
}
