package hazard

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Published limits of the propagating brush discharge. The first two are two
// separate conditions, of the charge and of the layer. Source: BG RCI, statutory
// accident insurance of the raw materials and chemical industry, question 2.16
// (charge of 2.5e-4 C/m² on both sides, breakdown voltage above 4 kV). Question
// 1.12 of the same list has another criterion, of the process: a surface
// potential above 4 kV and a charging current of 1 mA/m² or more.
const (
	// PropagatingBrushDensity is the charge density from which it is possible.
	PropagatingBrushDensity units.SurfaceChargeDensity = 250 * units.MicrocoulombPerSquareMetre
	// PropagatingBrushBreakdown is the breakdown voltage of the layer above which
	// it is possible.
	PropagatingBrushBreakdown units.Voltage = 4 * units.Kilovolt
	// PropagatingBrushThickness is the thickness above which it is not seen. Not
	// compared with a source, so it never clears a layer here.
	PropagatingBrushThickness units.Length = 8 * units.Millimetre
)

// ChargedLayer describes an insulating layer for the propagating brush discharge.
type ChargedLayer struct {
	Density              units.SurfaceChargeDensity // on one side, with the opposite charge or earthed metal on the other
	Breakdown            units.Voltage              // breakdown voltage of the layer by test; 0: not known
	Thickness            units.Length               // more than 0
	RelativePermittivity float64                    // [1] 1 … 1e4
}

// PropagatingBrushFinding is what the two published conditions say of a layer.
type PropagatingBrushFinding struct {
	DensityShare     float64             // [1] |σ| over 250 µC/m²
	DensityReached   bool                // the charge density is 250 µC/m² or more
	BreakdownReached bool                // the breakdown voltage of the layer is above 4 kV, or not known
	Raised           bool                // both conditions hold: such a discharge has to be reckoned with
	ChargeVoltage    units.Voltage       // σ·t/(ε0·ε_r), the voltage of the charge across the layer; no criterion
	Energy           units.EnergyPerArea // ½·σ²·t/(ε0·ε_r), stored per area of the layer
	Validity         known.Validity      // AboveRange when thicker than the remembered 8 mm
}

// PropagatingBrush applies the two published conditions of the propagating
// brush discharge: a charge density of 250 µC/m² or more, and a layer whose
// BREAKDOWN voltage is above 4 kV. They are separate inputs: the voltage of the
// charge across the layer is another quantity, and a 100 µm film at 250 µC/m²,
// at which it is 1.2 kV, is raised unless its breakdown voltage was found to be
// 4 kV or less. An unknown breakdown voltage counts as above 4 kV. A thin film
// in a free span can do it too, if its faces carry opposite charge.
//
// A layer that is not raised is not cleared: densities are patchy, and the charge
// may grow further ([NoticePropagatingBrush]). The energy is that stored per
// area in the layer, in the field between the opposite charges; it is no ½CV² of
// a body.
func PropagatingBrush(l ChargedLayer) (PropagatingBrushFinding, error) {
	if err := errors.Join(
		known.Finite("layer.density", l.Density),
		known.NotNegative("layer.breakdown", l.Breakdown),
		known.Positive("layer.thickness", l.Thickness),
		known.InRange("layer.relative_permittivity", l.RelativePermittivity, 1, 1e4)); err != nil {
		return PropagatingBrushFinding{}, err
	}
	sigma, t := float64(l.Density), float64(l.Thickness)
	v := sigma * t / (units.Epsilon0 * l.RelativePermittivity)
	f := PropagatingBrushFinding{
		DensityShare:     math.Abs(sigma) / float64(PropagatingBrushDensity),
		BreakdownReached: l.Breakdown == 0 || l.Breakdown > PropagatingBrushBreakdown,
		ChargeVoltage:    units.Voltage(v),
		Energy:           units.EnergyPerArea(0.5 * sigma * v),
	}
	f.DensityReached = f.DensityShare >= 1
	f.Raised = f.DensityReached && f.BreakdownReached
	if l.Thickness > PropagatingBrushThickness {
		f.Validity = known.AboveRange | known.Unpublished
	}
	return f, nil
}

// Notice returns the notice for the layer, with the share of the density as its
// figure.
func (f PropagatingBrushFinding) Notice() known.Notice {
	margin := ""
	if !f.DensityReached {
		margin = ", which is no margin because charge is patchy and grows"
	}
	return NoticePropagatingBrush.Notice(fmt.Sprintf("%s times 250 µC/m²%s, %s J/m² stored",
		short(f.DensityShare), margin, short(float64(f.Energy))))
}

