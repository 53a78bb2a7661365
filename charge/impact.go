package charge

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// EffectiveModulus returns E* of two bodies in contact, 1/E* = (1−ν1²)/E1 +
// (1−ν2²)/E2. Give +Inf for a rigid wall. NaN unless the moduli are above 0 and
// the Poisson ratios between −1 and 0.5. Source: K. L. Johnson, Contact
// Mechanics (1985), not compared; a textbook formula.
func EffectiveModulus(e1 units.Pressure, nu1 float64, e2 units.Pressure, nu2 float64) units.Pressure { // nu1, nu2 [1]
	if !(e1 > 0) || !(e2 > 0) || !(nu1 >= -1 && nu1 <= 0.5) || !(nu2 >= -1 && nu2 <= 0.5) {
		return units.Pressure(math.NaN())
	}
	return units.Pressure(1 / ((1-nu1*nu1)/float64(e1) + (1-nu2*nu2)/float64(e2)))
}

// ImpactSpec describes the impact of a spherical particle on a flat wall.
type ImpactSpec struct {
	Radius   units.Length   // of the particle, 10 nm … 0.1 m
	Density  units.Density  // of the particle
	Modulus  units.Pressure // effective modulus, see EffectiveModulus
	Hardness units.Pressure // mean pressure of plastic flow; 0 leaves the contact elastic at every speed
	// Transferred is the charge per area of contact that one impact moves onto an
	// uncharged particle: signed, to be measured.
	Transferred units.SurfaceChargeDensity
	// Equilibrium is the charge at which an impact moves nothing; of the sign of
	// Transferred, or 0 for a charge that does not saturate. For polymer particles
	// the impact charge can grow with the charge before (H. Jantač and H.
	// Grosshans, arXiv 2602.12951): saturation is not to be taken for granted.
	Equilibrium units.Charge
}

// Impact is a checked [ImpactSpec]. The zero Impact gives NaN.
type Impact struct {
	spec             ImpactSpec
	elastic, plastic float64 // [m²·(s/m)^0.8], [m²·s/m]; elastic is 0 in the zero Impact alone
}

// NewImpact checks the description. Errors are [*known.FieldError]s.
func NewImpact(s ImpactSpec) (Impact, error) {
	errs := []error{known.InRange("radius", s.Radius, 10*units.Nanometre, 10*units.Centimetre),
		known.Positive("density", s.Density),
		known.Positive("modulus", s.Modulus), known.NotNegative("hardness", s.Hardness),
		known.InRange("transferred", s.Transferred, -maxSaturation, maxSaturation),
		known.Finite("equilibrium", s.Equilibrium)}
	if float64(s.Equilibrium)*float64(s.Transferred) < 0 {
		errs = append(errs, known.Wrong("equilibrium", s.Equilibrium, "the sign of transferred, or 0"))
	}
	if err := errors.Join(errs...); err != nil {
		return Impact{}, err
	}
	r, rho := float64(s.Radius), float64(s.Density)
	i := Impact{spec: s, elastic: math.Pi * r * r * numeric.Pow(5*math.Pi*rho/(4*float64(s.Modulus)), 0.4)}
	if s.Hardness > 0 {
		m := 4.0 / 3 * math.Pi * r * r * r * rho
		i.plastic = math.Sqrt(2 * math.Pi * r * m / float64(s.Hardness))
	}
	return i, nil
}

// Area returns the greatest area of contact of an impact at the NORMAL velocity
// v, the greater of the elastic and the plastic one:
//
//	elastic: πR²·(5πρv²/(4E*))^(2/5), from ½mv² = (8/15)·E*·√R·δ^(5/2), A = πRδ
//	plastic: v·√(2πR·m/p), from ½mv² = p·A²/(4πR)
//
// so that it grows as v^0.8 at first and as v beyond yield. The plastic area
// takes over at 0.63 of the hardness p in mean pressure, between first yield
// (0.4 p) and full plastic flow. The magnitude of v counts; NaN gives NaN.
// Source: H. Hertz (1882), re-derived; impact charge follows the normal velocity
// and its first power at higher speed (H. Masuda and K. Iinoya, AIChE J., as
// quoted elsewhere).
func (i *Impact) Area(v units.Speed) units.Area {
	if i.elastic == 0 {
		return units.Area(math.NaN())
	}
	s := math.Abs(float64(v))
	return units.Area(max(i.elastic*numeric.Pow(s, 0.8), i.plastic*s))
}

// Charge returns the charge of the particle after an impact at the normal
// velocity v,
//
//	q' = q + σ_c·A(v)·(1 − q/q_e),
//
// without the bracket if it does not saturate; the step stops at q_e. The wall
// gets the opposite of what the particle gains. NaN in gives NaN.
func (i *Impact) Charge(before units.Charge, v units.Speed) units.Charge {
	dq := float64(i.spec.Transferred) * float64(i.Area(v))
	if e := float64(i.spec.Equilibrium); e != 0 {
		// dq/e is not negative; a step of more than the whole way ends at e.
		return before + units.Charge(min(dq/e, 1)*(e-float64(before)))
	}
	return before + units.Charge(dq)
}

// Normal returns the component of a speed normal to a wall met at the given
// angle between path and wall.
func Normal(v units.Speed, angle units.Angle) units.Speed {
	return units.Speed(float64(v) * math.Sin(float64(angle)))
}
