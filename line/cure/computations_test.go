package cure

import (
	"testing"

	"example.org/pithball/internal/apicheck"
)

// TestRegistryReaches fails when an exported computation is not reachable through
// the registry.
func TestRegistryReaches(t *testing.T) {
	for _, line := range apicheck.Unreached(".", map[string]string{
		"Calibrate":              "starts from the readings of a file",
		"Assume":                 "starts from the description of a file",
		"CheckChanges":           "finds names and figures out of range",
		"*.Step":                 "a change's place in a list",
		"Calibrated.BestPlace":   "BestSpot between the rollers of a line",
		"Calibrated.Changes":     "returns what was tried",
		"Calibrated.Conductors":  "the ground list of a line that a file describes; current, voltage and energy are hazard's",
		"Calibrated.Description": "returns a description",
		"Site.Check":             "says which answer is wrong",
		"Calibrated.Limit":       "returns what a line was made from",
		"Calibrated.Predict":     "quantiles of what Try walks",
		"Calibrated.IfOneFails":  "what Try walks with each ioniser off",
		"Calibrated.MaxSpeed":    "a root of what Try walks",
		"Calibrated.Plan":        "a list of what Try walks",
		"Goods.Unit":             "a name",
		"Prediction.Flags":       "words",
		"ReadGoods":              "reads a file",
		"Route.Expect":           "quantiles over draws of the walk, at the humidity of a reading",
		"StartGoods":             "makes a description of answers",
		"Route.Air":              "returns what a way was made from",
		"Route.Readings":         "returns what a way was made from",
		"Route.Limit":            "returns what a way was made from",
		"Route.Hazards":          "a list of notices of a description and of answers",
		"Route.Predict":          "quantiles over draws of the walk whose middle is in the registry",
		"Route.PredictPatches":   "Route.Predict of each patch",
		"Route.Plan":             "a list of what Route.Predict walks",
		"Route.Sources":          "a count over draws",
		"Route.Keep":             "tasks of a description; the display of a limit is the reading of a sheet backwards",
		"Route.Try":              "the same way with other stops",
		"Calibrated.Speed":       "returns what was tried",
	}) {
		t.Error(line)
	}
}