// BrushPotential returns the published guide value of the potential of an
// insulating surface for brush ignition of a substance with this least ignition
// energy, with a margin of ten in it: 1 kV below 0.1 mJ, 5 kV from 0.1 to 1 mJ,
// 10 kV above 1 mJ. Source: guideline of the Japanese national institute of
// occupational safety, as a Japanese text on risk assessment of static electricity
// (2022) quotes it. It is for a surface away from metal, seen by
// a field meter at its rated distance; exactly 0.1 and 1 mJ belong to the class
// with the lower potential but one, 5 kV. NaN or a negative energy gives 0.
func BrushPotential(mie units.Energy) units.Voltage {
	switch {
	case !(mie >= 0):
		return 0
	case mie < 0.1*units.Millijoule:
		return 1 * units.Kilovolt
	case mie <= 1*units.Millijoule:
		return 5 * units.Kilovolt
	}
	return 10 * units.Kilovolt
}

// guide is the guide potential for the low end; where that is not known, the
// lowest of all.
func (in Ignitable) guide() units.Voltage {
	low, floor := in.LowEnd()
	if !floor {
		return BrushPotential(0)
	}
	return BrushPotential(low)
}

// BrushFinding compares the potential of a surface with the guide value.
type BrushFinding struct {
	Ratio  float64 // [1] |potential| over the guide value
	Raised bool    // Ratio is 1 or more, or not known
}

// Brush compares the potential of an insulating surface with [BrushPotential] of
// the low end of the least ignition energies, the lowest guide value where none is
// known.
// A dust cloud without flammable vapour is not ignited by a brush discharge (BG
// RCI, question 3.22); fines and vapour together are. A surface that is not
// raised is not cleared: area, layer thickness, nearby
// conductors and the zone decide ([NoticeBrush]). A potential that nobody measured, NaN,
// gives NaN and is raised.
func Brush(surface units.Voltage, in Ignitable) BrushFinding {
	r := math.Abs(float64(surface)) / float64(in.guide())
	return BrushFinding{Ratio: r, Raised: !(r < 1)}
}

// Notice returns the notice for the surface, with the ratio as its figure.
func (f BrushFinding) Notice() known.Notice {
	if math.IsNaN(f.Ratio) {
		return NoticeBrush.Notice("potential not known")
	}
	return NoticeBrush.Notice(short(f.Ratio) + " times the guide potential")
}

// DischargeKind is a kind of electrostatic discharge.
type DischargeKind uint8

// The kinds whose energies are published.
const (
	BrushFromPositive         DischargeKind = iota // brush discharge from a positive electrode
	BrushFromNegative                              // brush discharge from a negative electrode
	BulkingBrush                                   // brush from heaped product, cone discharge
	PropagatingBrushDischarge                      // discharge along a layer charged on both sides
	dischargeKinds
)

// DischargeEnergy is the greatest energy of a kind of discharge. Every kind also
// comes with less; no source gives a least energy.
type DischargeEnergy struct {
	Kind     DischargeKind // the kind
	Greatest units.Energy  // greatest that the source names
	Exceeds  bool          // the source says that it may be more
	Source   known.Source  // where it stands
}

func glossary(note string) known.Source {
	return known.Source{Provenance: known.Published,
		Cite: "AIChE Center for Chemical Process Safety, process safety glossary: brush, bulking brush, propagating brush " +
			"discharge", Note: note}
}

var dischargeEnergies = [dischargeKinds]DischargeEnergy{
	BrushFromPositive: {BrushFromPositive, 10 * units.Millijoule, false,
		glossary("at most 5 to 10 mJ; other reviews 1 to 5 mJ")},
	BrushFromNegative: {BrushFromNegative, 0.5 * units.Millijoule, false,
		glossary("a few tenths of a millijoule, entered as 0.5 mJ")},
	BulkingBrush: {BulkingBrush, 20 * units.Millijoule, false, glossary("at most 10 to 20 mJ")},
	PropagatingBrushDischarge: {PropagatingBrushDischarge, 1 * units.Joule, true,
		glossary("may exceed 1000 mJ")},
}

// DischargeEnergies returns the table of energies; the rows are a copy.
func DischargeEnergies() []DischargeEnergy {
	return append([]DischargeEnergy(nil), dischargeEnergies[:]...)
}

var dischargeNames = [dischargeKinds]string{
	BrushFromPositive:         "brush from a positive electrode",
	BrushFromNegative:         "brush from a negative electrode",
	BulkingBrush:              "bulking brush",
	PropagatingBrushDischarge: "propagating brush",
}

// String returns the name, or "DischargeKind(n)".
func (k DischargeKind) String() string { return enum.Name("DischargeKind", dischargeNames[:], k) }

// MarshalText writes the name; a value that is no kind is a
// [*known.FieldError].
func (k DischargeKind) MarshalText() ([]byte, error) {
	return enum.Write("discharge", dischargeNames[:], k)
}

// UnmarshalText reads a name as written by String.
func (k *DischargeKind) UnmarshalText(b []byte) error {
	return enum.Read("discharge", dischargeNames[:], b, k)
}
