package compute_test

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/units/compute"
)

// TestZeroValues: what nobody declared computes nothing.
func TestZeroValues(t *testing.T) {
	for _, f := range zerocheck.Faults(".", []any{compute.Arg{}, compute.Entry{}}, nil, nil) {
		t.Error(f)
	}
}
