package charge

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/charge/gas"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// CoveredRollerSpec describes a roller with an insulating cover.
type CoveredRollerSpec struct {
	Contact      Contact      // of the web with the cover
	Radius       units.Length // above 0, up to 10 m
	Tau          units.Time   // relaxation time of the cover, 0 or more; +Inf for one that keeps its charge for ever
	Thickness    units.Length // of the cover, up to 1 m; 0 for 10 mm
	Permittivity float64      // [1] relative, of the cover, 1 … 1e4; 0 for 3
	Density      float64      // [1] air density relative to 20 °C and 101.325 kPa, up to 5; 0 for 1
	// Returned is the part of the charge that discharges take from a cover at its
	// bound which goes to the web instead of to earthed parts and the air, 0 … 1.
	// Nothing published was found: try both ends.
	Returned float64 // [1]
}

// CoveredRoller is a roller whose insulating cover (rubber, ceramic, wood)
// keeps the charge that the web leaves on it. An earthed metal roller keeps
// none: there [Contact.Transfer] is the whole story.
//
// Transfer stops when the field between the facing charges, (σ_w − σ_r)/2ε0,
// reaches the value that belongs to the saturation S, which for an earthed metal
// roller (σ_r = −σ_w, the image) is σ_w = S. With d = (σ_w − σ_r)/2 and the sum
// conserved, a contact makes
//
//	d' = S + (d − S)·exp(−n),  σ_w' + σ_r' = σ_w + σ_r,
//
// so that the pair bounds the cover to |σ_r| ≤ |2S − σ_w|. The gas bounds it as
// well, to the cap B of a layer of its thickness ([gas.CapBackedLimits], median):
// what exceeds B after a contact discharges, the part Returned to the web, the rest
// to earthed parts and the air. Between two turns the cover loses charge to its
// core and the air, σ_r → σ_r·r, r = exp(−T/τ).
//
// In the steady state the web gains what the cover loses. A cover that leaks
// enough stays below B and feeds the web by its leakage; one that insulates well
// stands at B and feeds it by discharges, with the gain g·(S − (σ_w + r·B)/2),
// g = 1 − exp(−n), for Returned = 0. Without the bound such a cover would pass
// nearly nothing on, and a conductive one seem hundreds of times worse.
//
// Derived from the condenser law and the gas cap; no published measurement of a
// covered roller's steady state was found. The model knows one pair: which
// saturation another cover has it cannot say ([CoverSwap]). Nor is the field of a
// charged cover in it, which draws charge through the web onto its other face
// where that leaves earthed metal.
//
// The zero CoveredRoller gives NaN.
type CoveredRoller struct {
	spec  CoveredRollerSpec
	bound float64 // [C/m²], 0 in the zero CoveredRoller alone
}

// NewCoveredRoller checks the description. Errors are [*known.FieldError]s.
func NewCoveredRoller(s CoveredRollerSpec) (CoveredRoller, error) {
	if s.Thickness == 0 {
		s.Thickness = 10 * units.Millimetre
	}
	if s.Permittivity == 0 {
		s.Permittivity = 3
	}
	if s.Density == 0 {
		s.Density = 1
	}
	var errs []error
	if s.Contact.keep == 0 {
		errs = append(errs, known.Wrong("contact", "the zero Contact", "a contact made by NewContact"))
	}
	if !(s.Radius > 0 && s.Radius <= 10*units.Metre) {
		errs = append(errs, known.Wrong("radius", s.Radius, "above 0, up to 10 m"))
	}
	if !(s.Tau >= 0) {
		errs = append(errs, known.Wrong("tau", s.Tau, "0 or more, +Inf for a cover that keeps its charge"))
	}
	if !(s.Thickness > 0 && s.Thickness <= units.Metre) {
		errs = append(errs, known.Wrong("thickness", s.Thickness, "above 0, up to 1 m"))
	}
	errs = append(errs, known.InRange("permittivity", s.Permittivity, 1, 1e4), known.InRange("returned", s.Returned, 0, 1))
	if !(s.Density > 0 && s.Density <= gas.MaxDensity) {
		errs = append(errs, known.Wrong("density", s.Density, "above 0, up to 5"))
	}
	if err := errors.Join(errs...); err != nil {
		return CoveredRoller{}, err
	}
	_, b, _ := gas.CapBackedLimits(s.Thickness, s.Permittivity, s.Density)
	return CoveredRoller{spec: s, bound: float64(b)}, nil
}

