package gas

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
// γ = 0.01, valid for 100 to 800 V/(cm·Torr) (range not compared). They give a
// minimum of 305.3 V at 0.836 Torr·cm, which is 7 % below the usual 327 V,
// and 35.5 kV at 1 cm, 17 % above the measured 30.3 kV. Source: E. M. Bazelyan,
// Yu. P. Raizer, Spark Discharge, as quoted elsewhere.
func AirPaschen() PaschenSpec {
	return PaschenSpec{A: 15 / torrCM, B: 365 / torrCM, Gamma: 0.01, LowestE: 100 / torrCM, HighestE: 800 / torrCM}
}

// NewPaschen checks the constants. Errors are [*known.FieldError]s.
func NewPaschen(s PaschenSpec) (Paschen, error) {
	errs := []error{known.Positive("a", s.A), known.Positive("b", s.B), known.NotNegative("lowest_e", s.LowestE),
		known.NotNegative("highest_e", s.HighestE)}
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
// et al., The transition to Paschen's law for microscale gas breakdown at
// subatmospheric pressure, Sci. Rep. 9 (2019) 5669, doi 10.1038/s41598-019-42111-2.
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

// CapBacked returns the gas cap of a film on earthed backing in a gas with these
// constants at the given absolute pressure, and the gap of the first breakdown.
// With g = t/εr the least of ε0·V(p·z)·(1/z + 1/g) has the closed form
//
//	σ_max = ε0·B·p/u,  z = g/u,  u·e^u = A·p·g/(e·ln(1+1/γ)),
//
// u Lambert's function. It is for other gases than air, and for air where the
// reduced field lies in the range of the constants; the residual charge of
// particles changes with the gas as this says (T. Matsuyama and H. Yamamoto,
// J. Phys. D 28 (1995) 2418, abstract). Outside the range it is flagged. NaN
// for a thickness or pressure that is not above 0 or epsr [1] below 1.
func (p *Paschen) CapBacked(thickness units.Length, epsr float64,
	pressure units.Pressure) (units.SurfaceChargeDensity, units.Length, known.Validity) { // epsr [1]
	t, q := float64(thickness), float64(pressure)
	if !(t > 0) || !(q > 0) || !(epsr >= 1) || math.IsInf(t, 1) || math.IsInf(q, 1) || math.IsInf(epsr, 1) {
		return units.SurfaceChargeDensity(math.NaN()), units.Length(math.NaN()), known.WrongShape
	}
	g := t / epsr
	u := lambertW(p.spec.A * q * g / (math.E * p.log))
	z := g / u
	_, v := p.Voltage(q * z)
	return units.SurfaceChargeDensity(units.Epsilon0 * p.spec.B * q / u), units.Length(z), v
}

// lambertW returns W(x) for every x > 0 by Halley's iteration on w + ln w = ln x,
// whose steps do not overflow.
func lambertW(x float64) float64 {
	l := math.Log(x)
	w := math.Log1p(x)
	if x > math.E {
		w = l - math.Log(l)
	}
	for range 6 {
		f := w + math.Log(w) - l
		d := 1 + 1/w
		w -= f / (d + f/(2*d*w*w)) // f″ = −1/w²
	}
	return w
}
