package ionflow

import (
	"errors"
	"math"

	"example.org/pithball/internal/caution"
	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// EmitterKind is how a source makes its ions.
type EmitterKind uint8

// The kinds.
const (
	DC      EmitterKind = iota // steady: points of both polarities side by side
	AC                         // mains or higher frequency: both polarities from each point in turn
	Pulsed                     // switched DC: seconds or tenths of a second of each polarity
	Passive                    // no supply: the field of the charge itself makes the corona
)

var emitterKinds = [...]string{"DC", "AC", "pulsed", "passive"}

// String returns the name, or "EmitterKind(n)".
func (k EmitterKind) String() string { return enum.Name("EmitterKind", emitterKinds[:], k) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (k EmitterKind) MarshalText() ([]byte, error) { return enum.Write("kind", emitterKinds[:], k) }

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (k *EmitterKind) UnmarshalText(b []byte) error { return enum.Read("kind", emitterKinds[:], b, k) }

// EmitterSpec describes a powered row of emitter points.
type EmitterSpec struct {
	Kind EmitterKind // DC, AC or Pulsed; passive points have none
	// Current is the ion current of each polarity per metre of row, averaged over
	// time and over both polarities. A clean bar gives at most about 1000 µA/m (K.
	// Robinson, "Why static is worse at high speeds", 2001).
	Current units.LineCurrent
	Balance float64         // [1] (I+ − I−)/(I+ + I−), −1 … 1; 0 is balanced
	Voltage units.Voltage   // level of the points (peak for AC); only an unassisted bar needs it
	Switch  units.Frequency // frequency of AC or pulses; 0 for DC
	// Output is the share of the clean current that is left by dirt and wear. 0 means 1. [1]
	Output float64 // [1]
}

// Emitter is a checked [EmitterSpec].
type Emitter struct{ spec EmitterSpec }

// NewEmitter checks the specification. Errors are joined [*known.FieldError]s:
// Current 0 < … 0.1 A/m, Balance −1 … 1, Voltage 0 … 50 kV, Switch above 0 and at most
// 100 kHz for AC and pulsed and 0 for DC, Output 0 … 1.
func NewEmitter(spec EmitterSpec) (Emitter, error) {
	if spec.Output == 0 {
		spec.Output = 1
	}
	errs := []error{
		known.Positive("current", spec.Current), known.InRange("current", spec.Current, 0, 0.1),
		known.InRange("balance", spec.Balance, -1, 1),
		known.InRange("voltage", spec.Voltage, 0, 50e3),
		known.InRange("output", spec.Output, 0, 1),
	}
	switch spec.Kind {
	case DC:
		if spec.Switch != 0 {
			errs = append(errs, known.Wrong("switch", spec.Switch, "0 for DC"))
		}
	case AC, Pulsed:
		errs = append(errs, known.Positive("switch", spec.Switch), known.InRange("switch", spec.Switch, 0, 1e5))
	default:
		errs = append(errs, known.Wrong("kind", spec.Kind, "DC, AC or pulsed"))
	}
	if err := errors.Join(errs...); err != nil {
		return Emitter{}, err
	}
	return Emitter{spec}, nil
}

// Spec returns what the emitter was made from, with the defaults filled in.
func (e Emitter) Spec() EmitterSpec { return e.spec }

// Currents returns the mean ion current of each polarity per metre of row,
// Current·Output·(1 ± Balance).
func (e Emitter) Currents() (plus, minus units.LineCurrent) {
	if e.spec.Current == 0 { // no emitter
		nan := units.LineCurrent(math.NaN())
		return nan, nan
	}
	i := float64(e.spec.Current) * e.spec.Output
	return units.LineCurrent(i * (1 + e.spec.Balance)), units.LineCurrent(i * (1 - e.spec.Balance))
}

// BunchPitch returns the length u/f in which air of speed u carries one bunch of
// each polarity; 0 for DC.
func (e Emitter) BunchPitch(u units.Speed) units.Length { return e.pitch(float64(u)) }

// StripePitch returns the length v/f of the stripes of charge that the source
// can leave on a web of speed v; 0 for DC.
func (e Emitter) StripePitch(v units.Speed) units.Length { return e.pitch(float64(v)) }

func (e *Emitter) pitch(u float64) units.Length {
	switch f := e.spec.Switch; {
	case e.spec.Current == 0: // no emitter
		return units.Length(math.NaN())
	case f == 0:
		return 0
	default:
		return units.Length(u / float64(f))
	}
}

// Mixes reports whether bunches can have mixed by the time they arrive: the
// eddies of a plume are as large as its breadth, so a bunch pitch no longer than
// the breadth is taken as mixed (order of magnitude, no source). Longer bunches
// arrive one by one and leave stripes: see [Stripe].
func (e Emitter) Mixes(u units.Speed, breadth units.Length) bool {
	return e.BunchPitch(u) <= breadth
}

// Stripe returns the amplitude of the stripes that a source of frequency f leaves
// on a web of speed v after a zone of length l, where the net current density on to
// the web swings with amplitude j and the web's charge relaxes in the plume with the
// time constant tau (ε0/λ over the field factor):
//
//	dσ/dt = −σ/τ + j·sin 2πft  →  |σ| = j·|e^(iωT) − e^(−T/τ)|/√(ω² + 1/τ²),  T = l/v
//
// Without relaxation (tau = +Inf) it is j·|sin(πfl/v)|/(πf), never above j/(πf).
// f, v and tau must be above 0 and l 0 or more, else NaN. Derived.
func Stripe(j units.CurrentDensity, f units.Frequency, l units.Length, v units.Speed,
	tau units.Time) units.SurfaceChargeDensity {
	if !(f > 0) || !(l >= 0) || !(v > 0) || !(tau > 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	w, t := 2*math.Pi*float64(f), float64(l)/float64(v)
	d := numeric.Exp(-t / float64(tau))
	s := math.Sin(w * t / 2)
	// |e^(iωT) − d|² = (1−d)² + 4d·sin²(ωT/2)
	return units.SurfaceChargeDensity(float64(j) * math.Sqrt((1-d)*(1-d)+4*d*s*s) / math.Hypot(w, 1/float64(tau)))
}

// PlateRipple returns the peak-to-peak swing j·A/(2·f·C) of an isolated plate of area
// a and capacitance c in a net current density that is +j and −j in turn for half a
// period each. Derived; the mechanism is in A. Ohsawa, J. Electrostatics 63 (2005) 767.
func PlateRipple(j units.CurrentDensity, a units.Area, f units.Frequency, c units.Capacitance) units.Voltage {
	return units.Voltage(float64(j) * float64(a) / (2 * float64(f) * float64(c)))
}

// AgeingRate returns the rate at which the output of a source falls, from its
// current when clean and after a time t of work, ln(i0/i1)/t.
func AgeingRate(i0, i1 units.LineCurrent, t units.Time) units.Frequency {
	return units.Frequency(math.Log(float64(i0)/float64(i1)) / float64(t))
}

// TimeToLimit returns after which time a source whose output falls as i0·exp(−rate·t)
// reaches the limit, for the median rate and for its 95 % and 5 % quantiles:
// ln(i0/limit)/rate. It is the interval after which the points must have been
// cleaned. A limit at or above i0 gives 0; a rate that is not positive never reaches
// it, +Inf. That the fall is exponential is an assumption: dirt has no published law.
func TimeToLimit(i0, limit units.LineCurrent, rate known.Band) (median, early, late units.Time) { // rate [1/s]
	l := math.Log(float64(i0) / float64(limit))
	lo, hi := rate.Limits()
	at := func(r float64) units.Time {
		switch {
		case math.IsNaN(l) || math.IsNaN(r):
			return units.Time(math.NaN())
		case l <= 0:
			return 0
		case r <= 0:
			return units.Time(math.Inf(1))
		}
		return units.Time(l / r)
	}
	return at(rate.Value), at(hi), at(lo)
}

// OzoneRate returns the mass flow of ozone of a corona current, i·yield, with the yield
// in kg/C from a measurement: no general value is published, negative coronas make
// nearly ten times as much as positive ones, and dirty points several times as much
// as clean ones (K. J. Boelter and J. H. Davidson, Aerosol Sci. Technol. 27 (1997) 689;
// J. A. Dorsey and J. H. Davidson, IEEE Trans. Ind. Appl. 30 (1994) 370).
func OzoneRate(i units.Current, yield float64) units.MassFlow { // yield [kg/C]
	return units.MassFlow(float64(i) * yield)
}

// OzoneConcentration returns the steady volume share of ozone in a well-mixed
// room with the given ventilation, with no decay of the ozone counted:
// (ṁ/M_O3)·R·T/(p·V̇).
func OzoneConcentration(m units.MassFlow, ventilation units.VolumeFlow, t units.Temperature,
	p units.Pressure) units.Ratio {
	const molar = 0.0479982 // [kg/mol] O3, IUPAC 2021
	return units.Ratio(float64(m) / molar * units.MolarGas * float64(t) / (float64(p) * float64(ventilation)))
}

// Notices returns the cautions that go with any use of a powered source.
func (e Emitter) Notices() []known.Notice {
	return []known.Notice{caution.Of(caution.HighVoltage, e.spec.Voltage.String()), caution.Of(caution.IoniserZone, ""),
		caution.Of(caution.Ozone, "")}
}
