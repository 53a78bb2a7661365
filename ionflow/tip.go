package ionflow

import (
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TipLaw is the law for the field at which a corona starts at a point.
type TipLaw uint8

// The laws. Both are used far outside the radii that they were fitted to.
const (
	// PeekCylinder is 31·δ·(1 + 0.308/√(δ·r)) kV/cm with r in cm, of wires.
	PeekCylinder TipLaw = iota
	// PeekSphere is 27.2·δ·(1 + 0.54/√(δ·r)) kV/cm with r in cm, of spheres. Not compared with a source.
	PeekSphere
)

var tipLaws = [...]string{"Peek cylinder", "Peek sphere"}

// String returns the name, or "TipLaw(n)".
func (l TipLaw) String() string { return enum.Name("TipLaw", tipLaws[:], l) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (l TipLaw) MarshalText() ([]byte, error) { return enum.Write("tip_law", tipLaws[:], l) }

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (l *TipLaw) UnmarshalText(b []byte) error { return enum.Read("tip_law", tipLaws[:], b, l) }

// PassiveBand is the factor by which the onset of a needle is uncertain either way:
// the two tip laws differ by 1.41 and 50 µm lies outside the range of both. [1]
const PassiveBand = 1.6

// OnsetField returns the field at which a corona starts at a tip of radius r, in
// air of relative density delta, [units.Pressure.RelativeDensity], which is 1 at 20 °C and 101.325 kPa; δ of the laws
// is 1 at 25 °C, so that it is 298.15/293.15 of that. r and delta must be above 0, else NaN. Constants after F. W.
// Peek, Dielectric Phenomena in High-Voltage
// Engineering (1929), not compared with the book: always flagged.
func OnsetField(law TipLaw, r units.Length, delta float64) (units.ElectricField, known.Validity) { // delta [1]
	if !(r > 0) || !(delta > 0) || law > PeekSphere {
		return units.ElectricField(math.NaN()), known.Unpublished
	}
	cm := float64(r) * 100
	delta *= 298.15 / 293.15
	a, b := 31e5, 0.308
	if law == PeekSphere {
		a, b = 27.2e5, 0.54
	}
	return units.ElectricField(a * delta * (1 + b/math.Sqrt(delta*cm))), known.Unpublished
}

// OnsetVoltage returns the voltage between a needle with tip radius r and a surface
// at distance d at which its corona starts: the field at the tip of a hyperboloid is
// E = 2V/(r·ln(4d/r)), so V = E_on·r·ln(4d/r)/2. It varies slowly with d. d must be more
// than the radius, else NaN. Always flagged: see [OnsetField]; take it as uncertain by
// [PassiveBand] either way.
func OnsetVoltage(law TipLaw, r, d units.Length, delta float64) (units.Voltage, known.Validity) { // delta [1]
	if !(d > r) {
		return units.Voltage(math.NaN()), known.Unpublished
	}
	e, flag := OnsetField(law, r, delta)
	return units.Voltage(float64(e) * float64(r) / 2 * math.Log(4*float64(d)/float64(r))), flag
}
