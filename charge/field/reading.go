package field

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ReadingFlaws lists what is wrong with the way a reading was taken, as bits.
type ReadingFlaws uint32

// The flaws. [ReadingFlaws.Unusable] tells those that make a reading worthless
// as a number from those that widen its band.
const (
	NoDistance        ReadingFlaws = 1 << iota // the distance was not recorded
	OverMetal                                  // metal touches or nearly touches the web behind the spot
	NearMetal                                  // metal nearer behind the web than 3 × the meter distance
	NotZeroed                                  // the meter was not zeroed away from charge
	NotEarthed                                 // the meter was not earthed
	NearIonisedAir                             // ionised air reaches the meter
	OneFaceOnly                                // only one face was read
	SingleRepeat                               // fewer than 3 readings of the spot
	HumidityElsewhere                          // humidity was read at another place
	MachineStopped                             // the machine stood, but the trouble occurs running
	ConductiveSection                          // wet, inked or coated: the meter reads the frame
	NarrowSheet                                // charged area narrower than 10 × the distance
	AtFullScale                                // the display stood at the end of the scale
	OffNominal                                 // not at the distance that the display is marked for, or that is not known
)

const noFlaw = "no flaw found"

var flawTexts = [...]string{
	"distance not recorded: without it a display is no charge",
	"over metal: the reading collapses by the gap over the distance, use a non-contact voltmeter there",
	"near metal: less than 3/4 of the free-span reading, and the gap must be known",
	"not zeroed away from charge",
	"meter not earthed",
	"ionised air at the meter: ions on the sensor shift the zero",
	"one face only",
	"fewer than three readings of the spot: patchy charge is not averaged",
	"humidity read elsewhere",
	"machine stopped, but the trouble occurs while it runs",
	"wet, inked or coated section: the meter reads the frame",
	"charged area narrower than ten times the distance: use the width",
	"at full scale: the display means at least",
	"not at the distance that the meter is marked for, or that is not known: the kilovolts shown are not those of this " +
		"distance, correct them",
}

// Has reports whether all flaws of f are among them.
func (r ReadingFlaws) Has(f ReadingFlaws) bool { return r&f == f }

// Unusable reports whether a flaw makes the number worthless: no distance, over
// metal, not earthed, not zeroed, conductive section.
func (r ReadingFlaws) Unusable() bool {
	return r&(NoDistance|OverMetal|NotZeroed|NotEarthed|ConductiveSection) != 0
}

// String lists the flaws in words, "no flaw found" for none.
func (r ReadingFlaws) String() string {
	if r == 0 {
		return noFlaw
	}
	var parts []string
	for i, t := range flawTexts {
		if r&(1<<i) != 0 {
			parts = append(parts, t)
		}
	}
	if rest := r >> len(flawTexts); rest != 0 {
		parts = append(parts, fmt.Sprintf("ReadingFlaws(%d)", uint32(rest<<len(flawTexts))))
	}
	return strings.Join(parts, "; ")
}

// MarshalText writes the flaws as String does; an unknown flaw is a
// [*known.FieldError].
func (r ReadingFlaws) MarshalText() ([]byte, error) {
	if r>>len(flawTexts) != 0 {
		return nil, known.Wrong("flaws", uint32(r), "the named flaws")
	}
	return []byte(r.String()), nil
}

// UnmarshalText reads the flaws as written by String, in any order; anything else is
// a [*known.FieldError] and leaves the value as it was.
func (r *ReadingFlaws) UnmarshalText(b []byte) error {
	var read ReadingFlaws
	if string(b) != noFlaw {
		for part := range strings.SplitSeq(string(b), "; ") {
			i := slices.Index(flawTexts[:], part)
			if i < 0 {
				return known.Wrong("flaws", part, "the text of a flaw")
			}
			read |= 1 << i
		}
	}
	*r = read
	return nil
}

