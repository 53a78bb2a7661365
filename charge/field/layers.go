package field

import (
	"math"

	"example.org/pithball/units"
)

// FilmField is the field around a film that carries charge on both faces and
// lies between an earthed meter plane and an earthed plane behind it.
type FilmField struct {
	AtMeter  units.ElectricField // at the meter plane, positive for positive net charge
	Behind   units.ElectricField // at the plane behind the film, positive for positive net charge
	NearFace units.Voltage       // potential of the face that looks at the meter
	FarFace  units.Voltage       // potential of the other face
}

// Between returns the field of the film with the charge density near on the
// face that looks at the meter and far on the other, at the distance d of the
// meter plane and with the gap h between the far face and earthed metal:
//
//	E·ε0 = [σ_near·(t/ε_r + h) + σ_far·h]/(d + t/ε_r + h)
//
// from Gauss's law at both faces and zero voltage between the planes. It joins
// the free span (h ≫ d: the meter sees the sum of both faces, σ_near + σ_far)
// and the roller (h = 0: only the outer face, by t/ε_r) in one formula. h may be
// +Inf. It holds for a film much wider than d + h. A negative or infinite d or a
// negative h gives NaN, as does NaN.
func (f Film) Between(near, far units.SurfaceChargeDensity, distance, gap units.Length) FilmField {
	r, d, h := f.reduced(), float64(distance), float64(gap)
	n, b := float64(near)/units.Epsilon0, float64(far)/units.Epsilon0
	if !(d >= 0 && h >= 0) || math.IsInf(d, 1) {
		nan := math.NaN()
		return FilmField{units.ElectricField(nan), units.ElectricField(nan), units.Voltage(nan), units.Voltage(nan)}
	}
	e := n + b
	if !math.IsInf(h, 1) {
		e = (n*(r+h) + b*h) / (d + r + h)
	}
	v := e * d
	return FilmField{
		AtMeter:  units.ElectricField(e),
		Behind:   units.ElectricField(n + b - e),
		NearFace: units.Voltage(v),
		FarFace:  units.Voltage(v - (n-e)*r), // D in the film is σ_near − ε0·E
	}
}

// PlanePotential returns the potential of a thin wide web of net charge density
// σ between two earthed planes at the distances a and b, σ·a·b/(ε0·(a+b)). It is
// what the web has while the meter is there; an insulating web has no voltage of
// its own: the meter lowers it. b may be +Inf. A negative distance gives NaN.
func PlanePotential(net units.SurfaceChargeDensity, a, b units.Length) units.Voltage {
	return units.Voltage(float64(net) / units.Epsilon0 * float64(a) * FieldFactor(a, b))
}
