package survey

import (
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// leaky is a line of an unwind, a place at 1 m and a winder, with a leak of 1 s behind the place.
func leaky(t *testing.T) *line.Line {
	t.Helper()
	spread := []line.ChangeSpec{{Face: line.FaceA, Spread: 3e-6}, {Face: line.FaceB, Spread: 3e-6}}
	l, err := line.New(&line.Description{
		Schema: line.Schema, Name: "plain",
		Web: line.Web{Material: "film", Thickness: 40e-6, Width: 2, Density: 900,
			RelativePermittivity: known.Band{Value: 2}, VolumeResistivity: 1e18, Humidity: humidity.Inert},
		Speed: 1,
		Air:   line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 0.3, Pressure: units.Atmosphere},
		Limit: line.Limit{Kind: line.OwnLimit, Net: 2e-6},
		Meters: []line.Meter{{Name: "F", Kind: line.FieldMeterKind, Nominal: 0.025, Guarded: true, FullScale: 20e3,
			Gain: 0.001, Offset: 1, Spots: 0.05}},
		Stations: []line.StationSpec{
			{Name: "unwind", Kind: line.Unwind, Change: spread},
			{Name: "P", Kind: line.Place, At: 1, Gap: 0.275, Leak: &line.LeakSpec{Path: decay.EarthedEdge, Time: 1}},
			{Name: "winder", Kind: line.Winder, At: 2},
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// TestLongerLeak: of a leak e^½ times as long as the described 1 s a web of 1 m/s keeps over 1 m
// exp(−e^(−½)) = 0.5452, of one as described 1/e.
func TestLongerLeak(t *testing.T) {
	l := leaky(t)
	desc := l.Description()
	for lambda, want := range map[float64]float64{0: 1 / math.E, 0.5: 0.54523921, -0.5: 0.19229565} {
		w := walker{line: l, desc: &desc, at: []float64{lambda},
			layout: &layout{leaks: []int{1}, conds: []condition{{speed: 1}}}}
		if net, diff := w.keep(1, 0); !(math.Abs(net-want) <= 1e-7) || !(math.Abs(diff-1) <= 1e-6) {
			t.Errorf("%v: keeps %v and %v, want %v and 1", lambda, net, diff, want)
		}
	}
}

// TestLayerCancels: a double layer of 5 µC/m² gives face A 5 and takes 5 from face B.
func TestLayerCancels(t *testing.T) {
	l := &layout{layer: 2, layers: [][2]int{{1, 0}}, layerOf: []int{2, 2},
		changes: []line.Unknown{{Station: 3, Face: line.FaceB}, {Station: 3, Face: line.FaceA}}}
	at := []float64{-1, 2, 5}
	if a, b := l.total(1, at), l.total(0, at); a != 7 || b != -6 {
		t.Errorf("face A %v, want 2 + 5; face B %v, want −1 − 5", a, b)
	}
	if x := l.fold(at); x[1] != 7 || x[0] != -6 {
		t.Errorf("%v", x)
	}
}

// TestChanceOfAPlace: four readings of one place are less often wrong together than one by
// itself, in range or out of it.
func TestChanceOfAPlace(t *testing.T) {
	l := leaky(t)
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
