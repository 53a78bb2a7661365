package units_test

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/units"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{units.StandardFlow{}, units.GasReference(0), units.Kind{}, units.Unit{}}
	for _, f := range zerocheck.Faults(".", values, []any{units.ReferenceDIN1343}, nil) {
		t.Error(f)
	}
}
