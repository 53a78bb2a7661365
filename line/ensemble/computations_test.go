package ensemble

import (
	"testing"

	"example.org/pithball/internal/apicheck"
)

// TestRegistryReaches fails when an exported computation is not reachable through the
// registry.
func TestRegistryReaches(t *testing.T) {
	for _, line := range apicheck.Unreached(".", map[string]string{
		"Fit.Readings": "a count", "Fit.Unknowns": "a count", "Lines.Draws": "a count",
		"Lines.Run":  "quantiles of what Walk walks",
		"Lines.Spec": "returns what the lines were made from",
	}) {
		t.Error(line)
	}
}
