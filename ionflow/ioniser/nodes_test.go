package ioniser

import (
	"math"
	"testing"
)

// TestNodes: the numbers of the tables are what their formulas give.
func TestNodes(t *testing.T) {
	near := func(got, want float64) bool { return math.Abs(got-want) <= 1e-14*math.Abs(want) }
	for k, x := range shares {
		if want, _ := shareAt(k); !near(x, want) {
			t.Errorf("share %d is %v, want %v", k, x, want)
		}
	}
	if want := math.Log(tableSpan) / (tableNodes - 1); !near(tableStep, want) {
		t.Errorf("step %v, want %v", tableStep, want)
	}
	for k, x := range tableAt {
		if want := tableLeast * math.Pow(tableSpan, float64(k)/(tableNodes-1)); !near(x, want) {
			t.Errorf("node %d is %v, want %v", k, x, want)
		}
	}
}
