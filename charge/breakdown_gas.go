package charge

import (
	"errors"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// PaschenSpec holds the constants of one gas in Paschen's law, in SI units (1
// /(cm·Torr) is 0.750062 /(Pa·m)). One set holds for one range of the reduced
// field only: no set fits air from micrometres to centimetres, which is why
// [BreakdownVoltage] is pieced together.
type PaschenSpec struct {
	A        float64 // [1/(Pa·m)] ionisations per length and pressure, above 0
	B        float64 // [V/(Pa·m)] above 0
	Gamma    float64 // [1] secondary emission, above 0, up to 1
	LowestE  float64 // [V/(Pa·m)] least reduced field E/p of the constants, 0 if not stated
	HighestE float64 // [V/(Pa·m)] greatest reduced field of the constants, 0 if not stated
}

// Paschen is a checked [PaschenSpec].
type Paschen struct {
	spec PaschenSpec
	log  float64 // [1] ln(1 + 1/γ)
}

// torrCM is one cm·Torr in Pa·m.
const torrCM = 1.33322368421052632

// AirPaschen returns the constants of air A = 15 /(cm·Torr), B = 365 V/(cm·Torr),
// γ = 0.01, valid for 100 to 800 V/(cm·Torr) (range from memory). They give a
// minimum of 305.3 V at 0.836 Torr·cm, which is 7 % below the measured 327 V,
// and 35.5 kV at 1 cm, 17 % above the measured 30.3 kV. Source: E. M. Bazelyan
// and Yu. P. Raizer, Spark Discharge, read second-hand.
func AirPaschen() PaschenSpec {
	return PaschenSpec{A: 15 / torrCM, B: 365 / torrCM, Gamma: 0.01, LowestE: 100 / torrCM, HighestE: 800 / torrCM}
}

// NewPaschen checks the constants. Errors are [*known.FieldError]s.
func NewPaschen(s PaschenSpec) (Paschen, error) {
	errs := []error{known.Positive("a", s.A), known.Positive("b", s.B), known.NotNegative("lowest_e", s.LowestE), known.NotNegative("highest_e", s.HighestE)}
	if !(s.Gamma > 0 && s.Gamma <= 1) {
		errs = append(errs, known.Wrong("gamma", s.Gamma, "above 0, up to 1"))
	}
	if err := errors.Join(errs...); err != nil {
		return Paschen{}, err
	}
	return Paschen{spec: s, log: math.Log1p(1 / s.Gamma)}, nil
}

// Voltage returns the breakdown voltage at the product pd of pressure and gap,
//
//	V = B·pd/(ln(A·pd) − ln ln(1 + 1/γ)).
//
// Where pd ≤ ln(1+1/γ)/A no electron meets enough atoms: there is no breakdown
// and the result is +Inf, flagged. A reduced field V/pd outside the range of the
// constants is flagged. NaN or a negative pd gives NaN. Source: A. M. Loveless
// and A. L. Garner, Sci. Rep. 2019, doi 10.1038/s41598-019-42111-2.
func (p *Paschen) Voltage(pd float64) (units.Voltage, known.Validity) { // pd [Pa·m]
	if !(pd >= 0) {
		return units.Voltage(math.NaN()), known.WrongShape
	}
	q := math.Log(p.spec.A * pd / p.log)
	if !(q > 0) {
		return units.Voltage(math.Inf(1)), known.BelowRange
	}
	e := p.spec.B / q
	v := known.Inside
	// A small pd means a high reduced field.
	if p.spec.HighestE > 0 && e > p.spec.HighestE {
		v |= known.BelowRange
	}
	if p.spec.LowestE > 0 && e < p.spec.LowestE {
		v |= known.AboveRange
	}
	return units.Voltage(e * pd), v
}

// Minimum returns the least breakdown voltage, e·B·ln(1+1/γ)/A, and the product
// of pressure and gap where it is met, e·ln(1+1/γ)/A.
func (p *Paschen) Minimum() (v units.Voltage, pd float64) { // pd [Pa·m]
	pd = math.E * p.log / p.spec.A
	return units.Voltage(p.spec.B * pd), pd
}

// HumidityFactor returns the factor k = 1 + 0.002·(h/δ − 8.5) by which the
// breakdown voltage of a uniform gap changes with the absolute humidity h in
// g/m³, 1 at 8.5 g/m³: moist air is a little stronger. Between 1 and 13 g/m³ the
// effect stays within 2 %, so that humidity acts on what contact makes and what
// the surface leaks, hardly on the gas. Source: IEC 60052, sphere gaps, from
// memory, hence flagged Unpublished; outside h/δ of 1 to 13 g/m³ flagged too.
// NaN unless h ≥ 0 and δ > 0.
func HumidityFactor(h units.VapourDensity, delta float64) (float64, known.Validity) { // delta [1] → [1]
	if !(h >= 0) || !(delta > 0) {
		return math.NaN(), known.WrongShape
	}
	v := known.Unpublished
	x := float64(h) * 1000 / delta // [g/m³]
	if x < 1 {
		v |= known.BelowRange
	}
	if x > 13 {
		v |= known.AboveRange
	}
	return 1 + 0.002*(x-8.5), v
}
