package decay

import (
	"errors"
	"math"
	"strconv"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// index returns "name[i]".
func index(name string, i int) string { return name + "[" + strconv.Itoa(i) + "]" }

// RelaxationTime returns the bulk relaxation time of a material,
//
//	τ = ε0·εr·ρ
//
// with the volume resistivity ρ > 0 and the relative permittivity εr >= 1. From
// J = E/ρ and ∇·D = q: q = q0·e^(−t/τ) at every inner point, whatever the shape.
// It moves charge to the surfaces; nothing leaves the body until a surface is
// earthed: see [Path] and [FilmModes]. NaN for an argument outside its range.
//
// A resistivity from a one-minute test is absorption current: the true leak is
// slower, by up to 1e4 for good insulators (charge-storage method).
//
// Source: any text of electromagnetism, from div J = −∂q/∂t; εr and ρ constant.
func RelaxationTime(rho units.VolumeResistivity, epsr float64) units.Time { // epsr [1]
	if !(rho > 0) || !(epsr >= 1) {
		return units.Time(math.NaN())
	}
	return units.Time(units.Epsilon0 * epsr * float64(rho)) // F/m · Ω·m = s
}

// RelaxationBand returns the relaxation time of a resistivity that is known as a
// band [Ω·m], in seconds. τ is proportional to ρ, so the band keeps its kind and
// its relative width: a resistivity known to a decade gives a time known to a
// decade. NaN for a permittivity below 1. The error is the band's own
// ([*known.FieldError]), or says that it reaches 0.
func RelaxationBand(rho known.Band, epsr float64) (known.Band, error) { // rho [Ω·m], epsr [1]; result [s]
	err := rho.Check("rho")
	if lo, _ := rho.Limits(); err == nil && !(lo > 0) {
		err = known.Wrong("rho", lo, "more than 0 at its lower end")
	}
	if err != nil {
		return known.Band{}, err
	}
	k := float64(RelaxationTime(units.VolumeResistivity(1), epsr))
	rho.Value *= k
	if rho.Kind != known.LogNormal {
		rho.Spread *= k
	}
	return rho, nil
}

// Path says how the charge of a piece of web can reach earth. Without a path
// conduction only spreads the charge along the piece or pairs its two faces.
type Path uint8

// The paths. The zero value is none.
const (
	NoPath           Path = iota // free span, nothing earthed touches it: net charge stays
	EarthedEdge                  // an edge or a hem lies on earthed metal; the surface conducts to it
	EarthedBacking               // a face lies on earthed metal; the bulk conducts to it
	ConductiveRoller             // wrapped round an earthed conductive roller
	EarthedContact               // gripper, clamp, pile plate: part of the piece touches earthed metal
	IonisedAir                   // air ions of a known conductivity reach the face
)

var pathNames = [...]string{"no path", "earthed edge", "earthed backing", "conductive roller", "earthed contact",
	"ionised air"}

// String returns the name of the path, or "Path(n)".
func (p Path) String() string { return enum.Name("Path", pathNames[:], p) }

// Leads reports whether charge can leave: false for NoPath and for an unknown
// value.
func (p Path) Leads() bool { return p > NoPath && int(p) < len(pathNames) }

// MarshalText writes the name of the path; a value without one is a [*known.FieldError].
func (p Path) MarshalText() ([]byte, error) { return enum.Write("path", pathNames[:], p) }

// UnmarshalText reads the name of the path; anything else is a [*known.FieldError] and leaves the
// value as it was.
func (p *Path) UnmarshalText(b []byte) error { return enum.Read("path", pathNames[:], b, p) }

// LossAlong returns what is left of the charge density sigma of a piece of web
// after the time dwell, if it leaks with the relaxation time tau along the path:
//
//	σ·e^(−dwell/τ), or σ unchanged for NoPath
//
// τ must be that of the named arrangement: measured there, or computed for its
// geometry. ε0εrρ is right only for EarthedBacking and ConductiveRoller with the
// charge on the far face. tau = 0 (a conductor) leaves nothing. A negative dwell
// or tau, an unknown path or NaN gives NaN.
func LossAlong(sigma units.SurfaceChargeDensity, dwell, tau units.Time, path Path) units.SurfaceChargeDensity {
	switch {
	case !(dwell >= 0) || !(tau >= 0) || int(path) >= len(pathNames):
		return units.SurfaceChargeDensity(math.NaN())
	case path == NoPath || dwell == 0:
		return sigma
	}
	return units.SurfaceChargeDensity(float64(sigma) * numeric.Exp(-float64(dwell)/float64(tau)))
}

// Left is a share of charge that is left, with the ends of its band.
type Left struct {
	Median, Least, Most float64 // [1] at the median time constant, at its 5 % and at its 95 % end
}

// LeftAfter returns what is left after the time dwell of a charge that leaks along
// the path with a time constant known as a band [s]: e^(−dwell/τ) at its median and
// at its 5 % and 95 % ends, 1 for NoPath. Of a lower limit (known.AtLeast) Most is 1.
// Errors are [*known.FieldError]s, joined.
func LeftAfter(dwell units.Time, tau known.Band, path Path) (Left, error) { // tau [s]
	err := errors.Join(known.NotNegative("dwell", dwell), tau.Check("tau"))
	lo, hi := tau.Limits()
	if !(lo > 0) {
		err = errors.Join(err, known.Wrong("tau", lo, "more than 0 at its lower end"))
	}
	if int(path) >= len(pathNames) {
		err = errors.Join(err, known.Wrong("path", path, "one of the named paths"))
	}
	if err != nil {
		nan := math.NaN()
		return Left{nan, nan, nan}, err
	}
	left := func(tau float64) float64 {
		return float64(LossAlong(units.SurfaceChargeDensity(1), dwell, units.Time(tau), path))
	}
	return Left{left(tau.Value), left(lo), left(hi)}, nil
}

// GroundResistance returns the greatest resistance to earth with which a body
// that collects the current i > 0 stays at or below the voltage limit,
//
//	R = V/I
//
// The capacitance does not matter in the steady state; it sets how long the body
// takes to get there (τ = RC). NaN for an argument that is not positive. The
// limit itself (ignition, shock, damage to devices) belongs to the hazard
// standards that apply and to a competent person.
func GroundResistance(limit units.Voltage, i units.Current) units.Resistance {
	if !(limit > 0) || !(i > 0) {
		return units.Resistance(math.NaN())
	}
	return units.Resistance(float64(limit) / float64(i))
}
