package charge

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/charge/field"
	"example.org/pithball/charge/gas"
	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Stage says which stage ruled what is left on a face after parting.
type Stage uint8

// The stages.
const (
	TransferRuled Stage = iota // the charge that contact transferred is left, less than 1 % flowed back
	BackFlowRuled              // conduction back through the opening contact took 1 % or more
	GasRuled                   // the gas broke down and left its cap
)

var stageNames = [...]string{"transfer", "back-flow", "gas"}

// String returns the name of the stage, or "Stage(n)".
func (s Stage) String() string { return enum.Name("Stage", stageNames[:], s) }

// MarshalText writes the name; a value that is no stage is a
// [*known.FieldError].
func (s Stage) MarshalText() ([]byte, error) { return enum.Write("stage", stageNames[:], s) }

// UnmarshalText reads a name as written by String.
func (s *Stage) UnmarshalText(b []byte) error { return enum.Read("stage", stageNames[:], b, s) }

// Place is where a face parts from its partner, as the gas sees it. The zero
// value is no place and is refused.
type Place struct {
	faces float64 // field leaves over so many faces
	other float64 // [m] as in gas.Least; +Inf for none
	end   float64 // [m] greatest gap over which the field is uniform
	net   bool    // the charge of the other face counts too
}

// FreePlace is a web that parts into free span, with the field over the given
// number of faces (1 or 2) and a uniform gap up to gap: [gas.CapFreeWeb].
func FreePlace(faces int, gap units.Length) Place { // faces [1]
	return Place{faces: float64(faces), other: math.Inf(1), end: float64(gap), net: true}
}

// BackedPlace is a film that stays on earthed metal while the partner leaves
// its outer face: [gas.CapBacked]. The charge of the inner face sits on its image
// and does not count.
func BackedPlace(thickness units.Length, epsr float64) Place { // epsr [1]
	return Place{faces: 1, other: float64(thickness) / epsr, end: math.Inf(1)}
}

// RollerPlace is a web that leaves a roller of the given radius, as far as the
// distance past its tangent point, with the next earth on the outer side at the
// distance outer (+Inf for none): [CapBehindRoller].
func RollerPlace(radius, past, outer units.Length) Place {
	if !(radius > 0) || !(past > 0) {
		return Place{}
	}
	return Place{faces: 1, other: float64(outer), end: float64(field.GapBehindRoller(radius, past)), net: true}
}

// PartingSpec describes a parting.
type PartingSpec struct {
	Place Place // where the face parts, from FreePlace, BackedPlace or RollerPlace
	// exit zone in which the opening contact still conducts, 0 … 1 m; 0.1 to several mm (common practice)
	Exit    units.Length
	Density float64 // [1] air density relative to 20 °C and 101.325 kPa, above 0, up to 5
	// Strength is the breakdown voltage relative to the law [gas.BreakdownVoltage],
	// 0.1 … 10; 0 for the median of measured voltages at each gap
	// ([gas.LeastLimits]).
	Strength float64 // [1]
	// Discharge is the part of the gas cap that is left once the gas has broken
	// down, above 0, up to 1; 0 for the middle of [DischargeLeaves].
	Discharge float64 // [1]
}

// Parting is a checked [PartingSpec] with its gas cap. Immutable, for
// many goroutines at once; its methods never panic and allocate nothing.
type Parting struct {
	spec           PartingSpec
	cap, gap       float64                    // of the law times strength
	strength       float64                    // [1] of the gas, relative to the law
	low, mid, high units.SurfaceChargeDensity // limits and median of the cap by measured voltages
	validity       known.Validity             // of cap and gap
}

// NewParting checks the description. Errors are [*known.FieldError]s.
func NewParting(s PartingSpec) (Parting, error) {
	var errs []error
	if p := s.Place; p.faces != 1 && p.faces != 2 || !(p.other > 0) || !(p.end > 0) {
		errs = append(errs, known.Wrong("place",
			fmt.Sprintf("%g faces, length to the other earth %v, gap %v", p.faces, units.Length(p.other), units.Length(p.end)),
			"1 or 2 faces and lengths above 0, from FreePlace, BackedPlace or RollerPlace"))
	}
	errs = append(errs, known.InRange("exit", s.Exit, 0, units.Metre))
	if !(s.Density > 0 && s.Density <= gas.MaxDensity) {
		errs = append(errs, known.Wrong("density", s.Density, "above 0, up to 5"))
	}
	if s.Strength != 0 {
		errs = append(errs, known.InRange("strength", s.Strength, 0.1, 10))
	}
	if !(s.Discharge >= 0 && s.Discharge <= 1) {
		errs = append(errs, known.Wrong("discharge", s.Discharge,
			"above 0, up to 1, or 0 for the middle of what was measured"))
	}
	if err := errors.Join(errs...); err != nil {
		return Parting{}, err
	}
	other, end := units.Length(s.Place.other), units.Length(s.Place.end)
	f, z, v := gas.Least(other, end, s.Density)
	l, m, h := gas.LeastLimits(other, end, s.Density)
	unit := s.Place.faces * units.Epsilon0
	p := Parting{spec: s, gap: float64(z), validity: v, strength: s.Strength,
		low: units.SurfaceChargeDensity(unit * float64(l)), mid: units.SurfaceChargeDensity(unit * float64(m)),
		high: units.SurfaceChargeDensity(unit * float64(h))}
	if p.strength == 0 {
		p.strength = float64(m) / float64(f)
	}
	if p.spec.Discharge == 0 {
		p.spec.Discharge = DischargeLeaves().Value
	}
	p.cap = unit * float64(f) * p.strength
	return p, nil
}

