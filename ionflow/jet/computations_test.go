package jet

import (
	"testing"

	"example.org/pithball/internal/apicheck"
)

func TestRegistryCoversThePackage(t *testing.T) {
	exempt := map[string]string{
		"*.Spec":           "returns what a value was made from",
		"Jet.Validity":     "a flag; computes nothing",
		"Jet.FlowPerWidth": "covered by the air bar of package ionflow",
	}
	for _, line := range apicheck.Covers(".", Computations(), exempt) {
		t.Error(line)
	}
}
