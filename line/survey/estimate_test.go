package survey

import (
	"math"
	"slices"
	"testing"

	"example.org/pithball/internal/counter"
)

// TestRanked: the places are those of the sorted numbers, whatever these are.
func TestRanked(t *testing.T) {
	many := make([]float64, 512)
	for i := range many {
		many[i] = math.Exp(3 * counter.Normal(5, uint64(i)))
	}
	lone := slices.Clone(many)
	lone[77] = 1e300
	near := slices.Repeat([]float64{2}, 300)
	near[5] = math.Nextafter(2, 3)
	for _, x := range [][]float64{{3}, {2, 1}, {5, 5, 5}, {0, 5e-324, 1e-323, 0}, {-1, 1, math.Inf(1), 0}, near, many,
		lone,
		{-math.MaxFloat64, 0, math.MaxFloat64}} {
		n := len(x)
		at := [4]int{n / 20, (n - 1) / 2, n / 2, n - 1 - n/20}
		by := slices.Clone(x)
		slices.Sort(by)
		places, _ := ranked(x, at)
		for k, got := range places {
			if want := by[at[k]]; got != want {
				t.Errorf("%d numbers from %v, place %d: %v, sorted %v", n, x[0], at[k], got, want)
			}
		}
	}
	// By hand: of 1 … 100 the 6th, the mean of the 50th and 51st, and the 95th.
	x := make([]float64, 100)
	for i := range x {
		x[i] = float64((37*i)%100 + 1)
	}
	if e := estimate(x, 2); e.Low != 12 || e.Value != 101 || e.High != 190 ||
		!(math.Abs(e.SD-2*math.Sqrt(9999.0/12)) <= 1e-9) { // variance of 1 … n: (n²−1)/12
		t.Errorf("%+v", e)
	}
}
