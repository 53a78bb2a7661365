package charge

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ContactReading is what a survey found at one contact at one setting: the
// charge density of the face before and after it, the standard deviation of
// their difference, and the setting.
type ContactReading struct {
	Before, After units.SurfaceChargeDensity // of the face that the partner touches
	Deviation     units.SurfaceChargeDensity // standard deviation of After − Before, from repeats
	Speed         units.Speed                // above 0
	Load          units.ForcePerWidth        // nip load or tension, above 0; any one value if it was not changed
}

func (r *ContactReading) check(field string) error {
	return errors.Join(known.Finite(field+".before", r.Before), known.Finite(field+".after", r.After),
		known.NotNegative(field+".deviation", r.Deviation), known.Positive(field+".speed", r.Speed),
		known.Positive(field+".load", r.Load))
}

// saturation returns S = Before + (After − Before)/(1 − e^−n) and its relative
// standard deviation.
func (r *ContactReading) saturation(field string, exposure float64) (s, rel float64, err error) {
	err = r.check(field)
	if !(exposure > 0 && exposure <= 700) {
		err = errors.Join(err, known.Wrong("exposure", exposure, "above 0, up to 700"))
	}
	if err != nil {
		return 0, 0, err
	}
	g := -math.Expm1(-exposure)
	s = float64(r.Before) + float64(r.After-r.Before)/g
	rel = math.Abs(float64(r.Deviation) / g / s)
	if !(rel < 0.5) {
		return 0, 0, known.Wrong(field+".deviation", r.Deviation,
			fmt.Sprintf("below half of the strength it belongs to (%v); take more repeats or a larger step",
				units.SurfaceChargeDensity(s)))
	}
	return s, rel, nil
}

// FitSaturation returns the saturation that one reading at one setting means,
// S = before + (after − before)/(1 − exp(−n)), in C/m² with its standard
// deviation, for an assumed or fitted exposure n. It holds at the setting of the
// reading, which becomes the reference of the contact.
func FitSaturation(r ContactReading, exposure float64) (known.Band, error) { // exposure [1] → [C/m²]
	s, rel, err := r.saturation("reading", exposure)
	if err != nil {
		return known.Band{}, err
	}
	return known.Band{Value: s, Spread: rel * math.Abs(s), Kind: known.Normal}, nil
}

// FitSpeedExponent returns the exponent of the speed from a step of the speed at
// one load,
//
//	a = ln(S2/S1)/ln(v2/v1),  s_a = √(r1² + r2²)/|ln(v2/v1)|,
//
// with r the relative standard deviations of the strengths (first order). A
// ratio of two readings on one line a few minutes apart cancels most of what
// makes absolute values irreproducible. It fails if the strengths differ in
// sign, the loads differ, or the speeds are less than 5 % apart.
func FitSpeedExponent(a, b ContactReading, exposure float64) (known.Band, error) { // exposure [1] → [1]
	if a.Load != b.Load {
		return known.Band{}, known.Wrong("b.load", b.Load,
			fmt.Sprintf("the load of a, %v: change one thing at a time", a.Load))
	}
	return fitExponent(a, b, "speed", a.Speed, b.Speed, exposure)
}

// FitLoadExponent is [FitSpeedExponent] for a step of nip load or tension at one
// speed.
func FitLoadExponent(a, b ContactReading, exposure float64) (known.Band, error) { // exposure [1] → [1]
	if a.Speed != b.Speed {
		return known.Band{}, known.Wrong("b.speed", b.Speed,
			fmt.Sprintf("the speed of a, %v: change one thing at a time", a.Speed))
	}
	return fitExponent(a, b, "load", a.Load, b.Load, exposure)
}

func fitExponent[Q ~float64](a, b ContactReading, what string, x1, x2 Q, exposure float64) (known.Band, error) {
	s1, r1, err1 := a.saturation("a", exposure)
	s2, r2, err2 := b.saturation("b", exposure)
	if err := errors.Join(err1, err2); err != nil {
		return known.Band{}, err
	}
	if s1*s2 <= 0 {
		return known.Band{}, known.Wrong("b.after", b.After,
			"a transfer of the same sign as in a: a change of sign has no exponent")
	}
	l := math.Log(float64(x2) / float64(x1))
	if !(math.Abs(l) >= math.Log(1.05)) {
		return known.Band{}, known.Wrong("b."+what, x2, fmt.Sprintf("at least 5 %% from that of a, %v", x1))
	}
	return known.Band{Value: math.Log(s2/s1) / l, Spread: math.Hypot(r1, r2) / math.Abs(l), Kind: known.Normal}, nil
}

// FitSwap returns the ratio S2/S1 of the strengths of two partners (two
// materials, covers, films) on one place at one speed and load, with its
// standard deviation: a material swap. Ratios are far more reproducible than
// absolute strengths.
func FitSwap(a, b ContactReading, exposure float64) (known.Band, error) { // exposure [1] → [1]
	s1, r1, err1 := a.saturation("a", exposure)
	s2, r2, err2 := b.saturation("b", exposure)
	err := errors.Join(err1, err2)
	if a.Speed != b.Speed || a.Load != b.Load {
		err = errors.Join(err, known.Wrong("b.speed", b.Speed, "speed and load of a: change one thing at a time"))
	}
	if err != nil {
		return known.Band{}, err
	}
	q := s2 / s1
	return known.Band{Value: q, Spread: math.Abs(q) * math.Hypot(r1, r2), Kind: known.Normal}, nil
}

// FitTwoContacts returns exposure and saturation of one contact from two
// readings at one setting with different charge on the incoming face (with and
// without a device upstream): after = S·(1 − e^−n) + before·e^−n is a straight
// line through both. It fails unless the slope lies between 0 and 1 and the two
// incoming charges differ by more than their deviations.
func FitTwoContacts(a, b ContactReading) (exposure float64, saturation known.Band, err error) { // [1], [C/m²]
	err = errors.Join(a.check("a"), b.check("b"))
	if a.Speed != b.Speed || a.Load != b.Load {
		err = errors.Join(err, known.Wrong("b.speed", b.Speed, "speed and load of a"))
	}
	if err != nil {
		return 0, known.Band{}, err
	}
	lever := float64(b.Before - a.Before)
	noise := math.Hypot(float64(a.Deviation), float64(b.Deviation))
	if !(math.Abs(lever) > noise) {
		return 0, known.Band{}, known.Wrong("b.before", b.Before,
			"an incoming charge that differs from that of a by more than the deviations")
	}
	slope := float64(b.After-a.After) / lever
	if !(slope > 0 && slope < 1) {
		return 0, known.Band{}, known.Wrong("b.after", b.After, "a change of 0 … 1 of the change of the incoming charge")
	}
	s := (float64(a.After) - slope*float64(a.Before)) / (1 - slope)
	// First order in the errors of After, the incoming charges taken as exact: S
	// is where the line through both readings crosses after = before.
	sd := math.Hypot(float64(a.Deviation)*(float64(b.Before)-s), float64(b.Deviation)*(s-float64(a.Before))) /
		math.Abs(lever) / (1 - slope)
	return -math.Log(slope), known.Band{Value: s, Spread: sd, Kind: known.Normal}, nil
}
