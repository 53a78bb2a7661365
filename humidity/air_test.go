package humidity

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The slopes are analytic: each is checked against a central difference, each
// inverse by going there and back.
func TestEquationSlopesAndInverses(t *testing.T) {
	for _, q := range Equations() {
		for T := 180.0; T < 640; T += 7.3 {
			p, s := q.at(T)
			p1, _ := q.at(T * (1 + 1e-6))
			p0, _ := q.at(T * (1 - 1e-6))
			// Truncation 1e-12·T²·(ln p)‴, rounding 1e-10: 1e-6 leaves room for both.
			if fd := math.Log(p1/p0) / (2e-6 * T); !(math.Abs(fd/s-1) <= 1e-6) {
				t.Errorf("%v at %g K: slope %g, difference quotient %g", q, T, s, fd)
			}
			if p < 22e6 && p > 1e-9 {
				if b := q.inverse(math.Log(p), p); !(math.Abs(b-T) < 1e-8) {
					t.Errorf("%v at %g K: inverse %g", q, T, b)
				}
			}
		}
	}
	for _, m := range Models() {
		for _, p := range []float64{7e4, 101325, 1e6} {
			for T := 180.0; T < 470; T += 7.3 {
				e, s := m.water(T, p)
				e1, _ := m.water(T+1e-3, p)
				e0, _ := m.water(T-1e-3, p)
				if fd := math.Log(e1/e0) / 2e-3; !(math.Abs(fd/s-1) <= 1e-5) && !(math.Abs(T-373) <= 1) {
					t.Errorf("%v water at %g K, %g Pa: slope %g, difference quotient %g", m, T, p, s, fd)
				}
				if b := m.dew(e, p); !(math.Abs(b-T) < 1e-8) {
					t.Errorf("%v at %g K: dew point %g", m, T, b)
				}
				e, _ = m.ice(T, p)
				if b := m.frost(e, p); T < 274 && !(math.Abs(b-T) < 1e-8) {
					t.Errorf("%v at %g K: frost point %g", m, T, b)
				}
			}
		}
	}
}

// Every pair of measures that fixes the air must lead back to it.
func TestAirFromAnyTwo(t *testing.T) {
	all := func(a Air) []Given {
		g := []Given{DryBulb(a.Temperature()), RH(a.RelativeHumidity()), DewPoint(a.DewPoint()), WetBulb(a.WetBulb()),
			HumidityRatio(a.HumidityRatio()), VapourPressure(a.VapourPressure()), AbsoluteHumidity(a.VapourDensity()),
			Enthalpy(a.Enthalpy())}
		if a.FrostPoint() < TriplePoint {
			g = append(g, FrostPoint(a.FrostPoint()))
		}
		if a.Temperature() < TriplePoint {
			return append(g, RHIce(a.RelativeHumidityIce()), RHMixed(units.Ratio(a.RelativeHumidityIce())))
		}
		return append(g, RHMixed(units.Ratio(a.RelativeHumidity())))
	}
	n := 0
	for _, m := range Models() {
		for _, p := range []units.Pressure{units.Pressure(70e3), units.Atmosphere, units.Pressure(300e3)} {
			for _, tc := range []float64{-30, -10, -0.5, 0.5, 3, 20, 45, 80} {
				for _, rh := range []units.RelativeHumidity{units.RelativeHumidity(0.05), units.RelativeHumidity(0.4),
					units.RelativeHumidity(0.8), units.RelativeHumidity(0.99)} {
					a, err := m.Air(units.Celsius(tc), rh, p)
					if err != nil {
						t.Fatal(err)
					}
					gs := all(a)
					for _, x := range gs {
						for _, y := range gs {
							if x.kind.class() == y.kind.class() {
								continue
							}
							n++
							b, err := m.AirFrom(p, x, y)
							if err != nil {
								t.Fatalf("%v %g °C %v %v: %v, %v: %v", m, tc, rh, p, x, y, err)
							}
							// 1e-6: cold air amplifies rounding (e 1 Pa in 1e5 against h, wet bulb).
							if !(math.Abs(float64(b.t)-float64(a.t)) <= 1e-6) || !(math.Abs(float64(b.e)/float64(a.e)-1) <= 1e-6) {
								t.Errorf("%v %g °C %v %v from %v, %v: %v, e %g want %g", m, tc, rh, p, x, y, b.t, float64(b.e), float64(a.e))
							}
						}
					}
				}
			}
		}
	}
	if n < 10000 {
		t.Error("only", n, "pairs tried")
	}
}

