package cure

import (
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// heated is a web that comes with 5 µC/m² at 1 m/s through air of 23 °C and 25 %RH, over two ways of 1 m with a leak of
// 1 s each in that air at 23 °C; on the second it has 28 °C. The law is 0.02 ± 0.002 decades per %RH.
func heated(t *testing.T, edit func(d *line.Description), more ...column) *Calibrated {
	t.Helper()
	d := plantDescription(t)
	d.Web.Humidity, d.Web.VolumeResistivity = humidity.Adsorbing, 1e20
	d.Web.DecadesPerPercent = &known.Band{Value: 0.02, Spread: 0.002, Kind: known.Normal}
	d.Air = line.AirSpec{Temperature: units.Celsius(23), RelativeHumidity: 0.25, Pressure: units.Atmosphere}
	leak := func() *line.LeakSpec { return &line.LeakSpec{Path: decay.EarthedEdge, Time: units.Second} }
	d.Stations = []line.StationSpec{
		{Name: "unwind", Kind: line.Unwind, Leak: leak(), Change: []line.ChangeSpec{{Face: line.FaceA, Spread: 1e-6},
			{Face: line.FaceB, Spread: 1e-6}}},
		{Name: "oven", Kind: line.Place, At: 1, Gap: 0.3, Leak: leak(), WebTemperature: units.Celsius(28)},
		{Name: "end", Kind: line.Place, At: 2, Gap: 0.3}, {Name: "winder", Kind: line.Winder, At: 3}}
	if edit != nil {
		edit(d)
	}
	site := nobody()
	changes := append([]column{same(5 * micro), same(0)}, more...)
	m, err := build(d, found{speed: 1, low: 1, high: 1, changes: changes}, &site)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// atEnd is the net of the middle line behind both ways. [µC/m²]
func atEnd(m *Calibrated) float64 {
	w, s := m.run(1), m.station("end")
	return (w.a[s][Draws] + w.b[s][Draws]) / micro
}

// TestChangesOfAStretch: saturation by Magnus (6.112 hPa·exp(17.62·t/(243.12 + t))): 28.025 hPa at 23 °C, 33.533
// at 26 °C, 37.712 at 28 °C. 25 %RH are 18.58 at the hot web, 6.42 less: 10^0.1284 = 1.3441 s, and of 5 µC/m²
// e^−1·e^(−1/1.3441) leave 0.8741. At 45 %RH the room's leak takes 10^−0.4 = 0.3981 s and the hot one, at 33.44
// %RH, 10^(−0.02·8.44) = 0.6779 s: 5·e^−2.5119·e^−1.4751 = 0.0928; at the oven alone 5·e^−1·e^−1.4751 = 0.4208.
// Air of 26 °C with the water of the room has 20.89 %RH, 10^0.0821 = 1.2082 s, and the hot web is as it was:
// 5·e^−0.8277·e^−0.7440 = 1.0385.
func TestChangesOfAStretch(t *testing.T) {
	m := heated(t, nil)
	for _, c := range []struct {
		what    string
		changes []Change
		want    float64
	}{
		{"as described", nil, 0.8741}, {"moistened", []Change{Moisten{To: 0.45}}, 0.0928},
		{"in two steps", []Change{Moisten{To: 0.35}, Moisten{To: 0.45}}, 0.0928},
		{"at the oven", []Change{Moisten{Air: "oven", To: 0.45}}, 0.4208},
		{"warmed", []Change{Warm{To: units.Celsius(26)}}, 1.0385},
		{"warmed at the oven", []Change{Warm{Air: "oven", To: units.Celsius(26)}}, 0.8741},
		{"without the oven", []Change{Remove{Station: "oven"}}, 0.8741},
		{"and back", []Change{Remove{Station: "oven"}, Add{Station: m.desc.Stations[1]}}, 0.8741},
		{"a place on it", []Change{Add{Station: line.StationSpec{Name: "new", Kind: line.Place, At: 1.5, Gap: 0.3}}}, 0.8741},
		{"a leak on it", []Change{Add{Station: line.StationSpec{Name: "new", Kind: line.Place, At: 1.5, Gap: 0.3,
			Leak: &line.LeakSpec{Path: decay.EarthedEdge, Time: units.Second}}}}, 0.8741},
	} {
		is := try(t, m, c.changes...)
		near(t, c.what, atEnd(is), c.want, 3e-4)
		d, err := is.Description()
		if err != nil {
			t.Fatal(err)
		}
		l, err := line.New(&d)
		if err != nil {
			t.Fatal(err)
		}
		res := make([]line.Result, l.Len())
		l.RunTo(res, 1)
		near(t, c.what+", as described", 1e6*float64(res[l.Station("end")].Net()), c.want, 3e-4)
	}
	// The law's spread reaches the hot way as far as it is used: 10·0.002·0.642 decades; the room's not at all.
	var sum, sq float64
	for _, tau := range m.stages[1].tau[:Draws] {
		x := math.Log10(tau)
		sum, sq = sum+x, sq+x*x
	}
	n := float64(Draws)
	near(t, "spread", math.Sqrt(sq/n-sum*sum/n/n), 0.01284, 0.0012)
	if m.stages[0].tau != nil {
		t.Error("the room's leak moved")
	}
}

// TestStretchOfWebs: an inert web keeps every bit; an absorbing one, whose leak was found on the stretch, follows
// the air of the room as the rest does: at 45 %RH 5·e^(−2/0.3981) = 0.0329. A law of the site stands over that of
// the line: 0.04 decades per %RH, 1.8065 s, 5·e^−1·e^−0.5536 = 1.0575.
func TestStretchOfWebs(t *testing.T) {
	inert := func(d *line.Description) { d.Web.Humidity, d.Web.DecadesPerPercent = humidity.Inert, nil }
	cold := heated(t, func(d *line.Description) { inert(d); d.Stations[1].WebTemperature = 0 })
	if a, b := atEnd(heated(t, inert)), atEnd(cold); a != b {
		t.Errorf("inert: %v, without the stretch %v", a, b)
	}
	absorbing := heated(t, func(d *line.Description) {
		d.Web.Humidity, d.Stations[1].Leak.WebTemperature = humidity.Absorbing, units.Celsius(28)
	})
	near(t, "absorbing", atEnd(absorbing), 0.6767, 3e-4)
	near(t, "absorbing, moistened", atEnd(try(t, absorbing, Moisten{To: 0.45})), 0.0329, 3e-4)
	d := heated(t, nil).desc
	site := nobody()
	site.Leak = &LeakLaw{Class: humidity.Adsorbing, Decades: 0.04}
	m, err := build(&d, found{speed: 1, low: 1, high: 1, changes: []column{same(5 * micro), same(0)}}, &site)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "law of the site", atEnd(m), 1.0575, 3e-4)
	// The web is at 26 °C, 20.89 %RH, as the leak times were found: 2.316 less at 28 °C, 1.1125 s, 5·e^−1·e^−0.8989 =
	// 0.7487.
	site.Leak, site.WebTemperature = nil, units.Celsius(26)
	m, err = build(&d, found{speed: 1, low: 1, high: 1, changes: []column{same(5 * micro), same(0)}}, &site)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "web of the site", atEnd(m), 0.7487, 3e-4)
	// Nobody tested it: 0.06 decades per %RH, 2.428 s, 5·e^−1·e^−0.4118 = 1.2184.
	near(t, "no law", atEnd(heated(t, func(d *line.Description) { d.Web.DecadesPerPercent = nil })), 1.2184, 5e-4)
}

