package line

import (
	"testing"

	"example.org/pithball/internal/apicheck"
)

// TestRegistryReaches fails when an exported computation is not reachable
// through the registry.
func TestRegistryReaches(t *testing.T) {
	for _, line := range apicheck.Unreached(".", map[string]string{
		"Bar.AirUse":                 "jet.Supply.Blow with the data of a bar",
		"Web.Damp":                   "humidity.Air.At the temperature of a web",
		"Web.LeakFall":               "returns what a line was made from",
		"MechanismOf":                "another name of a regime",
		"Bar.Spec":                   "data of a bar as ioniser.New takes them",
		"Face.Other":                 "the other of two",
		"ReadDescription":            "reads a file",
		"Description.CheckLook":      "finds names",
		"Start":                      "writes a first description",
		"*.Description":              "returns what a line was made from",
		"Description.Condensing":     "humidity.Air.CondensationPoint beside the temperatures of the web",
		"Description.DampBehind":     "Web.Damp at the temperature of the web there",
		"Description.LeakStep":       "two of Web.Damp",
		"Description.LeakTime":       "a part of Line.RunTo for the inverse",
		"Description.WebTemperature": "returns what a line was made from",
		"Description.Wound":          "field.NewRoll with the description's data",
		"Line.Air":                   "returns what a line was made from",
		"Line.Keep":                  "a part of Line.RunTo for the inverse",
		"Line.Unknowns":              "a part of the linear model of package survey",
		"Line.Response":              "a part of the linear model of package survey",
		"Line.View":                  "a part of Line.Expect",
		"Line.Noise":                 "a part of Line.Expect",
		"Line.Deviation":             "a part of Line.Expect",
		"Line.PlaceFactor":           "a part of Line.Expect",
		"Line.FieldMeter":            "field.FieldMeter with the description's data",
		"Line.PerOuter":              "a part of Line.Expect",
		"Line.With":                  "the same line with other changes",
		"Line.Variants":              "makes many lines of Line.With",
		"Variants.With":              "Line.With, many times",
		"Line.DescriptionWith":       "the description of the same line with other changes",
	}) {
		t.Error(line)
	}
}

// TestRegistryIsDeclared: a result that a computation gains needs its item, which only the list tells.
func TestRegistryIsDeclared(t *testing.T) {
	for _, e := range Computations() {
		if e.Doc == "" || e.Eval == nil {
			t.Errorf("%s: incomplete", e.Name)
		}
	}
}
