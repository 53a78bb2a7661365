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
		"limit":          {func(d *line.Description) { d.Limit = line.Limit{Kind: "own", Net: 1e300} }, "limit.net"},
		"limit nothing":  {func(d *line.Description) { d.Limit = line.Limit{Kind: "own", Net: 1e-300} }, "limit.net"},
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
