package survey

import (
	_ "embed" // for the sentences

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// diagnosed is what three readings say of a short line.
type diagnosed struct {
	answer AnswerKind
	main   int
	before Estimate
	after  Estimate
}

// threeReadings diagnoses an unwind and one idler from readings before and after it.
func threeReadings(prior units.SurfaceChargeDensity, v units.Speed, d units.Length, before, after,
	again units.DisplayVoltage) (diagnosed, error) {
	const uC = units.MicrocoulombPerSquareMetre
	none := diagnosed{main: -1}
	l, err := line.New(&line.Description{
		Schema: line.Schema, Name: "short line",
		Web: line.Web{Material: "film", Thickness: 20 * units.Micrometre, Width: units.Metre, Density: units.Density(905),
			RelativePermittivity: known.Band{Value: 2.2}, VolumeResistivity: units.VolumeResistivity(1e16),
			Humidity: humidity.Inert},
		Speed: v, Limit: line.Limit{Kind: line.ClingLimit},
		Air: line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 40 * units.PercentRH, Pressure: units.Atmosphere},
		Meters: []line.Meter{{Name: "meter", Kind: line.FieldMeterKind, Nominal: 25 * units.Millimetre, Guarded: true,
			FullScale: units.DisplayVoltage(20e3), Gain: 0.05, Offset: 40 * units.Volt, Placing: 3 * units.Millimetre,
			Spots: 0.2}},
		Stations: []line.StationSpec{
			{Name: "unwind", Kind: line.Unwind, Change: []line.ChangeSpec{{Face: line.FaceA, Spread: prior},
				{Face: line.FaceB, Spread: prior}}},
			{Name: "first place", Kind: line.Place, At: 500 * units.Millimetre, Gap: 300 * units.Millimetre},
			{Name: "idler", Kind: line.Roller, At: units.Metre,
				Roller: &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: line.BareMetal},
				Change: []line.ChangeSpec{{Face: line.FaceA, Spread: max(prior, 0.1*uC)}}},
			{Name: "second place", Kind: line.Place, At: 1.5 * units.Metre, Gap: 300 * units.Millimetre},
			{Name: "winder", Kind: line.Winder, At: 3 * units.Metre},
		},
	})
	if err != nil {
		return none, err
	}
	var s Survey
	for i, r := range []struct {
		place string
		shown units.DisplayVoltage
	}{{"first place", before}, {"second place", after}, {"second place", again}} {
		s.Readings = append(s.Readings, Reading{Look: line.Look{Station: r.place, Quantity: line.FieldMeter,
			Face: line.FaceA, Distance: d,
			Running: true, Meter: "meter"}, Line: i + 2, Repeat: 1 + i/2, Speed: v, Value: float64(r.shown)})
	}
	g, err := Diagnose(l, &s)
	if err != nil {
		return none, err
	}
	out := none
	out.answer = g.Answer.Kind
	if len(g.Answer.Sets) > 0 && len(g.Answer.Sets[0]) > 0 {
		out.main = g.Answer.Sets[0][0]
	}
	out.before, out.after = g.States[1].Net, g.States[3].Net
	return out, nil
}

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper: a short line stands for any.
func Computations() []compute.Entry {
	return compute.List("survey", sentences, []compute.Entry{
		compute.Of62("Diagnose", threeReadings, known.Source{Provenance: known.Computed,
			Cite: "posterior of the linear model, as the doc comment derives"},
			"= Diagnosis of an unwind and one idler from a reading before it and two after it, field meter of ±5 %, 300 mm "+
				"before metal.",
			"prior 1e-8…1e-5: standard deviation of what each contact is thought to do; speed 0.01…50: of the line",
			"distance 5e-3…0.2: from meter to web; before -2e4…2e4: display before the idler; after -2e4…2e4: display after it",
			"again -2e4…2e4: repeat after it",
			"-> answer: kind; main: station of the source, −1 for none; net_before [C/m²]: net before the idler; "+
				"sd_before [C/m²]: its "+
				"standard deviation; low_before [C/m²]: 5 %; high_before [C/m²]: 95 %; net_after [C/m²]: net after it",
			"! not-an-approval reach-in", "sd_after [C/m²]: its standard deviation; low_after [C/m²]: 5 %; "+
				"high_after [C/m²]: 95 %"),
	})
}
