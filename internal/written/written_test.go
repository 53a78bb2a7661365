package written_test

import (
	"reflect"
	"testing"

	"example.org/pithball/internal/written"
	"example.org/pithball/units"
)

func TestUnit(t *testing.T) {
	for text, want := range map[string]string{"1e6 m/min": "m/min", "25.4mm": "mm", " −3 °C ": "°C", "5": "", "": "",
		"kV":  "kV",
		"1e3": "", "2 e": "e"} {
		if got := written.Unit(text); got != want {
			t.Errorf("%q: %q, want %q", text, got, want)
		}
	}
}

// TestRange: ranges in the units that people write, worked out by hand.
func TestRange(t *testing.T) {
	speed, temperature, ratio := reflect.TypeFor[units.Speed](), reflect.TypeFor[units.Temperature](),
		reflect.TypeFor[units.Ratio]()
	for _, c := range []struct {
		typ              reflect.Type
		text, want, says string
	}{
		{speed, "1e6 m/min", "100 µm/s … 100 m/s", "0.006 … 6000 m/min"},
		{speed, "1e6 ft/min", "0 m/s … 0.3048 m/s", "0 … 60 ft/min"},
		{temperature, "300 °F", "−40 °C … 80 °C", "-40 … 176 °F"},
		{temperature, "300 °C", "233.15 K … 353.15 K", "-40 … 80 °C"},
		{ratio, "7", "0 … 1", "0 … 1"},
		{speed, "1 m/s", "more than 0", "more than 0"},
		{speed, "5 furlongs", "0 m/s … 1 m/s", "0 m/s … 1 m/s"},
	} {
		if got := written.Range(c.typ, c.text, c.want); got != c.says {
			t.Errorf("%q in %q: %q, want %q", c.text, c.want, got, c.says)
		}
	}
	if !written.Reads(speed, "60 m/min", units.Speed(1).String()) || written.Reads(speed, "60 m/min", "2 m/s") {
		t.Error("60 m/min is 1 m/s and nothing else")
	}
	number := reflect.TypeFor[float64]()
	if !written.Reads(number, "1e5", "100000") || written.Reads(number, "1e5", "1000000") ||
		written.Reads(number, "x", "y") {
		t.Error("1e5 is 100000 and nothing else")
	}
}
