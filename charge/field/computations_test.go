package field

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
		"*.Spec":               "returns what a value was made from",
		"*.With":               "the same meter with another gain and offset",
		"FacesKnown.Advice":    "a sentence; computes nothing",
		"FieldMeter.DisplayAt": "Display with the factor of the place given",
		"FieldMeter.DisplayTo": "the column form of Display",
		"FieldMeter.NetAt":     "Net with the factor of the place given",
		"FieldMeter.NetTo":     "the column form of Net",
		"ChargedPile.Height":   "in the state of ChargedPile.At",
		"ReadingFlaws.Has":     "asks for one bit",
	}) {
		t.Error(line)
	}
}
