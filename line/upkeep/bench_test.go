package upkeep

import (
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

// A year of 8,760 hours; the aim is less than 20 ms.
func BenchmarkForecastYear(b *testing.B) {
	year, n, h := synthetic(b), []Need{press(b, 12000, 27, 1.74)},
		hall(b, Hall{Most: units.MassFlow(100.0 / 3600), SetPoint: duct(b, 7.7)})
	for b.Loop() {
		if _, err := ForecastYear(n, h, Weather{Hourly: year}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkThreshold(b *testing.B) {
	n := press(b, 12000, 27, 1.74)
	for b.Loop() {
		if _, err := n.Threshold(); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkCompareReadings(b *testing.B) {
	w := &Weathering{Time: sheetLaw(b, 0), Dwell: 0.3 * units.Second, Design: feeder(b, 0.295)}
	january, september := day(b, 0.295, 13800, 12190, 7720), day(b, 0.37, 6100, 7420, 6650)
	for b.Loop() {
		if _, err := CompareReadings(january, september, Scatter{Spots: 0.25}, w); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkHazards(b *testing.B) {
	d, found := demoPlant(b)
	for b.Loop() {
		if _, err := Hazards(d, SafetyAnswers{}, found); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkKeep(b *testing.B) {
	d, found := demoPlant(b)
	l, err := line.New(d)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Keep(l, d.Speed, Care{Meter: "FM1", Found: found}); err != nil {
			b.Fatal(err)
		}
	}
}
