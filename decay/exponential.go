package decay

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Exponential is the law of a linear leak with one relaxation time:
//
//	V/V0 = e^(−t/τ),  t(f) = τ·ln(1/f)
//
// It holds for bulk conduction to an earthed body ([RelaxationTime]), for a
// conductor with a resistance to earth (τ = RC) and for one mode of a resistive
// sheet. Good insulators rarely follow it.
type Exponential struct{ tau float64 }

// NewExponential returns the law with relaxation time tau, which must be
// positive and finite.
func NewExponential(tau units.Time) (Exponential, error) {
	if err := known.Positive("tau", tau); err != nil {
		return Exponential{}, err
	}
	return Exponential{float64(tau)}, nil
}

// Tau returns the relaxation time, the time to 1/e.
func (l Exponential) Tau() units.Time { return units.Time(made(l.tau)) }

// Fraction returns e^(−t/τ), 1 before t = 0, NaN for NaN.
func (l Exponential) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.tau == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	return numeric.Exp(-float64(t) / l.tau)
}

// Rate returns −e^(−t/τ)/τ, 0 before t = 0.
func (l Exponential) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.tau == 0:
		return math.NaN()
	case t < 0:
		return 0
	}
	return -numeric.Exp(-float64(t)/l.tau) / l.tau
}

// TimeTo returns τ·ln(1/f).
func (l Exponential) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("Exponential", l.tau > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	return units.Time(-l.tau * math.Log(f)), nil
}

// OffsetExponential is the exponential towards a voltage that is not zero, the
// balance voltage of an ioniser or the plateau of a film:
//
//	V = V_b + (V0 − V_b)·e^(−t/τ),  t(V1) = τ·ln[(V0 − V_b)/(V1 − V_b)]
//
// The fraction is V/V0; with V_b of the other sign it passes through zero and
// ends at V_b/V0 < 0.
type OffsetExponential struct{ tau, b float64 }

// NewOffsetExponential returns the law from start voltage v0 to balance voltage
// vb with relaxation time tau > 0. |vb| must be below |v0|, and v0 not zero.
func NewOffsetExponential(tau units.Time, v0, vb units.Voltage) (OffsetExponential, error) {
	err := errors.Join(known.Positive("tau", tau), known.Finite("v0", v0), known.Finite("vb", vb))
	if v0 == 0 {
		err = errors.Join(err, known.Wrong("v0", v0, "not 0"))
	}
	if !(math.Abs(float64(vb)) < math.Abs(float64(v0))) {
		err = errors.Join(err, known.Wrong("vb", vb, "smaller in size than the start voltage "+v0.String()))
	}
	if err != nil {
		return OffsetExponential{}, err
	}
	return OffsetExponential{float64(tau), float64(vb) / float64(v0)}, nil
}

// Floor returns the fraction V_b/V0 that the law tends to.
func (l OffsetExponential) Floor() float64 { // [1]
	if l.tau == 0 {
		return math.NaN()
	}
	return l.b
}

