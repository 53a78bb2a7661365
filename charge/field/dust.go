package field

import (
	"math"

	"example.org/pithball/units"
)

// DustPickUp returns how much dust a surface collects relative to a reference
// state of the same surface in the same room: |E|·t over |E_ref|·t_ref.
//
// Charged dust drifts to the surface at the speed q·E/(6π·η·r), so in a given
// air, with the same dust and the same air speed, the amount goes with field and
// time. No absolute figure is offered: charge, size and number of the dust are
// not known, and no voltage limit for dust is published. Uncharged dust is drawn
// with the square of the field by its gradient, so that the ratio is an upper
// bound below 1 and a lower bound above. NaN for a reference without field or time
// and for a negative time.
func DustPickUp(field, reference units.ElectricField, during, referenceTime units.Time) float64 { // [1]
	if !(during >= 0 && referenceTime > 0) || reference == 0 {
		return math.NaN()
	}
	return math.Abs(float64(field)/float64(reference)) * float64(during) / float64(referenceTime)
}
