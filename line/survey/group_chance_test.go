package survey

import (
	"testing"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestChanceOfAPlace: four readings of one place are less often wrong together than one by
// itself, in range or out of it.
func TestChanceOfAPlace(t *testing.T) {
	spread := []line.ChangeSpec{{Face: line.FaceA, Spread: 3e-6}, {Face: line.FaceB, Spread: 3e-6}}
	l, err := line.New(&line.Description{
		Schema: line.Schema, Name: "one roller",
		Web: line.Web{Material: "film", Thickness: 40e-6, Width: 2, Density: 900,
			RelativePermittivity: known.Band{Value: 2}, VolumeResistivity: 1e18, Humidity: humidity.Inert},
		Speed: 1,
		Air:   line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 0.3, Pressure: units.Atmosphere},
		Limit: line.Limit{Kind: line.OwnLimit, Net: 2e-6},
		Meters: []line.Meter{{Name: "F", Kind: line.FieldMeterKind, Nominal: 0.025, Guarded: true, FullScale: 20e3,
			Gain: 0.001, Offset: 1, Spots: 0.05}},
		Stations: []line.StationSpec{
			{Name: "unwind", Kind: line.Unwind, Change: spread},
			{Name: "P", Kind: line.Place, At: 1, Gap: 0.275},
			{Name: "winder", Kind: line.Winder, At: 2},
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, out := range []bool{false, true} {
		for n, want := range map[int]float64{1: 0.03, 3: 0.03, 4: 0.01, 6: 0.01} {
			s := &Survey{}
			for i := range n {
				r := Reading{Repeat: i + 1, Speed: 1, HasZero: true, Value: 20e3, AtLeast: out}
				if !out {
					r.Value = 9e3
				}
				r.Look = line.Look{Station: "P", Quantity: line.FieldMeter, Face: line.FaceA, Distance: 0.025, Running: true,
					Meter: "F", Cross: units.Length(0.3 + 0.2*float64(i))}
				s.Readings = append(s.Readings, r)
			}
			d, err := Diagnose(l, s)
			if err != nil {
				t.Fatal(err)
			}
			for i := range d.model.rows {
				if r := &d.model.rows[i]; r.group != nil && r.chance != want {
					t.Errorf("%d readings, out of range %v: wrong by %v, want %v", n, out, r.chance, want)
				}
			}
		}
	}
}
