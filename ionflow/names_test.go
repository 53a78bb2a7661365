package ionflow

import (
	"slices"
	"testing"

	"example.org/pithball/internal/named"
)

func TestNamesReadBack(t *testing.T) {
	for _, f := range slices.Concat(named.Faults[EmitterKind](4), named.Faults[TipLaw](2),
		named.Faults[MobilityLaw](3), named.Faults[RecombinationLaw](4), named.Faults[Regime](7),
		named.Faults[Loss](4)) {
		t.Error(f)
	}
}
