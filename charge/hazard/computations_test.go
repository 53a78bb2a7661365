package hazard

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
		"*.Notice":             "a text",
		"Notices":              "a list of names",
		"Grounding":            "a text",
		"NoticeID.Code":        "a name",
		"DischargeEnergies":    "a list of the table",
		"ShockThreshold.Check": "checks; computes nothing",
		"*.Spec":               "returns what a value was made from",
	}) {
		t.Error(line)
	}
}
