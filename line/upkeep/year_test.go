package upkeep

import (
	"math"
	"strings"
	"testing"
	"time"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// press is the invented sheet-fed press: 6 µC/m² ± 10 %, a sheet every 0.3 s, τ known
// to 0.1 decades.
func press(t testing.TB, perHour, celsius, limit float64) Need {
	return Need{Station: "feeder", Start: known.Band{Value: 6e-6, Spread: 0.6e-6, Kind: known.Normal},
		Limit: units.SurfaceChargeDensity(limit) * units.MicrocoulombPerSquareMetre,
		Dwell: units.Hour / units.Time(perHour), Leak: sheetLaw(t, 0.1), At: units.Celsius(celsius)}
}

func hall(t testing.TB, h Hall) Hall {
	t.Helper()
	var err error
	h.Room, err = humidity.NewRoom(humidity.RoomSpec{Volume: 3200, Ventilation: units.VolumeFlow(4000.0 / 3600),
		CountedAt: humidity.AtIndoor})
	if err != nil {
		t.Fatal(err)
	}
	h.Temperature = units.Celsius(22)
	return h
}

func duct(t testing.TB, dew float64) humidity.Air {
	t.Helper()
	a, err := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(20)),
		humidity.DewPoint(units.Celsius(dew)))
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func celsius(t units.Temperature) float64 { return float64(t) - 273.15 }

// The critical humidity by hand: τ_c = 0.3 s/ln(6/1.74) = 0.2424 s, RH = (2.9 −
// lg 0.2424)/0.085 = 41.36 %; doubts 0.1/0.085 = 1.18, 2.5 and 0.1/(0.085·2.3026·1.238)
// = 0.41 %RH, together 2.79. The other values are Magnus' formula and closed forms,
// which agree to 0.1 K.
func TestThreshold(t *testing.T) {
	got, err := press(t, 12000, 27, 1.74).Threshold()
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []struct{ rh, dew float64 }{{36.7643, 10.9678}, {41.3595, 12.7553}, {45.9546, 14.3756}} {
		near(t, "RH", float64(got.Humidity[k])*100, want.rh, 0.05)
		near(t, "dew point", celsius(got.DewPoint[k]), want.dew, 0.1)
	}
	near(t, "law", float64(got.Law)*100, 1.17647, 1e-4)
	near(t, "air", float64(got.Air)*100, 2.5, 1e-12)
	near(t, "start", float64(got.Start)*100, 0.412752, 0.02)
	for _, c := range []struct{ rate, limit, rh, dew float64 }{
		{6000, 1.74, 37.8179, 11.3944}, {9000, 1.74, 39.8896, 12.2034}, {15000, 1.74, 42.4996, 13.1715},
		{6000, 4.5, 30.3619, 8.1165}, {12000, 4.5, 33.9034, 9.75272}, {15000, 4.5, 35.0435, 10.2474},
	} {
		got, err := press(t, c.rate, 27, c.limit).Threshold()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "RH", float64(got.Humidity[1])*100, c.rh, 0.05)
		near(t, "dew point", celsius(got.DewPoint[1]), c.dew, 0.1)
	}
	// A limit above the charge is never reached; a slower leak than any humidity cures is told.
	if got, err := press(t, 12000, 27, 20).Threshold(); err != nil || !got.Never || got.Humidity[1] != 0 {
		t.Errorf("%+v %v", got, err)
	}
	n := press(t, 12000, 27, 1.74)
	n.Leak, _ = humidity.NewConstant(units.Time(100), 0.1)
	if _, err := n.Threshold(); err == nil || !strings.Contains(err.Error(), "no humidity brings feeder") {
		t.Error(err)
	}
}

// The outdoor dew point: W_out = W_c − G/ṁ with 4714 kg/h of dry air; a
// humidifier that stops at the duct's 7.7 °C does not help at 12.8 °C.
func TestOutdoor(t *testing.T) {
	n := press(t, 12000, 27, 1.74)
	mean := [12]units.Temperature{}
	for i := range mean {
		mean[i] = units.Celsius(0)
	}
	for _, c := range []struct{ kg, want float64 }{{0, 12.7553}, {3, 11.6752}, {10, 8.84323}, {22, 2.42332},
		{36, -11.8323}} { // [kg/h]
		y, err := ForecastYear([]Need{n}, hall(t, Hall{Most: units.MassFlow(c.kg / 3600), AlwaysOn: true}),
			Weather{Monthly: &mean, Within: 4})
		if err != nil {
			t.Fatal(err)
		}
		// Those values leave out the enhancement factor, 0.45 % of the vapour indoors,
		// which W_c/W_out = 6 makes 2.7 % or 0.4 K outdoors at 36 kg/h, and round the rest.
		near(t, "outdoor", celsius(y.Outdoor[1]), c.want, 0.6)
	}
	y, err := ForecastYear([]Need{n}, hall(t, Hall{Most: units.MassFlow(40.0 / 3600), SetPoint: duct(t, 7.7)}),
		Weather{Monthly: &mean, Within: 4})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "as set", celsius(y.Outdoor[1]), 12.7553, 0.5)
}

