package gas

import (
	"testing"

	"example.org/pithball/internal/apicheck"
)

// TestSources: every computation says where it comes from, in the words of its
// provenance.
func TestSources(t *testing.T) {
	for _, e := range Computations() {
		if err := e.Source.Check(e.Name); err != nil {
			t.Error(err)
		}
	}
}

// TestRegistryReaches fails when an exported computation is not reachable
// through the registry.
func TestRegistryReaches(t *testing.T) {
	for _, line := range apicheck.Unreached(".", map[string]string{
		"CapBackedTo": "the column form of CapBacked",
	}) {
		t.Error(line)
	}
}
