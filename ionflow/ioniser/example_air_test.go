package ioniser_test

import (
	"example.org/pithball/ionflow/ioniser"
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
)

// holes returns the stream of a row of 1 mm holes 20 mm apart, and its air per metre of width in kg/(s·m).
func holes(gauge units.GaugePressure) (ioniser.Stream, float64) {
	hole := must(jet.NewNozzle(jet.NozzleSpec{Area: jet.Hole(units.Millimetre), Discharge: 0.7}))
	f := must(hole.Flow(gauge, units.Atmosphere, units.Celsius(20)))
	air := must(jet.NewJet(jet.JetSpec{Kind: jet.Row, Width: f.Diameter, Pitch: 20 * units.Millimetre, Speed: f.Jet}))
	return air, float64(f.Mass) / 0.02
}
