package ioniser

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
)

// Nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	for _, f := range zerocheck.Faults(".", []any{Source{}, Place{}, Fitted{}, Series{}, Spot{}}, nil, map[string]string{
		"Source.Spec": "what it was made from: nothing",
		"Spot.Spec":   "what it was made from: nothing",
	}) {
		t.Error(f)
	}
}
