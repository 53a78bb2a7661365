package charge

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// NipSpec describes two parallel rollers pressed together, one of them with a soft
// cover on a stiff core, the other stiff.
type NipSpec struct {
	Load      units.ForcePerWidth // nip load per width, above 0
	RadiusA   units.Length        // of one roller, above 0; +Inf for a plane
	RadiusB   units.Length        // of the other, above 0; +Inf for a plane
	Modulus   units.Pressure      // Young's modulus of the cover, above 0; see ModulusOfRubber
	Poisson   float64             // [1] of the cover, 0.3 … 0.5; rubber 0.49 … 0.5
	Thickness units.Length        // of the cover, above 0
}

// Nip is the contact of two rollers.
type Nip struct {
	HalfWidth units.Length   // of the contact, a
	Peak      units.Pressure // in the middle
	Mean      units.Pressure // load over width
	// WidthExponent is dln(a)/dln(load): ½ for a thick cover (Hertz), ⅓ for a thin
	// compressible one, down to 0.2 for a thin incompressible one. [1]
	WidthExponent float64
	// PeakExponent is dln(peak)/dln(load), ½ … 0.8: the load exponent of the charge
	// where the real contact grows with pressure and is far from full. [1]
	PeakExponent float64
	Validity     known.Validity // WrongShape above a/t 8, or a beyond half the smaller radius
}

// NewNip returns the width and pressure of the contact. With R = R_A·R_B/(R_A + R_B)
// and q = a/t,
//
//	F = (π·E/(4R(1 − ν²)))·a²·(1 + 0.76·q²/(1 + β·q)),  β = 2.5x/(1 + 1.35x), x = 1 − 2ν
//	peak = (F/a)·(2/π + 0.049·ln(1 + q²)/(1 + 0.253·√x·q))
//
// the first factor of which is Hertz's line contact, the bracket what a cover
// bonded to a stiff core adds: fitted to the plane-strain solution of the bonded
// layer without friction at its face, within 12 % in F (6 % in a) and 3 % in the
// peak, for ν of 0.3 to 0.5 and q up to 8; a test solves the layer anew. Beyond q = 8,
// or where the contact is wider than half the smaller radius, it is computed and
// flagged. The web's own thickness, friction and speed are not in it.
//
// It is the physical base of a load exponent, not a law of charging: each point of
// the web meets the peak pressure once, and rough faces touch on an area in
// proportion to pressure until they saturate (J. A. Greenwood and J. B. P. Williamson
// 1966; not compared with the source), so that a charge far from saturation goes as
// [Nip.PeakExponent] and one at saturation does not go with the load at all.
// Errors are [*known.FieldError]s.
func NewNip(s NipSpec) (Nip, error) {
	var errs []error
	errs = append(errs, known.Positive("load", s.Load), known.Positive("modulus", s.Modulus),
		known.InRange("poisson", s.Poisson, 0.3, 0.5),
		known.Positive("thickness", s.Thickness))
	for _, r := range []struct {
		name string
		r    units.Length
	}{{"radius_a", s.RadiusA}, {"radius_b", s.RadiusB}} {
		if !(r.r > 0) {
			errs = append(errs, known.Wrong(r.name, r.r, "above 0, +Inf for a plane"))
		}
	}
	curve := 1/float64(s.RadiusA) + 1/float64(s.RadiusB)
	if errors.Join(errs...) == nil && !(curve > 0) {
		errs = append(errs, known.Wrong("radius_b", s.RadiusB, "finite beside a plane"))
	}
	if err := errors.Join(errs...); err != nil {
		return Nip{}, err
	}
	t, f := float64(s.Thickness), float64(s.Load)
	x := 1 - 2*s.Poisson
	beta := 2.5 * x / (1 + 1.35*x)
	scale := math.Pi * float64(s.Modulus) * curve / (4 * (1 - s.Poisson*s.Poisson)) // [Pa/m]
	load := func(a float64) float64 {
		q := a / t
		return scale * a * a * (1 + 0.76*q*q/(1+beta*q))
	}
	slope := func(a float64) float64 { // dln F/dln a, 2 … 4
		const h = 1e-5
		return (math.Log(load(a*(1+h))) - math.Log(load(a*(1-h)))) / (math.Log1p(h) - math.Log1p(-h))
	}
	// Hertz's width is not too small, and with what its q would add not too great.
	hertz := math.Sqrt(f / scale)
	least := hertz / math.Sqrt(1+0.76*(hertz/t)*(hertz/t))
	y, err := numeric.Brent(func(y float64) float64 { return math.Log(load(numeric.Exp(y)) / f) },
		math.Log(least)-1e-9, math.Log(hertz)+1e-9, 0, 1e-15)
	if err != nil { // the ends are brackets by construction, but for a load beyond float64
		return Nip{}, known.Wrong("load", s.Load, "a load and a modulus that give a width")
	}
	a := numeric.Exp(y)
	q := a / t
	shape := func(q float64) float64 { return 2/math.Pi + 0.049*math.Log1p(q*q)/(1+0.253*math.Sqrt(x)*q) }
	n := Nip{HalfWidth: units.Length(a), Peak: units.Pressure(f / a * shape(q)), Mean: units.Pressure(f / (2 * a)),
		WidthExponent: 1 / slope(a)}
	const h = 1e-5
	n.PeakExponent = 1 + n.WidthExponent*
		((math.Log(shape(q*(1+h)))-math.Log(shape(q*(1-h))))/(math.Log1p(h)-math.Log1p(-h))-1)
	if q > 8 || a > 0.5/math.Max(1/float64(s.RadiusA), 1/float64(s.RadiusB)) {
		n.Validity = known.WrongShape
	}
	return n, nil
}

// Time returns how long a point of the web is in the nip, 2a/|v|. +Inf at a
// standstill, NaN for the zero Nip.
func (n Nip) Time(v units.Speed) units.Time {
	if !(n.HalfWidth > 0) {
		return units.Time(math.NaN())
	}
	return units.Time(2 * float64(n.HalfWidth) / math.Abs(float64(v)))
}

// ModulusOfRubber returns Young's modulus of a rubber from its Shore A hardness,
//
//	E = 0.0981·(56 + 7.62336·S)/(0.137505·(254 − 2.54·S)) MPa
//
// 3.6 MPa at 60. A. N. Gent (1958); not compared with the source; for 20 to 80. NaN
// outside 5 to 95.
func ModulusOfRubber(shoreA float64) units.Pressure { // shoreA [1]
	if !(shoreA >= 5 && shoreA <= 95) {
		return units.Pressure(math.NaN())
	}
	return units.Pressure(1e6 * 0.0981 * (56 + 7.62336*shoreA) / (0.137505 * (254 - 2.54*shoreA)))
}
