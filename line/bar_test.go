package line_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// barred is the short line, charged to 5 µC/m², with a bar in the middle of its last span.
func barred(ion line.IonSpec) *line.Description {
	d := short()
	d.Stations[1].Change[0].Median = 5 * units.MicrocoulombPerSquareMetre
	ion.Face = line.FaceA
	bar := line.StationSpec{Name: "bar", Kind: line.Ioniser, At: 2 * units.Metre, Gap: 300 * units.Millimetre,
		Ioniser: &ion}
	d.Stations = append(append(d.Stations[:3:3], bar), d.Stations[3:]...)
	return d
}

// powered is an invented bar without air.
func powered() line.IonSpec {
	return line.IonSpec{Distance: 30 * units.Millimetre, Bar: &line.Bar{Kind: ionflow.DC, Voltage: 7 * units.Kilovolt,
		Current: 300 * units.MicroamperePerMetre, Pitch: 10 * units.Millimetre, Start: 3.5 * units.Kilovolt}}
}

func run(t *testing.T, d *line.Description, v units.Speed) (*line.Line, line.Result) {
	t.Helper()
	l := newLine(t, d)
	res := make([]line.Result, l.Len())
	l.RunTo(res, v)
	return l, res[l.Station("bar")]
}

// A bar with its maker's data is its curve at its place: the gap behind the web is that of the station, not none.
func TestBarIsItsCurve(t *testing.T) {
	const v = units.Speed(20)
	_, got := run(t, barred(powered()), v)
	em, err := ionflow.NewEmitter(ionflow.EmitterSpec{Kind: ionflow.DC, Voltage: 7000, Current: 3e-4})
	if err != nil {
		t.Fatal(err)
	}
	ions, _ := ionflow.SmallIons().At(0, 0, 0).In(units.Celsius(22), units.Atmosphere)
	src, err := ioniser.New(ioniser.Spec{Emitter: em, Distance: 0.03, Span: 2, Ions: ions,
		Points: ioniser.Points{Pitch: 0.01, Start: 3500}})
	if err != nil {
		t.Fatal(err)
	}
	left := func(gap units.Length) units.SurfaceChargeDensity {
		p, err := src.At(gap)
		if err != nil {
			t.Fatal(err)
		}
		return p.Act(5e-6, v).Left
	}
	// The web is 1 m wide: its edges take away a little of what h/(d+h) promises.
	if !(math.Abs(float64(got.Net()-left(0.3))) < 0.01*math.Abs(float64(left(0.3)))) || got.Net() < left(0.3) {
		t.Errorf("%v, want a little more than %v (free: %v)", got.Net(), left(0.3), left(ioniser.NoMetal()))
	}
	if got.Validity&known.Unpublished == 0 || got.Ruled != line.FieldOfPoints ||
		got.Ruled.String() != "field of the points" {
		t.Errorf("%v, %v", got.Validity, got.Ruled)
	}
	// Half the current at half the speed is the same pass.
	half := powered()
	half.Bar.Fit = 0.5
	_, slow := run(t, barred(half), v/2)
	if !(math.Abs(float64(slow.Net()-got.Net())) < 1e-12) {
		t.Errorf("%v, want %v", slow.Net(), got.Net())
	}
}

// What a survey found fits one number, and with it the bar is read at other speeds: a bar with data by its curve, one
// without by its share 1 − (1 − s)^(v0/v), by hand 1 − 0.7² = 0.51 at half the speed.
func TestFoundBars(t *testing.T) {
	share := line.IonSpec{Distance: 30 * units.Millimetre, Conductivity: 1e-9, Zone: 0.05, Supply: 1}
	for name, ion := range map[string]line.IonSpec{"curve": powered(), "share": share} {
		d := barred(ion)
		l := newLine(t, d)
		u, _, _ := l.Unknowns()
		x := make([]float64, len(u))
		for k := range u {
			switch l.Description().Stations[u[k].Station].Name {
			case "idler":
				x[k] = 5e-6
			case "bar":
				x[k] = -1.5e-6
			}
		}
		found, err := l.With(x, 4, nil)
		if err != nil {
			t.Fatal(err)
		}
		res := make([]line.Result, found.Len())
		found.RunTo(res, 4)
		b := found.Station("bar")
		if !(math.Abs(float64(res[b].Net())-3.5e-6) < 1e-11) {
			t.Errorf("%s: %v", name, res[b].Net())
		}
		fitted := res[b].Validity
		found.RunTo(res, 2)
		if name == "share" && (!(math.Abs(float64(res[b].Net())-5e-6*0.49) < 1e-11) || res[b].Validity != known.Estimate) {
			t.Errorf("%v, %v", res[b].Net(), res[b].Validity)
		}
		// At 4 m/s the described bar takes nearly all: a tenth of its current says that it is not this bar.
		if name == "curve" && fitted&known.BelowRange == 0 {
			t.Errorf("%v", fitted)
		}
		for k := range u {
			if l.Description().Stations[u[k].Station].Name == "bar" {
				x[k] = 0
			}
		}
		if found, err = l.With(x, 4, nil); err != nil {
			t.Fatal(err)
		}
		found.RunTo(res, 4)
		if !(math.Abs(float64(res[b].Net())-5e-6) < 1e-11) {
			t.Errorf("%s takes of nothing: %v", name, res[b].Net())
		}
	}
}

