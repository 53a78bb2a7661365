package written

import (
	"testing"

	"example.org/pithball/units"
)

func TestDegrees(t *testing.T) {
	for x, want := range map[units.Temperature]string{268.0: "−5.1 °C", 285.95: "12.8 °C",
		273.15: "0.0 °C", 273.12: "0.0 °C"} {
		if got := Degrees(x); got != want {
			t.Errorf("%v K: %q, want %q", float64(x), got, want)
		}
	}
}

// TestFigures: two figures and a prefix, whatever the size.
func TestFigures(t *testing.T) {
	for got, want := range map[string]string{
		Figures(units.Resistance(4.04e10)): "40 GΩ", Figures(units.Resistance(20e6)): "20 MΩ",
		Figures(units.Voltage(7333.3)): "7.3 kV", Figures(units.Energy(0.00441)): "4.4 mJ",
		Figures(units.Energy(0)): "0 J",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
