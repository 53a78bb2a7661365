package jet

import (
	"errors"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// JetKind is the shape of a free jet.
type JetKind uint8

// The shapes.
const (
	Round JetKind = iota // from one hole
	Plane                // from a slot
	Row                  // from a row of holes: round jets that merge to a plane one
)

var jetKinds = [...]string{"round", "plane", "row"}

// String returns the name, or "JetKind(n)".
func (k JetKind) String() string { return enum.Name("JetKind", jetKinds[:], k) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (k JetKind) MarshalText() ([]byte, error) { return enum.Write("kind", jetKinds[:], k) }

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (k *JetKind) UnmarshalText(b []byte) error { return enum.Read("kind", jetKinds[:], b, k) }

// Default spreading rates: half-width at half speed over distance.
const (
	// RoundSpread is √(ln2/2)/6.25, with which the entrainment of a Gaussian jet is
	// Q/Q0 = 0.32·x/d as F. P. Ricou and D. B. Spalding, J. Fluid Mech. 11 (1961)
	// 21 measured. H. J. Hussein, S. P. Capp, W. K. George, J. Fluid Mech. 258 (1994) 31 have
	// 0.094 for the half-width itself.
	RoundSpread = 0.094193 // [1]
	// PlaneSpread is the middle of the 0.10–0.11 of E. Gutmark and I. Wygnanski, J.
	// Fluid Mech. 73 (1976) 465.
	PlaneSpread = 0.105 // [1]
)

// RoundDecay returns B of U_c/U0 = B·d/x for a Gaussian round jet that spreads with
// S: all of the momentum is in the profile, so B·S = √(ln2/2).
func RoundDecay(spread float64) float64 { return math.Sqrt(math.Ln2/2) / spread } // spread [1]; [1]

// PlaneDecay returns K of U_c/U0 = K√(h/x) for a Gaussian plane jet that spreads with
// S: K = 1/√(S·√(π/(2 ln2))).
func PlaneDecay(spread float64) float64 { // spread [1]; [1]
	return 1 / math.Sqrt(spread*math.Sqrt(math.Pi/(2*math.Ln2)))
}

// JetSpec describes a free jet at its source. Air of room density is assumed; a
// compressed one is brought to it by [NozzleFlow].Jet and Diameter.
type JetSpec struct {
	Kind   JetKind      // round, plane or row
	Width  units.Length // diameter of the hole, or height of the slot
	Pitch  units.Length // distance of the holes of a row; at least Width
	Length units.Length // length of slot or row, for the aspect ratio; 0: long enough
	Speed  units.Speed  // speed at the source
	Spread float64      // [1] half-width over distance; 0: RoundSpread or PlaneSpread
	Origin units.Length // virtual origin, ahead of the source if positive
	// Viscosity is the kinematic viscosity for the Reynolds number; 0: 1.51e-5 m²/s.
	Viscosity units.Diffusivity
}

// Jet is a free turbulent jet. Density, momentum flux and profile follow from one
// constraint (all momentum in the Gaussian profile) and one constant (the spread).
type Jet struct {
	spec  JetSpec
	decay float64 // [1] B or K
	core  float64 // [m] end of the core
	row   float64 // [m] Row: distance at which the plane law takes over
	plane float64 // [m] Row: core length x_c of the equivalent slot
	flag  known.Validity
}

// NewJet checks the specification. Validity of the jet (see [Jet.Validity]) is
// flagged, not refused: a Reynolds number below 1e4, at which the constants still
// move (J. Mi, M. Xu, T. Zhou, Phys. Fluids 25 (2013) 075101; a 1 mm hole at 100 m/s
// has 6600), and a slot of aspect ratio below 20, which is not two-dimensional
// (R. C. Deo, J. Mi, G. J. Nathan, Exp. Therm. Fluid Sci. 31 (2007) 825).
func NewJet(spec JetSpec) (Jet, error) {
	if spec.Spread == 0 {
		spec.Spread = RoundSpread
		if spec.Kind == Plane {
			spec.Spread = PlaneSpread
		}
	}
	if spec.Viscosity == 0 {
		spec.Viscosity = units.Diffusivity(1.51e-5)
	}
	errs := []error{
		known.Positive("width", spec.Width), known.InRange("width", spec.Width, 0, 10),
		known.Positive("speed", spec.Speed), known.InRange("speed", spec.Speed, 0, 700),
		known.InRange("spread", spec.Spread, 0.01, 0.5),
		known.NotNegative("length", spec.Length),
		known.InRange("origin", spec.Origin, -10*spec.Width, 10*spec.Width),
		known.Positive("viscosity", spec.Viscosity),
	}
	if spec.Kind > Row {
		errs = append(errs, known.Wrong("kind", spec.Kind, "round, plane or row"))
	}
	if spec.Kind == Row {
		errs = append(errs, known.InRange("pitch", spec.Pitch, spec.Width, 10))
	}
	if err := errors.Join(errs...); err != nil {
		return Jet{}, err
	}
	j := Jet{spec: spec}
	w := float64(spec.Width)
	if spec.Kind == Plane {
		j.decay = PlaneDecay(spec.Spread)
		j.core = j.decay * j.decay * w
	} else {
		j.decay = RoundDecay(spec.Spread)
		j.core = j.decay * w
	}
	if spec.Kind == Row {
		// Equal entrained flow of the round law, 2x/(Bd), and of the plane law of the slot of
		// the same area, √2/K·√(x/h).
		h := math.Pi * w * w / (4 * float64(spec.Pitch))
		k := PlaneDecay(spec.Spread)
		j.plane = k * k * h
		j.row = j.core * j.core / (2 * j.plane)
	}
	if float64(spec.Speed)*w/float64(spec.Viscosity) < 1e4 {
		j.flag |= known.BelowRange
	}
	if spec.Kind == Plane && spec.Length > 0 && float64(spec.Length) < 20*w {
		j.flag |= known.WrongShape
	}
	return j, nil
}

// Spec returns what the jet was made from, with the defaults filled in.
func (j Jet) Spec() JetSpec { return j.spec }

// Validity says whether the constants of the jet are used inside their range.
func (j Jet) Validity() known.Validity {
	if j.none() {
		return known.WrongShape
	}
	return j.flag
}

// none reports whether the jet is the zero value, of which nothing has a value.
func (j *Jet) none() bool { return j.core == 0 }

// Reynolds returns U0·width/ν at the source.
func (j Jet) Reynolds() float64 { // [1]
	return float64(j.spec.Speed) * float64(j.spec.Width) / float64(j.spec.Viscosity)
}

// Core returns the distance at which the centre line begins to slow down, B·d or
// K²·h beyond the virtual origin.
func (j Jet) Core() units.Length {
	if j.none() {
		return units.Length(math.NaN())
	}
	return units.Length(j.core) + j.spec.Origin
}

// Merge returns the distance beyond which a row of holes entrains as a plane
// jet; +Inf for the other shapes.
func (j Jet) Merge() units.Length {
	if j.spec.Kind != Row {
		return units.Length(math.Inf(1))
	}
	return units.Length(max(j.row, j.core)) + j.spec.Origin
}

// virtual returns the distance from the virtual origin.
func (j *Jet) virtual(x units.Length) float64 { return float64(x) - float64(j.spec.Origin) }

// CentreSpeed returns the speed on the axis at distance x from the source:
// U0 in the core, then U0·B·d/x or U0·K√(h/x), with x from the virtual origin.
// In a row the momentum of neighbouring jets adds, U² = Σ U_i² on the axis of one
// hole (H. Reichardt, VDI-Forschungsheft 414 (1942)), which tends to the round
// law near the holes and exactly to the plane law of the equivalent slot far from
// them. A negative x gives NaN.
func (j Jet) CentreSpeed(x units.Length) units.Speed {
	if !(x >= 0) || j.none() {
		return units.Speed(math.NaN())
	}
	u0, s := float64(j.spec.Speed), j.virtual(x)
	if s <= j.core {
		return j.spec.Speed
	}
	switch j.spec.Kind {
	case Plane:
		return units.Speed(u0 * math.Sqrt(j.core/s))
	case Row:
		u := u0 * j.core / s * math.Sqrt(comb(float64(j.spec.Pitch)/(j.spec.Spread*s)))
		return units.Speed(min(u, u0))
	}
	return units.Speed(u0 * j.core / s)
}

// comb returns Σ exp(−2·ln2·(k·a)²) over all integers k.
func comb(a float64) float64 { // a [1] pitch over half-width
	c, scale := 2*math.Ln2*a*a, 1.0
	if c < math.Pi { // Poisson summation: Σ exp(−ck²) = √(π/c)·(1 + 2Σ exp(−π²k²/c))
		c, scale = math.Pi*math.Pi/c, math.Sqrt(math.Pi/c)
	}
	q := numeric.Exp(-c)
	q4 := q * q * q * q
	return scale * (1 + 2*q + 2*q4 + 2*q4*q4*q) // what is left out is below 1e-21
}

// HalfWidth returns the half-width at half speed, S·x from the virtual origin, and
// in the core at least half the source.
func (j Jet) HalfWidth(x units.Length) units.Length {
	if j.none() {
		return units.Length(math.NaN())
	}
	return units.Length(max(j.spec.Spread*j.virtual(x), float64(j.spec.Width)/2))
}

// Entrainment returns Q/Q0, the volume flow at x over that at the source. Beyond the
// core it is the flow of the Gaussian profile, 2x/(B·d) (0.32·x/d) or √2/K·√(x/h); at
// the end of the core these are 2 and √2 whatever the constants, and inside it the
// flow rises linearly from 1. A row follows its round jets until the plane law
// asks for less. A negative x gives NaN.
func (j Jet) Entrainment(x units.Length) units.Ratio {
	if !(x >= 0) || j.none() {
		return units.Ratio(math.NaN())
	}
	s, end := j.virtual(x), j.coreFlow()
	switch {
	case s <= j.core:
		// From 1 at the source to end at the end of the core, both measured from the source.
		return units.Ratio(1 + (end-1)*float64(x)/(j.core+float64(j.spec.Origin)))
	case j.spec.Kind == Plane:
		return units.Ratio(end * math.Sqrt(s/j.core))
	case j.spec.Kind == Row && s > j.row:
		return units.Ratio(max(math.Sqrt2*math.Sqrt(s/j.plane), 2)) // 2: holes so close that they merge in the core
	}
	return units.Ratio(end * s / j.core)
}

// MeanSpeed returns the momentum-weighted speed U0·Q0/Q of the plume: half of the centre
// speed in a round jet, 1/√2 of it in a plane one.
func (j Jet) MeanSpeed(x units.Length) units.Speed {
	return units.Speed(float64(j.spec.Speed) / float64(j.Entrainment(x)))
}

// Age returns the time that air of the plume takes from the source to x at the mean
// speed, ∫Q/Q0 dx/U0, about x/(2u) in a round and 2x/(3u) in a plane jet with u the
// local mean speed.
func (j Jet) Age(x units.Length) units.Time {
	if !(x >= 0) {
		return units.Time(math.NaN())
	}
	v, x0, sum := j.virtual(x), float64(j.spec.Origin), 0.0
	end := j.coreFlow()
	c := min(v, j.core) + x0 // way inside the core, from the source
	sum = c + (end-1)*c*c/(2*(j.core+x0))
	if v <= j.core {
		return units.Time(sum / float64(j.spec.Speed))
	}
	power := func(a, b, scale float64) float64 { // ∫√2·√(s/scale) ds
		return math.Sqrt2 * 2 / 3 * (b*math.Sqrt(b) - a*math.Sqrt(a)) / math.Sqrt(scale)
	}
	switch j.spec.Kind {
	case Plane:
		sum += power(j.core, v, j.core)
	case Row:
		to := min(v, max(j.row, j.core))
		sum += (to*to - j.core*j.core) / j.core // the round law 2s/core
		if flat := min(v, 2*j.plane); flat > to && j.row < j.core {
			sum += 2 * (flat - to)
			to = flat
		}
		if v > to {
			sum += power(to, v, j.plane)
		}
	default:
		sum += (v*v - j.core*j.core) / j.core
	}
	return units.Time(sum / float64(j.spec.Speed))
}

// coreFlow returns Q/Q0 at the end of the core.
func (j *Jet) coreFlow() float64 {
	if j.spec.Kind == Plane {
		return math.Sqrt2
	}
	return 2
}

// Dilution returns d ln Q/dx, the rate at which the jet takes in still air: 1/x in a round
// jet beyond its core and 1/(2x) in a plane one, x from the virtual origin. A negative x
// gives NaN.
func (j Jet) Dilution(x units.Length) float64 { // [1/m]
	if !(x >= 0) || j.none() {
		return math.NaN()
	}
	s, end := j.virtual(x), j.coreFlow()
	switch {
	case s <= j.core:
		return (end - 1) / (j.core + float64(j.spec.Origin) + (end-1)*float64(x))
	case j.spec.Kind == Plane:
		return 1 / (2 * s)
	case j.spec.Kind == Row && s > j.row:
		if s < 2*j.plane && j.row < j.core {
			return 0
		}
		return 1 / (2 * s)
	}
	return 1 / s
}

// Breadth returns the thickness of the top-hat plume that carries the flow Q at the mean
// speed: the diameter for a round jet, the thickness for a plane one or a merged
// row (per hole the thickness over the pitch before it merges).
func (j Jet) Breadth(x units.Length) units.Length {
	e := float64(j.Entrainment(x))
	switch j.spec.Kind {
	case Plane:
		return units.Length(float64(j.spec.Width) * e * e) // h·(Q/Q0)·(U0/u)
	case Row:
		return units.Length(math.Pi * float64(j.spec.Width) * float64(j.spec.Width) / (4 * float64(j.spec.Pitch)) * e * e)
	}
	return units.Length(float64(j.spec.Width) * e)
}

// FlowPerWidth returns the volume flow per metre of a slot or row at the
// source, U0·h or U0·πd²/(4·pitch), in m²/s; NaN for a round jet.
func (j Jet) FlowPerWidth() float64 { // [m²/s]
	u, w := float64(j.spec.Speed), float64(j.spec.Width)
	switch j.spec.Kind {
	case Plane:
		return u * w
	case Row:
		return u * math.Pi * w * w / (4 * float64(j.spec.Pitch))
	}
	return math.NaN()
}

// WallJet describes a plane jet that runs along a wall.
type WallJet struct {
	Peak      units.Speed    // greatest speed across the jet
	HalfWidth units.Length   // distance from the wall at which the speed is half of it
	Flag      known.Validity // always Unpublished: the constants were not compared with a source
}

// WallJetAt returns the plane wall jet at x from a slot of height h and speed u0:
// peak u0·min(1, 3.5/√(x/h)), half-width 0.073·x. Constants after
// B. E. Launder and W. Rodi, Prog. Aerosp. Sci. 19 (1981) 81 and N. Rajaratnam, Turbulent
// Jets (1976), not compared with them: flagged.
func WallJetAt(u0 units.Speed, h, x units.Length) WallJet {
	return WallJet{
		Peak:      units.Speed(float64(u0) * min(1, 3.5/math.Sqrt(float64(x)/float64(h)))),
		HalfWidth: units.Length(0.073 * float64(x)),
		Flag:      known.Unpublished,
	}
}

// CoandaPressure returns the pressure difference ρU²b/R across a sheet of
// thickness b that is bent around a radius R: what holds a jet on a rounded lip.
func CoandaPressure(rho units.Density, u units.Speed, b, r units.Length) units.Pressure {
	return units.Pressure(float64(rho) * float64(u) * float64(u) * float64(b) / float64(r))
}

// CoandaSeparation returns the angle at which the sheet leaves the lip,
// 245° − 391°·(b/R)/(1 + 1.125·b/R). After B. G. Newman, in Boundary Layer and
// Flow Control (1961) 232, not compared with it: always flagged.
func CoandaSeparation(b, r units.Length) (units.Angle, known.Validity) {
	k := float64(b) / float64(r)
	return units.Angle((245 - 391*k/(1+1.125*k)) * math.Pi / 180), known.Unpublished
}

// ImpingingSpeed returns the speed on the axis of a jet at distance x from its source, when a
// wall stands at h: the free jet up to 0.85·h, from there falling linearly to 0 at the wall
// (plane or round stagnation flow, as in ionflow.InStagnation). Where the free jet ends
// has no source: always flagged. x outside 0 … h gives NaN.
func (j Jet) ImpingingSpeed(x, h units.Length) (units.Speed, known.Validity) {
	flag := j.flag | known.Unpublished
	switch {
	case !(x >= 0 && x <= h):
		return units.Speed(math.NaN()), flag
	case float64(x) <= 0.85*float64(h):
		return j.CentreSpeed(x), flag
	}
	edge := float64(j.CentreSpeed(0.85 * h))
	return units.Speed(edge * (1 - float64(x)/float64(h)) / 0.15), flag
}