// The share law takes no more than the supply, and nothing below its onset.
func TestShareOfABar(t *testing.T) {
	ion := line.IonSpec{Distance: 30 * units.Millimetre, Conductivity: 1e-6, Zone: 0.05, Supply: 4e-6}
	_, r := run(t, barred(ion), 2)
	if !(math.Abs(float64(r.GainA)+2e-6) < 1e-12) || r.Ruled != line.SupplyOfIons {
		t.Errorf("%v, %v", r.GainA, r.Ruled)
	}
	ion.Onset, ion.Passive = 6e-6, true
	if _, r = run(t, barred(ion), 2); r.GainA != 0 || r.Ruled != line.BelowOnset {
		t.Errorf("%v, %v", r.GainA, r.Ruled)
	}
}

func TestBarsRefused(t *testing.T) {
	for name, c := range map[string]struct {
		change func(d *line.Description)
		want   string
	}{
		"beside": {func(d *line.Description) { d.Stations[3].Ioniser.Supply = 1 }, "no conductivity"},
		"kind":   {func(d *line.Description) { d.Stations[3].Ioniser.Bar.Kind = ionflow.Passive }, "passive"},
		"data":   {func(d *line.Description) { d.Stations[3].Ioniser.Bar.Current = 0 }, "ioniser.bar.current"},
		"air":    {func(d *line.Description) { d.Stations[3].Ioniser.Bar.Gauge = 3e4 }, "either a slot or holes"},
		"neighbour": {func(d *line.Description) {
			b := d.Stations[3]
			b.Name, b.At = "bar 2", b.At+20*units.Millimetre
			ion := *b.Ioniser
			ion.Face = line.FaceB
			b.Ioniser = &ion
			d.Stations = append(append(d.Stations[:4:4], b), d.Stations[4:]...)
		}, "2.036 m or more: its zone would overlap that of \"bar\""},
	} {
		d := barred(powered())
		c.change(d)
		_, err := line.New(d)
		var f *known.FieldError
		if !errors.As(err, &f) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// The maker's data are read as text with units; a blown bar takes its air from the pressure at its holes.
func TestBarInText(t *testing.T) {
	text := `{"schema": "pithball line 1", "name": "short line", "web": {"material": "film", "thickness": "20 µm",
		"width": "1 m", "density": "905 kg/m³", "relativePermittivity": {"value": 2.2, "kind": "exact"},
		"volumeResistivity": "1e15 Ω·m", "humidity": "inert"}, "speed": "220 m/min",
		"air": {"temperature": "22 °C", "relativeHumidity": "30 %RH", "pressure": "101.325 kPa"},
		"limit": {"kind": "cling"}, "meters": [], "stations": [
		{"name": "unwind", "kind": "unwind", "at": "0 m", "change": [
			{"face": "A", "median": "5 µC/m²", "spread": "1 µC/m²", "speed": {"value": 0, "kind": "exact"}},
			{"face": "B", "median": "0 µC/m²", "spread": "1 µC/m²", "speed": {"value": 0, "kind": "exact"}}]},
		{"name": "bar", "kind": "ioniser", "at": "2 m", "gap": "300 mm", "ioniser": {"face": "A", "distance": "300 mm",
			"bar": {"kind": "DC", "current": "200 µA/m", "gauge": "0.3 bar(g)", "hole": "1 mm", "holePitch": "20 mm",
			"captured": "30 %", "at": "205 m/s"}}},
		{"name": "winder", "kind": "winder", "at": "4 m"}]}`
	d, err := line.ReadDescription(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	_, r := run(t, d, 1)
	if !(r.Net() > 0 && r.Net() < 4.9e-6) {
		t.Errorf("%v %v", r.Net(), r.Ruled)
	}
}

// TestTwoStations: an unwind and a winder are a line; one station is none.
func TestTwoStations(t *testing.T) {
	d := demoDescription(t)
	d.Stations = []line.StationSpec{d.Stations[0], d.Stations[len(d.Stations)-1]}
	if _, err := line.New(d); err != nil {
		t.Error(err)
	}
	d.Stations = d.Stations[:1]
	if _, err := line.New(d); err == nil {
		t.Error("one station was taken")
	}
}

// TestAirOfABarWithout: a bar that is not blown uses no air, and nothing is asked of its holes.
func TestAirOfABarWithout(t *testing.T) {
	l := newLine(t, barred(powered()))
	if use, err := powered().Bar.AirUse(units.Metre, l.Air()); use != 0 || err != nil {
		t.Errorf("%v, %v", use, err)
	}
}

// TestWindOnABar: wind across the gap of an unassisted bar takes ions off, the more the weaker the charge that draws
// them: of 5 µC/m² little is lost, the pulling voltage of the points stands beside the web's.
func TestWindOnABar(t *testing.T) {
	left := func(wind units.Speed, net units.SurfaceChargeDensity) float64 {
		ion := powered()
		ion.Bar.Wind = wind
		d := barred(ion)
		d.Stations[1].Change[0].Median = net
		_, r := run(t, d, 20)
		return float64(r.Net() / net)
	}
	before := 0.0
	for _, wind := range []units.Speed{0, 2, 20, 100} {
		now := left(wind, 5e-6)
		if !(now > before) {
			t.Errorf("%v of wind leaves %v of the net, less wind %v", wind, now, before)
		}
		before = now
	}
	if strong, weak := left(2, 5e-6), left(0, 5e-6); !(strong-weak < 0.05) {
		t.Errorf("2 m/s leave %v of 5 µC/m², still air %v", strong, weak)
	}
}
