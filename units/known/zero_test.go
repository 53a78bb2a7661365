package known_test

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/units/known"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{known.Band{}, known.Source{}, known.Origin{}, known.FieldError{}, known.Notice{}}
	for _, f := range zerocheck.Faults(".", values, nil, map[string]string{
		"Band": "an exact 0, which needs no constructor",
	}) {
		t.Error(f)
	}
}