func TestAirFromRefuses(t *testing.T) {
	for _, c := range []struct {
		name, field string
		p           units.Pressure
		a, b        Given
	}{
		{"two contents", "b", units.Atmosphere, DewPoint(units.Temperature(280)), HumidityRatio(units.HumidityRatio(0.006))},
		{"two humidities", "b", units.Atmosphere, RH(units.RelativeHumidity(0.5)), RHIce(units.RelativeHumidityIce(0.5))},
		{"wet bulb and enthalpy", "b", units.Atmosphere, WetBulb(units.Temperature(285)),
			Enthalpy(units.EnergyPerMass(35e3))},
		{"gauge pressure zero", "p", 0, DryBulb(units.Temperature(293.15)), RH(units.RelativeHumidity(0.5))},
		{"NaN", "a.dry bulb", units.Atmosphere, DryBulb(units.Temperature(math.NaN())), RH(units.RelativeHumidity(0.5))},
		{"percent given as a number", "b.relative humidity", units.Atmosphere, DryBulb(units.Temperature(293.15)),
			RH(units.RelativeHumidity(50))},
		{"dew point above dry bulb", "b", units.Atmosphere, DryBulb(units.Temperature(293.15)),
			DewPoint(units.Temperature(295))},
		{"wet bulb above dry bulb", "b", units.Atmosphere, DryBulb(units.Temperature(293.15)),
			WetBulb(units.Temperature(295))},
		{"wet bulb of no air", "b", units.Atmosphere, DryBulb(units.Temperature(313.15)), WetBulb(units.Temperature(274))},
		{"Celsius given as kelvin", "a.dry bulb", units.Atmosphere, DryBulb(units.Temperature(20)),
			RH(units.RelativeHumidity(0.5))},
		{"ice in summer", "a", units.Atmosphere, RHIce(units.RelativeHumidityIce(0.5)), DewPoint(units.Temperature(288))},
		{"nothing", "b.nothing", units.Atmosphere, DryBulb(units.Temperature(293.15)), Given{}},
		{"boils", "b", units.Atmosphere, DryBulb(units.Temperature(400)), RH(units.RelativeHumidity(0.5))},
		{"no such air", "b", units.Atmosphere, RH(0), DewPoint(units.Temperature(280))},
	} {
		_, err := AirFrom(c.p, c.a, c.b)
		var f *known.FieldError
		if !errors.As(err, &f) || f.Field != c.field || f.Want == "" {
			t.Errorf("%s: %v, want a FieldError for %q", c.name, err, c.field)
		}
	}
}

// The 200-row table was made with another program and recomputed.
func TestPsychrometricTable(t *testing.T) {
	var table struct {
		Rows []struct {
			T   float64 `json:"t_C"`
			RH  float64 `json:"rh_pct"`
			P   float64 `json:"p_Pa"`
			W   float64 `json:"w_kg_per_kg"`
			Dew float64 `json:"dew_or_frost_C"`
			Wet float64 `json:"wetbulb_C"`
			H   float64 `json:"h_J_per_kg"`
			V   float64 `json:"v_m3_per_kg"`
			E   float64 `json:"pv_Pa"`
		}
	}
	b, err := os.ReadFile("testdata/psychrometric.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &table); err != nil || len(table.Rows) != 200 {
		t.Fatal(err, len(table.Rows))
	}
	for _, r := range table.Rows {
		a, err := ASHRAEIdeal.AirFrom(units.Pressure(r.P), DryBulb(units.Celsius(r.T)), RHMixed(units.Ratio(r.RH/100)))
		if err != nil {
			t.Fatal(err)
		}
		dew := a.DewPoint()
		if f := a.FrostPoint(); f < TriplePoint {
			dew = f
		}
		// The table prints eight digits, temperatures four decimals found by bisection
		// to 1e-3 K; the program's wet bulb was recomputed to 5e-4 K. Its volume
		// has 1.607858 for 1/0.621945 = 1.6078592.
		for _, c := range []struct {
			what           string
			got, want, tol float64
		}{
			{"W", float64(a.HumidityRatio()), r.W, 6e-8 * r.W},
			{"dew", dew.Celsius(), r.Dew, 1.1e-4},
			{"wet", a.WetBulb().Celsius(), r.Wet, 1e-3},
			{"h", float64(a.Enthalpy()), r.H, 0.006},
			{"v", 1 / float64(a.DryAirDensity()), r.V, (6e-8 + 1.3e-6*r.W) * r.V},
			{"e", float64(a.VapourPressure()), r.E, 6e-8 * r.E},
		} {
			if !(math.Abs(c.got-c.want) <= c.tol) {
				t.Errorf("%g °C %g %% %g Pa: %s %.9g, table %.9g, tolerance %.2g", r.T, r.RH, r.P, c.what, c.got, c.want, c.tol)
			}
		}
	}
}

// TestNoMinusZero: a tenth of nothing has no sign.
func TestNoMinusZero(t *testing.T) {
	a, err := AirFrom(units.Atmosphere, DryBulb(units.Celsius(-0.01)), DewPoint(units.Celsius(-0.04)))
	if err != nil {
		t.Fatal(err)
	}
	if s := a.String(); !strings.HasPrefix(s, "0.0 °C") || !strings.Contains(s, "dew point 0.0 °C") {
		t.Error(s)
	}
}
