package field

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// RollSpec describes a winding roll of charged film.
type RollSpec struct {
	CoreRadius units.Length // outer radius of the core, more than 0
	// earthed metal under the first wrap; false: an insulating core with no metal inside
	EarthedCore          bool
	Thickness            units.Length               // of the film, more than 0
	RelativePermittivity float64                    // [1] of the film, 1 … 1e4
	Outer                units.SurfaceChargeDensity // on the outward face
	Inner                units.SurfaceChargeDensity // on the inward face
	// Surroundings is the radius of the earthed surroundings, a cylinder around
	// the roll; the room. More than the radius of the full roll.
	Surroundings units.Length
	AirStrength  units.ElectricField // field at which the air at the roll breaks down; 0 for 3 MV/m
	FilmStrength units.ElectricField // field at which a wrap breaks down; 0 for 100 MV/m, as ChargedPileSpec.SheetStrength
}

// Roll is a validated winding roll, made by [NewRoll]; the zero Roll gives NaN.
type Roll struct{ s RollSpec }

// NewRoll checks the specification.
func NewRoll(s RollSpec) (Roll, error) {
	err := errors.Join(
		known.Positive("roll.core_radius", s.CoreRadius),
		known.Positive("roll.thickness", s.Thickness),
		known.InRange("roll.relative_permittivity", s.RelativePermittivity, 1, 1e4),
		known.Finite("roll.outer", s.Outer),
		known.Finite("roll.inner", s.Inner),
		known.Positive("roll.surroundings", s.Surroundings),
		known.NotNegative("roll.air_strength", s.AirStrength),
		known.NotNegative("roll.film_strength", s.FilmStrength))
	if err == nil && !(s.Surroundings > s.CoreRadius) {
		err = known.Wrong("roll.surroundings", s.Surroundings, "more than the core radius")
	}
	if err != nil {
		return Roll{}, err
	}
	if s.AirStrength == 0 {
		s.AirStrength = airStrength
	}
	if s.FilmStrength == 0 {
		s.FilmStrength = sheetStrength
	}
	return Roll{s}, nil
}

// Spec returns what the roll was built from.
func (r Roll) Spec() RollSpec { return r.s }

// RollState is the field and potential of a roll.
type RollState struct {
	Radius  units.Length        // outer radius
	Field   units.ElectricField // at the outer surface if nothing broke down, positive outwards
	Inside  units.ElectricField // greatest magnitude inside a wrap
	Voltage units.Voltage       // of the outer surface to the earthed surroundings, cut where something breaks down
	Free    units.Voltage       // the same if nothing leaked or broke down
	Spark   Spark               // what breaks down first
	// Validity is AboveRange where something breaks down.
	Validity known.Validity
}

