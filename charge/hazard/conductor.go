package hazard

import (
	"errors"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ConductorKind says what an isolated body is made of, because ½CV² holds for a
// conductor only. The zero value is refused: the caller has to say it.
type ConductorKind uint8

// The bodies. Only those that conduct have a single voltage and an energy.
const (
	UnstatedBody     ConductorKind = iota
	Metal                          // roller, frame part, drum, tool
	Person                         // a person, or an animal
	ConductiveLiquid               // liquid in an insulating vessel, wet product
	Insulator                      // film, plastic part, dry powder: refused by NewConductor
)

var bodyNames = [...]string{"unstated", "metal", "person", "conductive liquid", "insulator"}

// String returns the name, or "ConductorKind(n)".
func (k ConductorKind) String() string { return enum.Name("ConductorKind", bodyNames[:], k) }

// MarshalText writes the name; a value that is no kind is a
// [*known.FieldError].
func (k ConductorKind) MarshalText() ([]byte, error) { return enum.Write("body", bodyNames[:], k) }

// UnmarshalText reads a name as written by String.
func (k *ConductorKind) UnmarshalText(b []byte) error { return enum.Read("body", bodyNames[:], b, k) }

// OpenGap is the voltage above which the steady I·R of a body without a stated
// sparkover voltage says nothing: it breaks down 10 mm of air in an even field
// (24.22·d + 6.08·√d kV, d in cm, is 30.3), and on a machine something is nearer than that.
const OpenGap = 30 * units.Kilovolt

// ConductorSpec describes an isolated conductor that a process charges.
type ConductorSpec struct {
	Body        ConductorKind     // Metal, Person or ConductiveLiquid
	Capacitance units.Capacitance // to earth, more than 0
	Resistance  units.Resistance  // to earth, more than 0; as measured while the machine runs
	Sparkover   units.Voltage     // voltage at which the nearest gap sparks over; 0: no gap is known, see OpenGap
}

// Conductor is a validated isolated conductor, made by [NewConductor]; the zero
// Conductor gives NaN. It is the only type of pithball with an energy ½CV².
type Conductor struct{ spec ConductorSpec }

// NewConductor checks the specification. An insulator is refused: the charge on
// it sits where it was put, the surface has no single voltage and no
// capacitance, a discharge takes a part of the charge only, and ½CV² has no
// meaning; use the brush and propagating-brush criteria instead.
func NewConductor(s ConductorSpec) (Conductor, error) {
	var body error
	switch s.Body {
	case Metal, Person, ConductiveLiquid:
	case Insulator:
		body = known.Wrong("conductor.body", s.Body,
			"a conductor; an insulating surface has no capacitance and no ½CV², see Brush and PropagatingBrush")
	default:
		body = known.Wrong("conductor.body", s.Body, "metal, person or conductive liquid")
	}
	if err := errors.Join(body,
		known.Positive("conductor.capacitance", s.Capacitance),
		known.Positive("conductor.resistance", s.Resistance),
		known.NotNegative("conductor.sparkover", s.Sparkover)); err != nil {
		return Conductor{}, err
	}
	return Conductor{s}, nil
}

// Spec returns what the conductor was built from.
func (c Conductor) Spec() ConductorSpec { return c.spec }

// ChargedConductor is the state of an isolated conductor under a steady
// charging current.
type ChargedConductor struct {
	Voltage      units.Voltage // steady voltage to earth, cut at ± the sparkover voltage
	Energy       units.Energy  // ½·C·V² at that voltage: what one spark can release
	TimeConstant units.Time    // R·C
	Sparks       bool          // the unlimited voltage |I|·R reaches the sparkover voltage
	SparkEvery   units.Time    // time from one spark to the next, 0 if it does not spark
}

// noConductor is the state of the zero Conductor.
func noConductor() ChargedConductor {
	nan := math.NaN()
	return ChargedConductor{Voltage: units.Voltage(nan), Energy: units.Energy(nan), TimeConstant: units.Time(nan),
		SparkEvery: units.Time(nan)}
}

// Charged returns the steady state under the current I, for a roller
// I = Δσ·v·w:
//
//	V = I·R, cut at the sparkover voltage U;  W = ½·C·V²;  τ = R·C
//
// Where it sparks, the body recharges from 0 and reaches U after
// −τ·ln(1 − U/(|I|·R)) (a spark is taken to discharge the conductor fully). NaN
// current gives NaN voltage and energy and no spark; U = |I|·R is reached only
// after infinite time.
func (c Conductor) Charged(by units.Current) ChargedConductor {
	s := &c.spec
	if s.Capacitance == 0 {
		return noConductor()
	}
	free := float64(by) * float64(s.Resistance)
	tau := float64(s.Resistance) * float64(s.Capacitance)
	r := ChargedConductor{Voltage: units.Voltage(free), TimeConstant: units.Time(tau)}
	if u := float64(s.Sparkover); u > 0 && math.Abs(free) >= u {
		r.Sparks = true
		r.Voltage = units.Voltage(math.Copysign(u, free))
		r.SparkEvery = units.Time(-tau * math.Log1p(-u/math.Abs(free)))
	}
	r.Energy = c.Energy(r.Voltage)
	return r
}

// After returns the voltage a time t after the current I started on the
// uncharged body, V = I·R·(1 − exp(−t/τ)), cut at the sparkover voltage.
func (c Conductor) After(t units.Time, by units.Current) units.Voltage {
	s := &c.spec
	if s.Capacitance == 0 {
		return units.Voltage(math.NaN())
	}
	v := float64(by) * float64(s.Resistance) * -math.Expm1(-float64(t)/(float64(s.Resistance)*float64(s.Capacitance)))
	if u := float64(s.Sparkover); u > 0 && math.Abs(v) > u {
		v = math.Copysign(u, v)
	}
	return units.Voltage(v)
}

// Energy returns ½·C·V² of the conductor at the voltage v.
func (c Conductor) Energy(v units.Voltage) units.Energy {
	if c.spec.Capacitance == 0 {
		return units.Energy(math.NaN())
	}
	return units.Energy(0.5 * float64(c.spec.Capacitance) * float64(v) * float64(v))
}

// VoltageForEnergy returns the voltage at which the conductor holds the energy
// w, √(2w/C); with the least ignition energy of a vapour for w it is the
// voltage from which one spark can hold that much. NaN for negative w.
func (c Conductor) VoltageForEnergy(w units.Energy) units.Voltage {
	return units.Voltage(math.Sqrt(2 * float64(w) / float64(c.spec.Capacitance)))
}

// VoltageOf returns the voltage of the charge q on the capacitance c, V = Q/C,
// with the sign of q: a bin that took 50 nC on 100 pF stands at 500 V. NaN unless c
// is above 0.
func VoltageOf(q units.Charge, c units.Capacitance) units.Voltage {
	if !(c > 0) {
		return units.Voltage(math.NaN())
	}
	return units.Voltage(float64(q) / float64(c))
}
