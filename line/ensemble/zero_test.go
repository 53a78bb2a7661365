package ensemble_test

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/line/ensemble"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{ensemble.Fit{}, ensemble.Lines{}}
	for _, f := range zerocheck.Faults(".", values, nil, map[string]string{
		"Lines.Spec": "what it was made from: nothing",
	}) {
		t.Error(f)
	}
}