// TestStretchStays: what heats the web stays where it is when a bar that stands there is moved, and when a station
// without a leak is taken away; air that leaves dew on the web of 18 °C is refused then too.
func TestStretchStays(t *testing.T) {
	m := heated(t, func(d *line.Description) {
		d.Stations[0].Leak, d.Stations[1].Leak, d.Stations[1].WebTemperature = nil, nil, units.Celsius(18)
		bar := line.StationSpec{Name: "bar", Kind: line.Ioniser, At: 1.5, Gap: 0.3, WebTemperature: units.Celsius(40),
			Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 0.025, Zone: 0.05, Supply: 3e-4, Conductivity: 1e-12}}
		d.Stations = slices.Insert(d.Stations, 2, bar)
	}, same(0))
	moved := try(t, m, Move{Station: "bar", To: 0.5})
	without := try(t, m, Remove{Station: "oven"})
	for name, want := range map[string]units.Temperature{"bar": 0, "bar, its place": units.Celsius(40)} {
		if s := moved.station(name); s < 0 || moved.desc.Stations[s].WebTemperature != want {
			t.Errorf("%s: %+v", name, moved.desc.Stations)
		}
	}
	if _, err := without.Try(Moisten{To: 0.8}); err == nil || !strings.Contains(err.Error(), "behind oven") {
		t.Errorf("without the station where it is chilled: %v", err)
	}
	back := try(t, without, Add{Station: m.desc.Stations[1]})
	if s := back.station("oven"); back.desc.Stations[s].WebTemperature != 0 {
		t.Errorf("twice: %+v", back.desc.Stations)
	}
}

// TestDewOfAStretch: air of 23 °C and 80 %RH has a dew point of 19.4 °C (Magnus): it is refused where the web is
// chilled to 18 °C, along the line and on that way, and taken on the other. 60 %RH, 14.8 °C, is taken everywhere.
func TestDewOfAStretch(t *testing.T) {
	m := heated(t, func(d *line.Description) { d.Stations[1].WebTemperature = units.Celsius(18) })
	for _, c := range []struct {
		change  Change
		refused bool
	}{{Moisten{To: 0.8}, true}, {Moisten{Air: "oven", To: 0.8}, true}, {Moisten{Air: "unwind", To: 0.8}, false},
		{Moisten{To: 0.6}, false}} {
		_, err := m.Try(c.change)
		if c.refused != (err != nil) {
			t.Errorf("%v: %v", c.change, err)
		}
		if err != nil && !(strings.Contains(err.Error(), "changes[0].to") && strings.Contains(err.Error(), "behind oven")) {
			t.Errorf("%v: %v", c.change, err)
		}
	}
	_, err := m.Try(Add{Station: line.StationSpec{Name: "new", Kind: line.Place, At: 1.5, Gap: 0.3,
		WebTemperature: units.Celsius(40)}})
	if err == nil || !strings.Contains(err.Error(), "station.webTemperature") {
		t.Errorf("another stretch: %v", err)
	}
}
