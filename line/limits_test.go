package line_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestLastThatIsAccepted: at the end of each range the description is accepted, one step further it is refused.
func TestLastThatIsAccepted(t *testing.T) {
	longer := func(d *line.Description, n int) {
		last := d.Stations[len(d.Stations)-1]
		d.Stations = d.Stations[:len(d.Stations)-1]
		for i := 0; len(d.Stations) < n-1; i++ {
			d.Stations = append(d.Stations, line.StationSpec{Name: fmt.Sprint("place ", i), Kind: line.Place, At: last.At,
				Gap: 300 * units.Millimetre})
		}
		d.Stations = append(d.Stations, last)
	}
	zones := func(d *line.Description, gap units.Length) { // two zones of 0.5 m
		bar := d.Stations[0]
		for _, s := range d.Stations {
			if s.Ioniser != nil {
				bar = s
				break
			}
		}
		var two []line.StationSpec
		for i, at := range []units.Length{1, 1 + gap} {
			s := bar
			ion := *bar.Ioniser
			ion.Zone = 500 * units.Millimetre
			s.Name, s.At, s.Ioniser, s.Gap, s.Past = fmt.Sprint("bar ", i), at, &ion, 300*units.Millimetre, nil
			two = append(two, s)
		}
		last := d.Stations[len(d.Stations)-1]
		d.Stations = append(append(d.Stations[:1:1], two...), last)
	}
	for name, c := range map[string]struct {
		good, bad func(d *line.Description)
		field     string
	}{
		"stations": {func(d *line.Description) { longer(d, 1000) }, func(d *line.Description) { longer(d, 1001) },
			"stations"},
		"zones": {func(d *line.Description) { zones(d, 0.5) }, func(d *line.Description) { zones(d, 0.499) },
			"stations[2] (bar 1).at"},
		"water": {func(d *line.Description) { d.Web.Humidity = humidity.Absorbing },
			func(d *line.Description) { d.Web.Humidity = humidity.Absorbing + 1 }, "web.humidity"},
		"least water": {func(d *line.Description) { d.Web.Humidity = humidity.Inert },
			func(d *line.Description) { d.Web.Humidity = humidity.Inert - 1 }, "web.humidity"},
		"fall": {func(d *line.Description) {
			d.Web.Humidity, d.Web.DecadesPerPercent = humidity.Adsorbing, &known.Band{Value: 1}
		}, func(d *line.Description) {
			d.Web.Humidity, d.Web.DecadesPerPercent = humidity.Adsorbing, &known.Band{Value: 1.001}
		}, "web.decadesPerPercent"},
		"fall of none": {func(d *line.Description) { d.Web.DecadesPerPercent = &known.Band{} },
			func(d *line.Description) { d.Web.DecadesPerPercent = &known.Band{Value: 0.01} }, "web.decadesPerPercent"},
		"hot": {func(d *line.Description) { d.Web.Temperature = units.Celsius(200) },
			func(d *line.Description) { d.Web.Temperature = units.Celsius(200.1) }, "web.temperature"},
		"cold": {func(d *line.Description) { d.Web.Temperature = units.Celsius(-40) },
			func(d *line.Description) { d.Web.Temperature = units.Celsius(-40.1) }, "web.temperature"},
		"names": {func(*line.Description) {}, func(d *line.Description) { d.Meters[1].Name = d.Meters[0].Name },
			"meters[1].name"},
		"no name": {func(*line.Description) {}, func(d *line.Description) { d.Meters[1].Name = "" }, "meters[1].name"},
	} {
		d := demoDescription(t)
		d.Web.Humidity = humidity.Inert
		c.good(d)
		if _, err := line.New(d); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		d = demoDescription(t)
		c.bad(d)
		if _, err := line.New(d); err == nil || !strings.Contains(err.Error(), c.field) {
			t.Errorf("%s: %v, want %s", name, err, c.field)
		}
	}
}

