//go:build !race

package compute_test

import (
	"testing"

	"example.org/pithball/units/compute"
)

// TestDirectAllocatesNothing: a row of a column costs no garbage. The race detector empties pools at
// random, so that it is not asked there.
func TestDirectAllocatesNothing(t *testing.T) {
	e := compute.Of32("F", func(a length, s shape, up bool) (length, error) { return 2 * a, nil }, source,
		"a 0…1; s; up", "-> b")
	got, args := make([]float64, 1), []float64{0.25, 1, 1}
	if n := testing.AllocsPerRun(100, func() { _ = e.Call(got, args) }); n != 0 || got[0] != 0.5 {
		t.Errorf("%v allocations, %v", n, got)
	}
}
