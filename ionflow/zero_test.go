package ionflow

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
)

// Nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	for _, f := range zerocheck.Faults(".", []any{Emitter{}, DrivenPair{}}, nil, map[string]string{
		"Emitter.Spec": "what it was made from: nothing",
	}) {
		t.Error(f)
	}
}
