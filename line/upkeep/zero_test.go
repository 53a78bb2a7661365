package upkeep_test

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/line/upkeep"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{upkeep.Need{}, upkeep.Year{}, upkeep.Weathering{}, upkeep.Hall{},
		upkeep.Comparison{}, upkeep.LoggedLimit{}, upkeep.Cleaning{}}
	for _, f := range zerocheck.Faults(".", values, nil, nil) {
		t.Error(f)
	}
}
