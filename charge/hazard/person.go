package hazard

import (
	"math"

	"example.org/pithball/units"
)

// Induced returns what a person or another isolated conductor takes on when a
// field of charged goods grows at it from 0 to E within the time T, for example
// on walking up to a winding roll. The field ends on the effective area A of
// the body, ε0·E·A, and drives that much charge of the same sign to earth
// through the body's resistance:
//
//	V = (ε0·E·A/C)·(1 − e^(−x))/x,  x = T/(R·C)
//
// the voltage at the end of the growth, cut at the sparkover voltage; sudden
// growth (T = 0) gives ε0·E·A/C, slow growth V = I·R with I = ε0·E·A/T. A is the
// area that the field lines reach, between the silhouette and several times it;
// the result is proportional to it, so take it as a band. E may have either
// sign. A negative area or time gives NaN.
func (c Conductor) Induced(field units.ElectricField, area units.Area, within units.Time) ChargedConductor {
	s := &c.spec
	if s.Capacitance == 0 {
		return noConductor()
	}
	tau := float64(s.Resistance) * float64(s.Capacitance)
	q := units.Epsilon0 * float64(field) * float64(area)
	x := float64(within) / tau
	share := 1.0
	if x != 0 {
		share = -math.Expm1(-x) / x
	}
	if !(area >= 0 && within >= 0) {
		share = math.NaN()
	}
	r := ChargedConductor{Voltage: units.Voltage(q / float64(s.Capacitance) * share), TimeConstant: units.Time(tau)}
	if u := float64(s.Sparkover); u > 0 && math.Abs(float64(r.Voltage)) >= u {
		r.Sparks = true
		r.Voltage = units.Voltage(math.Copysign(u, float64(r.Voltage)))
	}
	r.Energy = c.Energy(r.Voltage)
	return r
}
