package jet

import (
	"math"
	"testing"
)

// TestCriticalRatio: the number is that of its formula.
func TestCriticalRatio(t *testing.T) {
	want := math.Pow(2/(HeatCapacityRatio+1), HeatCapacityRatio/(HeatCapacityRatio-1))
	if !(math.Abs(criticalRatio-want) <= 1e-15) {
		t.Errorf("%v, want %v", criticalRatio, want)
	}
}
