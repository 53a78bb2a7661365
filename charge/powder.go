package charge

import (
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// DoseCharge returns the least and the greatest magnitude of the charge that an
// operation gives a dose, mass times the range of [PowderOperation]. The sign is
// not known from the operation. A negative or NaN mass gives NaN.
func (o PowderOperation) DoseCharge(m units.Mass) (low, high units.Charge) {
	if !(m >= 0) {
		return units.Charge(math.NaN()), units.Charge(math.NaN())
	}
	return units.Charge(float64(o.Low) * float64(m)), units.Charge(float64(o.High) * float64(m))
}

// DoseCharge returns mass times charge per mass. NaN in or a negative mass gives
// NaN.
func DoseCharge(q units.ChargePerMass, m units.Mass) units.Charge {
	if !(m >= 0) {
		return units.Charge(math.NaN())
	}
	return units.Charge(float64(q) * float64(m))
}

// FieldToWeight returns |q/m·E|/g, the force of a field on a grain relative to
// its weight: the index for fill scatter, grains on a rim and cling to a wall.
// It is relative: it compares places and states of one line, and gives no
// milligrams.
func FieldToWeight(q units.ChargePerMass, e units.ElectricField) float64 { // [1]
	return math.Abs(float64(q) * float64(e) / units.StandardGravity)
}

// Cloud is the shape of a space charge.
type Cloud uint8

// The shapes of a cloud with earthed walls.
const (
	SlabCloud     Cloud = iota // between two plates; half-width half their distance
	CylinderCloud              // silo or pipe
	SphereCloud                // vessel about as high as wide
)

var cloudNames = [...]string{"slab", "cylinder", "sphere"}

// String returns the name of the shape, or "Cloud(n)".
func (c Cloud) String() string { return enum.Name("Cloud", cloudNames[:], c) }

// MarshalText writes the name; a value that is no shape is a
// [*known.FieldError].
func (c Cloud) MarshalText() ([]byte, error) { return enum.Write("cloud", cloudNames[:], c) }

// UnmarshalText reads a name as written by String.
func (c *Cloud) UnmarshalText(b []byte) error { return enum.Read("cloud", cloudNames[:], b, c) }

// CloudField returns the field at the earthed wall and the potential in the
// middle of an evenly charged cloud of charge density ρ = q/m·c in a vessel of
// radius (or half-width) R:
//
//	E = ρR/(n·ε0),  V = ρR²/(2n·ε0),  n = 1 slab, 2 cylinder, 3 sphere.
//
// Source: Gauss. NaN for an unknown shape, a radius that is not above 0, and a
// negative concentration. A field at 3 MV/m ([gas.AirStrength]) breaks down; an
// explosible cloud is a matter for the local code and a competent person
// whatever the figure.
func CloudField(shape Cloud, radius units.Length, concentration units.Density,
	q units.ChargePerMass) (units.ElectricField, units.Voltage) {
	if int(shape) >= len(cloudNames) || !(radius > 0) || !(concentration >= 0) {
		return units.ElectricField(math.NaN()), units.Voltage(math.NaN())
	}
	n := float64(shape) + 1
	e := float64(q) * float64(concentration) * float64(radius) / (n * units.Epsilon0)
	return units.ElectricField(e), units.Voltage(e * float64(radius) / 2)
}

// ConeEnergy returns the greatest energy of a cone discharge over the heap of
// an insulating powder in an earthed silo,
//
//	W[mJ] = 5.22·D^3.36·d^1.46,
//
// D the silo diameter in m (0.5 to 3), d the median grain in mm (0.1 to 3).
// After M. Glor, not compared with the source, hence flagged Unpublished; outside
// the ranges it is computed and flagged. Energies of 10 to 20 mJ are quoted for bulking
// (cone) discharges (AIChE CCPS glossary). To be compared with the ignition
// energy of the fines, by a competent person under the local code (IEC TS
// 60079-32-1, NFPA 77). NaN for arguments that are not 0 or more.
func ConeEnergy(silo, grain units.Length) (units.Energy, known.Validity) {
	D, d := float64(silo), float64(grain)*1e3
	if !(D >= 0) || !(d >= 0) {
		return units.Energy(math.NaN()), known.WrongShape
	}
	v := known.Unpublished
	if D < 0.5 || d < 0.1 {
		v |= known.BelowRange
	}
	if D > 3 || d > 3 {
		v |= known.AboveRange
	}
	return units.Energy(5.22e-3 * numeric.Pow(D, 3.36) * numeric.Pow(d, 1.46)), v
}

// PowderClass is the class of a powder by its volume resistivity.
type PowderClass uint8

// The classes of CLC/TR 50404.
const (
	LowResistivity    PowderClass = iota // below 1e6 Ω·m
	MediumResistivity                    // 1e6 … 1e10 Ω·m
	HighResistivity                      // 1e10 Ω·m and above
)

var powderNames = [...]string{"low resistivity", "medium resistivity", "high resistivity"}

// String returns the name of the class, or "PowderClass(n)".
func (c PowderClass) String() string { return enum.Name("PowderClass", powderNames[:], c) }

// MarshalText writes the name; a value that is no class is a
// [*known.FieldError].
func (c PowderClass) MarshalText() ([]byte, error) {
	return enum.Write("powder_class", powderNames[:], c)
}

// UnmarshalText reads a name as written by String.
func (c *PowderClass) UnmarshalText(b []byte) error {
	return enum.Read("powder_class", powderNames[:], b, c)
}

// ClassifyPowder returns the class of a powder. Source: CLC/TR 50404:2003,
// clause 7.2, read in a copy, in which 1e10 Ω·m stands
// in two classes. Negative and NaN resistivities are
// refused.
func ClassifyPowder(rho units.VolumeResistivity) (PowderClass, error) {
	const low, high = 1e6 * units.OhmMetre, 1e10 * units.OhmMetre
	switch {
	case !(rho >= 0):
		return HighResistivity, known.Wrong("resistivity", rho, "0 or more")
	case rho < low:
		return LowResistivity, nil
	case rho < high:
		return MediumResistivity, nil
	}
	return HighResistivity, nil
}