// TestBeyondTheLast: there is no station and no meter behind the last.
func TestBeyondTheLast(t *testing.T) {
	l := newLine(t, demoDescription(t))
	for i, none := range map[int]bool{-1: true, 0: false, l.Len() - 1: false, l.Len(): true} {
		if f, sd := l.PlaceFactor(i, 25*units.Millimetre, 0); math.IsNaN(f) != none || math.IsNaN(sd) != none {
			t.Errorf("station %d: %v ± %v", i, f, sd)
		}
	}
	n := len(l.Description().Meters)
	for i, none := range map[int]bool{-1: true, 0: false, n - 1: false, n: true} {
		if got := l.Noise(&line.View{Meter: i}, 100); math.IsNaN(got.Own) != none {
			t.Errorf("meter %d: %+v", i, got)
		}
	}
}

// TestMoistureOfAWeb: nothing of an inert web, what is described of another, and 0.06 ± 0.03 decades per %RH
// of one that nobody tested; air of 22 °C and 60 %RH is 0.6·2.645/4.247 = 37.4 %RH over a web of 30 °C and
// saturated over one of 10 °C (pressures of the steam tables, from memory).
func TestMoistureOfAWeb(t *testing.T) {
	for _, c := range []struct {
		w        line.Web
		fall, sd float64
	}{
		{line.Web{Humidity: humidity.Inert}, 0, 0}, {line.Web{Humidity: humidity.Adsorbing}, 0.06, 0.03},
		{line.Web{Humidity: humidity.Absorbing, DecadesPerPercent: &known.Band{Value: 0.085, Spread: 0.01,
			Kind: known.Normal}}, 0.085, 0.01},
	} {
		if fall, sd := c.w.LeakFall(); !(math.Abs(fall-c.fall) <= 1e-12) || !(math.Abs(sd-c.sd) <= 1e-6) {
			t.Errorf("%v: %v ± %v", c.w.Humidity, fall, sd)
		}
	}
	for _, c := range []struct{ web, want float64 }{{30, 0.374}, {10, 1}, {22, 0.6}} {
		w := line.Web{Temperature: units.Celsius(c.web)}
		if got := float64(w.Damp(units.Celsius(22), 0.6)); !(math.Abs(got-c.want) <= 0.002) {
			t.Errorf("web of %v °C: %v, by hand %v", c.web, got, c.want)
		}
	}
	if got := (&line.Web{}).Damp(units.Celsius(22), 0.6); got != 0.6 {
		t.Errorf("at the temperature of the air: %v", got)
	}
	if got := (&line.Web{Temperature: units.Celsius(30)}).Damp(0, 0.6); !math.IsNaN(float64(got)) {
		t.Errorf("of no air: %v", got)
	}
}

// TestWordsBeforeAStation: the last word says what stands there, the words before it are its name.
func TestWordsBeforeAStation(t *testing.T) {
	d, _, err := line.Start(line.Answers{Name: "x", Material: "bopp", Thickness: 20 * units.Micrometre, Width: 1, Speed: 1,
		Trouble: line.TroubleShock, Stations: "unwind, tension nip, ionising bar, lay-on roller, winder",
		Temperature: units.Celsius(22), RelativeHumidity: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	kinds := map[string]line.StationKind{}
	for _, s := range d.Stations {
		kinds[s.Name] = s.Kind
	}
	for name, want := range map[string]line.StationKind{"tension nip 1": line.Nip, "ionising bar 1": line.Ioniser,
		"lay-on roller 1": line.Roller} {
		if kinds[name] != want {
			t.Errorf("%s is %v", name, kinds[name])
		}
	}
}

// TestOverTheCapAtAPlace: a web that was measured with more than the gas leaves at a contact keeps it at a place, where
// nothing parts, and nothing rules there.
func TestOverTheCapAtAPlace(t *testing.T) {
	l := newLine(t, short())
	res := make([]line.Result, 1)
	at := slices.IndexFunc(l.Description().Stations, func(s line.StationSpec) bool { return s.Kind == line.Place }) - 1
	over := line.State{A: 3 * l.NetCap()}
	if n := l.RunFrom(res, at, over, line.Conditions{Speed: 1}); n != 1 || res[0].Ruled != line.Nothing ||
		!(math.Abs(float64(res[0].Net()/over.Net()-1)) <= 1e-9) {
		t.Errorf("%d, %+v", n, res[0])
	}
}
