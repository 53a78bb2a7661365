package decay

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Stretched is the stretched exponential (Kohlrausch, KWW),
//
//	V/V0 = exp[−(t/τ)^β],  t(f) = τ·[ln(1/f)]^(1/β)
//
// the usual description of a spread of relaxation times. It has an age: what is
// left after t1 does not decay as a fresh charge does ([After]).
//
// Source: G. Williams and D. C. Watts, Trans. Faraday Soc. 66 (1970) 80,
// doi:10.1039/tf9706600080.
type Stretched struct{ tau, beta, inv float64 } // inv = 1/τ

// NewStretched returns the law with time tau > 0 and exponent beta, 0.01 … 1.
func NewStretched(tau units.Time, beta float64) (Stretched, error) { // beta [1]
	if err := errors.Join(known.Positive("tau", tau), known.InRange("beta", beta, 0.01, 1)); err != nil {
		return Stretched{}, err
	}
	return Stretched{float64(tau), beta, 1 / float64(tau)}, nil
}

// Fraction returns exp[−(t/τ)^β], 1 before t = 0, NaN for NaN.
func (l Stretched) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.tau == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	return numeric.Exp(-numeric.Exp(l.beta * numeric.Log(float64(t)*l.inv)))
}

// Rate returns −(β/t)·(t/τ)^β·V/V0. At t = 0 it is −Inf for β < 1, the vertical
// tangent of the law, and −1/τ for β = 1; 0 before t = 0.
func (l Stretched) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.tau == 0:
		return math.NaN()
	case t < 0:
		return 0
	case t == 0 && l.beta < 1:
		return math.Inf(-1)
	case t == 0:
		return -1 / l.tau
	}
	u := numeric.Exp(l.beta * numeric.Log(float64(t)/l.tau))
	return -l.beta * u / float64(t) * numeric.Exp(-u)
}

// TimeTo returns τ·[ln(1/f)]^(1/β).
func (l Stretched) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("Stretched", l.tau > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time(l.tau * numeric.Pow(-math.Log(f), 1/l.beta)), nil
}

// MeanTime returns the area under the decay, (τ/β)·Γ(1/β).
func (l Stretched) MeanTime() units.Time {
	return units.Time(l.tau / l.beta * math.Gamma(1/l.beta))
}

// PowerLaw is the decay
//
//	V/V0 = (1 + t/t0)^(−n),  t(f) = t0·(f^(−1/n) − 1)
//
// n = 1 is the hyperbola of second-order loss and also what a probe over a line
// of charge reads on a plain ohmic sheet ([LineUnderProbe]); n = 2 the same over a
// spot: the exponent alone does not tell the mechanism.
type PowerLaw struct{ t0, n float64 }

// NewPowerLaw returns the law with time t0 > 0 and exponent n > 0, at most 100.
func NewPowerLaw(t0 units.Time, n float64) (PowerLaw, error) { // n [1]
	if err := errors.Join(known.Positive("t0", t0), known.Positive("n", n), known.InRange("n", n, 0, 100)); err != nil {
		return PowerLaw{}, err
	}
	return PowerLaw{float64(t0), n}, nil
}

// Fraction returns (1 + t/t0)^(−n), 1 before t = 0, NaN for NaN.
func (l PowerLaw) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.t0 == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	return numeric.Exp(-l.n * numeric.Log1p(float64(t)/l.t0))
}

// Rate returns −(n/t0)·(1 + t/t0)^(−n−1), 0 before t = 0.
func (l PowerLaw) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.t0 == 0:
		return math.NaN()
	case t < 0:
		return 0
	}
	return -l.n / l.t0 * numeric.Exp(-(l.n+1)*numeric.Log1p(float64(t)/l.t0))
}

// TimeTo returns t0·(f^(−1/n) − 1); +Inf where that exceeds float64.
func (l PowerLaw) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("PowerLaw", l.t0 > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time(l.t0 * math.Expm1(-math.Log(f)/l.n)), nil
}

// CurieSchweidler is the fall of voltage by an absorption current i = C·A·t^(−n)
// (Curie and von Schweidler),
//
//	V/V0 = 1 − A·t^(1−n)/((1−n)·V0),  t(f) = [(1−f)(1−n)V0/A]^(1/(1−n))
//
// The current is that of the start voltage, so the law is for small drops:
// [CurieSchweidler.Validity] flags a drop above 10 %, where the driving voltage is
// already 10 % off (the limit is ours: common practice, no source). Fraction stops
// at 0.
//
// The charge of absorption is not lost: voltage returns after neutralisation.
type CurieSchweidler struct{ c, m float64 } // c = A/((1−n)V0) [s^(n−1)], m = 1−n

