package field

import (
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
)

// Facing says what the field of a body ends on at the meter.
type Facing uint8

// The two limits of a meter's face.
const (
	FreeSpace Facing = iota // a small face: the field as if the meter were not there
	WideEarth               // a wide earthed face: the image doubles the field
)

func (f Facing) factor() float64 { // [1]
	if f == WideEarth {
		return 2
	}
	return 1
}

var facingNames = [...]string{"free space", "wide earthed face"}

// String returns the name, or "Facing(n)".
func (f Facing) String() string { return enum.Name("Facing", facingNames[:], f) }

// MarshalText writes the name; a value that is neither is a
// [*known.FieldError].
func (f Facing) MarshalText() ([]byte, error) { return enum.Write("facing", facingNames[:], f) }

// UnmarshalText reads a name as written by String.
func (f *Facing) UnmarshalText(b []byte) error { return enum.Read("facing", facingNames[:], b, f) }

// SphereField returns the field at the distance s from the surface of a sphere
// of radius a with the charge Q spread evenly over an insulating surface,
// straight before the meter:
//
//	E = k·Q/(4π·ε0·(a+s)²),  k = 1 in free space, 2 at a wide earthed face
//
// exact for charge that does not move; on a conducting sphere at s of the order
// of a the image draws charge towards the face and the field is higher. a may be
// 0 (a point). s must be above 0, else NaN.
func SphereField(q units.Charge, radius, distance units.Length, face Facing) units.ElectricField {
	a, s := float64(radius), float64(distance)
	if !(a >= 0 && s > 0) {
		return units.ElectricField(math.NaN())
	}
	return units.ElectricField(face.factor() * float64(q) / (4 * math.Pi * units.Epsilon0 * (a + s) * (a + s)))
}

// CylinderField returns the field at the distance s from the side of a bottle
// or can of radius a and length L with the charge Q spread evenly along it,
// before the middle of its length:
//
//	E = k·Q/(2π·ε0·ρ·√(L² + 4ρ²)),  ρ = a + s
//
// the field of a line charge on the axis: exact for L ≫ ρ and for ρ ≫ a, a few
// per cent low for a short can close by, whose near side is nearer than its
// axis. s must be above 0, L and a not negative, else NaN.
func CylinderField(q units.Charge, radius, length, distance units.Length, face Facing) units.ElectricField {
	a, L, s := float64(radius), float64(length), float64(distance)
	if !(a >= 0 && L >= 0 && s > 0) {
		return units.ElectricField(math.NaN())
	}
	r := a + s
	return units.ElectricField(face.factor() * float64(q) / (2 * math.Pi * units.Epsilon0 * r * math.Hypot(L, 2*r)))
}

// BoxField returns the field at the distance s before the middle of the face
// width × height of a box of that depth, with the same charge density on all six
// faces, as seen along the normal:
//
//	E = k·σ/(4π·ε0)·[Ω(s) + Ω(s+c) + sides]
//
// Ω(z) = 4·atan(ab/(4z√(z²+(a²+b²)/4))) is the solid angle of the face seen from
// the distance z; each side at the distance b/2 from the axis and of width a adds
// ∫_s^{s+c} z·a/((z²+b²/4)·√(z²+(a²+b²)/4)) dz, in closed form. Exact for fixed
// charge. Lengths must be above 0, else NaN.
func BoxField(density units.SurfaceChargeDensity, width, height, depth, distance units.Length,
	face Facing) units.ElectricField {
	a, b, c, s := float64(width), float64(height), float64(depth), float64(distance)
	if !(a > 0 && b > 0 && c > 0 && s > 0) {
		return units.ElectricField(math.NaN())
	}
	q2 := (a*a + b*b) / 4
	omega := func(z float64) float64 { return 4 * math.Atan(a*b/(4*z*math.Sqrt(z*z+q2))) }
	// Antiderivative over z of the axial kernel of a side at distance p with
	// half-width m: with w = √(z²+p²+m²), z dz = w dw, and z²+p² = w²−m², so that
	// ∫2m/(w²−m²) dw = ln((w−m)/(w+m)).
	side := func(p, m float64) float64 {
		f := func(z float64) float64 {
			w := math.Sqrt(z*z + p*p + m*m)
			return math.Log((z*z + p*p) / ((w + m) * (w + m)))
		}
		return f(s+c) - f(s)
	}
	sum := omega(s) + omega(s+c) + 2*side(b/2, a/2) + 2*side(a/2, b/2)
	return units.ElectricField(face.factor() * float64(density) / (4 * math.Pi * units.Epsilon0) * sum)
}

// StreamField returns the field at the distance s from the axis of a long
// falling stream of charged product:
//
//	E = k·λ/(2π·ε0·s),  λ = (q/m)·ṁ/v
//
// with the charge per mass, the mass flow and the speed of the product at that
// height. s and the speed must be above 0, else NaN.
func StreamField(q units.ChargePerMass, flow units.MassFlow, speed units.Speed, distance units.Length,
	face Facing) units.ElectricField {
	if !(speed > 0 && distance > 0) {
		return units.ElectricField(math.NaN())
	}
	lambda := float64(q) * float64(flow) / float64(speed) // [C/m]
	return units.ElectricField(face.factor() * lambda / (2 * math.Pi * units.Epsilon0 * float64(distance)))
}
