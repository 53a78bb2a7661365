package written

import (
	"math"
	"testing"

	"example.org/pithball/units"
)

// TestEveryDays: whole days, rounded down, between every day and once a year.
func TestEveryDays(t *testing.T) {
	for days, want := range map[float64]string{
		0.1: "every day", 1.99: "every day", 2: "every 2 days", 70.9: "every 70 days", 364.9: "every 364 days",
		365: "once a year", 1212: "once a year", math.Inf(1): "once a year",
	} {
		if got := EveryDays(units.Time(days) * units.Day); got != want {
			t.Errorf("%g days: %s, want %s", days, got, want)
		}
	}
}
