package field

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Film is an insulating film that lies on earthed metal: on a roller, a table,
// a drum. What is charged is its outer face; charge on the inner face sits on
// its own image in the metal and makes no field outside.
type Film struct {
	Thickness            units.Length // more than 0
	RelativePermittivity float64      // [1] ε_r, 1 or more
}

// Check returns the joined [*known.FieldError]s of the film's fields, nil if
// they are good: thickness above 0 and finite, relative permittivity 1 … 1e4.
func (f Film) Check() error {
	return errors.Join(
		known.Positive("film.thickness", f.Thickness),
		known.InRange("film.relative_permittivity", f.RelativePermittivity, 1, 1e4))
}

// reduced returns t/ε_r, the thickness of air that has the same capacitance.
func (f Film) reduced() float64 { return float64(f.Thickness) / f.RelativePermittivity } // [m]

// SurfaceVoltage returns the potential of the outer face over the earthed
// metal, V = σ·t/(ε0·ε_r), with nothing else near; what a non-contact voltmeter
// that follows the surface shows. It is proportional to σ and NaN for NaN.
func (f Film) SurfaceVoltage(outer units.SurfaceChargeDensity) units.Voltage {
	return units.Voltage(float64(outer) * f.reduced() / units.Epsilon0)
}

// OuterCharge is the inverse of SurfaceVoltage: the charge density of the outer
// face, σ = V·ε0·ε_r/t.
func (f Film) OuterCharge(surface units.Voltage) units.SurfaceChargeDensity {
	return units.SurfaceChargeDensity(float64(surface) * units.Epsilon0 / f.reduced())
}

// OverRollerFactor returns the field at an earthed meter plane at the given
// distance over the outer face, divided by σ/ε0:
//
//	E·ε0/σ = (t/ε_r)/(d + t/ε_r)
//
// that is [FieldFactor] with the film as the gap: 1/3201 for 25 µm of ε_r 3.2
// at 25 mm. A negative distance gives NaN.
func (f Film) OverRollerFactor(distance units.Length) float64 { // [1]
	return FieldFactor(distance, units.Length(f.reduced()))
}

// CapacitancePerArea returns ε0·ε_r/t in F/m².
func (f Film) CapacitancePerArea() float64 { return units.Epsilon0 / f.reduced() } // [F/m²]

// ElectrostaticPressure returns the force per area that pulls a web of net
// charge density σ to one earthed plane near it, σ²/(2ε0); between two planes
// the pulls subtract and this is the upper bound (Maxwell stress; exact).
func ElectrostaticPressure(net units.SurfaceChargeDensity) units.Pressure {
	s := float64(net)
	return units.Pressure(s * (s / (2 * units.Epsilon0)))
}

// ClingLimit returns the net charge density at which the pull to one earthed
// plane equals the weight of the sheet:
//
//	σ_c = √(2·ε0·m″·g)
//
// m″ is the mass per area. It compares weight and field only: stiffness, air
// under the sheet and tension hold a sheet back, a second sheet pulls it. For a
// 20 µm polypropylene film it is 1.78 µC/m², near the field of 5 kV/in that
// the trade uses as a limit. A negative mass gives NaN.
func ClingLimit(m units.BasisWeight) units.SurfaceChargeDensity {
	return units.SurfaceChargeDensity(math.Sqrt(2 * units.Epsilon0 * units.StandardGravity * float64(m)))
}

// ClingRatio returns the pull to one earthed plane over the weight of the
// sheet, σ²/(2ε0·m″·g) = (σ/σ_c)²; 1 is the limit of [ClingLimit].
func ClingRatio(net units.SurfaceChargeDensity, m units.BasisWeight) float64 { // [1]
	r := float64(net) / float64(ClingLimit(m))
	return r * r
}
