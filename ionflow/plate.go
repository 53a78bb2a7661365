package ionflow

import (
	"math"

	"example.org/pithball/units"
)

// PolarConductivity returns e·n·μ, the conductivity of air that one polarity of ions
// makes.
func PolarConductivity(n units.NumberDensity, mu units.Mobility) units.Conductivity {
	return units.Conductivity(units.ElementaryCharge * float64(n) * float64(mu))
}

// FreeDecayTime returns ε0/λ, the time constant with which ionised air of polar
// conductivity λ (of the opposite polarity only: adding up both is right for a current
// between electrodes, wrong for a charged body) neutralises a body all of whose field
// ends in the air. It is the shortest possible one: a body with capacitance C of which
// only C_exposed faces the air takes C/C_exposed times as long.
//
// Source: N. Jonassen, "Neutralization of static charges by air ions", Parts I and II,
// Compliance Engineering (2002).
func FreeDecayTime(lambda units.Conductivity) units.Time {
	return units.Time(units.Epsilon0 / float64(lambda))
}

// MeanPlateCurrent returns C·(V1 − V2)/t, the mean current to a plate that falls from
// v1 to v2 in the time t.
func MeanPlateCurrent(c units.Capacitance, v1, v2 units.Voltage, t units.Time) units.Current {
	return units.Current(float64(c) * (float64(v1) - float64(v2)) / float64(t))
}

// ExponentialPlateCurrent returns the current at v1 to a plate whose voltage falls
// exponentially from v1 to v2 in the time t, C·V1·ln(V1/V2)/t. Read the shape: an
// exponential fall is conductivity-limited, a straight one supply-limited, and then
// the current is [MeanPlateCurrent] throughout.
func ExponentialPlateCurrent(c units.Capacitance, v1, v2 units.Voltage, t units.Time) units.Current {
	return units.Current(float64(c) * float64(v1) * math.Log(float64(v1)/float64(v2)) / float64(t))
}

// PlateCurrent returns the current that a stream sends to a plate held at voltage v, of
// which the capacitance exposed faces the ionised air: with the polar conductivity λ of
// the opposite polarity and the most that the stream can bring, I_s,
//
//	1/I = 1/I₀ + 1/I_s,  I₀ = λ·exposed·|V|/ε0
//
// as each of two limits in a row would have it: a stirred plume whose ions are used up. It has the sign of the charge
// it brings, opposite
// to v. λ, exposed and supply must be 0 or more and not NaN, else NaN.
func PlateCurrent(v units.Voltage, exposed units.Capacitance, lambda units.Conductivity,
	supply units.Current) units.Current {
	if !(exposed >= 0) || !(lambda >= 0) || !(supply >= 0) || math.IsNaN(float64(v)) {
		return units.Current(math.NaN())
	}
	i0 := float64(lambda) * float64(exposed) * math.Abs(float64(v)) / units.Epsilon0
	if i0 == 0 || supply == 0 {
		return 0
	}
	return units.Current(-math.Copysign(1/(1/i0+1/float64(supply)), float64(v)))
}

// SquarePlateCapacitance returns the capacitance of a thin square plate of side a alone in
// space, 0.36679·4πε0·a: 6.12 pF for 150 mm.
//
// Source: F. H. Read, J. Comput. Phys. 133 (1997) 1, coefficient 0.3667896 (not compared
// with the paper, recomputed by a boundary-element method: see testdata).
func SquarePlateCapacitance(a units.Length) units.Capacitance {
	return units.Capacitance(0.3667896 * 4 * math.Pi * units.Epsilon0 * float64(a))
}

// Collect returns the charge that ionised air takes from a part of charge q within the
// dwell, and what limited it. All of the field of the part that ends in the air,
// the share exposed of its charge (0 … 1), draws the opposite polarity of conductivity
// λ at I₀ = λ·exposed·|q|/ε0. A strongly charged part draws from the whole plume, and
// then the plume brings no more than the supply e·n·Q of its volume flow Q:
//
//	1/I = 1/I₀ + 1/supply
//
// The change has the sign opposite to q and never exceeds it. For a steady stream of
// powder compare the supply with [PowderDemand]. Arguments below 0 or NaN (exposed
// above 1, λ above 1 S/m or supply above 1 kA as well) give NaN and [Undefined].
func Collect(q units.Charge, dwell units.Time, exposed float64, lambda units.Conductivity,
	supply units.Current) (units.Charge, Regime) { // exposed [1]
	if !(dwell >= 0) || !(exposed >= 0 && exposed <= 1) || !(lambda >= 0 && float64(lambda) <= 1) ||
		!(supply >= 0 && float64(supply) <= 1e3) || !(math.Abs(float64(q)) <= math.MaxFloat64) {
		return units.Charge(math.NaN()), Undefined
	}
	if q == 0 || exposed == 0 || lambda == 0 || supply == 0 {
		return 0, Idle
	}
	t := plume{rate: float64(lambda) * exposed / units.Epsilon0, supply: float64(supply)}
	d, r := t.airborne(math.Abs(float64(q)), float64(dwell))
	return units.Charge(-math.Copysign(d, float64(q))), r
}

// PowderDemand returns the ion current that a stream of powder or parts asks for,
// ṁ·q/m; the ions have the opposite sign.
func PowderDemand(m units.MassFlow, q units.ChargePerMass) units.Current {
	return units.Current(float64(m) * float64(q))
}

// CaptureArea returns the cross-section of undisturbed air from which a body of charge q
// collects the opposite ions, μ·|q|/(ε0·u): all field lines of the body end on ions
// that arrive with the air. Above the cross-section of the plume it draws from the
// whole plume.
func CaptureArea(q units.Charge, mu units.Mobility, u units.Speed) units.Area {
	return units.Area(float64(mu) * math.Abs(float64(q)) / (units.Epsilon0 * float64(u)))
}