// At returns the state after n wraps, if no charge has leaked or sparked over.
// The roll is a long cylinder; wrap k carries its face charges at the radii
// r_c + (k−1)t and r_c + kt, the same charge per area on all. Per length Λ is the
// sum of all 2πrσ.
//
// Insulating core: all flux goes outwards, E = Λ/(2π·ε0·r); for a thin build it
// is n·σ_net/ε0. Earthed core: the core takes the image q that makes its voltage
// to the surroundings R zero,
//
//	q·(ln(r/r_c)/ε_r + ln(R/r)) = −Σ λ_k·(ln(r/r_k)/ε_r + ln(R/r)),  E = (q + Λ)/(2π·ε0·r)
//
// and the field outside is thousands of times less: 30 wraps of 20 µm at
// 0.9 µC/m² stand at about 430 V. In both cases V = E·r·ln(R/r). Where the air at
// the surface breaks down, Voltage is cut to strength·r·ln(R/r); where a wrap over an
// earthed core does, to what the build holds, strength·(r − r_c), an upper bound. Which
// of both breaks down first is said in Spark. n < 0, a roll that reaches the surroundings and
// the zero Roll give NaN.
func (r Roll) At(n int) RollState {
	s := &r.s
	rc, t := float64(s.CoreRadius), float64(s.Thickness)
	out := rc + float64(n)*t
	R := float64(s.Surroundings)
	if n < 0 || !(out < R) {
		nan := math.NaN()
		return RollState{Radius: units.Length(nan), Field: units.ElectricField(nan), Inside: units.ElectricField(nan),
			Voltage: units.Voltage(nan),
			Free:    units.Voltage(nan), Validity: known.WrongShape}
	}
	// Arithmetic series of the radii of the inward and outward faces.
	f := float64(n)
	sumIn := f*rc + t*f*(f-1)/2
	sumOut := sumIn + f*t
	flux := float64(s.Inner)*sumIn + float64(s.Outer)*sumOut // Λ/2π [C/m]
	logOut := math.Log(R / out)
	image := 0.0 // q/2π
	if s.EarthedCore && n > 0 {
		// The outward face of a wrap is where the inward one of the next is, and that of the last is the surface.
		build := math.Log1p(f * t / rc) // ln(r/r_c)
		inward := logSum(rc, t, n)
		weighted := float64(s.Inner)*inward + float64(s.Outer)*(inward-rc*build)
		weighted = weighted/s.RelativePermittivity + flux*logOut
		total := build/s.RelativePermittivity + logOut
		image = -weighted / total
		flux += image
	}
	e := flux / units.Epsilon0 / out
	x := RollState{Radius: units.Length(out), Field: units.ElectricField(e), Free: units.Voltage(e * out * logOut)}
	// Inside wrap k runs the flux of the image, of the wraps below and of its own
	// inner face: a parabola in k, greatest at an end or at its vertex.
	within := func(k float64) float64 { // D·r
		below := float64(s.Inner)*(k*rc+t*k*(k-1)/2) + float64(s.Outer)*(k*rc+t*k*(k+1)/2)
		return math.Abs(image+below+float64(s.Inner)*(rc+k*t)) / (rc + k*t)
	}
	if n > 0 {
		inside := max(within(0), within(f-1))
		if s.EarthedCore {
			for k := 1.0; k < f; k *= 1.05 { // between the ends it is no greater; looked at all the same
				inside = max(inside, within(math.Floor(k)))
			}
		}
		x.Inside = units.ElectricField(inside / (units.Epsilon0 * s.RelativePermittivity))
	}
	x.Voltage = x.Free
	film := float64(x.Inside) / float64(s.FilmStrength)
	if air := math.Abs(e) / float64(s.AirStrength); air >= 1 {
		x.Spark = SparkOutside
		x.Voltage = units.Voltage(math.Copysign(float64(s.AirStrength)*out*logOut, e))
		if film > air {
			x.Spark = SparkInFilm
		}
	} else if film >= 1 {
		x.Spark = SparkInFilm
	}
	// Whatever lies between the surface and the core, the field in it is at most that.
	if hold := float64(s.FilmStrength) * (out - rc); film >= 1 && s.EarthedCore && math.Abs(float64(x.Voltage)) > hold {
		x.Voltage = units.Voltage(math.Copysign(hold, e))
	}
	if x.Spark != NoSpark {
		x.Validity = known.AboveRange
	}
	return x
}

// WrapsTo returns the least number of wraps at which the magnitude of the field
// at the surface reaches the given one, for example the breakdown field of the
// air, and false if the roll does not reach it before it fills 99 % of the
// radius of the surroundings or 1e6 wraps. It takes the field as growing with the
// wraps. A field that is not above 0 gives false.
func (r Roll) WrapsTo(field units.ElectricField) (int, bool) {
	if !(field > 0) || r.s.Thickness == 0 {
		return 0, false
	}
	most := int(min(1e6, (0.99*float64(r.s.Surroundings)-float64(r.s.CoreRadius))/float64(r.s.Thickness)))
	reach := func(n int) bool { return math.Abs(float64(r.At(n).Field)) >= float64(field) }
	lo, hi := 0, 1
	for hi < most && !reach(hi) {
		lo, hi = hi, hi*2
	}
	hi = min(hi, most)
	if hi < 1 || !reach(hi) {
		return 0, false
	}
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; reach(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, true
}
