package hazard

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Ignitable is a gas, vapour or dust with the range of its least ignition energy.
// Everything is judged by the low end: tables differ, a mixture or a fineness
// that ignites more easily than the one in hand is rarely excluded.
type Ignitable struct {
	Name         string       // lower case
	MIE          units.Energy // low end of the least ignition energies held: the one to judge by
	High         units.Energy // the greatest one held, MIE where there is one only
	Below        bool         // the source says "below MIE" only: no low end is known
	Mixture      float64      // [1] share by volume of the fuel in air that MIE belongs to, 0 where it is not stated
	Dust         bool         // a dust cloud; the value depends strongly on the fineness
	known.Origin              // source of MIE, condition and licence of the work; the condition names the other values
}

var (
	nfpaMIE = known.Origin{Source: known.Source{Provenance: known.Published,
		Cite: "NFPA 77-2000, Recommended Practice on Static Electricity, Table B.1 (after Britton 1992)"},
		Condition: "in air at standard temperature and pressure, lowest value of the table, its mixture not stated", Licence: known.FactsOnly}
	bgrMIE = known.Source{Provenance: known.Published,
		Cite: "BGR 132:2003, Vermeidung von Zündgefahren infolge elektrostatischer Aufladungen, Table 14 (values of PTB)",
		Note: "replaced; TRGS 727 Annex G repeats the table, with 0.02 mJ for hydrogen"}
	ohmMIE = known.Source{Provenance: known.Published,
		Cite: "table of least ignition energies of dusts quoting Ohmsha, OHM (1995)", Note: "read second-hand"}
	insurerMIE = known.Source{Provenance: known.Published,
		Cite: "institution for statutory accident insurance of the raw materials and chemical industry, question 3.22, Table 5"}
)

// inTable14 is a row of BGR 132: 20 °C, 1013 mbar, at the share of fuel that
// ignites most easily.
func inTable14(name string, mie, high units.Energy, mixture float64, others string) Ignitable {
	c := fmt.Sprintf("in air, 20 °C, 1013 mbar, %.3g %% by volume, the most easily ignited mixture", 100*mixture)
	return Ignitable{Name: name, MIE: mie, High: high, Mixture: mixture,
		Origin: known.Origin{Source: bgrMIE, Condition: c + others, Licence: known.FactsOnly}}
}

func inTableB1(name string, mie units.Energy) Ignitable {
	return Ignitable{Name: name, MIE: mie, High: mie, Origin: nfpaMIE}
}

var ignitables = [...]Ignitable{
	inTableB1("acetylene", 0.017*units.Millijoule),
	{Name: "acetylene in oxygen", MIE: 0.0002 * units.Millijoule, High: 0.0002 * units.Millijoule,
		Origin: known.Origin{Source: nfpaMIE.Source, Condition: "in oxygen, its mixture not stated", Licence: known.FactsOnly}},
	inTableB1("acrolein", 0.13*units.Millijoule),
	inTableB1("1,3-butadiene", 0.13*units.Millijoule),
	inTableB1("acrylonitrile", 0.16*units.Millijoule),
	inTableB1("cyclopropane", 0.17*units.Millijoule),
	inTableB1("benzene", 0.2*units.Millijoule),
	inTableB1("cyclohexane", 0.22*units.Millijoule),
	inTableB1("butane", 0.25*units.Millijoule),
	inTableB1("acetaldehyde", 0.37*units.Millijoule),
	inTableB1("cyclopentane", 0.54*units.Millijoule),
	inTableB1("cyclopentadiene", 0.67*units.Millijoule),
	inTableB1("allyl chloride", 0.77*units.Millijoule),
	inTable14("acetone", 0.55*units.Millijoule, 1.15*units.Millijoule, 0.065, "; NFPA 77-2000 prints 1.15 mJ for 4.5 %"),
	inTableB1("n-butyl chloride", 1.24*units.Millijoule),
	inTable14("ammonia", 14*units.Millijoule, 680*units.Millijoule, 0.2, "; NFPA 77-2000 prints 680 mJ without a mixture"),
	inTable14("hydrogen", 0.016*units.Millijoule, 0.02*units.Millijoule, 0.22, "; NFPA 921 has 0.019 mJ"),
	inTable14("methane", 0.28*units.Millijoule, 0.28*units.Millijoule, 0.085, ""),
	inTable14("propane", 0.25*units.Millijoule, 0.25*units.Millijoule, 0.052, ""),
	{Name: "aluminium dust", MIE: 1 * units.Millijoule, High: 300 * units.Millijoule, Below: true, Dust: true,
		Origin: known.Origin{Source: insurerMIE, Condition: "class of fine aluminium dusts, below 1 mJ; " +
			"single samples of fineness not stated took 10 to 300 mJ: test the dust in hand", Licence: known.FactsOnly}},
	{Name: "magnesium dust", MIE: 20 * units.Millijoule, High: 40 * units.Millijoule, Dust: true,
		Origin: known.Origin{Source: ohmMIE, Condition: "fineness not stated, 40 mJ for a milled grade: test the dust in hand", Licence: known.FactsOnly}},
	{Name: "sugar dust", MIE: 10 * units.Millijoule, High: 100 * units.Millijoule, Dust: true,
		Origin: known.Origin{Source: insurerMIE, Condition: "class of sugar dust, 10 to 100 mJ; 30 mJ elsewhere: test the dust in hand", Licence: known.FactsOnly}},
	{Name: "wheat flour", MIE: 40 * units.Millijoule, High: 1000 * units.Millijoule, Dust: true,
		Origin: known.Origin{Source: ohmMIE, Condition: "fineness not stated; 50 mJ and above 300 mJ elsewhere: test the dust in hand", Licence: known.FactsOnly}},
}

