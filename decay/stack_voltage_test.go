package decay_test

import (
	"testing"

	"example.org/pithball/decay"
)

// TestStackVoltageFalls: by hand: 1 µC/m² on 8.8541878 mm of εr 1 is 1000 V at once and 1000/e V after one time
// constant, of two such layers twice that.
func TestStackVoltageFalls(t *testing.T) {
	l := decay.Layer{Thickness: 8.8541878128e-3, Permittivity: 1, Resistivity: 1e12}
	one, two := must(decay.NewStack(l)), must(decay.NewStack(l, l))
	near(t, "at once", float64(one.Voltage(1e-6, 0)), 1000, 1e-6)
	near(t, "after τ", float64(one.Voltage(1e-6, l.Tau())), 367.879441, 1e-6)
	near(t, "two layers", float64(two.Voltage(1e-6, l.Tau())), 735.758882, 1e-6)
}
