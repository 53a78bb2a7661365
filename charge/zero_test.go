package charge_test

import (
	"testing"

	"example.org/pithball/charge"
	"example.org/pithball/internal/zerocheck"
)

// TestZeroValues: nothing that needs a constructor answers with a number without it.
func TestZeroValues(t *testing.T) {
	values := []any{charge.Contact{}, charge.CoveredRoller{}, charge.Impact{}, charge.Nip{}, charge.Parting{}}
	for _, f := range zerocheck.Faults(".", values, nil, map[string]string{
		"Contact.Spec": "what it was made from: nothing",
	}) {
		t.Error(f)
	}
}