// Monthly means: hours 730·Φ((12.755 − mean)/4), band at the band of the
// threshold. By hand for June (13 °C): Φ(−0.061) = 0.476.
func TestMonthly(t *testing.T) {
	var mean [12]units.Temperature
	for i, c := range []float64{-9, -8, -3, 2, 8, 13, 15, 15, 10, 5, -1, -6} {
		mean[i] = units.Celsius(c)
	}
	y, err := ForecastYear([]Need{press(t, 12000, 27, 1.74)}, hall(t, Hall{}), Weather{Monthly: &mean, Within: 4})
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []float64{6483.06, 7035.65, 7512.81} {
		// 0.1 K between two formulas of the dew point is 31 h at the drier end.
		near(t, "hours", float64(y.Hours[k]/units.Hour), want, 31)
	}
	for m, want := range []float64{1, 1, 0.999959, 0.996415, 0.882744, 0.475606, 0.287336, 0.287336, 0.75453, 0.973738,
		0.999708,
		0.999999} {
		near(t, time.Month(m+1).String(), y.Months[m], want, 0.005)
	}
	if y.Driest != time.January || y.Binding != "feeder" {
		t.Errorf("%+v", y)
	}
}

// synthetic is an invented year.
func synthetic(t testing.TB) []humidity.Air {
	out := make([]humidity.Air, 8760)
	for i := range out {
		h := float64(i)
		td := 3 - 12*math.Cos(2*math.Pi*(h/24-15)/365) + 3*math.Sin(2*math.Pi*h/168) + math.Sin(2*math.Pi*math.Mod(h, 24)/24)
		var err error
		out[i], err = humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(td+5)),
			humidity.DewPoint(units.Celsius(td)))
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// fast is a hall without memory: what is outdoors is indoors within minutes.
func fast(t testing.TB, h Hall) Hall {
	h = hall(t, h)
	s := h.Room.Spec()
	s.Volume = 1
	h.Room, _ = humidity.NewRoom(s)
	return h
}

func TestHourly(t *testing.T) {
	year := synthetic(t)
	held := Hall{Most: units.MassFlow(100.0 / 3600), SetPoint: duct(t, 7.70)}
	y, err := ForecastYear([]Need{press(t, 12000, 27, 1.74)}, fast(t, held), Weather{Hourly: year})
	if err != nil {
		t.Fatal(err)
	}
	for k, want := range []struct{ hours, weeks, shifts float64 }{{6519, 37, 843}, {7222, 41, 932}, {7818, 47, 999}} {
		near(t, "hours", float64(y.Hours[k]/units.Hour), want.hours, 30)
		near(t, "weeks", float64(y.Weeks[k]), want.weeks, 3)
		near(t, "shifts", float64(y.Shifts[k]), want.shifts, 3)
	}
	if len(y.Calendar) != 2 || y.Calendar[0].From.Month() != time.January || y.Calendar[0].To.Month() < time.April ||
		y.Calendar[1].From.Month() < time.August || y.Calendar[1].To.Month() != time.December {
		t.Errorf("%+v", y.Calendar)
	}
	for _, c := range []struct {
		name                 string
		need                 Need
		hall                 Hall
		hours, weeks, shifts float64
	}{
		{"feeder 22 °C", press(t, 12000, 22, 1.74), held, 5687, 33, 730},
		{"set point 13 °C", press(t, 12000, 27, 1.74), Hall{Most: units.MassFlow(100.0 / 3600), SetPoint: duct(t, 13)}, 0,
			0, 0},
		{"15,000 an hour", press(t, 15000, 27, 1.74), held, 7400, 43, 953},
	} {
		y, err := ForecastYear([]Need{c.need}, fast(t, c.hall), Weather{Hourly: year})
		if err != nil {
			t.Fatal(err)
		}
		near(t, c.name+" hours", float64(y.Hours[1]/units.Hour), c.hours, 30)
		near(t, c.name+" weeks", float64(y.Weeks[1]), c.weeks, 3)
		near(t, c.name+" shifts", float64(y.Shifts[1]), c.shifts, 3)
	}
	// Each week of its own share: as many hours in all, and as many weeks over a half.
	var hours, weeks float64
	for k, x := range y.ByWeek {
		hours += x * float64(min(168, len(year)-168*k))
		if x > 0.5 {
			weeks++
		}
	}
	if len(y.ByWeek) != 53 || y.ByWeek[52] > 1 {
		t.Errorf("shares of the weeks %v", y.ByWeek)
	}
	near(t, "hours by weeks", hours, float64(y.Hours[1]/units.Hour), 1e-6)
	near(t, "weeks over a half", weeks, float64(y.Weeks[1]), 0)
	// Two stations: the faster or warmer one binds.
	warm := press(t, 12000, 30, 1.74)
	warm.Station = "dryer"
	y, _ = ForecastYear([]Need{press(t, 12000, 27, 1.74), warm}, fast(t, held), Weather{Hourly: year})
	if y.Binding != "dryer" {
		t.Error(y.Binding)
	}
	// A humidifier that is too small fails in the cold: 10 kg/h in 4714 kg/h of dry air
	// lift W by 2.1 g/kg, so that below about 2.6 °C outdoors 7.7 °C indoors is missed.
	n := press(t, 12000, 27, 4.46888)
	small, _ := ForecastYear([]Need{n}, fast(t, Hall{Most: units.MassFlow(10.0 / 3600), SetPoint: duct(t, 13)}),
		Weather{Hourly: year})
	large, _ := ForecastYear([]Need{n}, fast(t, Hall{Most: units.MassFlow(100.0 / 3600), SetPoint: duct(t, 13)}),
		Weather{Hourly: year})
	if !(small.Hours[1] > 1000*units.Hour) || large.Hours[1] != 0 {
		t.Errorf("small %v, large %v", small.Hours, large.Hours)
	}
}

