package hazard_test

import (
	"testing"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/internal/zerocheck"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	for _, f := range zerocheck.Faults(".", []any{hazard.Conductor{}}, nil, map[string]string{
		"Conductor.Spec": "what it was made from: nothing",
	}) {
		t.Error(f)
	}
}
