package humidity

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

func mustAir(t testing.TB, m AirModel, p units.Pressure, a, b Given) Air {
	t.Helper()
	x, err := m.AirFrom(p, a, b)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

const kgPerHour = 1.0 / 3600 // [kg/s]

// near fails if got is farther than tol from want.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %.9g, want %.9g ± %.2g (off by %.2g)", what, got, want, tol, got-want)
	}
}

// Values recomputed by hand from W: see the table of water and energy of a
// humidifier in any handbook of air conditioning.
func TestHumidifier(t *testing.T) {
	// 5000 m³, one air change of indoor volume an hour, −10 °C 80 % over ice to
	// 20 °C 50 %: 5000/0.840156 kg of dry air × (7.261737 − 1.278876) g/kg.
	r, err := NewRoom(RoomSpec{Volume: units.Volume(5000), Ventilation: units.VolumeFlow(5000. / 3600)})
	if err != nil {
		t.Fatal(err)
	}
	out := mustAir(t, ASHRAEIdeal, units.Atmosphere, DryBulb(units.Celsius(-10)), RHIce(units.RelativeHumidityIce(0.8)))
	in := mustAir(t, ASHRAEIdeal, units.Atmosphere, DryBulb(units.Celsius(20)), RH(units.RelativeHumidity(0.5)))
	d, err := r.Humidify(out, in, units.Celsius(10))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "water kg/h", float64(d.Water)/kgPerHour, 5000/0.840156*(7.261737e-3-1.278876e-3), 1e-3)
	near(t, "steam kW", float64(d.Steam)/1e3, 26.1, 0.05)
	near(t, "evaporation kW", float64(d.Evaporation)/1e3, 24.7, 0.05)

	// Outdoor dew points −9, 2, 5 °C against 22 °C, 45 %, 4000 m³/h of fresh air:
	// 26, 14, 9.5 kg/h. Printed to two figures.
	r, _ = NewRoom(RoomSpec{Volume: units.Volume(3200), Ventilation: units.VolumeFlow(4000. / 3600)})
	in = mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(22)), RH(units.RelativeHumidity(0.45)))
	for _, c := range [][3]float64{{-9, 26, 0.5}, {2, 14, 0.5}, {5, 9.5, 0.3}} {
		out := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(c[0]+2)), DewPoint(units.Celsius(c[0])))
		d, err := r.Humidify(out, in, units.Celsius(10))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "kg/h", float64(d.Water)/kgPerHour, c[1], c[2])
		// The humidifier's water as a gain must lead to the target.
		r2, err := r.Adding(d.Water)
		if err != nil {
			t.Fatal(err)
		}
		a, err := r2.Steady(out, units.Celsius(22))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "RH held", float64(a.RelativeHumidity()), 0.45, 1e-12)
		back, err := r2.OutdoorFor(a, out.Temperature())
		if err != nil {
			t.Fatal(err)
		}
		near(t, "outdoor e", float64(back.VapourPressure()), float64(out.VapourPressure()), 1e-9)
	}
}

// After must solve dW/dt = −n(W − W_∞): compared with a Runge-Kutta solution of
// the exact balance of water and dry air of a room of constant volume.
func TestRoomInTime(t *testing.T) {
	for _, at := range []FlowState{AtIndoor, AtOutdoor} {
		r, err := NewRoom(RoomSpec{Volume: units.Volume(3200), Ventilation: units.VolumeFlow(4000. / 3600), CountedAt: at,
			Gain: units.MassFlow(5) * kgPerHour})
		if err != nil {
			t.Fatal(err)
		}
		out := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(-5)), DewPoint(units.Celsius(-9)))
		start := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(22)), RH(units.RelativeHumidity(0.5)))
		T, p, wo := 295.15, 101325.0, float64(out.HumidityRatio())
		dry := func(w float64) float64 { return p * massRatio / (gasDryAir * T * (massRatio + w)) }
		f := func(w float64) float64 {
			m := 4000. / 3600 * dry(w)
			if at == AtOutdoor {
				m = 4000. / 3600 * float64(out.DryAirDensity())
			}
			return (m*(wo-w) + 5*kgPerHour) / (3200 * dry(w))
		}
		w, h := float64(start.HumidityRatio()), 10.0
		for i := 1; i <= 720; i++ {
			k1 := f(w)
			k2 := f(w + h/2*k1)
			k3 := f(w + h/2*k2)
			k4 := f(w + h*k3)
			w += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
			if i%180 == 0 {
				a, err := r.After(units.Time(h*float64(i)), start, out)
				if err != nil {
					t.Fatal(err)
				}
				// The stated neglect: ΔW/0.62 of the rate, here 0.8 %.
				near(t, "W", float64(a.HumidityRatio()), w, 0.008*math.Abs(float64(start.HumidityRatio())-wo))
			}
		}
	}
	// Goods that take up four times what the air takes up slow it five times.
	plain, _ := NewRoom(RoomSpec{Volume: units.Volume(3200), Ventilation: units.VolumeFlow(1)})
	full, _ := NewRoom(RoomSpec{Volume: units.Volume(3200), Ventilation: units.VolumeFlow(1), Buffer: 4})
	cold := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(-5)), DewPoint(units.Celsius(-9)))
	damp := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(22)), RH(50*units.PercentRH))
	x, err1 := plain.After(1000*units.Second, damp, cold)
	y, err2 := full.After(5000*units.Second, damp, cold)
	if err1 != nil || err2 != nil || !(math.Abs(float64(x.HumidityRatio())/float64(y.HumidityRatio())-1) <= 1e-12) {
		t.Error("buffer:", x, y, err1, err2)
	}
	// A series of constant air is one long step.
	r, _ := NewRoom(RoomSpec{Volume: units.Volume(3200), Ventilation: units.VolumeFlow(1), Buffer: 4})
	out := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(-5)), DewPoint(units.Celsius(-9)))
	start := mustAir(t, IAPWS, units.Atmosphere, DryBulb(units.Celsius(22)), RH(units.RelativeHumidity(0.5)))
	series, got := []Air{out, out, out, out}, make([]Air, 4)
	if err := r.SeriesTo(got, units.Time(600), start, series); err != nil {
		t.Fatal(err)
	}
	want, _ := r.After(units.Time(2400), start, out)
	near(t, "series", float64(got[3].HumidityRatio()), float64(want.HumidityRatio()), 2e-3*float64(want.HumidityRatio()))
	series[1] = Air{}
	if err := r.SeriesTo(got, units.Time(600), start, series); err == nil || got[1].valid() || !got[2].valid() {
		t.Error("a missing hour:", err, got)
	}
}

func TestForecast(t *testing.T) {
	// Dew points for 30, 35, 40, 45 % at 22 °C by the Magnus form with 17.62 and
	// 243.12, printed to 0.1 K; IAPWS differs by less than that.
	for _, c := range [][2]float64{{30, 3.6}, {35, 5.8}, {40, 7.8}, {45, 9.5}} {
		near(t, "dew point", inRoom(t, 22, c[0]).DewPoint().Celsius(), c[1], 0.06)
	}
	var series []Air
	for _, percent := range []float64{50, 30, 30, 50, 30, 30, 30, 60, 30} {
		series = append(series, inRoom(t, 22, percent))
	}
	s, err := SpellsBelow(series, units.Time(3600), units.Celsius(22), units.RelativeHumidity(0.4))
	if want := (Spells{Total: 6 * units.Hour, Longest: 3 * units.Hour, Count: 3, First: 1, Last: 8}); err != nil ||
		s != want {
		t.Errorf("%+v, want %+v, %v", s, want, err)
	}
}
