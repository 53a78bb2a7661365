package line_test

import (
	"fmt"
	"log"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// short describes a web with one roller that gives face A 2 µC/m².
func short() *line.Description {
	return &line.Description{
		Schema: line.Schema, Name: "short line",
		Web: line.Web{Material: "BOPP film", Thickness: 20 * units.Micrometre, Width: units.Metre,
			Density:              units.Density(905),
			RelativePermittivity: known.Band{Value: 2.2}, VolumeResistivity: units.VolumeResistivity(1e15),
			Humidity: humidity.Inert},
		Speed: 220 * units.MetrePerMinute,
		Air: line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 30 * units.PercentRH,
			Pressure: units.Atmosphere},
		Limit: line.Limit{Kind: line.ClingLimit},
		Meters: []line.Meter{{Name: "FM", Kind: line.FieldMeterKind, Nominal: 25 * units.Millimetre, Guarded: true,
			FullScale: units.DisplayVoltage(20e3),
			Gain:      0.06, Offset: 40 * units.Volt, Placing: 3 * units.Millimetre, Spots: 0.2}},
		Stations: []line.StationSpec{
			{Name: "unwind", Kind: line.Unwind, Change: []line.ChangeSpec{
				{Face: line.FaceA, Spread: units.MicrocoulombPerSquareMetre},
				{Face: line.FaceB, Spread: units.MicrocoulombPerSquareMetre}}},
			{Name: "idler", Kind: line.Roller, At: 1 * units.Metre,
				Roller: &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: line.BareMetal},
				Change: []line.ChangeSpec{{Face: line.FaceA, Median: 2 * units.MicrocoulombPerSquareMetre,
					Spread: units.MicrocoulombPerSquareMetre}}},
			{Name: "mid span", Kind: line.Place, At: 1.5 * units.Metre, Gap: 300 * units.Millimetre},
			{Name: "winder", Kind: line.Winder, At: 3 * units.Metre},
		},
	}
}

// The web as it leaves each station. One pass over an uncharged face gives the
// change that the description states at its speed.
func ExampleLine_RunTo() {
	l, err := line.New(short())
	if err != nil {
		log.Fatal(err)
	}
	res := make([]line.Result, l.Len())
	l.RunTo(res, 220*units.MetrePerMinute)
	for i, r := range res {
		fmt.Printf("%-9s A %.1f µC/m², net %.1f µC/m², %v\n", l.Description().Stations[i].Name, float64(r.A)*1e6,
			float64(r.Net())*1e6, r.Ruled)
	}
	// Output:
	// unwind    A 0.0 µC/m², net 0.0 µC/m², contact
	// idler     A 2.0 µC/m², net 2.0 µC/m², contact
	// mid span  A 2.0 µC/m², net 2.0 µC/m², nothing
	// winder    A 2.0 µC/m², net 2.0 µC/m², nothing
}

// What will the meter show if the web carries 2 µC/m² net? By hand:
// σ/ε0·h/(d+h)·25 mm = 226 kV/m · 300/325 · 0.025 m = 5.2 kV, and the errors of
// meter, place and spots around it.
func ExampleLine_Expect() {
	l, err := line.New(short())
	if err != nil {
		log.Fatal(err)
	}
	r := line.Look{Station: "mid span", Quantity: line.FieldMeter, Face: line.FaceA, Distance: 25 * units.Millimetre,
		Running: true, Meter: "FM"}
	band, err := l.Expect(&r, 5*units.MicrocoulombPerSquareMetre, -3*units.MicrocoulombPerSquareMetre)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.1f kV (%.1f … %.1f)\n", band[1]/1e3, band[0]/1e3, band[2]/1e3)
	// Output: 5.2 kV (3.3 … 7.1)
}

// A fault names field, value and range.
func ExampleNew() {
	d := short()
	d.Web.Thickness = units.Length(-20e-6)
	_, err := line.New(d)
	fmt.Println(err)
	// Output: web.thickness: -20 µm: want 100 nm … 50 mm
}
