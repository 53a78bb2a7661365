package charge

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
		"*.Spec":                 "returns what a value was made from",
		"BackFlowIdle":           "a bool beside BackFlow",
		"Contact.At":             "the contact with factors on strength and exposure",
		"Contact.Validity":       "a flag; computes nothing",
		"ContactBands.At":        "draws of a band",
		"ContactBands.Check":     "checks; computes nothing",
		"CoveredRoller.Kept":     "one step of CoveredRoller.Steady",
		"CoveredRoller.Turn":     "one step of CoveredRoller.Steady",
		"Mode.Prior":             "the bands of a mode, a table",
		"Parting.Cap":            "a part of Parting.Part",
		"Parting.CapLimits":      "a part of Parting.Part",
		"Parting.FirstBreakdown": "a part of Parting.Part",
		"Parting.Left":           "a part of Parting.Part",
		"Parting.LeftLimits":     "a part of Parting.Part",
		"Reversals":              "a table of words",
		"Surroundings.Check":     "checks; computes nothing",
	}) {
		t.Error(line)
	}
}
