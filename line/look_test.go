package line_test

import (
	"strings"
	"testing"

	"example.org/pithball/line"
)

// TestCheckLook: names are asked of any description; the meter is needed by a reading of the running web alone, and a
// voltmeter has to look at a roller. What the description does not say is no fault of the reading.
func TestCheckLook(t *testing.T) {
	d := line.Description{
		Meters: []line.Meter{{Name: "m", Kind: line.FieldMeterKind}, {Name: "v", Kind: line.VoltmeterKind}, {Name: "?"}},
		Stations: []line.StationSpec{{Name: "p", Kind: line.Place}, {Name: "r", Kind: line.Roller},
			{Name: "n", Kind: line.Nip}, {Name: "?"}}}
	for _, c := range []struct {
		look line.Look
		want []string
	}{
		{line.Look{Station: "p", Quantity: line.FieldMeter, Meter: "m", Running: true}, nil},
		{line.Look{Station: "p", Quantity: line.FieldMeter, Meter: "?", Running: true}, nil},
		{line.Look{Station: "p", Quantity: line.FieldMeter, Meter: "v", Running: true}, []string{"meter: v: "}},
		{line.Look{Station: "p", Quantity: line.FieldMeter, Meter: "x", Running: true}, []string{"meter: x: "}},
		{line.Look{Station: "p", Quantity: line.FieldMeter, Meter: "x"}, nil}, // it is not used
		{line.Look{Station: "x", Quantity: line.FieldMeter, Meter: "x"}, []string{"station: x: ", "meter: x: "}},
		{line.Look{Station: "x", Quantity: line.EarthResistance, Running: true}, []string{"station: x: "}},
		{line.Look{Station: "p", Quantity: line.PailCharge, Meter: "pail", Running: true}, nil},
		{line.Look{Station: "r", Quantity: line.OverRoller, Meter: "v", Running: true}, nil},
		{line.Look{Station: "n", Quantity: line.OverRoller, Meter: "v", Running: true}, nil},
		{line.Look{Station: "?", Quantity: line.OverRoller, Meter: "v", Running: true}, nil},
		{line.Look{Station: "p", Quantity: line.OverRoller, Meter: "v", Running: true},
			[]string{"station: p: want a roller"}},
		{line.Look{Station: "p", Quantity: line.OverRoller, Meter: "v"}, nil},
		{line.Look{Station: "r", Quantity: line.OverRoller, Meter: "m", Running: true}, []string{"meter: m: "}},
	} {
		var got []string
		if err := d.CheckLook(&c.look); err != nil {
			got = strings.Split(err.Error(), "\n")
		}
		same := len(got) == len(c.want)
		for i := 0; same && i < len(got); i++ {
			same = strings.HasPrefix(got[i], c.want[i])
		}
		if !same {
			t.Errorf("%+v: %q, want %q", c.look, got, c.want)
		}
	}
}
