package sheet

import (
	"testing"

	"example.org/pithball/internal/apicheck"
)

// TestRegistryReaches fails when an exported computation is not reachable
// through the registry.
func TestRegistryReaches(t *testing.T) {
	for _, line := range apicheck.Unreached(".", map[string]string{
		"*.Spec":                  "returns what a value was made from",
		"EarthedStrip.Biot":       "a property of the contact",
		"FreeSpanWeb.FromDeposit": "the curve behind DownstreamShare",
		"RateFunc.Rate":           "calls the function",
		"Sheet.Decays":            "whether Sheet.Rate is above 0",
		"Sheet.RatesTo":           "the column form of Sheet.Rate",
		"SlotDisc.Rate":           "1/SlotDisc.TimeConstant",
		"SlotStrip.Rate":          "1/SlotStrip.TimeConstant",
	}) {
		t.Error(line)
	}
}
