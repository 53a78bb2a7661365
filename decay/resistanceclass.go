package decay

import (
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ResistanceClass is a class of resistance or resistivity. The words differ between
// standards (IEV 426-25-02 says so): a class means nothing without its scheme.
type ResistanceClass uint8

// The classes.
const (
	Unclassified ResistanceClass = iota // the scheme has no class there
	Conductive
	Dissipative
	Insulating
)

var classNames = [...]string{"unclassified", "conductive", "dissipative", "insulating"}

// String returns the name of the class, or "ResistanceClass(n)".
func (c ResistanceClass) String() string { return enum.Name("ResistanceClass", classNames[:], c) }

// MarshalText writes the name of the class; a value without one is a [*known.FieldError].
func (c ResistanceClass) MarshalText() ([]byte, error) { return enum.Write("class", classNames[:], c) }

// UnmarshalText reads the name of the class; anything else is a [*known.FieldError] and leaves the
// value as it was.
func (c *ResistanceClass) UnmarshalText(b []byte) error {
	return enum.Read("class", classNames[:], b, c)
}

// Measure says which quantity a scheme classifies.
type Measure uint8

// The quantities.
const (
	SurfaceResistivity Measure = iota // Ω per square
	RingResistance                    // Ω between the electrodes of a ring
	BulkResistivity                   // Ω·m
)

var measureNames = [...]string{"surface resistivity (Ω/sq)", "resistance (Ω)", "volume resistivity (Ω·m)"}

// String returns the name of the quantity with its unit.
func (m Measure) String() string { return enum.Name("Measure", measureNames[:], m) }

// MarshalText writes the name of the quantity with its unit; a value without one is a [*known.FieldError].
func (m Measure) MarshalText() ([]byte, error) { return enum.Write("measure", measureNames[:], m) }

// UnmarshalText reads the name of the quantity with its unit; anything else is a [*known.FieldError] and leaves the
// value as it was.
func (m *Measure) UnmarshalText(b []byte) error { return enum.Read("measure", measureNames[:], b, m) }

// ClassScheme is the classes of one standard and edition.
type ClassScheme struct {
	name    string
	measure Measure
	// low: conductive below it; high: insulating from it (or above it). A low of 0:
	// the scheme does not say.
	low, high float64 // [unit of measure]
	above     bool    // insulating only above high, not at it
	source    known.Source
}

// Name returns standard, edition and quantity.
func (s *ClassScheme) Name() string { return s.name }

// Measure returns the quantity that the scheme classifies.
func (s *ClassScheme) Measure() Measure { return s.measure }

// Source returns where the limits were found.
func (s *ClassScheme) Source() known.Source { return s.source }

// Limits returns the upper end of conductive and the lower end of insulating;
// NaN where the scheme does not say.
func (s *ClassScheme) Limits() (conductive, insulating float64) { // [Ω/sq, Ω or Ω·m by Measure]
	if s.name == "" {
		return math.NaN(), math.NaN()
	}
	if s.low == 0 {
		return math.NaN(), s.high
	}
	return s.low, s.high
}

// The schemes. The edges of the old one are surface resistivities, those of the
// new one resistances between ring electrodes: 1e11 Ω of ring resistance is
// about 1e12 Ω per square.
var (
	ClassEIA541 = ClassScheme{"EIA-541 (packaging, old)", SurfaceResistivity, 1e5, 1e12, false,
		known.Source{Provenance: known.Memory, Cite: "EIA-541", Note: "not compared with the standard"}}
	ClassEIA541Volume = ClassScheme{"EIA-541 (packaging, old), volume", BulkResistivity, 1e2, 1e9, false,
		known.Source{Provenance: known.Memory, Cite: "EIA-541", Note: "not compared with the standard; 1e4 and 1e11 Ω·cm"}}
	ClassIEC61340_5_3 = ClassScheme{"IEC 61340-5-3 and ANSI/ESD packaging", RingResistance, 1e4, 1e11, false,
		known.Source{Provenance: known.Memory, Cite: "IEC 61340-5-3; ANSI/ESD S541",
			Note: "not compared with the standards; dissipative 1e4 Ω or more and below 1e11 Ω"}}
	ClassIEC60079_32_1 = ClassScheme{"IEC TS 60079-32-1, solids, volume", BulkResistivity, 1e5, 1e9, true,
		known.Source{Provenance: known.Memory, Cite: "IEC TS 60079-32-1", Note: "not compared with the standard: verify"}}
	ClassIEC60079_32_1Surface = ClassScheme{"IEC TS 60079-32-1, solids, surface at 30 %RH", RingResistance, 0,
		1e11, true,
		known.Source{Provenance: known.Memory, Cite: "IEC TS 60079-32-1",
			Note: "not compared with the standard: verify; only the insulating limit"}}
)

func (s *ClassScheme) classify(m Measure, v float64) (ResistanceClass, error) {
	if s.name == "" {
		return Unclassified, known.Wrong("scheme", "the zero ClassScheme", "one of ClassEIA541, ClassIEC61340_5_3, …")
	}
	if s.measure != m {
		return Unclassified, known.Wrong("measure", m, s.measure.String()+" for "+s.name)
	}
	if err := known.Positive(m.String(), v); err != nil {
		return Unclassified, err
	}
	switch {
	case v > s.high || v == s.high && !s.above:
		return Insulating, nil
	case s.low == 0:
		return Unclassified, nil
	case v < s.low:
		return Conductive, nil
	}
	return Dissipative, nil
}

// OfSheet classifies a surface resistivity. The error is a [*known.FieldError] if
// the scheme is one of resistance or of volume resistivity, or if the value is
// not positive.
func (s *ClassScheme) OfSheet(r units.SheetResistance) (ResistanceClass, error) {
	return s.classify(SurfaceResistivity, float64(r))
}

// OfRing classifies a resistance measured with a ring; errors as
// [ClassScheme.OfSheet].
func (s *ClassScheme) OfRing(r units.Resistance) (ResistanceClass, error) {
	return s.classify(RingResistance, float64(r))
}

// OfVolume classifies a volume resistivity; errors as [ClassScheme.OfSheet].
func (s *ClassScheme) OfVolume(r units.VolumeResistivity) (ResistanceClass, error) {
	return s.classify(BulkResistivity, float64(r))
}