// Four days by hand: 48 dry hours, 24 damp, 24 without record; the week is short.
func TestCounting(t *testing.T) {
	at := func(dew float64) humidity.Air {
		a, err := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(units.Celsius(20)),
			humidity.DewPoint(units.Celsius(dew)))
		if err != nil {
			t.Fatal(err)
		}
		return a
	}
	series := make([]humidity.Air, 96)
	for i := range 48 {
		series[i] = at(0)
	}
	for i := 48; i < 72; i++ {
		series[i] = at(18)
	}
	y, err := ForecastYear([]Need{press(t, 12000, 27, 1.74)}, fast(t, Hall{}), Weather{Hourly: series,
		Begin: time.Date(2025, time.March, 30, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	if len(y.ByWeek) != 1 || y.ByWeek[0] != 48/72.0 {
		t.Errorf("share of the week %v, by hand 48 of 72 hours with air", y.ByWeek)
	}
	if y.Hours != [3]units.Time{48 * units.Hour, 48 * units.Hour, 48 * units.Hour} || y.Missing != 24 ||
		y.Shifts[1] != 6 ||
		y.Weeks[1] != 0 || y.Months[2] != 1 || y.Months[3] != 0 || y.Driest != time.March {
		t.Errorf("%+v", y)
	}
}

// The need of a line: what its idler leaves, the way to the next station, its limit.
func TestNeedAt(t *testing.T) {
	l, err := line.New(shortLine())
	if err != nil {
		t.Fatal(err)
	}
	n, err := NeedAt(l, "idler", 2*units.MetrePerSecond, 0.1, sheetLaw(t, 0.1), units.Celsius(22))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "start", n.Start.Value, 5e-6, 1e-12)
	near(t, "dwell", float64(n.Dwell), 0.25, 1e-12)
	near(t, "limit", float64(n.Limit), float64(l.Limit()), 0)
	for _, bad := range []string{"nowhere", "winder"} {
		if _, err := NeedAt(l, bad, 2, 0.1, sheetLaw(t, 0.1), units.Celsius(22)); err == nil {
			t.Errorf("%s accepted", bad)
		}
	}
}

func TestForecastRefuses(t *testing.T) {
	n := press(t, 12000, 27, 1.74)
	year := synthetic(t)
	for name, f := range map[string]func() error{
		"needs":          func() error { _, err := ForecastYear(nil, hall(t, Hall{}), Weather{Hourly: year}); return err },
		"weather.hourly": func() error { _, err := ForecastYear([]Need{n}, hall(t, Hall{}), Weather{}); return err },
		"hall.room": func() error {
			_, err := ForecastYear([]Need{n}, Hall{Temperature: 293},
				Weather{Hourly: year})
			return err
		},
		"hall.setPoint": func() error {
			_, err := ForecastYear([]Need{n}, hall(t, Hall{Most: 1}),
				Weather{Hourly: year})
			return err
		},
		"need.leak":  func() error { m := n; m.Leak = nil; _, err := m.Threshold(); return err },
		"need.start": func() error { m := n; m.Start.Value = 0; _, err := m.Threshold(); return err },
		"need.limit": func() error { m := n; m.Limit = 0; _, err := m.Threshold(); return err },
	} {
		if err := f(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
