package line_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestBounds: what no plant has is refused by name. Each of these went through: a
// spread of 1e-170 C/m² panicked in the source finder, one of 1e300 never ended, an
// offset of 1e160 V printed NaN.
func TestBounds(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(d *line.Description)
		field string
	}{
		"tiny spread": {func(d *line.Description) { d.Stations[0].Change[0].Spread = 1e-170 },
			"stations[0] (unwind).change[0].spread"},
		"huge spread": {func(d *line.Description) { d.Stations[0].Change[0].Spread = 1e300 }, ".spread"},
		"exponent":    {func(d *line.Description) { d.Stations[0].Change[0].Speed.Spread = 1e300 }, ".speed.spread"},
		"offset":      {func(d *line.Description) { d.Meters[0].Offset = 1e160 }, "meters[0].offset"},
		"full scale":  {func(d *line.Description) { d.Meters[0].FullScale = 1e300 }, "meters[0].fullScale"},
		"resistivity": {func(d *line.Description) { d.Web.VolumeResistivity = 1e300 }, "web.volumeResistivity"},
		"permittivity": {func(d *line.Description) { d.Web.RelativePermittivity.Spread = 1e300 },
			"web.relativePermittivity.spread"},
		"limit":          {func(d *line.Description) { d.Limit = line.Limit{Kind: line.OwnLimit, Net: 1e300} }, "limit.net"},
		"limit nothing":  {func(d *line.Description) { d.Limit = line.Limit{Kind: line.OwnLimit, Net: 1e-300} }, "limit.net"},
		"not a number":   {func(d *line.Description) { d.Meters[0].Offset = units.Voltage(math.NaN()) }, "meters[0].offset"},
		"break in name":  {func(d *line.Description) { d.Stations[1].Name = "a\n2. b" }, "stations[1].name"},
		"break in title": {func(d *line.Description) { d.Name = "a\x1b[2J" }, "name"},
	} {
		d := demoDescription(t)
		c.spoil(d)
		_, err := line.New(d)
		var fe *known.FieldError
		if !errors.As(err, &fe) || !strings.Contains(err.Error(), c.field) {
			t.Errorf("%s: %v, want %s", name, err, c.field)
		}
	}
}

// TestFieldMeter: the meter of a line shows what the line expects of a free web, and stops at its full scale.
func TestFieldMeter(t *testing.T) {
	l := newLine(t, demoDescription(t))
	m, err := l.FieldMeter("meter 1")
	if err != nil {
		t.Fatal(err)
	}
	const sigma = 2 * units.MicrocoulombPerSquareMetre
	want, err := l.Expect(&line.Look{Station: "A2 mid span, bar B1 off", Quantity: line.FieldMeter, Face: line.FaceA,
		Distance: 25 * units.Millimetre, Gap: 100, Running: true, Meter: "meter 1"}, sigma, 0)
	if err != nil {
		t.Fatal(err)
	}
	// A guarded meter at its nominal distance d, no metal behind: V = σ/ε0·d.
	if got := float64(m.DisplayAt(sigma, 1)); !(math.Abs(got-2e-6/8.8541878188e-12*0.025) <= 1e-6*math.Abs(got)) ||
		!(math.Abs(got-want[1]) <= 0.03*math.Abs(got)) { // the line knows that the web is 1.25 m wide: 2.6 % less
		t.Errorf("shows %v, the line expects %v", got, want)
	}
	if got := m.DisplayAt(1000*sigma, 1); got > 20e3 {
		t.Errorf("shows %v beyond its full scale", got)
	}
	for _, name := range []string{"voltmeter 1", "", "meter 9"} {
		if _, err := l.FieldMeter(name); err == nil {
			t.Errorf("%q is a field meter", name)
		}
	}
}

// TestExpectOfNothing: the charges of a line that stands are NaN; a band of NaN would silence an alarm.
func TestExpectOfNothing(t *testing.T) {
	l := newLine(t, demoDescription(t))
	res := make([]line.Result, l.Len())
	l.RunTo(res, 0)
	_, err := l.Expect(&line.Look{Station: "A4 after nip", Quantity: line.FieldMeter, Face: line.FaceA,
		Distance: 25 * units.Millimetre, Running: true, Meter: "meter 1"}, res[9].A, res[9].B)
	if err == nil || !strings.Contains(err.Error(), "charge") {
		t.Errorf("%v", err)
	}
}
