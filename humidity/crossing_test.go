package humidity

import (
	"math"
	"testing"
)

// TestCrossing: the last crossing of straight lines, also within the first step of the search and at either end.
func TestCrossing(t *testing.T) {
	for name, c := range map[string]struct {
		f    func(rh float64) float64
		want float64
	}{
		"below the first step": {func(rh float64) float64 { return 0.003 - rh }, 0.003},
		"in the middle":        {func(rh float64) float64 { return 0.402 - rh }, 0.402},
		"below everywhere":     {func(float64) float64 { return -1 }, 0},
		"above at 1":           {func(float64) float64 { return 1 }, 1},
		"at 1":                 {func(rh float64) float64 { return 1 - rh }, 1},
		"the last of two":      {func(rh float64) float64 { return (rh - 0.2) * (0.6 - rh) }, 0.6},
		"no number":            {func(float64) float64 { return math.NaN() }, 1},
	} {
		if got := crossing(c.f); !(math.Abs(got-c.want) <= 1e-9) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}
