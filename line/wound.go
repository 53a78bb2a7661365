package line

import (
	"example.org/pithball/charge/field"
	"example.org/pithball/units"
)

// surroundings is how far earth is taken to be from the axis of a winding roll: a judgement, to be measured where it
// counts.
const surroundings = 2 * units.Metre

// Wound returns the roll that the last station of the description winds of a web with the charges a and b of its faces
// [C/m²], on an earthed core or on one that insulates; without a core in the description its radius is 40 mm, earth is
// 2 m off. Errors are those of [field.NewRoll], and of a description without stations. The law is that of [field.Roll].
func (d *Description) Wound(a, b units.SurfaceChargeDensity, earthed bool) (field.Roll, error) {
	var core units.Length
	if n := len(d.Stations); n > 0 {
		core = d.Stations[n-1].Core
	}
	if core == 0 {
		core = 40 * units.Millimetre
	}
	return field.NewRoll(field.RollSpec{CoreRadius: core, EarthedCore: earthed, Thickness: d.Web.Thickness,
		RelativePermittivity: d.Web.RelativePermittivity.Value, Outer: a, Inner: b, Surroundings: surroundings})
}
