package transport

import (
	"testing"

	"example.org/pithball/internal/apicheck"
	"example.org/pithball/ionflow"
)

var testIons = ionflow.Ions{Plus: 1.4e-4, Minus: 1.6e-4, Alpha: 1.6e-12}

func TestRegistryCoversThePackage(t *testing.T) {
	exempt := map[string]string{
		"SolveAll":           "WallCurrentsTo is the same sweep and is reached",
		"*.At":               "asked by the solver",
		"Balance.Defect":     "asked by Solution.Closure",
		"Problem.Validate":   "checks; computes nothing",
		"Solver.SolveNext":   "one step of Solver.Pass",
		"Transient.Step":     "one step of Transient.Advance",
		"Transient.Fill":     "sets a start; computes nothing",
		"Transient.Snapshot": "copies the state; computes nothing",
	}
	for _, line := range apicheck.Unreached(".", exempt) {
		t.Error(line)
	}
}
