package charge

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ContactSpec describes the contact of one face with one partner.
type ContactSpec struct {
	// Saturation is the charge density that the face tends to against this
	// partner at reference speed and load. Its sign is the sign the face gets.
	// Magnitude up to 0.1 C/m².
	Saturation units.SurfaceChargeDensity
	// Exposure is the number of contacts relative to the relaxation number,
	// n/n0; one transfer makes up 1 − exp(−Exposure) of the way to saturation.
	Exposure float64 // [1] 0 … 700
	// SpeedExponent and LoadExponent say how the saturation grows with speed and
	// load: parameters with a spread, never a law. Published support: −0.6 … 1 for
	// speed (negative on a slow peel), 0.3 … 1 for load; accepted −1 … 2 and flagged
	// outside the support.
	SpeedExponent float64 // [1] −1 … 2
	LoadExponent  float64 // [1] −1 … 2
	// ReferenceSpeed and ReferenceLoad are where Saturation holds; needed only
	// with an exponent that is not 0.
	ReferenceSpeed units.Speed
	ReferenceLoad  units.ForcePerWidth
}

// Contact is a checked [ContactSpec]. It is immutable; its methods never panic,
// allocate nothing and may be used by many goroutines. The zero Contact gives NaN.
type Contact struct {
	spec         ContactSpec
	keep, gain   float64 // exp(−Exposure) and 1 − exp(−Exposure); keep is 0 in the zero Contact alone
	logV, logF   float64 // logarithms of the references
	plain        bool    // both exponents are 0
	speedMatters bool
	loadMatters  bool
}

// Limits of what NewContact accepts.
const (
	maxSaturation = units.SurfaceChargeDensity(0.1)

	leastLoad, greatestLoad = units.ForcePerWidth(1e-9), units.ForcePerWidth(1e9)
)

// NewContact checks the description. Errors are [*known.FieldError]s.
func NewContact(s ContactSpec) (Contact, error) {
	c := Contact{spec: s, keep: numeric.Exp(-s.Exposure), gain: -math.Expm1(-s.Exposure),
		speedMatters: s.SpeedExponent != 0,
		loadMatters:  s.LoadExponent != 0}
	c.plain = !c.speedMatters && !c.loadMatters
	errs := []error{
		known.InRange("saturation", s.Saturation, -maxSaturation, maxSaturation),
		known.InRange("exposure", s.Exposure, 0, 700),
		known.InRange("speed_exponent", s.SpeedExponent, -1, 2),
		known.InRange("load_exponent", s.LoadExponent, -1, 2),
	}
	if c.speedMatters || s.ReferenceSpeed != 0 {
		errs = append(errs, known.InRange("reference_speed", s.ReferenceSpeed, 1e-9*units.MetrePerSecond,
			1e4*units.MetrePerSecond))
		c.logV = math.Log(float64(s.ReferenceSpeed))
	}
	if c.loadMatters || s.ReferenceLoad != 0 {
		errs = append(errs, known.InRange("reference_load", s.ReferenceLoad, leastLoad, greatestLoad))
		c.logF = math.Log(float64(s.ReferenceLoad))
	}
	if err := errors.Join(errs...); err != nil {
		return Contact{}, err
	}
	return c, nil
}

// Spec returns the description of the contact.
func (c *Contact) Spec() ContactSpec { return c.spec }

// Saturation returns σ∞(v, F) = σ∞·(v/v0)^a·(F/F0)^b, the charge density the
// face tends to. A standstill (v = 0) or a lifted contact (load ≤ 0) transfers
// nothing; the value there is 0. The magnitude of v counts, not its sign. NaN in
// gives NaN.
func (c *Contact) Saturation(v units.Speed, load units.ForcePerWidth) units.SurfaceChargeDensity {
	x, f := math.Abs(float64(v)), float64(load)
	if x > leastFast && x < greatestFast && f > leastFast && f < greatestFast {
		if c.plain {
			return c.spec.Saturation
		}
		if c.keep == 0 {
			return units.SurfaceChargeDensity(math.NaN())
		}
		// |logarithm| < 91, so that power stays within its range.
		return units.SurfaceChargeDensity(float64(c.spec.Saturation) *
			power(c.spec.SpeedExponent, x, c.logV, c.spec.LoadExponent, f, c.logF))
	}
	return c.extreme(x, f)
}

