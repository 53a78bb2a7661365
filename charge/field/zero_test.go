package field_test

import (
	"testing"

	"example.org/pithball/charge/field"
	"example.org/pithball/internal/zerocheck"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{field.FieldMeter{}, field.ChargedPile{}, field.Roll{}, field.Voltmeter{}}
	for _, f := range zerocheck.Faults(".", values, nil, map[string]string{
		"ChargedPile.Spec": "what it was made from: nothing",
		"FieldMeter.Spec":  "what it was made from: nothing",
		"Roll.Spec":        "what it was made from: nothing",
		"Voltmeter.Spec":   "what it was made from: nothing",
		"FieldMeter.With":  "the zero FieldMeter again",
		"Voltmeter.With":   "the zero Voltmeter again",
	}) {
		t.Error(f)
	}
}