// DischargeRatio returns the charge density after one discharge between two
// parting faces over that before it, as measured on mica and silica in dry gas, on
// epoxy in front of metal at low pressure, and on rolling beads: 19 discharges of
// five works, nine of ten between 0.32 and 0.92. The sets differ (medians 0.90 and
// 0.51), none is of a film or of a moving web.
func DischargeRatio() known.Band { // [1]
	return known.Band{Value: 0.62, Spread: 0.335, Kind: known.Uniform}
}

// DischargeLeaves returns the part of the gas cap that is left on a face once the
// gas has broken down, 0.39 … 0.68 … 0.97 (5, 50 and 95 %). A discharge does not stop
// at the cap: it takes the face below it, to [DischargeRatio] of what was there. A
// parting that starts far above the cap discharges again and again as the gap
// opens and stops once it is below; with J = −ln(ratio) the undershoot ln(cap/left)
// then has the density P(J > u)/E[J] of a renewal process, whose quantiles for the
// measured ratios are 0.38, 0.58, 0.73, 0.87 and 0.97 (5, 25, 50, 75 and 95 %). The
// band stands for them.
//
// How far it carries to a web is not known: the discharges were of small parts and
// in part of other gases. Means over an area where some spots discharged and others
// did not lie nearer the cap; single spots lie on either side of it
// ([gas.CapSquare]).
func DischargeLeaves() known.Band { // [1]
	return known.Band{Value: 0.68, Spread: 0.32, Kind: known.Uniform}
}

// Cap returns the charge density above which the gas breaks down at this place (of
// the net charge where the place counts both faces, else of the face), the gap at
// which it is met, and whether gap and density lie in the published range. It is a
// mean over an area: charge is patchy, and denser spots than the cap were measured.
// The zero Parting has no cap: NaN and WrongShape.
func (p *Parting) Cap() (units.SurfaceChargeDensity, units.Length, known.Validity) {
	if p.spec.Density == 0 {
		return units.SurfaceChargeDensity(math.NaN()), units.Length(math.NaN()), known.WrongShape
	}
	return units.SurfaceChargeDensity(p.cap), units.Length(p.gap), p.validity
}

// CapLimits returns the median of the cap by measured breakdown voltages and the
// limits that nine of ten of them give ([gas.LeastLimits]), whatever the Strength of
// the description. NaN for the zero Parting.
func (p *Parting) CapLimits() (low, median, high units.SurfaceChargeDensity) {
	if p.spec.Density == 0 {
		nan := units.SurfaceChargeDensity(math.NaN())
		return nan, nan, nan
	}
	return p.low, p.mid, p.high
}

// idle is the loss by back-flow below which the transfer is said to rule.
const idle = 0.01

// Left returns what is left on the parting face, and the stage that ruled:
//
//	σ = transferred·exp(−ℓ/(vτ));  σ_left = σ up to the gas cap, Discharge·cap above it
//
// in magnitude. charge is what the contact left on the face, other the charge of
// the opposite face, tau the relaxation time of the face (+Inf for an insulator).
// Once the gas breaks down it leaves less than the cap, so that a little more
// charge before can mean less after; [Parting.LeftLimits] has the band. Where the
// place counts both faces, the gas sees their sum: a discharge puts ions on the
// parting face until the sum is below the cap, so that a heavily charged opposite
// face can reverse the sign of the parting face (a double layer). NaN in gives
// NaN.
func (p *Parting) Left(charge, other units.SurfaceChargeDensity, v units.Speed,
	tau units.Time) (units.SurfaceChargeDensity, Stage) {
	stage := TransferRuled
	kept := BackFlow(v, p.spec.Exit, tau)
	if kept < 1-idle {
		stage = BackFlowRuled
	}
	if p.spec.Density == 0 {
		return units.SurfaceChargeDensity(math.NaN()), stage
	}
	left := float64(charge) * kept
	// Where the other face does not count, a NaN in it still shows.
	o := 0 * clampUnit(float64(other))
	if p.spec.Place.net {
		o = float64(other)
	}
	sum := left + o
	if math.Abs(sum) > p.cap { // false for NaN
		return units.SurfaceChargeDensity(math.Copysign(p.spec.Discharge*p.cap, sum) - o), GasRuled
	}
	if math.IsNaN(sum) {
		left = sum
	}
	return units.SurfaceChargeDensity(left), stage
}

