package jet

import (
	"slices"
	"testing"

	"example.org/pithball/internal/named"
)

func TestNamesReadBack(t *testing.T) {
	for _, f := range slices.Concat(named.Faults[JetKind](3), named.Faults[Reference](2)) {
		t.Error(f)
	}
}
