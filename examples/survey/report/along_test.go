package report

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestSpread: names keep their order and their least distance; where there is room
// they stand at their places, and a group stands over the middle of its places.
func TestSpread(t *testing.T) {
	got := spread([]float64{0, 1, 1, 5}, 0.5)
	for i, want := range []float64{0, 0.75, 1.25, 5} {
		if !(math.Abs(got[i]-want) <= 1e-12) {
			t.Errorf("%v", got)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.SliceOfN(rapid.Float64Range(0, 3), 1, 30).Draw(t, "gaps")
		for i := 1; i < len(at); i++ {
			at[i] += at[i-1]
		}
		out := spread(at, 0.4)
		var sum float64
		for i := range out {
			sum += out[i] - at[i]
			if i > 0 && out[i]-out[i-1] < 0.4-1e-9 {
				t.Fatalf("%v -> %v", at, out)
			}
		}
		if !(math.Abs(sum) <= 1e-9*float64(len(at))*(1+at[len(at)-1])) {
			t.Fatalf("%v -> %v: moved by %g in all", at, out, sum)
		}
	})
}
