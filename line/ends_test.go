package line_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/ionflow"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// faults lists the fields that an error names.
func faults(err error) (out []string) {
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range j.Unwrap() {
			out = append(out, faults(e)...)
		}
		return out
	}
	var f *known.FieldError
	if errors.As(err, &f) {
		out = append(out, f.Field)
	}
	return out
}

// TestEndsOfRanges: both ends that the documentation of a field states are taken, what lies 0.1 % of the end beyond
// them (or −1e-9 for an end of 0) is refused by the field's name.
func TestEndsOfRanges(t *testing.T) {
	bar := func(d *line.Description) *line.StationSpec { return &d.Stations[3] }
	for _, c := range []struct {
		field  string
		lo, hi float64
		set    func(d *line.Description, x float64)
	}{
		{"web.thickness", 1e-7, 0.05, func(d *line.Description, x float64) { d.Web.Thickness = units.Length(x) }},
		{"web.thicknessSpread", 0, 0.5, func(d *line.Description, x float64) { d.Web.ThicknessSpread = units.Ratio(x) }},
		{"web.width", 1e-3, 20, func(d *line.Description, x float64) { d.Web.Width = units.Length(x) }},
		{"web.density", 1, 20000, func(d *line.Description, x float64) { d.Web.Density = units.Density(x) }},
		{"web.relativePermittivity.value", 1, 100,
			func(d *line.Description, x float64) { d.Web.RelativePermittivity.Value = x }},
		{"web.open", 0, 0.99, func(d *line.Description, x float64) { d.Web.Open = units.Ratio(x) }},
		{"web.volumeResistivity", 1e-9, 1e24,
			func(d *line.Description, x float64) { d.Web.VolumeResistivity = units.VolumeResistivity(x) }},
		{"speed", 1e-4, 100, func(d *line.Description, x float64) { d.Speed = units.Speed(x) }},
		{"wish", 1e-4, 100, func(d *line.Description, x float64) { d.Wish = units.Speed(x) }},
		{"air.temperature", 233.15, 353.15, func(d *line.Description,
			x float64) {
			d.Air.Temperature = units.Temperature(x)
		}},
		{"air.relativeHumidity", 0, 1,
			func(d *line.Description, x float64) { d.Air.RelativeHumidity = units.RelativeHumidity(x) }},
		{"air.pressure", 50e3, 120e3, func(d *line.Description, x float64) { d.Air.Pressure = units.Pressure(x) }},
		{"limit.net", 1e-10, 1e-2, func(d *line.Description, x float64) {
			d.Limit = line.Limit{Kind: line.OwnLimit, Net: units.SurfaceChargeDensity(x)}
		}},
		{"meters[0].nominal", 1e-3, 1, func(d *line.Description, x float64) { d.Meters[0].Nominal = units.Length(x) }},
		{"meters[0].placing", 0, 0.1, func(d *line.Description, x float64) { d.Meters[0].Placing = units.Length(x) }},
		{"meters[0].faceRadius", 1e-3, 1, func(d *line.Description, x float64) { d.Meters[0].FaceRadius = units.Length(x) }},
		{"meters[0].fullScale", 1, 10e6,
			func(d *line.Description, x float64) { d.Meters[0].FullScale = units.DisplayVoltage(x) }},
		{"meters[0].gain", 0, 1, func(d *line.Description, x float64) { d.Meters[0].Gain = units.Ratio(x) }},
		{"meters[0].offset", 1e-6, 10e6, func(d *line.Description, x float64) { d.Meters[0].Offset = units.Voltage(x) }},
		{"meters[0].spots", 0, 2, func(d *line.Description, x float64) { d.Meters[0].Spots = units.Ratio(x) }},
		{"stations[0] (unwind).at", 0, 1e4, func(d *line.Description, x float64) {
			for i := range d.Stations {
				d.Stations[i].At = units.Length(max(x, 1e4))
			}
			d.Stations[0].At = units.Length(x)
		}},
		{"stations[4] (winder).at", 2, 1e4, func(d *line.Description, x float64) { d.Stations[4].At = units.Length(x) }},
		{"stations[2] (mid span).gap", 1e-6, 100, func(d *line.Description,
			x float64) {
			d.Stations[2].Gap = units.Length(x)
		}},
		{"stations[2] (mid span).past.radius", 1e-3, 2, func(d *line.Description, x float64) {
			d.Stations[2].Gap, d.Stations[2].Past = 0, &line.PastSpec{Radius: units.Length(x), X: 1}
		}},
		{"stations[2] (mid span).past.x", 1e-3, 100, func(d *line.Description, x float64) {
			d.Stations[2].Gap, d.Stations[2].Past = 0, &line.PastSpec{Radius: 1, X: units.Length(x)}
		}},
		{"stations[1] (idler).roller.radius", 1e-3, 2,
			func(d *line.Description, x float64) { d.Stations[1].Roller.Radius = units.Length(x) }},
		{"stations[1] (idler).roller.capacity", 1e-15, 1e-3,
			func(d *line.Description, x float64) { d.Stations[1].Roller.Capacity = units.Capacitance(x) }},
		{"stations[1] (idler).roller.sparkover", 1, 10e6,
			func(d *line.Description, x float64) { d.Stations[1].Roller.Sparkover = units.Voltage(x) }},
		{"stations[1] (idler).roller.cover", 1e-9, 1e12, func(d *line.Description, x float64) {
			d.Stations[1].Roller.Kind, d.Stations[1].Roller.Cover = line.InsulatingCover, units.Time(x)
		}},
		{"stations[1] (idler).change[0].median", -1e-3, 1e-3,
			func(d *line.Description, x float64) { d.Stations[1].Change[0].Median = units.SurfaceChargeDensity(x) }},
		{"stations[1] (idler).change[0].spread", 1e-12, 1e-3,
			func(d *line.Description, x float64) { d.Stations[1].Change[0].Spread = units.SurfaceChargeDensity(x) }},
		{"stations[1] (idler).change[0].exposure", 1e-3, 50,
			func(d *line.Description, x float64) { d.Stations[1].Change[0].Exposure = units.Ratio(x) }},
		{"stations[1] (idler).change[0].speed.value", -2, 3,
			func(d *line.Description, x float64) { d.Stations[1].Change[0].Speed.Value = x }},
		{"stations[4] (winder).core", 1e-3, 2, func(d *line.Description, x float64) { d.Stations[4].Core = units.Length(x) }},
		{"stations[1] (idler).leak.time", 1e-9, 1e12, func(d *line.Description, x float64) {
			d.Stations[1].Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: units.Time(x)}
		}},
		{"stations[3] (bar).ioniser.distance", 1e-3, 5,
			func(d *line.Description, x float64) { bar(d).Ioniser.Distance = units.Length(x) }},
		{"stations[3] (bar).ioniser.conductivity", 1e-18, 1e-3,
			func(d *line.Description, x float64) { bar(d).Ioniser.Conductivity = units.Conductivity(x) }},
		{"stations[3] (bar).ioniser.zone", 1e-4, 10,
			func(d *line.Description, x float64) { bar(d).Ioniser.Zone = units.Length(x) }},
		{"stations[3] (bar).ioniser.supply", 1e-15, 10,
			func(d *line.Description, x float64) { bar(d).Ioniser.Supply = units.LineCurrent(x) }},
		{"stations[3] (bar).ioniser.onset", 1e-12, 1e-2,
			func(d *line.Description, x float64) { bar(d).Ioniser.Onset = units.SurfaceChargeDensity(x) }},
		{"stations[3] (bar).ioniser.offset", -1e-2, 1e-2,
			func(d *line.Description, x float64) { bar(d).Ioniser.Offset = units.SurfaceChargeDensity(x) }},
		{"stations[3] (bar).ioniser.bar.fit", 0, 100, func(d *line.Description, x float64) {
			ion := powered()
			ion.Face, ion.Bar.Fit = line.FaceA, units.Ratio(x)
			bar(d).Ioniser = &ion
		}},
	} {
		past := func(x, way float64) float64 {
			if x == 0 {
				return way * 1e-9
			}
			return x + way*1e-3*math.Abs(x)
		}
		for _, x := range []struct {
			value float64
			good  bool
		}{{c.lo, true}, {c.hi, true}, {past(c.lo, -1), false}, {past(c.hi, 1), false}} {
			d := barred(line.IonSpec{Distance: 30 * units.Millimetre, Conductivity: 1e-9, Zone: 0.05, Supply: 1})
			c.set(d, x.value)
			_, err := line.New(d)
			if named := slices.Contains(faults(err), c.field); named == x.good {
				t.Errorf("%s of %g: %v", c.field, x.value, err)
			}
		}
	}
}

