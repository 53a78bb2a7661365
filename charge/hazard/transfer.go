package hazard

import (
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TransferFinding compares the charge that one discharge moves with the minimum
// igniting charge of a substance.
type TransferFinding struct {
	Charge  units.Charge // magnitude of the charge moved by one discharge
	Least   units.Charge // minimum igniting charge that it is compared with, NaN for a dust
	StandIn bool         // none is held for the substance: Least is the least one held of its gas group, or of all
	Group   GasGroup     // of the substance; [NoGroup]: a stand-in is the least of all
	Ratio   float64      // [1] Charge over Least
	Reaches bool         // Ratio is 1 or more, or the charge is not known; never for a dust
}

// LeastCharge returns the minimum igniting charge of the substance, and whether
// it is held. Where it is not, it is the least one held of the gas group (45 nC
// benzene in IIA, 32 nC ethylene in IIB, 12 nC hydrogen in IIC), of all without a
// group. NaN for a dust: no minimum igniting charge of a dust is held.
func (in Ignitable) LeastCharge() (q units.Charge, held bool) {
	switch {
	case in.Dust:
		return units.Charge(math.NaN()), false
	case in.Charge > 0:
		return in.Charge, true
	}
	q = units.Charge(math.Inf(1))
	for _, v := range vapours.Rows() {
		if v.Charge > 0 && (in.Group == NoGroup || v.Group == in.Group) {
			q = min(q, v.Charge)
		}
	}
	return q, false
}

// Transfer compares the charge q that one discharge from an INSULATING surface
// moves, as a coulomb meter with a sphere electrode shows it, with the minimum
// igniting charge of a substance. This is the criterion for an insulator: it has
// no capacitance, so that ½CV² means nothing there ([NewConductor] refuses it).
// Bulk bags have been seen to move 200 nC in one brush discharge (K. Choi et al.,
// J. Occup. Saf. Health, 2019), more than the minimum igniting charge of nearly
// every vapour of the table. The magnitude of q counts; a charge that nobody
// measured, NaN, gives NaN and reaches. No charge reaches a dust, of which none is
// held and which a brush discharge without vapour does not ignite ([Brush]).
//
// Not reached clears nothing: the next discharge may move more, and the test is
// of one mixture. Source of the criterion and of the values: TRGS 727, Annex G.
func Transfer(q units.Charge, in Ignitable) TransferFinding {
	least, held := in.LeastCharge()
	f := TransferFinding{Charge: units.Charge(math.Abs(float64(q))), Least: least, StandIn: !held,
		Group: in.Group}
	f.Ratio = float64(f.Charge) / float64(least)
	f.Reaches = f.Ratio >= 1 || math.IsNaN(float64(q)) && !in.Dust
	return f
}

// Notice returns the notice for the discharge, with charge and ratio as its
// figure.
func (f TransferFinding) Notice() known.Notice {
	q := short(1e9*float64(f.Charge)) + " nC a discharge"
	if math.IsNaN(float64(f.Charge)) {
		q = "charge of a discharge not known"
	}
	of := "the minimum igniting charge"
	switch {
	case math.IsNaN(float64(f.Least)):
		return NoticeBrush.Notice(q + "; no minimum igniting charge is held for a dust")
	case math.IsNaN(f.Ratio):
		return NoticeBrush.Notice(q)
	case f.StandIn && f.Group == NoGroup:
		of = "the least igniting charge held of all"
	case f.StandIn:
		of = "the least igniting charge held of its gas group"
	}
	return NoticeBrush.Notice(q + ", " + short(f.Ratio) + " times " + of)
}

// AreaHolding returns the area of an insulating surface of the net charge density
// σ whose whole charge is q, q/|σ|. One brush discharge takes a part of the charge
// of the area that it reaches, so that an area below that of the minimum igniting
// charge is a reason to look at the others, not an approval: densities are
// patchy. 60 nC (hexane) at 3 µC/m² are 200 cm². NaN for a negative q; +Inf for an
// uncharged surface.
func AreaHolding(q units.Charge, density units.SurfaceChargeDensity) units.Area {
	if !(q >= 0) {
		return units.Area(math.NaN())
	}
	return units.Area(float64(q) / math.Abs(float64(density)))
}