// LeftLimits returns the limits between which nine of ten partings leave their
// face, in order. The cap has its limits by measured voltages
// ([Parting.CapLimits]), the discharge the 5 and 95 % of [DischargeLeaves]; they are
// independent, so that their distances from the median add as squares, in
// logarithms. A charge that exceeds no limit of the cap is left as back-flow left
// it, both limits alike; one between the limits may be left or discharged. NaN in
// gives NaN.
func (p *Parting) LeftLimits(charge, other units.SurfaceChargeDensity, v units.Speed,
	tau units.Time) (low, high units.SurfaceChargeDensity) {
	fresh := float64(charge) * BackFlow(v, p.spec.Exit, tau)
	o := 0 * clampUnit(float64(other))
	if p.spec.Place.net {
		o = float64(other)
	}
	sum := fresh + o
	if p.spec.Density == 0 {
		sum = math.NaN()
	}
	least, most := math.Abs(sum), math.Abs(sum)
	if least > float64(p.low) {
		share := DischargeLeaves()
		from, to := share.Limits()
		mid := float64(p.mid) * share.Value
		away := func(cap units.SurfaceChargeDensity, part float64) float64 {
			return numeric.Exp(math.Hypot(math.Log(float64(cap)/float64(p.mid)), math.Log(part/share.Value)))
		}
		least = min(least, mid/away(p.low, from))
		if most > float64(p.high) {
			most = min(most, mid*away(p.high, to))
		}
	}
	a, b := math.Copysign(least, sum)-o, math.Copysign(most, sum)-o
	return units.SurfaceChargeDensity(min(a, b)), units.SurfaceChargeDensity(max(a, b))
}

// Parted is what a parting leaves.
type Parted struct {
	Left    units.SurfaceChargeDensity // on the parting face
	Low     units.SurfaceChargeDensity // lower limit of Left, see LeftLimits
	High    units.SurfaceChargeDensity // upper limit of Left
	Stage   Stage                      // which stage ruled
	Kept    float64                    // [1] part of the charge that back-flow left
	Gas     units.SurfaceChargeDensity // removed from the face by the gas
	Gap     units.Length               // gap of the first breakdown, NaN if there was none
	Voltage units.Voltage              // voltage across the gap there, NaN if there was none
}

// clampUnit maps every number to 0 … 1 and NaN to NaN.
func clampUnit(x float64) float64 { return min(max(x, 0), 1) }

// Part is [Parting.Left] with the account of how it came about. Finding the first
// breakdown takes about 1 µs where the gas ruled; loops that need only what is
// left call Left.
func (p *Parting) Part(charge, other units.SurfaceChargeDensity, v units.Speed, tau units.Time) Parted {
	left, stage := p.Left(charge, other, v, tau)
	low, high := p.LeftLimits(charge, other, v, tau)
	r := Parted{Left: left, Low: low, High: high, Stage: stage, Kept: BackFlow(v, p.spec.Exit, tau),
		Gap: units.Length(math.NaN()), Voltage: units.Voltage(math.NaN())}
	if p.spec.Density == 0 {
		r.Kept = math.NaN()
	}
	fresh := units.SurfaceChargeDensity(float64(charge) * r.Kept)
	r.Gas = fresh - left
	if stage == GasRuled {
		if p.spec.Place.net {
			fresh += other
		}
		r.Gap, r.Voltage, _ = p.FirstBreakdown(fresh)
	}
	return r
}

// FirstBreakdown returns the gap and the voltage at which a charge density
// first breaks down while the gap opens, the root of σ(z) = |charge| on the
// falling branch, and whether it does at all. Without breakdown gap and voltage
// are NaN. A charge above the field-emission limit breaks down at gap 0, 0 V.
func (p *Parting) FirstBreakdown(charge units.SurfaceChargeDensity) (units.Length, units.Voltage, bool) {
	s := math.Abs(float64(charge))
	if !(s > p.cap) || p.spec.Density == 0 {
		return units.Length(math.NaN()), units.Voltage(math.NaN()), false
	}
	target := s / (p.spec.Place.faces * units.Epsilon0) / p.strength // [V/m] of the law
	if target >= float64(gas.FieldEmission) || p.gap == 0 {
		return 0, 0, true
	}
	d, g := p.spec.Density, p.spec.Place.other
	// σ(z) falls from lo to hi, with corners and the step of the law.
	excess := func(y float64) float64 {
		z := numeric.Exp(y)
		v, _ := gas.BreakdownVoltage(units.Length(z), d)
		return math.Log(float64(v) * (1/z + 1/g) / target)
	}
	hi := math.Log(min(p.gap, 1e9))
	// A charge that is nearly the cap of an endless gap has no root below 1e9 m: it
	// breaks down there.
	if y, err := numeric.Brent(excess, math.Log(float64(gas.FieldEmissionGap)), hi, 0, 1e-14); err == nil {
		if hi = y; excess(y) > 0 { // the step of the law: the side that has broken down
			hi += 2e-14
		}
	}
	z := units.Length(numeric.Exp(hi))
	v, _ := gas.BreakdownVoltage(z, d)
	return z, units.Voltage(float64(v) * p.strength), true
}