// Ignitables returns the table of least ignition energies; the rows are a copy.
func Ignitables() []Ignitable { return append([]Ignitable(nil), ignitables[:]...) }

// FindIgnitable returns the row of that name, or a [*known.FieldError] that
// lists the names.
func FindIgnitable(name string) (Ignitable, error) {
	names := ""
	for i := range ignitables {
		if ignitables[i].Name == name {
			return ignitables[i], nil
		}
		if i > 0 {
			names += ", "
		}
		names += ignitables[i].Name
	}
	return Ignitable{}, known.Wrong("ignitable", name, "one of "+names)
}

// SparkFinding compares the energy of a conductor with a least ignition energy.
type SparkFinding struct {
	Energy  units.Energy // ½·C·V²
	Ratio   float64      // [1] energy over the low end of the least ignition energies held
	AtLeast bool         // Ratio is a lower bound: the source says "below" only
	Reaches bool         // Ratio is 1 or more, or AtLeast and there is energy: no low end excludes it
}

// Spark compares the energy of the conductor at the voltage v with the low end of
// the least ignition energies held for a substance. Whatever the ratio, an
// isolated conductor is a finding ([NoticeIsolatedConductor]): a least ignition
// energy is the mean of a test with one mixture or one fineness, and voltage and
// capacitance can be higher than they were found. NaN gives NaN and false.
func (c Conductor) Spark(v units.Voltage, in Ignitable) SparkFinding {
	w := c.Energy(v)
	r := float64(w) / float64(in.MIE)
	return SparkFinding{Energy: w, Ratio: r, AtLeast: in.Below, Reaches: r >= 1 || in.Below && r > 0}
}

// Notice returns the notice for a spark, with energy and ratio as its figure.
func (f SparkFinding) Notice() known.Notice {
	more := ""
	if f.AtLeast {
		more = "more than "
	}
	return NoticeIsolatedConductor.Notice(fmt.Sprintf("%.2g mJ, %s%.2g times the least ignition energy (low end)",
		1e3*float64(f.Energy), more, f.Ratio))
}

// Published limits of the propagating brush discharge. The first two are two
// separate conditions, of the charge and of the layer.
const (
	// PropagatingBrushDensity is the charge density from which it is possible.
	// Source: institution for statutory accident insurance of the raw materials
	// and chemical industry, question 2.16 on gliding brush discharges.
	PropagatingBrushDensity units.SurfaceChargeDensity = 250 * units.MicrocoulombPerSquareMetre
	// PropagatingBrushBreakdown is the breakdown voltage of the layer above which
	// it is possible. Source: as above; Glor's criterion, second-hand.
	PropagatingBrushBreakdown units.Voltage = 4 * units.Kilovolt
	// PropagatingBrushThickness is the thickness above which it is not seen. From
	// memory (92 %), so it never clears a layer here.
	PropagatingBrushThickness units.Length = 8 * units.Millimetre
)

// Layer describes an insulating layer for the propagating brush discharge.
type Layer struct {
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
func PropagatingBrush(l Layer) (PropagatingBrushFinding, error) {
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
	return NoticePropagatingBrush.Notice(fmt.Sprintf("%.2g times 250 µC/m², %.2g J/m² stored", f.DensityShare, float64(f.Energy)))
}

// BrushPotential returns the published guide value of the potential of an
// insulating surface for brush ignition of a substance with this least ignition
// energy, with a margin of ten in it: 1 kV below 0.1 mJ, 5 kV from 0.1 to 1 mJ,
// 10 kV above 1 mJ. Source: Japanese text on risk assessment of static
// electricity (2022), after the guideline of the national institute of
// occupational safety; second-hand. It is for a surface away from metal, seen by
// a field meter at its rated distance. NaN or a negative energy gives 0.
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
	if in.Below {
		return BrushPotential(0)
	}
	return BrushPotential(in.MIE)
}

// BrushFinding compares the potential of a surface with the guide value.
type BrushFinding struct {
	Ratio  float64 // [1] |potential| over the guide value
	Raised bool    // Ratio is 1 or more
}

