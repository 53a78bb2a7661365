package jet

import (
	"testing"

	"example.org/pithball/internal/apicheck"
)

func TestRegistryCoversThePackage(t *testing.T) {
	exempt := map[string]string{
		"*.Spec":     "returns what a value was made from",
		"AirDensity": "the density behind ReferenceDensity",
	}
	for _, line := range apicheck.Unreached(".", exempt) {
		t.Error(line)
	}
}