// TestWhatStandsWhere: the parts of a station belong to its kind.
func TestWhatStandsWhere(t *testing.T) {
	share := line.IonSpec{Distance: 30 * units.Millimetre, Conductivity: 1e-9, Zone: 0.05, Supply: 1}
	for name, c := range map[string]struct {
		field string
		spoil func(s []line.StationSpec)
	}{
		"gap at a roller": {"stations[1] (idler).gap", func(s []line.StationSpec) { s[1].Gap = 1 }},
		"past at a roller": {"stations[1] (idler).gap",
			func(s []line.StationSpec) { s[1].Past = &line.PastSpec{Radius: 1, X: 1} }},
		"gap and past": {"stations[2] (mid span).gap",
			func(s []line.StationSpec) { s[2].Past = &line.PastSpec{Radius: 1, X: 1} }},
		"no roller":          {"stations[1] (idler).roller", func(s []line.StationSpec) { s[1].Roller = nil }},
		"roller at a place":  {"stations[2] (mid span).roller", func(s []line.StationSpec) { s[2].Roller = s[1].Roller }},
		"no ioniser":         {"stations[3] (bar).ioniser", func(s []line.StationSpec) { s[3].Ioniser = nil }},
		"ioniser at a place": {"stations[2] (mid span).ioniser", func(s []line.StationSpec) { s[2].Ioniser = s[3].Ioniser }},
		"no face": {"stations[3] (bar).ioniser.face",
			func(s []line.StationSpec) { s[3].Ioniser.Face = line.NoFace }},
		"second unwind":     {"stations[1] (idler).kind", func(s []line.StationSpec) { s[1].Kind = line.Unwind }},
		"early winder":      {"stations[1] (idler).kind", func(s []line.StationSpec) { s[1].Kind = line.Winder }},
		"no winder":         {"stations[4] (winder).kind", func(s []line.StationSpec) { s[4].Kind = line.Place }},
		"core of a roller":  {"stations[1] (idler).core", func(s []line.StationSpec) { s[1].Core = 0.05 }},
		"earth in a roller": {"stations[1] (idler).core", func(s []line.StationSpec) { s[1].Earthed = true }},
		"off at a roller":   {"stations[1] (idler).off", func(s []line.StationSpec) { s[1].Off = []string{} }},
		"path to nowhere": {"stations[1] (idler).leak.path",
			func(s []line.StationSpec) { s[1].Leak = &line.LeakSpec{Time: 1} }},
		"kind of roller": {"stations[1] (idler).roller.kind", func(s []line.StationSpec) { s[1].Roller.Kind = 9 }},
		"two of one face": {"stations[0] (unwind).change",
			func(s []line.StationSpec) { s[0].Change[1].Face = line.FaceA }},
		"change of no face":  {"stations[1] (idler).change[0].face", func(s []line.StationSpec) { s[1].Change[0].Face = 0 }},
		"change at a winder": {"stations[4] (winder).change", func(s []line.StationSpec) { s[4].Change = s[1].Change }},
		"passive and powered": {"stations[3] (bar).ioniser.passive", func(s []line.StationSpec) {
			ion := powered()
			ion.Face, ion.Passive = line.FaceA, true
			s[3].Ioniser = &ion
		}},
		"air through points": {"stations[3] (bar).ioniser.bar.kind", func(s []line.StationSpec) {
			s[3].Ioniser = &line.IonSpec{Face: line.FaceA, Distance: 0.01, Passive: true,
				Bar: &line.Bar{Kind: ionflow.Passive, Gauge: 1e4, Pitch: 0.005, Start: 3000}}
		}},
	} {
		d := barred(share)
		if _, err := line.New(d); err != nil {
			t.Fatal(err)
		}
		c.spoil(d.Stations)
		_, err := line.New(d)
		got := faults(err)
		if !slices.Contains(got, c.field) && !(len(got) == 1 && c.field == "stations[3] (bar).ioniser.bar."+got[0]) {
			t.Errorf("%s: %v, want %s", name, err, c.field)
		}
	}
}
