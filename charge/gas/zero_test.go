package gas_test

import (
	"testing"

	"example.org/pithball/charge/gas"
	"example.org/pithball/internal/zerocheck"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	for _, f := range zerocheck.Faults(".", []any{gas.Paschen{}}, nil, nil) {
		t.Error(f)
	}
}