// Brush compares the potential of an insulating surface with [BrushPotential] of
// the low end of the least ignition energies, the lowest guide value where none is
// known.
// A surface that is not raised is not cleared: area, layer thickness, nearby
// conductors and the zone decide ([NoticeBrush]). NaN gives NaN and false.
func Brush(surface units.Voltage, in Ignitable) BrushFinding {
	r := math.Abs(float64(surface)) / float64(in.guide())
	return BrushFinding{Ratio: r, Raised: r >= 1}
}

// Notice returns the notice for the surface, with the ratio as its figure.
func (f BrushFinding) Notice() known.Notice {
	return NoticeBrush.Notice(fmt.Sprintf("%.2g times the guide potential", f.Ratio))
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

// DischargeEnergy is the range of the energy of a kind of discharge.
type DischargeEnergy struct {
	Kind   DischargeKind // the kind
	Low    units.Energy  // least of the range, 0 where the source gives an upper end only
	High   units.Energy  // greatest of the range, 0 where the source gives a lower end only
	Source known.Source  // where it stands
}

var ccps = known.Source{Provenance: known.Published, Cite: "AIChE Center for Chemical Process Safety, process safety glossary: brush, bulking brush, propagating brush discharge"}

var dischargeEnergies = [dischargeKinds]DischargeEnergy{
	BrushFromPositive: {BrushFromPositive, 0, 10 * units.Millijoule, known.Source{Provenance: known.Published, Cite: ccps.Cite, Note: "at most 5 to 10 mJ; other reviews 1 to 5 mJ"}},
	BrushFromNegative: {BrushFromNegative, 0, 0.5 * units.Millijoule, known.Source{Provenance: known.Published, Cite: ccps.Cite, Note: "a few tenths of a millijoule, entered as 0.5 mJ"}},
	BulkingBrush: {BulkingBrush, 0, 20 * units.Millijoule,
		known.Source{Provenance: known.Published, Cite: ccps.Cite, Note: "at most 10 to 20 mJ; no lower end is given"}},
	PropagatingBrushDischarge: {PropagatingBrushDischarge, 1 * units.Joule, 0, known.Source{Provenance: known.Published, Cite: ccps.Cite, Note: "more than 1000 mJ"}},
}

// DischargeEnergies returns the table of energies; the rows are a copy.
func DischargeEnergies() []DischargeEnergy {
	return append([]DischargeEnergy(nil), dischargeEnergies[:]...)
}

// String returns the name, or "DischargeKind(n)".
func (k DischargeKind) String() string {
	switch k {
	case BrushFromPositive:
		return "brush from a positive electrode"
	case BrushFromNegative:
		return "brush from a negative electrode"
	case BulkingBrush:
		return "bulking brush"
	case PropagatingBrushDischarge:
		return "propagating brush"
	}
	return fmt.Sprintf("DischargeKind(%d)", uint8(k))
}

// GasGroup is a group of gases by how easily they ignite.
type GasGroup uint8

// The groups of IEC 60079-0.
const (
	IIA GasGroup = iota // for example propane
	IIB                 // for example ethylene
	IIC                 // hydrogen, acetylene
)

// BrushLimits are the limits of the standard for an insulating surface against brush
// ignition, as far as they are remembered.
type BrushLimits struct {
	Area        units.Area     // largest projected area of an insulating surface
	Layer       units.Length   // thickness of a layer on earthed metal below which brushes are suppressed; not against propagating brushes
	Transferred units.Charge   // largest transferred charge
	Source      known.Source   // memory
	Validity    known.Validity // Unpublished
}

// BrushLimitsFromMemory returns the limits of IEC TS 60079-32-1 for zone 0 or
// zone 1 and a gas group AS REMEMBERED (75 … 88 %), for a demonstration or to
// know what to look up. They must be read in the standard before anything rests
// on them. A zone other than 0 and 1 or an unknown group is a
// [*known.FieldError].
func BrushLimitsFromMemory(zone int, group GasGroup) (BrushLimits, error) {
	if zone != 0 && zone != 1 {
		return BrushLimits{}, known.Wrong("zone", zone, "0 or 1")
	}
	if group > IIC {
		return BrushLimits{}, known.Wrong("gas_group", uint8(group), "IIA, IIB or IIC")
	}
	const squareCentimetre = units.Area(1e-4)
	area := [2][3]units.Area{{50 * squareCentimetre, 25 * squareCentimetre, 4 * squareCentimetre}, {100 * squareCentimetre, 100 * squareCentimetre, 20 * squareCentimetre}}
	layer := [3]units.Length{2 * units.Millimetre, 2 * units.Millimetre, 0.2 * units.Millimetre}
	transferred := [3]units.Charge{60 * units.Nanocoulomb, 25 * units.Nanocoulomb, 10 * units.Nanocoulomb}
	return BrushLimits{
		Area: area[zone][group], Layer: layer[group], Transferred: transferred[group],
		Source:   known.Source{Provenance: known.Memory, Cite: "IEC TS 60079-32-1", Note: "from memory 75 to 88 %: read it in the standard"},
		Validity: known.Unpublished,
	}, nil
}
