package field

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// VoltmeterSpec describes a non-contact voltmeter: a probe whose own potential
// is driven until the field at its face is zero.
type VoltmeterSpec struct {
	// FullScale is the largest voltage it can follow.
	FullScale units.Voltage
	// Floor is the standard deviation of what it shows on bare earthed metal: the
	// contact potential between probe and metal, which differs from roller to
	// roller by tenths of a volt, with noise and drift. More than 0.
	Floor units.Voltage
	// Gain is the shown over the true voltage, its median and spread between
	// instruments. [1] The zero Band means exactly 1.
	Gain known.Band
	// Offset is what it shows at zero field after zeroing. [V] The zero Band means
	// exactly 0.
	Offset known.Band
}

// Voltmeter is a validated non-contact voltmeter, made by [NewVoltmeter]; the zero
// Voltmeter gives NaN. Many goroutines may use one at once.
type Voltmeter struct {
	spec               *VoltmeterSpec // never written after NewVoltmeter
	gain, offset, full float64        // [1], [V], [V]
}

// NewVoltmeter checks the specification: full scale and floor above 0 and
// finite, floor below full scale, a positive gain, a finite offset.
func NewVoltmeter(s VoltmeterSpec) (Voltmeter, error) {
	if s.Gain == (known.Band{}) {
		s.Gain.Value = 1
	}
	errs := []error{
		known.Positive("voltmeter.full_scale", s.FullScale),
		known.Positive("voltmeter.floor", s.Floor),
		s.Gain.Check("voltmeter.gain"),
		known.Positive("voltmeter.gain", units.Ratio(s.Gain.Value)),
		s.Offset.Check("voltmeter.offset"),
	}
	if s.Floor >= s.FullScale {
		errs = append(errs, known.Wrong("voltmeter.floor", s.Floor, "below the full scale"))
	}
	if err := errors.Join(errs...); err != nil {
		return Voltmeter{}, err
	}
	v := Voltmeter{spec: &s, full: float64(s.FullScale)}
	return v.With(s.Gain.Value, units.Voltage(s.Offset.Value)), nil
}

// Spec returns what the voltmeter was built from.
func (m Voltmeter) Spec() VoltmeterSpec {
	if m.spec == nil {
		return VoltmeterSpec{}
	}
	return *m.spec
}

// With returns the voltmeter with this one gain and this one offset, as a
// sampled copy of its class.
func (m Voltmeter) With(gain float64, offset units.Voltage) Voltmeter { // gain [1]
	if m.spec == nil {
		return m
	}
	m.gain, m.offset = gain, float64(offset)
	return m
}

// Shows returns the reading over a film with the charge densities near and far
// on its faces and the gap h between the far face and earthed metal. The probe
// takes the potential at which it sees no field, so its distance drops out:
//
//	V = [σ_near·(t/ε_r + h) + σ_far·h]/ε0,  shown gain·V + offset
//
// cut at ± the full scale. On a roller, h = 0, it is the outer face alone; in a
// free span the voltage is far beyond any such meter. NaN in, NaN out; a
// negative gap gives NaN.
func (m Voltmeter) Shows(near, far units.SurfaceChargeDensity, film Film, gap units.Length) units.Voltage {
	h := float64(gap)
	if h < 0 || m.spec == nil {
		return units.Voltage(math.NaN())
	}
	v := (float64(near)*(film.reduced()+h) + float64(far)*h) / units.Epsilon0
	v = m.gain*v + m.offset
	if v > m.full {
		v = m.full
	} else if v < -m.full {
		v = -m.full
	}
	return units.Voltage(v)
}

// Saturated reports whether a reading stands at the end of the scale and means
// "at least".
func (m Voltmeter) Saturated(shown units.Voltage) bool { return math.Abs(float64(shown)) >= m.full }

// OuterFace inverts a reading on an earthed roller into the charge density of
// the outer face and its standard deviation, from
//
//	σ = (V − offset)/gain · ε0·ε_r/t
//
// with the relative standard deviations [1] of gain, film thickness and relative
// permittivity and the floor combined as independent small errors. Nothing is
// learnt of the inner face.
func (m Voltmeter) OuterFace(shown units.Voltage, film Film,
	relThickness, relPermittivity float64) (outer, sd units.SurfaceChargeDensity) { // relThickness, relPermittivity [1]
	if m.spec == nil {
		nan := units.SurfaceChargeDensity(math.NaN())
		return nan, nan
	}
	v := (float64(shown) - m.offset) / m.gain
	outer = film.OuterCharge(units.Voltage(v))
	relGain, absOffset := relativeSD(m.spec.Gain), absoluteSD(m.spec.Offset)
	rel := math.Hypot(relGain, math.Hypot(relThickness, relPermittivity))
	abs := math.Hypot(float64(m.spec.Floor), absOffset) / m.gain
	return outer, film.OuterCharge(units.Voltage(math.Hypot(rel*v, abs)))
}

// Detectable returns the least charge density of the outer face that a reading
// on an earthed roller can tell from zero, k·floor·ε0·ε_r/t with k = 3; the
// thinner the film, the more charge it needs.
func (m Voltmeter) Detectable(film Film) units.SurfaceChargeDensity {
	if m.spec == nil {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return film.OuterCharge(units.Voltage(3 * float64(m.spec.Floor)))
}
