package charge

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// CoveredRoller is a roller whose insulating cover (rubber, ceramic, wood)
// keeps the charge that the web leaves on it. An earthed metal roller keeps
// none: there [Contact.Transfer] is the whole story.
//
// Transfer stops when the field between the facing charges, (σ_w − σ_r)/2ε0,
// reaches the value that belongs to the saturation S, which for an earthed metal
// roller (σ_r = −σ_w, the image) is σ_w = S. With d = (σ_w − σ_r)/2 and the sum
// conserved, a contact makes
//
//	d' = S + (d − S)·exp(−n),  σ_w' + σ_r' = σ_w + σ_r.
//
// Between two turns the cover loses charge to its core and the air: σ_r → σ_r·r,
// r = exp(−T/τ). The roller drives itself to the steady state
//
//	σ_r* = −r·g·(S − σ_w/2)/(1 − r + r·g/2),  g = 1 − exp(−n),
//
// (before the contact, for a web that comes in with σ_w): with no loss, r = 1,
// σ_r* = σ_w − 2S and the web leaves as it came. What the web gains the roller
// loses, turn by turn. The gas is no part of this model: it caps the cover's
// charge as well ([gas.CapBacked] with the thickness of the cover), and a cover held
// at its cap goes on charging the web. Derived from the condenser law; no
// published measurement of a covered roller's steady state was found.
type CoveredRoller struct {
	contact Contact
	radius  units.Length
	tau     units.Time
}

// NewCoveredRoller checks radius (above 0, up to 10 m) and relaxation time of
// the cover (0 or more; +Inf for one that keeps its charge for ever).
func NewCoveredRoller(c Contact, radius units.Length, tau units.Time) (CoveredRoller, error) {
	var errs []error
	if !(radius > 0 && radius <= 10*units.Metre) {
		errs = append(errs, known.Wrong("radius", radius, "above 0, up to 10 m"))
	}
	if !(tau >= 0) {
		errs = append(errs, known.Wrong("tau", float64(tau), "0 or more, +Inf for a cover that keeps its charge"))
	}
	if err := errors.Join(errs...); err != nil {
		return CoveredRoller{}, err
	}
	return CoveredRoller{contact: c, radius: radius, tau: tau}, nil
}

// Turn passes one length of web over the roller: from the charge densities of
// web and cover before the contact it returns those after it. The sum is
// conserved exactly but for rounding. A standstill or a lifted contact changes
// nothing; NaN in gives NaN.
func (r *CoveredRoller) Turn(web, cover units.SurfaceChargeDensity, v units.Speed, load units.ForcePerWidth) (units.SurfaceChargeDensity, units.SurfaceChargeDensity) {
	d := (web - cover) / 2
	moved := r.contact.Transfer(d, v, load) - d
	return web + moved, cover - moved
}

// Kept returns the part of the cover's charge that is left after one turn,
// exp(−2πR/(v·τ)). At a standstill nothing is left unless the cover keeps all.
func (r *CoveredRoller) Kept(v units.Speed) float64 { // [1]
	return BackFlow(v, units.Length(2*math.Pi*float64(r.radius)), r.tau)
}

// Steady returns the state after many turns with a web that always comes in
// with the same charge: the charge density of the web after the contact and of
// the cover before it, and the number of turns in which a departure from that
// state falls to 1/e (0 if one turn does, +Inf if none does).
func (r *CoveredRoller) Steady(web units.SurfaceChargeDensity, v units.Speed, load units.ForcePerWidth) (after, cover units.SurfaceChargeDensity, turns float64) { // turns [1]
	keep, _ := r.contact.At(v, load)
	g, kept := 1-keep, r.Kept(v)
	if keep < 1 {
		g = r.contact.gain // without loss for few contacts
	}
	s := float64(r.contact.Saturation(v, load))
	den := 1 - kept + kept*g/2
	x := 0.0
	if den != 0 {
		x = -kept * g * (s - float64(web)/2) / den
	}
	after, _ = r.Turn(web, units.SurfaceChargeDensity(x), v, load)
	// A departure shrinks by kept·(1 − g/2) a turn.
	// The logarithm is never above 0; its magnitude keeps the sign of a rounded 0.
	return after, units.SurfaceChargeDensity(x), 1 / math.Abs(math.Log(kept*(1-g/2)))
}
