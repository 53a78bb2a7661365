package upkeep

import (
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// shortLine is an unwind, an idler that gives face A 5 µC/m², a place and a winder.
func shortLine() *line.Description {
	const uC = units.MicrocoulombPerSquareMetre
	return &line.Description{
		Schema: line.Schema, Name: "short line",
		Web: line.Web{Material: "film", Thickness: 20 * units.Micrometre, Width: units.Metre, Density: 905,
			RelativePermittivity: known.Band{Value: 2.2}, VolumeResistivity: 1e16, Humidity: humidity.Inert},
		Speed: 2 * units.MetrePerSecond, Limit: line.Limit{Kind: line.ClingLimit},
		Air: line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 40 * units.PercentRH, Pressure: units.Atmosphere},
		Meters: []line.Meter{{Name: "meter", Kind: line.FieldMeterKind, Nominal: 25 * units.Millimetre, Guarded: true,
			FullScale: 20e3,
			Gain:      0.06, Offset: 40 * units.Volt, Placing: 3 * units.Millimetre, Spots: 0.2}},
		Stations: []line.StationSpec{
			{Name: "unwind", Kind: line.Unwind, Change: []line.ChangeSpec{{Face: line.FaceA, Spread: uC},
				{Face: line.FaceB, Spread: uC}}},
			{Name: "idler", Kind: line.Roller, At: units.Metre,
				Roller: &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: line.BareMetal},
				Change: []line.ChangeSpec{{Face: line.FaceA, Median: 5 * uC, Spread: uC, Speed: known.Band{Value: 0.5}}}},
			{Name: "place", Kind: line.Place, At: 1.5 * units.Metre, Gap: 250 * units.Millimetre},
			{Name: "winder", Kind: line.Winder, At: 3 * units.Metre},
		},
	}
}