// Bound returns the charge density that the gas leaves on the cover.
func (r *CoveredRoller) Bound() units.SurfaceChargeDensity {
	if r.bound == 0 {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return units.SurfaceChargeDensity(r.bound)
}

// Turn passes one length of web over the roller: from the charge densities of
// web and cover before the contact it returns those after it and what went to
// earthed parts and the air. The three together are what web and cover had, but for
// rounding. A standstill or a lifted contact changes nothing but a cover above its
// bound; NaN in gives NaN.
func (r *CoveredRoller) Turn(web, cover units.SurfaceChargeDensity, v units.Speed,
	load units.ForcePerWidth) (webAfter, coverAfter, lost units.SurfaceChargeDensity) {
	if r.bound == 0 {
		nan := units.SurfaceChargeDensity(math.NaN())
		return nan, nan, nan
	}
	d := (web - cover) / 2
	moved := r.spec.Contact.Transfer(d, v, load) - d
	web, cover = web+moved, cover-moved
	if over := math.Abs(float64(cover)) - r.bound; over > 0 {
		e := math.Copysign(over, float64(cover))
		cover -= units.SurfaceChargeDensity(e)
		web += units.SurfaceChargeDensity(e * r.spec.Returned)
		lost = units.SurfaceChargeDensity(e * (1 - r.spec.Returned))
	}
	return web, cover, lost
}

// Kept returns the part of the cover's charge that is left after one turn,
// exp(−2πR/(v·τ)). At a standstill nothing is left unless the cover keeps all.
func (r *CoveredRoller) Kept(v units.Speed) float64 { // [1]
	if r.bound == 0 {
		return math.NaN()
	}
	return BackFlow(v, units.Length(2*math.Pi*float64(r.spec.Radius)), r.spec.Tau)
}

// SteadyCover is the state of a covered roller after many turns with a web that
// always comes in with the same charge.
type SteadyCover struct {
	Web     units.SurfaceChargeDensity // after the contact
	Cover   units.SurfaceChargeDensity // of the cover before the contact
	Voltage units.Voltage              // of the cover's surface over its core, σ·t/(ε0·ε_r)
	Gas     bool                       // the gas rules: the cover stands at its bound
	// Turns is the number of turns in which a departure from a state below the bound
	// falls to 1/e, 0 if one turn does, +Inf if none does. [1]
	Turns float64
	// Validity is [known.Estimate] where the gas rules: how much of what it takes
	// returns to the web nobody has measured. WrongShape for the zero CoveredRoller.
	Validity known.Validity
}

// Steady returns the state after many turns. The magnitude of v counts; a
// standstill or a lifted contact leaves the web as it came.
func (r *CoveredRoller) Steady(web units.SurfaceChargeDensity, v units.Speed, load units.ForcePerWidth) SteadyCover {
	if r.bound == 0 {
		nan := units.SurfaceChargeDensity(math.NaN())
		return SteadyCover{Web: nan, Cover: nan, Voltage: units.Voltage(math.NaN()), Turns: math.NaN(),
			Validity: known.WrongShape}
	}
	g, kept := r.gain(v, load), r.Kept(v)
	s := float64(r.spec.Contact.Saturation(v, load))
	x, den := 0.0, 1-kept+kept*g/2
	if den != 0 {
		x = -g * (s - float64(web)/2) / den // after the contact
	}
	out := SteadyCover{Gas: math.Abs(x) > r.bound}
	if out.Gas {
		out.Validity = known.Estimate
		x = math.Copysign(r.bound, x)
	}
	out.Cover = units.SurfaceChargeDensity(kept * x)
	out.Web, _, _ = r.Turn(web, out.Cover, v, load)
	out.Voltage = units.Voltage(float64(out.Cover) * float64(r.spec.Thickness) / (units.Epsilon0 * r.spec.Permittivity))
	// A departure shrinks by kept·(1 − g/2) a turn. The logarithm is never above 0;
	// its magnitude keeps the sign of a rounded 0.
	out.Turns = 1 / math.Abs(math.Log(kept*(1-g/2)))
	return out
}

// gain returns 1 − exp(−n) without loss for few contacts, 0 without contact.
func (r *CoveredRoller) gain(v units.Speed, load units.ForcePerWidth) float64 {
	if keep, _ := r.spec.Contact.At(v, load); keep < 1 {
		return r.spec.Contact.gain
	}
	return 0
}

// SaturationFor returns the saturation at speed and load with which the web, coming
// in with the charge density web, gains change in the steady state: the inverse of
// [CoveredRoller.Steady] for a calibration. An error says why there is none: no
// contact, or a cover that could give the web only what leaks from it, because all
// that the gas takes returns to the web, and would have to carry more than the gas
// leaves.
func (r *CoveredRoller) SaturationFor(web, change units.SurfaceChargeDensity, v units.Speed,
	load units.ForcePerWidth) (units.SurfaceChargeDensity, error) {
	if err := errors.Join(known.Finite("web", web), known.Finite("change", change)); err != nil {
		return 0, err
	}
	g, kept := r.gain(v, load), r.Kept(v)
	if !(g > 0) {
		return 0, known.Wrong("change", change, "a contact: an exposure above 0, a speed and a load")
	}
	w, c := float64(web), float64(change)
	leak := (1 - kept) * r.bound // what leaks from a cover at its bound in a turn
	if math.Abs(c) <= leak {
		if c == 0 {
			return units.SurfaceChargeDensity(w / 2), nil
		}
		return units.SurfaceChargeDensity(w/2 + c*(1-kept+kept*g/2)/(g*(1-kept))), nil
	}
	if r.spec.Returned == 1 {
		return 0, known.Wrong("change", change, fmt.Sprintf(
			"at most %v a turn in magnitude: the cover would have to carry %v, and the gas leaves it %v; part of it escapes "+
				"to earthed parts, or the cover leaks faster",
			units.SurfaceChargeDensity(leak), units.SurfaceChargeDensity(math.Abs(c)/(1-kept)), r.Bound()))
	}
	m := (c - math.Copysign(r.spec.Returned*leak, c)) / (1 - r.spec.Returned)
	return units.SurfaceChargeDensity(m/g + (w+math.Copysign(kept*r.bound, c))/2), nil
}

// CoverSwap returns the factor on what a nip or roller adds to the web when its
// insulating cover is changed for a conductive one on an earthed core: median 0.39,
// 0.1 … 1.5 (5 … 95 %). Common practice, no source: a conductive cover charges less
// as a rule, it does not stop charging, and now and then it is worse or turns the
// sign. What is certain is that the cover itself no longer carries charge: no
// voltage of its own, no sparks from it, no charge drawn through the web. What
// is not known is the saturation of the new pair, which decides; measure before and
// after ([FitSwap]), or try a sleeve or strip of the new cover first.
func CoverSwap() (known.Band, known.Source) { // [1]
	return known.Band{Value: math.Sqrt(0.1 * 1.5), Spread: math.Log(15) / (2 * known.Z95), Kind: known.LogNormal},
		known.Source{Provenance: known.CommonPractice, Note: "no published measurement found; the spread is a judgement"}
}
