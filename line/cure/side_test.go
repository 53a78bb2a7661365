package cure

import (
	"math"
	"strings"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/line"
	"example.org/pithball/units"
)

func withSite(t testing.TB, site Site) *Calibrated {
	m := plant(t, nil)
	m.site = site
	return m
}

// ozoneOf375 is that of KEE-3, 8.5957e-4 ppm at 25 °C and 1013.25 hPa, in the air of the plant.
func ozoneOf375(m *Calibrated) float64 { // [1e-6 ppm]
	return 859.57 * float64(m.desc.Air.Temperature) / 298.15 * 101325 / float64(m.desc.Air.Pressure)
}

// TestDevicesTake: what a device that is added takes, by hand.
//
//	KEE-4  296 L/min per m on 1.25 m for 4000 h, 0.11 kWh/m³ at 0.15: 9768 kWh, 1465.2 a year
//	KEE-3  375 µA at 5 mg/C in 4000 m³/h: 1.6875 µg/m³; 8.6e-4 ppm at 25 °C and sea level
//	60 W for 4000 h at 0.15: 36; 3000 over 10 years: 300; 6 h of cleaning at 50: 300
//
// Two devices of 78 dB(A) make 81. What is taken away again takes nothing.
func TestDevicesTake(t *testing.T) {
	site := nobody()
	site.Prices = Prices{Currency: "EUR", Hours: 4000, Kilowatt: 0.15, Labour: 50,
		FreshAir: units.VolumeFlow(4000.0 / 3600)}
	d := Device{Air: units.VolumeFlow(0.296 * 1.25 / 60), Power: 60 * units.Watt, Current: units.Current(375e-6),
		Yield: 5e-6,
		Noise: 78, Price: 3000, Life: 10 * 365.25 * units.Day, Labour: 6 * units.Hour}
	site.Devices = map[string]Device{"one": d, "two": d}
	m := withSite(t, site)
	at := m.desc.Stations[len(m.desc.Stations)-1].At - 50*units.Millimetre
	add := func(name string) Change {
		if name == "two" {
			at -= 100 * units.Millimetre // the zones of two sources do not overlap
		}
		return Add{line.StationSpec{Name: name, Kind: line.Ioniser, At: at,
			Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre}}}
	}
	if s := m.Predict().Side; s.Air != 0 || s.Power != 0 || s.PerYear != 0 || s.Once != 0 || len(s.Notices) != 0 {
		t.Errorf("nothing changed takes %+v", s)
	}
	one := try(t, m, add("one")).Predict().Side
	near(t, "air", float64(one.Air)*60e3, 370, 1e-9)
	near(t, "power", float64(one.Power), 60, 1e-9)
	near(t, "ozone", float64(one.Ozone)*1e12, ozoneOf375(m), 0.9)
	near(t, "noise", one.Noise, 78, 1e-9)
	near(t, "once", one.Once, 3000, 1e-9)
	near(t, "a year", one.PerYear, 1465.2+36+300+300, 1e-6)
	if len(one.Notices) != 1 || !strings.Contains(one.Notices[0], "compressed air") {
		t.Errorf("%q", one.Notices)
	}
	two := try(t, m, add("one"), add("two")).Predict().Side
	near(t, "noise of two", two.Noise, 78+10*math.Log10(2), 1e-9)
	near(t, "a year of two", two.PerYear, 2*2101.2, 1e-6)
	if s := try(t, m, add("one"), Remove{"one"}).Predict().Side; s.Air != 0 || s.PerYear != 0 || s.Once != 0 {
		t.Errorf("added and removed takes %+v", s)
	}
	// A device of the line as it was gives back what it took.
	site.Devices["bar B2"] = d
	less := try(t, withSite(t, site), Switch{Station: "bar B2"}).Predict().Side
	near(t, "air given back", float64(less.Air)*60e3, -370, 1e-9)
	near(t, "a year given back", less.PerYear, -(1465.2 + 36 + 300), 1e-6)
	if less.Noise != 0 || less.Once != 0 {
		t.Errorf("%+v", less)
	}
}

// TestUnknownDevice: of a device that nobody described every amount is named as not given.
func TestUnknownDevice(t *testing.T) {
	site := nobody()
	s := try(t, withSite(t, site), Add{line.StationSpec{Name: "new", Kind: line.Ioniser, At: units.Metre,
		Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre}}}).Predict().Side
	if len(s.Notices) != 1 {
		t.Fatalf("%q", s.Notices)
	}
	for _, want := range []string{"power", "ozone", "compressed air", "noise", "price"} {
		if !strings.Contains(s.Notices[0], want) {
			t.Errorf("%s is missing in %q", want, s.Notices[0])
		}
	}
	passive := try(t, withSite(t, site), Add{line.StationSpec{Name: "brush", Kind: line.Ioniser, At: units.Metre,
		Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre, Passive: true}}}).Predict().Side
	if len(passive.Notices) != 1 || strings.Contains(passive.Notices[0], "ozone") {
		t.Errorf("%q", passive.Notices)
	}
}

// TestAirOfMakersData: 40 holes of 1 mm in a metre at 0.3 bar blow 290 L/min of free air
// (Q = Cd·A·√(2Δp/ρ) with the density at the hole, job of a pocket calculator: 7.3 L/min a hole).
func TestAirOfMakersData(t *testing.T) {
	site := nobody()
	m := withSite(t, site)
	bar := &line.Bar{Kind: ionflow.AC, Current: 300 * units.MicroamperePerMetre, Voltage: 5 * units.Kilovolt,
		Frequency: 50 * units.Hertz, Gauge: units.GaugePressure(0.3e5), Hole: units.Millimetre,
		HolePitch: 25 * units.Millimetre}
	s := &SideEffects{}
	x := taken{s: s, p: &site.Prices}
	x.add(m, "blown", &line.IonSpec{Face: line.FaceA, Distance: 100 * units.Millimetre, Bar: bar}, 1)
	near(t, "air", float64(s.Air)*60e3, 290*1.25, 0.03*290*1.25)
	site.Devices = map[string]Device{"blown": {Yield: 5e-6}}
	site.Prices.FreshAir = units.VolumeFlow(4000.0 / 3600)
	m = withSite(t, site)
	s = &SideEffects{}
	x = taken{s: s, p: &site.Prices}
	x.add(m, "blown", &line.IonSpec{Face: line.FaceA, Distance: 100 * units.Millimetre, Bar: bar}, 1)
	// 300 µA/m of each polarity on 1.25 m are 750 µA: twice KEE-3.
	near(t, "ozone", float64(s.Ozone)*1e12, 2*ozoneOf375(m), 1.8)
}

// TestDeviceRefused: what no device takes is refused by its field.
func TestDeviceRefused(t *testing.T) {
	for field, d := range map[string]Device{"air": {Air: -1}, "power": {Power: -1}, "yield": {Yield: 2},
		"noise": {Noise: 200},
		"price": {Price: -1}, "current": {Current: -1}, "life": {Life: -1}, "labour": {Labour: -1}} {
		site := nobody()
		site.Devices = map[string]Device{"x": d}
		if err := site.Check(); err == nil || !strings.Contains(err.Error(), "devices[x]."+field) {
			t.Errorf("%s: %v", field, err)
		}
	}
}
