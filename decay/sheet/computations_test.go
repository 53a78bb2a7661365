package sheet

import (
	"strings"
	"testing"

	"example.org/pithball/units/compute"
)

// Bad arguments of a computation are errors that name the argument.
func TestSheetComputationsRefuse(t *testing.T) {
	list := Computations()
	for _, c := range []struct {
		name, field string
		args        []float64
	}{
		{"sheet.SpreadingSpeed", "rho_s", []float64{-1}},
		{"sheet.EarthedStrip", "x", []float64{1, 1, 0, 0, 1, 2, 0.5}},
		{"sheet.FreeSheet", "period", []float64{0, 1, 1, 1}},
		{"sheet.Slot", "mode", []float64{1, 1e12, 0.5, 1}},
		{"sheet.NearEarthWeb", "x", []float64{1, 1, 1, 2}},
		{"sheet.FreeSpanWeb", "radius", []float64{1, 1, 1e11, 0, 0.05, 2e-6, 0.5}},
		{"sheet.Sheet", "thickness", []float64{0, 0, 1, 1e12, 0, 0, 0, 1}},
	} {
		e := compute.Find(list, c.name)
		if err := e.Call(make([]float64, len(e.Results)), c.args); err == nil || !strings.Contains(err.Error(), c.field) {
			t.Errorf("%s: %v, want an error that names %s", c.name, err, c.field)
		}
	}
}
