package upkeep

import (
	"testing"

	"example.org/pithball/internal/apicheck"
)

// TestRegistryReaches fails when an exported computation is not reachable
// through the registry.
func TestRegistryReaches(t *testing.T) {
	for _, line := range apicheck.Unreached(".", map[string]string{
		"NeedAt":              "reads a line",
		"Hazards":             "lists notices, no numbers",
		"RaisedWhen":          "words of the same list",
		"Watches":             "reads a line",
		"Keep":                "reads a line",
		"SafetyAnswers.Check": "says which answer is wrong",
		"SafetyAnswers.Open":  "says which answer is missing",
	}) {
		t.Error(line)
	}
}
