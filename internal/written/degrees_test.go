package written

import (
	"testing"

	"example.org/pithball/units"
)

func TestDegrees(t *testing.T) {
	for x, want := range map[units.Temperature]string{268.0: "−5.1 °C", 285.95: "12.8 °C", 273.15: "0.0 °C"} {
		if got := Degrees(x); got != want {
			t.Errorf("%v K: %q, want %q", float64(x), got, want)
		}
	}
}
