package humidity

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// portable is the uniform in [0, 1) number i of a seed by SplitMix64 used as a
// counter (G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014, 10.1145/2660193.2660195).
func portable(seed uint64, i int) float64 {
	z := seed + uint64(i+1)*0x9E3779B97F4A7C15
	z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9
	z = (z ^ (z >> 27)) * 0x94D049BB133111EB
	z ^= z >> 31
	return float64(z>>11) * 0x1p-53
}

// ruleStates draws n states: t −20 … 50 °C, RH 5 … 100 %, p 70 … 105 kPa.
func ruleStates(n int) (t []units.Temperature, rh []units.Ratio, p []units.Pressure) {
	t, rh, p = make([]units.Temperature, n), make([]units.Ratio, n), make([]units.Pressure, n)
	for i := range n {
		t[i] = units.Temperature(273.15 + (-20 + 70*portable(301, i)))
		rh[i] = units.Ratio(0.05 + 0.95*portable(302, i))
		p[i] = units.Pressure(70000 + 35000*portable(303, i))
	}
	return t, rh, p
}

func columns(n int) *States {
	return &States{make([]units.HumidityRatio, n), make([]units.Temperature, n), make([]units.Temperature, n),
		make([]units.EnergyPerMass, n)}
}

// The fast path against the slow one, which solves the equations themselves by
// bracketed Newton steps: same equations, no shared code.
func TestStatesAgreeWithAir(t *testing.T) {
	const n = 20000
	ts, rh, p := ruleStates(n)
	for i := range 4000 { // and beyond the rule
		ts[i] = units.Temperature(173.2 + 280*portable(7, i))
		rh[i] = units.Ratio(0.001 + 0.999*portable(8, i))
		p[i] = units.Pressure(2e4 + 1e6*portable(9, i))
	}
	d := columns(n)
	for _, m := range Models() {
		for _, ref := range []Reference{OverWater, Mixed} {
			err := m.StatesTo(d, ts, rh, p, ref)
			var worst [4]float64
			bad := 0
			for i := range n {
				g := RH(units.RelativeHumidity(rh[i]))
				if ref == Mixed {
					g = RHMixed(rh[i])
				}
				a, aerr := m.AirFrom(p[i], DryBulb(ts[i]), g)
				if aerr != nil {
					bad++
					if !math.IsNaN(float64(d.HumidityRatio[i] + units.HumidityRatio(d.WetBulb[i]))) {
						t.Fatalf("row %d: %v but not NaN", i, aerr)
					}
					continue
				}
				for k, v := range [4]float64{float64(d.HumidityRatio[i])/float64(a.HumidityRatio()) - 1,
					float64(d.CondensationPoint[i]) - float64(a.CondensationPoint()),
					float64(d.WetBulb[i]) - float64(a.WetBulb()),
					float64(d.Enthalpy[i]-a.Enthalpy()) / (math.Abs(float64(a.Enthalpy())) + 1000)} {
					if v = math.Abs(v); !(v <= worst[k]) && !math.IsNaN(worst[k]) { // NaN stays the worst
						worst[k] = v
					}
				}
			}
			t.Logf("%v %v: worst W %.1e, condensation point %.1e K, wet bulb %.1e K, h %.1e; %d rows are no air", m, ref,
				worst[0], worst[1], worst[2], worst[3], bad)
			if (err == nil) != (bad == 0) {
				t.Error(m, ref, err, bad)
			}
			// What the doc of StatesTo promises.
			limit := [4]float64{2e-13, 2e-12, 3e-10, 2e-13}
			if m == IAPWS {
				limit = [4]float64{6e-12, 2e-9, 1e-8, 6e-12}
			}
			if !(worst[0] < limit[0] && worst[1] < limit[1] && worst[2] < limit[2] && worst[3] < limit[3]) {
				t.Errorf("%v %v: worst %v", m, ref, worst)
			}
		}
	}
}

func TestStatesBadRows(t *testing.T) {
	nan := units.Temperature(math.NaN())
	ts := []units.Temperature{units.Temperature(293.15), nan, units.Temperature(293.15), units.Temperature(293.15),
		units.Temperature(20)}
	rh := []units.Ratio{units.Ratio(0.5), units.Ratio(0.5), units.Ratio(50), units.Ratio(math.Inf(1)), units.Ratio(0.5)}
	p := []units.Pressure{units.Atmosphere, units.Atmosphere, units.Atmosphere, units.Atmosphere, units.Atmosphere}
	for _, m := range Models() {
		d := columns(5)
		err := m.StatesTo(d, ts, rh, p, OverWater)
		var f *known.FieldError
		if !errors.As(err, &f) || f.Field != "rows" || f.Value != "1, 2, 3, 4" {
			t.Errorf("%v: %v", m, err)
		}
		if math.IsNaN(float64(d.WetBulb[0])) || !math.IsNaN(float64(d.WetBulb[1])) || !math.IsNaN(float64(d.Enthalpy[4])) {
			t.Error(m, d)
		}
		// Over ice at 20 °C there is none.
		if err := m.StatesTo(columns(2), []units.Temperature{units.Celsius(-10), units.Celsius(20)},
			[]units.Ratio{units.Ratio(0.5), units.Ratio(0.5)}, p[:2], OverIce); !errors.As(err, &f) || f.Value != "1" {
			t.Errorf("%v over ice: %v", m, err)
		}
		if err := m.StatesTo(d, ts[:4], rh, p, OverWater); !errors.As(err, &f) || f.Field != "rh" {
			t.Error(err)
		}
		if err := m.StatesTo(d, ts, rh, p, references); !errors.As(err, &f) || f.Field != "ref" {
			t.Error(err)
		}
	}
}

func TestStatesAllocateNothing(t *testing.T) {
	ts, rh, p := ruleStates(100)
	d := columns(100)
	for _, m := range Models() {
		if err := m.StatesTo(d, ts, rh, p, Mixed); err != nil {
			t.Fatal(err)
		}
		if n := testing.AllocsPerRun(20, func() { _ = m.StatesTo(d, ts, rh, p, Mixed) }); n != 0 {
			t.Errorf("%v: %g allocations", m, n)
		}
	}
}

// BenchmarkStates computes W, condensation point, wet bulb and enthalpy of
// 100 000 states, t −20 … 50 °C, RH 5 … 100 %, p 70 … 105 kPa; ns/state is the figure.
func BenchmarkStates(b *testing.B) {
	const n = 100000
	ts, rh, p := ruleStates(n)
	d := columns(n)
	for _, m := range []AirModel{ASHRAEIdeal, IAPWSIdeal, IAPWS} {
		b.Run(m.String(), func(b *testing.B) {
			_ = m.StatesTo(d, ts, rh, p, Mixed)
			b.ReportAllocs()
			for b.Loop() {
				if err := m.StatesTo(d, ts, rh, p, Mixed); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/state")
		})
	}
}

func BenchmarkAir(b *testing.B) {
	for _, m := range []AirModel{ASHRAEIdeal, IAPWS} {
		b.Run(m.String(), func(b *testing.B) {
			b.ReportAllocs()
			var s float64
			for b.Loop() {
				a, _ := m.Air(units.Celsius(23), units.RelativeHumidity(0.5), units.Atmosphere)
				s += float64(a.DewPoint()) + float64(a.WetBulb())
			}
			_ = s
		})
	}
}
