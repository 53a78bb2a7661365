package transport

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
)

// Nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	for _, f := range zerocheck.Faults(".", []any{Solution{}, Solver{}, Transient{}}, nil, nil) {
		t.Error(f)
	}
}
