package ionflow

import (
	"errors"
	"math"

	"example.org/pithball/internal/named"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Demand returns the current per metre of width that a moving surface asks for:
// the charge that passes a line across the web each second,
//
//	I' = σ·v
//
// with σ the net surface charge density and v the speed of the web; the sign is
// that of σ, and the ions that answer it have the other sign. NaN gives NaN. It
// is what must arrive at the web; an emitter must make several times as much
// (see [Emitter]).
//
// Source: conservation of charge; used in this form by K. Robinson, "Why static
// is worse at high speeds", Paper, Film & Foil Converter (2001).
func Demand(sigma units.SurfaceChargeDensity, v units.Speed) units.LineCurrent {
	return units.LineCurrent(float64(sigma) * float64(v)) // C/m² · m/s = A/m
}

// Regime says what limited the charge that an ioniser put on a surface.
type Regime uint8

// The regimes.
const (
	Idle                Regime = iota // there was nothing to do, or the place sees no field
	ConductivityLimited               // the air conducted as if undisturbed: exponential approach, 1 − exp(−t/τ)
	SupplyLimited                     // the ions that the source brings were used up: a constant I'/v is taken off
	DriftLimited                      // the ions on the way to the surface held each other back (space charge)
	BelowOnset                        // too little field: a passive source does not start, or drawn ions do not arrive
	Undefined                         // an argument was NaN, infinite or negative; the deposit is NaN
	PointField                        // the field between emitter points and the surface drew the ions

)

var regimeNames = [...]string{"idle", "conductivity-limited", "supply-limited", "drift-limited", "below onset",
	"undefined", "drawn by the field of the points"}

// String returns the name, or "Regime(n)".
func (r Regime) String() string { return named.Of("Regime", regimeNames[:], r) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (r Regime) MarshalText() ([]byte, error) { return named.Write("regime", regimeNames[:], r) }

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (r *Regime) UnmarshalText(b []byte) error { return named.Read("regime", regimeNames[:], b, r) }

// Carriers describes the ions of one polarity that a source offers at a surface.
// The zero value offers none.
type Carriers struct {
	// Conductivity is the polar conductivity e·n·μ of the air at the surface,
	// for ions that an air stream brings. It must be 0 if the ions are drawn
	// across a gap by the charge itself (see [NeutraliserSpec.Gap]).
	Conductivity units.Conductivity
	// Mobility is the mobility of the ions; only a drawn source needs it.
	Mobility units.Mobility
	// Supply is the most that the source can bring to the surface per metre of
	// width: e·n·u·thickness of the plume, or the current of the emitters.
	Supply units.LineCurrent
}

// NeutraliserSpec describes an ioniser as a moving surface meets it on one face.
// A charged surface collects the opposite polarity only: a positive net takes
// Minus, a negative one Plus.
type NeutraliserSpec struct {
	Plus  Carriers // positive ions offered, for a negative net
	Minus Carriers // negative ions offered, for a positive net
	// Zone is the length of the plume on the surface in machine direction; for
	// a part that does not move, speed × dwell.
	Zone units.Length
	// Gap is the distance from emitter to surface for a source whose ions are
	// drawn by the field of the charge (a bar without air, a passive brush);
	// 0 for a source whose ions an air stream brings.
	Gap units.Length
	// Onset is the net charge density, seen with field factor 1, below which a
	// passive source does nothing; 0 for a powered one. Never negative.
	Onset units.SurfaceChargeDensity
	// Offset is the net charge density, seen with field factor 1, that the
	// source leaves when it has all the time it wants (imbalance): ε0 times the
	// field at which the currents of both polarities balance. Either sign.
	Offset units.SurfaceChargeDensity
}

// Neutraliser is an ioniser that acts on one face of a moving web. The zero
// value does nothing. It is immutable and may be used from many goroutines.
type Neutraliser struct {
	spec        NeutraliserSpec
	plus, minus track
}

// track holds what Act needs for one polarity, with the geometry folded in.
type track struct {
	rate   float64 // [1/s] λ/ε0 of an airborne source, 0 for a drawn one
	pull   float64 // [m²/(C·s)] μ/(2·ε0·d) of a drawn source, 0 for an airborne one
	supply float64 // [A/m²] supply per area of the zone
}

// NewNeutraliser checks the specification. Errors are joined
// [*known.FieldError]s: Zone must be positive; Gap, Onset, conductivities,
// mobilities and supplies 0 or more; everything finite. An airborne source
// (Gap 0) needs a conductivity with every supply and the reverse; a drawn source
// (Gap above 0) needs a mobility with every supply and takes no conductivity. At
// least one polarity must be offered.
func NewNeutraliser(spec NeutraliserSpec) (Neutraliser, error) {
	errs := []error{
		known.Positive("zone", spec.Zone),
		known.NotNegative("gap", spec.Gap),
		known.NotNegative("onset", spec.Onset),
		known.Finite("offset", spec.Offset),
	}
	n := Neutraliser{spec: spec}
	var err error
	if n.plus, err = newTrack("plus", spec.Plus, spec); err != nil {
		errs = append(errs, err)
	}
	if n.minus, err = newTrack("minus", spec.Minus, spec); err != nil {
		errs = append(errs, err)
	}
	if spec.Plus == (Carriers{}) && spec.Minus == (Carriers{}) {
		errs = append(errs, known.Wrong("plus", "no ions", "at least one polarity with a supply"))
	}
	if err := errors.Join(errs...); err != nil {
		return Neutraliser{}, err
	}
	return n, nil
}

func newTrack(name string, c Carriers, spec NeutraliserSpec) (track, error) {
	if c == (Carriers{}) {
		return track{}, nil
	}
	errs := []error{
		known.NotNegative(name+".conductivity", c.Conductivity),
		known.NotNegative(name+".mobility", c.Mobility),
		known.Positive(name+".supply", c.Supply),
	}
	if spec.Gap > 0 {
		errs = append(errs, known.Positive(name+".mobility", c.Mobility))
		if c.Conductivity != 0 {
			errs = append(errs, known.Wrong(name+".conductivity", c.Conductivity, "0 for ions drawn across a gap"))
		}
	} else {
		errs = append(errs, known.Positive(name+".conductivity", c.Conductivity))
	}
	if err := errors.Join(errs...); err != nil {
		return track{}, err
	}
	t := trackOf(c, spec)
	if m := max(t.supply, t.pull, t.rate); !(t.supply > 0 && t.pull+t.rate > 0 && m <= math.MaxFloat64) {
		return track{}, known.Wrong(name, c, "supply over zone, mobility over gap and conductivity that a float64 can hold")
	}
	return t, nil
}

// trackOf folds the geometry of a checked specification into one polarity.
func trackOf(c Carriers, spec NeutraliserSpec) track {
	t := track{supply: float64(c.Supply) / float64(spec.Zone)} // A/m over m
	if spec.Gap > 0 {
		// ε0·μ·E²/(2d) with E = z/ε0 at the surface is pull·z².
		t.pull = float64(c.Mobility) / (2 * units.Epsilon0 * float64(spec.Gap))
	} else {
		t.rate = float64(c.Conductivity) / units.Epsilon0
	}
	return t
}

// Spec returns what the neutraliser was made from.
func (n Neutraliser) Spec() NeutraliserSpec { return n.spec }

// Act returns the charge density that the ioniser adds to the face that it
// meets, when a web of the given net charge density passes at speed v. factor is
// the field factor of the place: the field of the charge towards the source as a
// fraction of σ/ε0, 1 for a web whose whole field goes to the source, h/(d+h)
// before a backing at a gap h, the same function as for a field meter.
//
// # Equations
//
// What drives the ions is the field of the charge beyond the field of balance,
// less the onset, written as a charge density z = |factor·σ − Offset| − Onset.
// The ions of the opposite polarity in the stream are used up by what they
// carry to the surface: in a stirred plume that is fed with the supply per area
// s = I'/L the share of them that is left is s/(s + j₀), where j₀ is the current
// density if nothing were used up, so that j = j₀·s/(s + j₀) or
//
//	1/j = 1/j₀ + L/I'     j₀ = λz/ε0 (airborne)   or   j₀ = μz²/(2ε0·d) (drawn)
//
// The drawn form is the space-charge limit, ε0μE²/(2d) with the field E = z/ε0 at the
// surface: an insulating web keeps its charge and so its field, while the ions in the gap d
// take the field at the emitters down to nothing (the law of Mott and Gurney,
// (9/8)ε0μV²/d³, in terms of E = 3V/(2d)). Integrated along the zone L at speed v,
//
//	airborne:  (ε0/λ)·ln(z₁/z₂) + (L/I')(z₁ − z₂) = factor·L/v
//	drawn:     (2ε0d/μ)(1/z₂ − 1/z₁) + (L/I')(z₁ − z₂) = factor·L/v
//
// and the deposit is −sign·(z₁ − z₂)/factor. The airborne form is solved with the
// Wright ω function, the drawn one is a quadratic. With an abundant supply
// the first gives σ(1 − exp(−factor·λL/(ε0v))), with a scarce one both give I'/v.
// The regime is the term that took most of the time on the left.
//
// # Range and special cases
//
// v and factor must be 0 or more. v = 0 is unlimited dwell: everything above
// onset and offset goes. Factor 0 gives 0 and [Idle]. |deposit| never exceeds
// |σ − Offset/factor| nor I'/v, and the net is never carried past Offset/factor,
// so a balanced double layer (net 0) gets nothing but the offset. A NaN or
// infinite net, a NaN or negative v or factor and an infinite factor give NaN and
// [Undefined]. No allocation.
//
// # Accuracy
//
// The conductivity and the supply carry at least the spread of mobility (±20 %)
// and recombination (±40 %). The stirred plume is compared with the full
// one-dimensional problem in the package documentation.
//
// Sources: rate λ/ε0 of the opposite polarity: N. Jonassen, "Neutralization of
// static charges by air ions", Compliance Engineering (2002); space charge:
// N. F. Mott and R. W. Gurney, Electronic Processes in Ionic Crystals (1940);
// the crossover is derived here.
// factor [1]
func (n Neutraliser) Act(net units.SurfaceChargeDensity, v units.Speed,
	factor float64) (deposited units.SurfaceChargeDensity, r Regime) {
	if !(v >= 0) || !(factor >= 0) || !(math.Abs(float64(net)) <= math.MaxFloat64) || factor > math.MaxFloat64 {
		return units.SurfaceChargeDensity(math.NaN()), Undefined
	}
	drive := factor*float64(net) - float64(n.spec.Offset)
	t, sign := &n.minus, -1.0
	if drive < 0 {
		t, sign = &n.plus, 1
	}
	z := math.Abs(drive) - float64(n.spec.Onset)
	switch {
	case drive == 0 || factor == 0 || t.supply == 0:
		return 0, Idle
	case !(z > 0):
		return 0, BelowOnset
	}
	dwell := float64(n.spec.Zone) / float64(v) // [s], +Inf at v = 0
	var dz float64
	if t.pull > 0 {
		dz, r = t.drawn(z, factor*dwell)
	} else {
		dz, r = t.airborne(z, factor*dwell)
	}
	add := min(dz/factor, math.MaxFloat64)
	if n.spec.Offset == 0 {
		add = min(add, math.Abs(float64(net))) // factor·σ/factor can round beyond σ
	}
	return units.SurfaceChargeDensity(sign * add), r
}

// Efficiency returns 1 − |out/in| of the net of a web that passes once, where in is the net
// and out the net with the deposit of [Neutraliser.Act]. NaN where Act gives NaN and for a net of 0.
// factor [1]
func (n Neutraliser) Efficiency(net units.SurfaceChargeDensity, v units.Speed, factor float64) units.Ratio {
	d, _ := n.Act(net, v, factor)
	return units.Ratio(1 - math.Abs(1+float64(d)/float64(net)))
}

// airborne solves q + β(1−e^(−q)) = τ for q = ln(z₁/z₂), with τ = factor·dwell·λ/ε0
// and β = λz/(ε0·s), the ratio of the undisturbed current to the supply, and
// returns z₁ − z₂ = z(1−e^(−q)).
func (t *track) airborne(z, fdwell float64) (float64, Regime) {
	tau, beta := t.rate*fdwell, t.rate*z/t.supply
	switch {
	case beta > 1e14 || tau > 1e14: // one term is below rounding, or the dwell is without end
		if tau >= beta {
			return z, regimeOf(beta, tau-beta)
		}
		return min(z, t.supply*fdwell), SupplyLimited
	case beta < 1e-14:
		return -z * math.Expm1(-tau), ConductivityLimited
	}
	// y = β·e^(−q) is ω(c), c = ln β + β − τ: y + ln y = c.
	c := math.Log(beta) + beta - tau
	q := tau - beta + omega(c)
	if !(q > 0) { // all digits of q were lost in τ − β + y
		q = tau / (1 + beta)
	}
	// A Newton step in q restores the digits: the residual has no cancellation.
	done := -math.Expm1(-q)
	dq := (tau - q - beta*done) / (1 + beta*(1-done))
	q += dq
	done += (1 - done) * dq * (1 - dq/2)
	return z * min(done, 1), regimeOf(beta*done, q)
}

// omega returns an approximation of the Wright ω function, y + ln y = c, good to
// a relative 1e-9 or better.
//
// Source of the step: F. N. Fritsch, R. E. Shafer, W. P. Crowley, "Solution of
// the transcendental equation w·e^w = x", Comm. ACM 16 (1973) 123.
func omega(c float64) float64 {
	var y float64
	switch {
	case c < -30:
		return math.Exp(c)
	case c < -1:
		e := math.Exp(c)
		y = e / (1 + e*(1-0.5*e))
	case c < 4:
		x := c - 1
		y = 1 + x*(0.5+x*(1./16-x*(1./192+x*(1./3072))))
	default:
		l := math.Log(c)
		y = c - l + l/c*(1+(l-2)/(2*c))
	}
	for range 3 {
		res := c - y - math.Log(y)
		w := 1 + y
		u := 2 * w * (w + 2./3*res)
		y *= 1 + res/w*(u-res)/(u-2*res)
		if math.Abs(res) < 0.06 { // the step leaves res⁴/100 at most
			break
		}
	}
	return y
}

// drawn solves b(z₁−z₂) + (1/z₂ − 1/z₁)/pull = factor·dwell with b = 1/s. In
// r = z₂/z₁, with β = pull·z²/s and τ = pull·z·factor·dwell, it is
// βr² + (τ − β + 1)r − 1 = 0.
func (t *track) drawn(z, fdwell float64) (float64, Regime) {
	tau, beta := t.pull*z*fdwell, t.pull*z*z/t.supply
	if tau > 1e14 || beta > 1e14 {
		if tau >= beta {
			return z, regimeOf(beta, tau-beta)
		}
		return min(z, t.supply*fdwell), SupplyLimited
	}
	// 1−r = x solves βx² − (1+τ+β)x + τ = 0; the smaller root without cancellation.
	p := 1 + tau + beta
	x := 2 * tau / (p + math.Sqrt(max(p*p-4*beta*tau, 0)))
	r := regimeOf(beta*x, tau-beta*x)
	if r == ConductivityLimited {
		r = DriftLimited
	}
	return z * min(x, 1), r
}

// regimeOf names the term that took most of the time.
func regimeOf(bySupply, byAir float64) Regime {
	if bySupply > byAir {
		return SupplyLimited
	}
	return ConductivityLimited
}
