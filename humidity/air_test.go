package humidity

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

func TestQuick(t *testing.T) {
	a, err := NewAir(units.Celsius(-10), 0.8, 101325)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(a.At(units.Celsius(20)).RelativeHumidity(), a.DewPoint().Celsius(), a.FrostPoint().Celsius(), a.HumidityRatio(), a.Supersaturated(), a.RelativeHumidityIce())
	for _, q := range Equations() {
		for T := 180.0; T < 600; T += 7.3 {
			p, s := q.at(T)
			p1, _ := q.at(T * (1 + 1e-6))
			p0, _ := q.at(T * (1 - 1e-6))
			if fd := math.Log(p1/p0) / (2e-6 * T); math.Abs(fd/s-1) > 1e-6 {
				t.Error(q, T, s, fd)
			}
			if p < 22e6 && p > 1e-9 {
				if b := q.inverse(math.Log(p), p); math.Abs(b-T) > 1e-8 {
					t.Error(q, T, b)
				}
			}
		}
	}
	for _, m := range Models() {
		for T := 180.0; T < 470; T += 7.3 {
			e, s := m.water(T, 3e5)
			e1, _ := m.water(T+1e-3, 3e5)
			e0, _ := m.water(T-1e-3, 3e5)
			if fd := math.Log(e1/e0) / (2e-3); math.Abs(fd/s-1) > 1e-5 {
				t.Error(m, T, s, fd)
			}
			if b := m.dew(e, 3e5); math.Abs(b-T) > 1e-7 {
				t.Error(m, T, b, e)
			}
			e, _ = m.ice(T, 3e5)
			if b := m.frost(e, 3e5); T < 274 && math.Abs(b-T) > 1e-7 {
				t.Error(m, T, b)
			}
		}
	}
}
