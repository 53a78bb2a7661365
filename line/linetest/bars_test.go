package linetest_test

import (
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/linetest"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// TestCalibratedBar: the median of what a bar leaves is not what the bar leaves at the median of its strength, so that
// no law may ask it.
func TestCalibratedBar(t *testing.T) {
	change := func(f line.Face, median units.SurfaceChargeDensity) line.ChangeSpec {
		return line.ChangeSpec{Face: f, Median: median, Spread: 1e-6, Exposure: 1}
	}
	bar := line.StationSpec{Name: "bar", Kind: line.Ioniser, At: units.Metre, Gap: units.Metre,
		Ioniser: &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre, Conductivity: 100e-12,
			Zone: 50 * units.Millimetre, Supply: 1e-3}}
	d := line.Description{Schema: line.Schema, Name: "bar",
		Web: line.Web{Material: "film", Thickness: 20 * units.Micrometre,
			Width: units.Metre, Density: 900, RelativePermittivity: known.Band{Value: 2.2}, VolumeResistivity: 1e8,
			Humidity: humidity.Inert},
		Speed: units.MetrePerSecond, Air: line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 30 * units.PercentRH,
			Pressure: units.Atmosphere},
		Limit: line.Limit{Kind: line.ClingLimit},
		Stations: []line.StationSpec{{Name: "unwind", Kind: line.Unwind, Change: []line.ChangeSpec{change(line.FaceA, 0),
			change(line.FaceB, 1e-5)}}, bar, {Name: "winder", Kind: line.Winder, At: 2 * units.Metre}}}
	kit := linetest.Cures()
	for _, l := range kit.Laws {
		if l.Name == "calibrated input" {
			kit.Laws = []lawtest.Law[linetest.DeciderMaker, linetest.Input]{l}
		}
	}
	if err := kit.Check(linetest.Decides, linetest.Input{Line: &d, Speed: units.MetrePerSecond}); err != nil ||
		len(kit.Laws) != 1 {
		t.Error(err)
	}
}