// NewCurieSchweidler returns the law for the current exponent n, 0 <= n < 1, the
// constant a > 0 and the start voltage v0, whose sign does not matter.
func NewCurieSchweidler(n, a float64, v0 units.Voltage) (CurieSchweidler, error) { // n [1], a [V·s^(n−1)]
	err := errors.Join(known.Positive("a", a), known.Positive("v0", units.Voltage(math.Abs(float64(v0)))))
	if !(n >= 0 && n <= 0.99) {
		err = errors.Join(err, known.Wrong("n", n, "0 … 0.99"))
	}
	if err != nil {
		return CurieSchweidler{}, err
	}
	return CurieSchweidler{a / ((1 - n) * math.Abs(float64(v0))), 1 - n}, nil
}

// Fraction returns 1 − A·t^(1−n)/((1−n)·V0), not below 0; 1 before t = 0, NaN
// for NaN.
func (l CurieSchweidler) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.m == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	return max(0, 1-l.c*numeric.Exp(l.m*numeric.Log(float64(t))))
}

// Rate returns −(A/V0)·t^(−n), 0 before t = 0 and after the law has reached 0.
// At t = 0 it is −Inf for n > 0.
func (l CurieSchweidler) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.m == 0:
		return math.NaN()
	case t < 0 || l.Fraction(t) == 0:
		return 0
	}
	return -l.c * l.m * numeric.Pow(float64(t), l.m-1)
}

// TimeTo returns [(1−f)(1−n)V0/A]^(1/(1−n)).
func (l CurieSchweidler) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("CurieSchweidler", l.m > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time(numeric.Pow((1-f)/l.c, 1/l.m)), nil
}

// Validity flags AboveRange where the drop exceeds 10 %.
func (l CurieSchweidler) Validity(t units.Time) known.Validity { return smallDrop(l.Fraction(t)) }

// smallDrop flags a law of small drops.
func smallDrop(f float64) known.Validity {
	if f >= 0.9 {
		return known.Inside
	}
	return known.AboveRange
}

// Logarithmic is the fall
//
//	V/V0 = 1 − (B/V0)·ln(1 + t/t0),  t(f) = t0·[e^((1−f)V0/B) − 1]
//
// of charge that escapes over a spread of barriers. Fraction stops at 0, which
// the law reaches at t0·(e^(V0/B) − 1); [Logarithmic.Validity] flags a drop above
// 10 % as for [CurieSchweidler].
type Logarithmic struct{ b, t0 float64 } // b = B/V0

// NewLogarithmic returns the law with the voltage b > 0 lost per factor e of
// time, the start voltage v0, whose sign does not matter, and the time t0 > 0.
func NewLogarithmic(b, v0 units.Voltage, t0 units.Time) (Logarithmic, error) {
	if err := errors.Join(known.Positive("b", b), known.Positive("v0", units.Voltage(math.Abs(float64(v0)))),
		known.Positive("t0", t0)); err != nil {
		return Logarithmic{}, err
	}
	return Logarithmic{float64(b) / math.Abs(float64(v0)), float64(t0)}, nil
}

// Fraction returns 1 − (B/V0)·ln(1 + t/t0), not below 0; 1 before t = 0, NaN for
// NaN.
func (l Logarithmic) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.t0 == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	return max(0, 1-l.b*numeric.Log1p(float64(t)/l.t0))
}

// Rate returns −(B/V0)/(t0 + t), 0 before t = 0 and after the law has reached 0.
func (l Logarithmic) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.t0 == 0:
		return math.NaN()
	case t < 0 || l.Fraction(t) == 0:
		return 0
	}
	return -l.b / (l.t0 + float64(t))
}

// TimeTo returns t0·[e^((1−f)V0/B) − 1]; +Inf where that exceeds float64.
func (l Logarithmic) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("Logarithmic", l.t0 > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time(l.t0 * math.Expm1((1-f)/l.b)), nil
}

// Validity flags AboveRange where the drop exceeds 10 %.
func (l Logarithmic) Validity(t units.Time) known.Validity { return smallDrop(l.Fraction(t)) }
