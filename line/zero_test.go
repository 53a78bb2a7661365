package line_test

import (
	"testing"

	"example.org/pithball/internal/zerocheck"
	"example.org/pithball/line"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{line.Line{}, line.Variants{}, line.Description{}}
	for _, f := range zerocheck.Faults(".", values, nil, map[string]string{
		"Line.Description": "what it was made from: nothing",
		"Line.Air":         "the zero Air, which is none",
	}) {
		t.Error(f)
	}
}
