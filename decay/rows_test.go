package decay_test

import (
	"testing"

	"example.org/pithball/internal/apicheck"
)

// TestRegistryCoversLaws: every exported computation of the laws, layers,
// methods and fits is reached by the registry.
func TestRegistryCoversLaws(t *testing.T) {
	exempt := map[string]string{
		"ClassScheme.Measure": "a field",
		"ClassScheme.Source":  "a field",
		"Constant.Fraction":   "a constant",
		"Liquid.Notice":       "a text",
		"FractionsTo":         "the column form of Law.Fraction",
		"*.Rate":              "asked through the function Rate",
		"*.TimeTo":            "asked through the function TimeTo",
		"AllModels":           "a list of names",
		"Layer.Check":         "checks; computes nothing",
		"Liquid.Law":          "an exponential of Liquid.Tau",
	}
	for _, line := range apicheck.Unreached(".", exempt) {
		t.Error(line)
	}
}
