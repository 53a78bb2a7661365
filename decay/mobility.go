package decay

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Hyperbolic is the law of second-order loss, dV/dt = −k·V²,
//
//	V/V0 = 1/(1 + k·V0·t),  t(f) = (1/f − 1)/(k·V0)
//
// the limit of carriers of one sign that only repel one another: the space
// charge q in a volume of permittivity ε and mobility µ has k·V0 = µ·q0/ε
// (B. Vellenga and A. Klinkenberg, Chem. Eng. Sci. 20 (1965) 923). The time
// depends on the start value. A fit by a hyperbola does not prove it: plain ohmic
// spreading on a free sheet reads the same under a probe ([LineUnderProbe]).
type Hyperbolic struct{ k float64 } // k·V0 [1/s]

// NewHyperbolic returns the law with the rate constant kV0 = k·V0 > 0.
func NewHyperbolic(kV0 float64) (Hyperbolic, error) { // kV0 [1/s]
	if err := known.Positive("k_v0", kV0); err != nil {
		return Hyperbolic{}, err
	}
	return Hyperbolic{kV0}, nil
}

// HyperbolicThrough returns the law that leaves the fraction f, 0 < f < 1, after
// the time t > 0: k·V0 = (1/f − 1)/t.
func HyperbolicThrough(f float64, t units.Time) (Hyperbolic, error) { // f [1]
	err := known.Positive("t", t)
	if !(f > 0 && f < 1) {
		err = errors.Join(err, known.Wrong("fraction", f, "more than 0 and less than 1"))
	}
	if err != nil {
		return Hyperbolic{}, err
	}
	return NewHyperbolic((1/f - 1) / float64(t))
}

// RateConstant returns k·V0.
func (l Hyperbolic) RateConstant() float64 { return made(l.k) } // [1/s]

// Fraction returns 1/(1 + k·V0·t), 1 before t = 0, NaN for NaN.
func (l Hyperbolic) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.k == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	return 1 / (1 + l.k*float64(t))
}

// Rate returns −k·V0/(1 + k·V0·t)², 0 before t = 0.
func (l Hyperbolic) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.k == 0:
		return math.NaN()
	case t < 0:
		return 0
	}
	f := 1 / (1 + l.k*float64(t))
	return -l.k * f * f
}

// TimeTo returns (1/f − 1)/(k·V0).
func (l Hyperbolic) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("Hyperbolic", l.k > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time((1 - f) / f / l.k), nil
}

// OhmicMobility is the law of an ohmic leak with mobile charge on top,
// dV/dt = −V/τ − k·V², with a = k·V0·τ,
//
//	V/V0 = e^(−t/τ)/[1 + a·(1 − e^(−t/τ))],  t(f) = τ·ln[(1/f + a)/(1 + a)]
//
// It joins the conductor (a = 0, exponential) and the insulator (a → ∞,
// hyperbola). Form as in A. E. Seaver, arXiv:0801.4182 (abstract only read);
// solves the equation above exactly.
type OhmicMobility struct{ tau, a float64 }

// NewOhmicMobility returns the law with relaxation time tau > 0 and a >= 0.
func NewOhmicMobility(tau units.Time, a float64) (OhmicMobility, error) { // a [1]
	if err := errors.Join(known.Positive("tau", tau), known.NotNegative("a", a)); err != nil {
		return OhmicMobility{}, err
	}
	return OhmicMobility{float64(tau), a}, nil
}

// Fraction returns V/V0, 1 before t = 0, NaN for NaN.
func (l OhmicMobility) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.tau == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	// The same fraction divided through by e^(−t/τ): one expm1, no cancellation.
	return 1 / (1 + (1+l.a)*math.Expm1(float64(t)/l.tau))
}

// Rate returns −(f + a·f²)/τ with f = V/V0, 0 before t = 0.
func (l OhmicMobility) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.tau == 0:
		return math.NaN()
	case t < 0:
		return 0
	}
	f := l.Fraction(t)
	return -f * (1 + l.a*f) / l.tau
}

