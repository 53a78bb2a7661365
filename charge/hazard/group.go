package hazard

import (
	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// GasGroup is a group of gases by how easily they ignite.
type GasGroup uint8

// The groups of IEC 60079-0.
const (
	NoGroup GasGroup = iota // a dust, or a group that is not held
	IIA                     // for example propane
	IIB                     // for example ethylene
	IIC                     // hydrogen, acetylene
)

var groupNames = [...]string{"", "IIA", "IIB", "IIC"}

// String returns the name of the group, "GasGroup(n)" for an unknown one.
func (g GasGroup) String() string {
	if g == NoGroup {
		return ""
	}
	return enum.Name("GasGroup", groupNames[:], g)
}

// MarshalText writes the name of the group, nothing for [NoGroup]; a value that is no
// group is a [*known.FieldError].
func (g GasGroup) MarshalText() ([]byte, error) {
	if g == NoGroup {
		return nil, nil
	}
	return enum.Write("gas_group", groupNames[:], g)
}

// UnmarshalText reads a name as written by String.
func (g *GasGroup) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*g = NoGroup
		return nil
	}
	return enum.Read("gas_group", groupNames[:], b, g)
}

// BrushLimits are the limits of the standard for an insulating surface against brush
// ignition, as far as they are remembered.
type BrushLimits struct {
	Area units.Area // largest projected area of an insulating surface
	// Layer is the thickness of a layer on earthed metal below which brushes are
	// suppressed; it does nothing against propagating brushes.
	Layer       units.Length
	Transferred units.Charge   // largest transferred charge
	Source      known.Source   // memory
	Validity    known.Validity // Unpublished
}

// BrushLimitsFromMemory returns the limits of IEC TS 60079-32-1 for zone 0 or
// zone 1 and a gas group AS REMEMBERED, not compared, for a demonstration or to
// know what to look up. They must be read in the standard before anything rests
// on them. The 60 nC of group IIA lie above the minimum igniting charges of benzene
// and methanol (45 and 50 nC): the lesser of the limit and of
// [Ignitable.LeastCharge] counts. A zone other than 0 and 1 or an unknown group is
// a [*known.FieldError].
func BrushLimitsFromMemory(zone int, group GasGroup) (BrushLimits, error) {
	if zone != 0 && zone != 1 {
		return BrushLimits{}, known.Wrong("zone", zone, "0 or 1")
	}
	if group == NoGroup || group > IIC {
		return BrushLimits{}, known.Wrong("gas_group", group, "IIA, IIB or IIC")
	}
	const squareCentimetre = units.Area(1e-4)
	area := [2][3]units.Area{
		{50 * squareCentimetre, 25 * squareCentimetre, 4 * squareCentimetre},
		{100 * squareCentimetre, 100 * squareCentimetre, 20 * squareCentimetre}}
	layer := [3]units.Length{2 * units.Millimetre, 2 * units.Millimetre, 0.2 * units.Millimetre}
	transferred := [3]units.Charge{60 * units.Nanocoulomb, 25 * units.Nanocoulomb, 10 * units.Nanocoulomb}
	return BrushLimits{
		Area: area[zone][group-IIA], Layer: layer[group-IIA], Transferred: transferred[group-IIA],
		Source: known.Source{Provenance: known.Memory, Cite: "IEC TS 60079-32-1",
			Note: "not compared with the standard: read it there"},
		Validity: known.Unpublished,
	}, nil
}
