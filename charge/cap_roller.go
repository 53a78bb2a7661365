package charge

import (
	"math"

	"example.org/pithball/charge/field"
	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// CapBehindRoller returns the greatest net charge density that a web keeps
// while it leaves an earthed roller of the given radius, up to the distance
// past its tangent point, with the next earth on the outer side at the distance
// outer (+Inf for none near), and the gap to the roller that rules:
//
//	σ_max = min over h ≤ h(past) of ε0·V_b(h)·(1/h + 1/outer),
//
// with h from [field.GapBehindRoller].
//
// The field is taken as that of the local gap. Against a two-dimensional field
// that is low by 3 to 13 % beyond 30 mm behind a 100 mm roller, and the cap that
// much too high; where past is greater than radius the gap no longer varies
// slowly and the result is flagged WrongShape. NaN for arguments that are not positive or a δ outside 0 < δ ≤ 5.
func CapBehindRoller(radius, past, outer units.Length,
	delta float64) (units.SurfaceChargeDensity, units.Length, known.Validity) { // delta [1]
	end := float64(field.GapBehindRoller(radius, past))
	if !(radius > 0) || !(past > 0) || !(end > 0) || !(outer > 0) || !(delta > 0 && delta <= gas.MaxDensity) {
		return units.SurfaceChargeDensity(math.NaN()), units.Length(math.NaN()), known.WrongShape
	}
	f, z, v := gas.Least(outer, units.Length(end), delta)
	if past > radius {
		v |= known.WrongShape
	}
	return units.SurfaceChargeDensity(units.Epsilon0 * float64(f)), z, v
}