// Fraction returns V/V0, 1 before t = 0, NaN for NaN.
func (l OffsetExponential) Fraction(t units.Time) float64 { // [1]
	switch {
	case l.tau == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	return l.b + (1-l.b)*numeric.Exp(-float64(t)/l.tau)
}

// Rate returns −(1 − V_b/V0)·e^(−t/τ)/τ, 0 before t = 0.
func (l OffsetExponential) Rate(t units.Time) float64 { // [1/s]
	switch {
	case l.tau == 0:
		return math.NaN()
	case t < 0:
		return 0
	}
	return -(1 - l.b) * numeric.Exp(-float64(t)/l.tau) / l.tau
}

// TimeTo returns τ·ln[(1 − b)/(f − b)] with b = V_b/V0; a [*NeverError] if b is
// at or above f.
func (l OffsetExponential) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("OffsetExponential", l.tau > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	if l.b >= f {
		return units.Time(math.Inf(1)), &NeverError{f, l.b}
	}
	return units.Time(l.tau * math.Log((1-l.b)/(f-l.b))), nil
}

// Exponentials is a sum of exponentials with positive weights that add to one:
//
//	V/V0 = Σ a_i·e^(−t/τ_i)
//
// A laminate on earth decays so even if each layer is ideal ([Stack]); so do
// most woven fabrics (M. W. Ramer and H. R. Richards, Textile Res. J. 38 (1968) 28).
type Exponentials struct {
	a, tau []float64
	slow   float64 // greatest τ
	fast   float64 // least τ
}

// NewExponentials returns the law of the weights [1] and relaxation times. The
// weights must be positive; they are divided by their sum. The slices are
// copied, must have the same length and not be empty.
func NewExponentials(weights []float64, taus []units.Time) (Exponentials, error) { // weights [1]
	var err error
	if len(weights) == 0 || len(weights) != len(taus) {
		return Exponentials{}, known.Wrong("weights", len(weights), "as many as relaxation times, at least 1")
	}
	l := Exponentials{a: make([]float64, len(weights)), tau: make([]float64, len(taus)), fast: math.Inf(1)}
	sum := 0.0
	for i, w := range weights {
		err = errors.Join(err, known.Positive(index("weights", i), w), known.Positive(index("taus", i), taus[i]))
		l.a[i], l.tau[i] = w, float64(taus[i])
		l.slow, l.fast = max(l.slow, l.tau[i]), min(l.fast, l.tau[i])
		sum += w
	}
	if err == nil {
		err = known.Finite("sum_of_weights", sum)
	}
	if err != nil {
		return Exponentials{}, err
	}
	for i := range l.a {
		l.a[i] /= sum
	}
	return l, nil
}

// Len returns the number of terms.
func (l Exponentials) Len() int { return len(l.a) }

// Term returns the weight and the relaxation time of term i; NaN if i is not in
// 0 … Len()−1.
func (l Exponentials) Term(i int) (weight float64, tau units.Time) { // weight [1]
	if i < 0 || i >= len(l.a) {
		return math.NaN(), units.Time(math.NaN())
	}
	return l.a[i], units.Time(l.tau[i])
}

// Fraction returns Σ a_i·e^(−t/τ_i), 1 before t = 0, NaN for NaN.
func (l Exponentials) Fraction(t units.Time) float64 { // [1]
	switch {
	case len(l.a) == 0:
		return math.NaN()
	case t <= 0:
		return 1
	}
	f := 0.0
	for i, a := range l.a {
		f += a * numeric.Exp(-float64(t)/l.tau[i])
	}
	return f
}

// Rate returns −Σ (a_i/τ_i)·e^(−t/τ_i), 0 before t = 0.
func (l Exponentials) Rate(t units.Time) float64 { // [1/s]
	switch {
	case len(l.a) == 0:
		return math.NaN()
	case t < 0:
		return 0
	}
	r := 0.0
	for i, a := range l.a {
		r -= a / l.tau[i] * numeric.Exp(-float64(t)/l.tau[i])
	}
	return r
}

// TimeTo returns the root of Fraction(t) = f, which lies between the times
// τ·ln(1/f) of the fastest and the slowest term.
func (l Exponentials) TimeTo(f float64) (units.Time, error) { // f [1]
	if err := checkTimeTo("Exponentials", len(l.a) > 0, f); err != nil {
		return units.Time(math.NaN()), err
	}
	n := -math.Log(f)
	if n == 0 || l.fast == l.slow {
		return units.Time(n * l.slow), nil
	}
	// In ln V the sum is convex and nearly straight between its corners, so
	// Brent's method needs few steps; the ends are widened by rounding.
	g := func(t float64) float64 { return math.Log(l.Fraction(units.Time(t))) + n }
	t, err := numeric.Brent(g, n*l.fast*(1-1e-12), n*l.slow*(1+1e-12), 4*0x1p-52, 0)
	return units.Time(t), err
}