// TimeTo returns τ·ln[(1/f + a)/(1 + a)].
func (l OhmicMobility) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("OhmicMobility", l.tau > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time(l.tau * math.Log1p((1-f)/f/(1+l.a))), nil
}

// TransitTime returns the time in which the front of the charge crosses a layer
// of thickness L at the start field V0/L with a constant mobility µ,
//
//	t_tr = L²/(µ·|V0|)
//
// All arguments positive (V0 of either sign, not 0); NaN outside.
//
// Source: I. P. Batra, K. Keiji Kanazawa and H. Seki, J. Appl. Phys. 41 (1970)
// 3416 (not read, form derived anew: see [Transit]).
func TransitTime(thickness units.Length, mobility units.Mobility, v0 units.Voltage) units.Time {
	if !(thickness > 0) || !(mobility > 0) || v0 == 0 {
		return units.Time(math.NaN())
	}
	l := float64(thickness)
	return units.Time(l * l / (float64(mobility) * math.Abs(float64(v0)))) // m²/(m²/(V·s)·V) = s
}

// Transit is the law of a corona-charged film on earth through which the charge
// moves without traps, all of it injected at once, with a velocity ∝ E^m:
//
//	V/V0 = 1 − t/((m+1)·t_tr)           up to t_tr
//	V/V0 = [m/(m+1)]·(t_tr/t)^(1/m)     after
//
// m = 1 is a constant mobility: 1 − t/(2·t_tr), then t_tr/(2t), where
// V = L²/(2µt) no longer depends on V0. Curves of different start voltage merge
// and never cross; measured ones that do cross need partial or field-dependent
// injection. From ∂E/∂t + v(E)·∂E/∂x = 0, a fan behind a front at E0.
//
// Source: Batra, Kanazawa and Seki (see [TransitTime]); H. J. Wintle, J. Appl.
// Phys. 43 (1972) 2927 for power-law mobility (abstract read; page not compared).
type Transit struct{ ttr, m float64 }

// NewTransit returns the law with transit time ttr > 0 and the exponent m of the
// velocity, 0.1 … 10.
func NewTransit(ttr units.Time, m float64) (Transit, error) { // m [1]
	if err := errors.Join(known.Positive("ttr", ttr), known.InRange("m", m, 0.1, 10)); err != nil {
		return Transit{}, err
	}
	return Transit{float64(ttr), m}, nil
}

// Fraction returns V/V0, 1 before t = 0, NaN for NaN.
func (l Transit) Fraction(t units.Time) float64 { // [1]
	switch x := float64(t) / l.ttr; {
	case l.ttr == 0:
		return math.NaN()
	case x <= 0:
		return 1
	case x <= 1:
		return 1 - x/(l.m+1)
	case l.m == 1:
		return 0.5 / x
	default:
		return l.m / (l.m + 1) * numeric.Exp(-numeric.Log(x)/l.m)
	}
}

// Rate returns −1/((m+1)·t_tr) up to t_tr and −[V/V0]/(m·t) after; 0 before
// t = 0.
func (l Transit) Rate(t units.Time) float64 { // [1/s]
	switch x := float64(t) / l.ttr; {
	case l.ttr == 0:
		return math.NaN()
	case x < 0:
		return 0
	case x <= 1:
		return -1 / ((l.m + 1) * l.ttr)
	default:
		return -l.Fraction(t) / (l.m * float64(t))
	}
}

// TimeTo returns (1−f)(m+1)·t_tr for f >= m/(m+1), else t_tr·[m/((m+1)f)]^m.
func (l Transit) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("Transit", l.ttr > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	if f >= l.m/(l.m+1) {
		return units.Time((1 - f) * (l.m + 1) * l.ttr), nil
	}
	return units.Time(l.ttr * numeric.Pow(l.m/((l.m+1)*f), l.m)), nil
}