// ReadingConditions says how a field-meter reading was taken.
type ReadingConditions struct {
	Distance       units.Length // meter to web; 0: not recorded
	Nominal        units.Length // distance that the display is marked for, FieldMeterSpec.Nominal; 0: not known
	Gap            units.Length // web to earthed metal behind the spot; 0: on the metal
	Width          units.Length // of the charged area; 0: wide
	Repeats        int          // readings of the spot
	Zeroed         bool         // zeroed away from charge
	Earthed        bool         // meter earthed
	IonisedAir     bool         // an ioniser's air reaches the meter
	BothFaces      bool         // the other face was read as well
	HumidityHere   bool         // humidity was read at the same place
	Running        bool         // the machine ran
	TroubleRunning bool         // the trouble occurs while it runs
	Conductive     bool         // wet, inked or coated section
	FullScale      bool         // the display stood at the end of the scale
}

// Flaws returns the flaws of a reading. The limits: metal nearer than 3 × the
// distance leaves less than 3/4 of the free-span field, h/(d+h); nearer than a
// tenth of it less than 1/11; a charged area narrower than 10 × the distance
// loses up to 13 % ([StripFactor]); three repeats are common practice, no
// source ([Repeats] computes the number for a question). A distance off the nominal
// one by more than a tenth is a flaw, because the display in kilovolts is the field
// at the face times the nominal distance: 20 mm before a plate at 1 kV a meter for
// 25 mm shows 1.25 kV. [FieldMeter.Net] and [FieldMeter.Corrected] take both distances.
func (c ReadingConditions) Flaws() ReadingFlaws {
	var r ReadingFlaws
	set := func(bad bool, f ReadingFlaws) {
		if bad {
			r |= f
		}
	}
	d, h := float64(c.Distance), float64(c.Gap)
	set(!(d > 0), NoDistance)
	if d > 0 {
		set(!(h >= d/10), OverMetal)
		set(!(h >= 3*d), NearMetal)
		set(c.Width != 0 && !(float64(c.Width) >= 10*d), NarrowSheet)
	} else {
		set(!(h > 0), OverMetal)
	}
	set(!c.Zeroed, NotZeroed)
	set(!c.Earthed, NotEarthed)
	set(c.IonisedAir, NearIonisedAir)
	set(!c.BothFaces, OneFaceOnly)
	set(c.Repeats < 3, SingleRepeat)
	set(!c.HumidityHere, HumidityElsewhere)
	set(c.TroubleRunning && !c.Running, MachineStopped)
	set(c.Conductive, ConductiveSection)
	set(c.FullScale, AtFullScale)
	set(d > 0 && !(math.Abs(d-float64(c.Nominal)) <= 0.1*float64(c.Nominal)*(1+1e-9)), OffNominal)
	return r
}

// Repeats returns how many readings at each of two places tell their means a
// and b apart, if single readings scatter with the coefficient of variation cv
// around each mean:
//
//	n = (z_{1−α/2} + z_power)²·cv²·(a² + b²)/(a − b)²
//
// rounded up, at least 1 (two-sided comparison of two normal means with known
// spread; Student's t adds about one reading for small n). alpha is the chance
// of seeing a difference that is not there, power the chance of seeing this one.
// Errors: a = b, a value that is not finite, cv not above 0, alpha or power not
// in (0, 1).
func Repeats(a, b units.DisplayVoltage, cv, alpha, power float64) (int, error) { // cv, alpha, power [1]
	if !(alpha > 0 && alpha < 1) {
		return 0, known.Wrong("alpha", alpha, "between 0 and 1")
	}
	if !(power > 0 && power < 1) {
		return 0, known.Wrong("power", power, "between 0 and 1")
	}
	if !(cv > 0) || math.IsInf(cv, 1) {
		return 0, known.Wrong("cv", cv, "more than 0 and finite")
	}
	if err := errors.Join(known.Finite("a", a), known.Finite("b", b)); err != nil {
		return 0, err
	}
	x, y := float64(a), float64(b)
	if x == y {
		return 0, known.Wrong("b", b, "another display than a")
	}
	z := math.Sqrt2 * (math.Erfinv(1-alpha) + math.Erfinv(2*power-1))
	if z <= 0 {
		return 1, nil // the asked chance is reached without a reading
	}
	n := math.Ceil(z * z * cv * cv * (x*x + y*y) / ((x - y) * (x - y)))
	if !(n < 1e9) {
		return 0, known.Wrong("b", b, "a display that differs enough: more than 1e9 readings")
	}
	return max(1, int(n)), nil
}
