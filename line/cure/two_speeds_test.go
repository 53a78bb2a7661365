package cure

import (
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestTwoSpeedsFromReadings is DIA-1 from readings to the outlook: the exponent of TestTwoSpeeds is not put in but
// read,
// through the source finder and the calibrated line. The six spots of the slower and of the faster run lie at unlike
// places across the web: at the same ones their stripes would go out of the ratio and the exponent would be known
// better.
// They scatter by the 20 % that the meter states. The source finder weighs that scatter again and is linear in the
// exponent; 1.5 % of the growth and 0.03 of the chance are left to it and to 2,000 draws.
func TestTwoSpeedsFromReadings(t *testing.T) {
	d := oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Spread: 3e-6,
		Speed: known.Band{Value: 0.5, Spread: 0.3, Kind: known.Normal}})
	d.Speed = 100 * units.MetrePerMinute
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	scores := [6]float64{-0.202, 1.267, -0.642, 0.642, -1.267, 0.202} // normal, six of them in their order
	var s survey.Survey
	for run, volts := range [2]float64{-2000, -2500} {
		speed, at := units.Speed(-volts/25)*units.MetrePerMinute, units.Length(0.05*float64(run))
		for k := range 6 {
			s.Readings = append(s.Readings, survey.Reading{Repeat: k + 1, Speed: speed, HasZero: true,
				Value: volts * (1 + 0.2205*scores[k]), Look: line.Look{Station: "place", Quantity: line.FieldMeter,
					Face: line.FaceA, Distance: 25 * units.Millimetre,
					Gap: 50 * units.Millimetre, Cross: units.Length(0.2+0.1*float64(k)) + at, Running: true, Meter: "meter"}})
		}
	}
	found, err := survey.Diagnose(l, &s)
	if err != nil {
		t.Fatal(err)
	}
	site := nobody()
	m, err := Calibrate(found, &site)
	if err != nil {
		t.Fatal(err)
	}
	slow, fast := m.run(100.0/60), m.run(3)
	place := m.station("place")
	var growth []float64
	for i := range Draws {
		growth = append(growth, (fast.a[place][i]+fast.b[place][i])/(slow.a[place][i]+slow.b[place][i]))
	}
	near(t, "chance of more than 1.3 times", shareOf(Draws, func(i int) bool { return growth[i] > 1.3 }), 0.75531, 0.03)
	for k, want := range [3]float64{1.124, 1.44459, 1.85661} {
		near(t, "growth", quantiles(growth)[k], want, 0.015*want)
	}
}