// Speeds and loads between these need no special case.
const leastFast, greatestFast = 1e-30, 1e30

// extreme is Saturation for |v| and load with every special case.
func (c *Contact) extreme(v, load float64) units.SurfaceChargeDensity {
	switch {
	case math.IsNaN(v) || math.IsNaN(load) || c.keep == 0:
		return units.SurfaceChargeDensity(math.NaN())
	case v == 0 || load <= 0:
		return 0
	}
	e := 0.0
	if c.speedMatters {
		e = c.spec.SpeedExponent * (math.Log(v) - c.logV)
	}
	if c.loadMatters {
		e += c.spec.LoadExponent * (math.Log(load) - c.logF)
	}
	if math.IsNaN(e) { // endless speed against endless load with exponents of opposite sign
		e = 0
	}
	// Limited so that nothing finite overflows.
	return units.SurfaceChargeDensity(float64(c.spec.Saturation) * numeric.Exp(min(max(e, -600), 600)))
}

// Transfer returns the charge density of the face after the contact,
//
//	σ' = σ∞(v, F) + (σ − σ∞(v, F))·exp(−n/n0):
//
// charge that is already on the face counts, and a face that carries more than
// saturation gives charge back. A standstill or a lifted contact (load ≤ 0)
// leaves the face as it was. NaN in gives NaN. The gas is not part of this
// stage: see [Parting].
//
// Sources: q_n = q0·exp(−n/n0) + q∞(1 − exp(−n/n0)), S. Matsusaka and H. Masuda,
// Electrostatics of particles, Adv. Powder Technol. 14 (2003) 143 (not read); the
// same form for the charging of a walker, M. Saito, Oyo Buturi 32 (1963) 301 (not
// found again). Curves that are
// sigmoidal (Grzybowski et al., J. Phys. Chem. B 109 (2005)) or fall with contact
// frequency (Shinbrot et al., Phys. Rev. Mater. 2 (2018) 125003) are known: the
// exposure and the exponents are to be fitted.
func (c *Contact) Transfer(before units.SurfaceChargeDensity, v units.Speed,
	load units.ForcePerWidth) units.SurfaceChargeDensity {
	if v == 0 || load <= 0 {
		// Nothing passes; NaN in the other argument still shows.
		if math.IsNaN(float64(v)) || math.IsNaN(float64(load)) || c.keep == 0 {
			return units.SurfaceChargeDensity(math.NaN())
		}
		return before
	}
	return units.SurfaceChargeDensity(float64(before)*c.keep + float64(c.Saturation(v, load))*c.gain)
}

// At returns the contact at a fixed speed and load, for loops in which only the
// charge varies: Transfer(before, v, F) = before·keep + made. At a standstill or
// without load keep [1] is 1 and made is 0.
func (c *Contact) At(v units.Speed,
	load units.ForcePerWidth) (keep float64, made units.SurfaceChargeDensity) { // keep [1]
	switch {
	case c.keep == 0:
		return math.NaN(), units.SurfaceChargeDensity(math.NaN())
	case v == 0 || load <= 0:
		return 1, c.Transfer(0, v, load)
	}
	return c.keep, units.SurfaceChargeDensity(float64(c.Saturation(v, load)) * c.gain)
}

// Validity flags a speed or load more than a factor of 3 from the reference, or
// an exponent without published support (speed −0.6 … 1, load 0.3 … 1; 0 where the
// load does not count); WrongShape for the zero Contact.
func (c *Contact) Validity(v units.Speed, load units.ForcePerWidth) known.Validity {
	if c.keep == 0 {
		return known.WrongShape
	}
	f := known.Inside
	if c.speedMatters {
		r := math.Abs(float64(v)) / float64(c.spec.ReferenceSpeed)
		f |= beyond(r)
		if a := c.spec.SpeedExponent; a < -0.6 || a > 1 {
			f |= known.Unpublished
		}
	}
	if c.loadMatters {
		f |= beyond(float64(load) / float64(c.spec.ReferenceLoad))
		if b := c.spec.LoadExponent; b < 0.3 || b > 1 {
			f |= known.Unpublished
		}
	}
	return f
}

func beyond(r float64) known.Validity {
	switch {
	case r > 3:
		return known.AboveRange
	case r >= 1.0/3:
		return known.Inside
	}
	return known.BelowRange
}
