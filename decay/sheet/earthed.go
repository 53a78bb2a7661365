package sheet

import (
	"errors"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// The sheets of this file lie close to earth: charge diffuses with
// D ([SheetDiffusivity], [Sheet.NearEarth]) to earthed edges, from a uniform
// start. The series are those of J. Crank, The Mathematics of Diffusion, 2nd
// ed., Oxford 1975, ch. 4 and 5. Times are t ≥ 0; t < 0 and NaN give NaN.

// StripSpec describes a strip of sheet close to earth that is earthed at its
// edges.
type StripSpec struct {
	Width       units.Length      // w across, > 0
	Diffusivity units.Diffusivity // D of the charge, > 0
	OneEdge     bool              // only one edge is earthed, the other takes nothing
	// ContactLength is r_c/ρ_s ≥ 0, the length of sheet that resists as much as the
	// contact at an earthed edge, r_c its resistance times edge length; 0 is a
	// perfect contact.
	ContactLength units.Length
}

// EarthedStrip is the decay of a uniform charge on a strip close to earth.
// Immutable; see [NewEarthedStrip].
type EarthedStrip struct {
	spec StripSpec
	rate float64   // D/b², b the distance from an earthed edge to the middle or the other edge [1/s]
	b    float64   // [m]
	bi   float64   // ρ_s b/r_c, +Inf for a perfect contact
	beta []float64 // roots of β tan β = Bi
}

// stripTerms is the number of terms kept with a contact resistance: from
// D t/b² = 2e-4 on the rest is below 1e-16.
const stripTerms = 150

// NewEarthedStrip checks the spec. Errors are [known.FieldError]s, joined.
func NewEarthedStrip(spec StripSpec) (*EarthedStrip, error) {
	if err := errors.Join(
		known.Positive("width", spec.Width),
		known.Positive("diffusivity", spec.Diffusivity),
		known.NotNegative("contact_length", spec.ContactLength),
	); err != nil {
		return nil, err
	}
	s := &EarthedStrip{spec: spec, b: float64(spec.Width) / 2, bi: math.Inf(1)}
	if spec.OneEdge {
		s.b *= 2
	}
	s.rate = float64(spec.Diffusivity) / s.b / s.b
	if spec.ContactLength > 0 {
		s.bi = s.b / float64(spec.ContactLength)
	}
	s.beta = make([]float64, stripTerms)
	for n := range s.beta {
		s.beta[n] = contactRoot(s.bi, n)
	}
	return s, nil
}

// contactRoot returns the root of β tan β = bi in (nπ, nπ+π/2).
func contactRoot(bi float64, n int) float64 {
	base := float64(n) * math.Pi
	if math.IsInf(bi, 1) {
		return base + math.Pi/2
	}
	// β = nπ + δ with δ = atan(bi/β), 0 < δ < π/2: the right side falls in β, so
	// there is one root, and a bracket.
	d, err := numeric.Brent(func(d float64) float64 { return d - math.Atan2(bi, base+d) }, 0, math.Pi/2, 0x1p-52, 0)
	if err != nil {
		return math.NaN()
	}
	return base + d
}

// Biot returns ρ_s b/r_c, how well the contact earths the strip, b the half-width
// (the width for one edge); +Inf for a perfect contact. [1]
func (s *EarthedStrip) Biot() float64 { return made(s.bi) } // [1]

// TimeConstant returns the time constant of the slowest mode, b²/(β1² D):
// w²/(π²D) for two edges, 4w²/(π²D) for one edge, with perfect contact.
func (s *EarthedStrip) TimeConstant() units.Time {
	if s.beta == nil {
		return units.Time(math.NaN())
	}
	return units.Time(1 / (s.rate * s.beta[0] * s.beta[0]))
}

// MeanAt returns the share of the charge left at t,
//
//	Σ 2Bi²/(β²(β² + Bi² + Bi)) e^{−β²Dt/b²}    [1]
//
// which is Σ_{odd n} 8/(n²π²) e^{−n²π²Dt/w²} for a perfect contact. Early it falls
// as 1 − (2/√π)√(Dt/b²), not exponentially. It does not allocate.
func (s *EarthedStrip) MeanAt(t units.Time) float64 { // [1]
	fo := made(s.rate) * float64(t)
	switch {
	case !(fo >= 0):
		return math.NaN()
	case fo < 2e-4:
		return s.early(fo)
	}
	sum := 0.0
	for _, b := range s.beta {
		e := b * b * fo
		if e > 745 {
			break
		}
		w := 2 / (b * b)
		if !math.IsInf(s.bi, 1) {
			// Bi²/(β²+Bi²+Bi) without overflow.
			q := b / s.bi
			w /= q*q + 1 + 1/s.bi
		}
		sum += w * math.Exp(-e)
	}
	return sum
}

// early is the mean before one edge knows of the other (e^{−1/fo} is left out):
// a half-space behind a surface conductance, Crank eq. 3.35.
func (s *EarthedStrip) early(fo float64) float64 {
	gone := 2 * math.Sqrt(fo/math.Pi)
	if !math.IsInf(s.bi, 1) {
		u := s.bi * math.Sqrt(fo)
		if u < 1e-2 {
			// (erfcx(u) − 1 + 2u/√π)/Bi by its series: the digits cancel.
			gone = s.bi * fo * (1 - 4*u/(3*math.Sqrt(math.Pi)) + u*u/2 - 8*u*u*u/(15*math.Sqrt(math.Pi)) + u*u*u*u/6)
		} else {
			gone -= (1 - erfcx(u)) / s.bi
		}
	}
	return 1 - gone
}

// At returns σ/σ0 at the distance x from an earthed edge, 0 ≤ x ≤ w, at t,
//
//	Σ 2Bi/((β² + Bi² + Bi) cos β) cos(β(1−x/b)) e^{−β²Dt/b²}    [1]
//
// which is Σ_{odd n} 4/(nπ) sin(nπx/w) e^{−n²π²Dt/w²} for a perfect contact. With a
// contact resistance it needs D t/b² ≥ 2e-4 and gives NaN before. Special cases:
// x outside gives NaN. It does not allocate.
func (s *EarthedStrip) At(x units.Length, t units.Time) float64 { // [1]
	fo, xi := made(s.rate)*float64(t), float64(x)/s.b
	switch {
	case !(fo >= 0) || !(xi >= 0 && x <= s.spec.Width):
		return math.NaN()
	case math.IsInf(s.bi, 1) && fo < 0.05:
		// Images: error functions of the distances to edges and mirror edges.
		if fo == 0 {
			if xi == 0 || xi == 2 {
				return 0
			}
			return 1
		}
		r := 2 * math.Sqrt(fo)
		return 1 - math.Erfc(xi/r) - math.Erfc((2-xi)/r) + math.Erfc((2+xi)/r) + math.Erfc((4-xi)/r)
	case fo < 2e-4:
		return math.NaN()
	}
	sum := 0.0
	for n, b := range s.beta {
		e := b * b * fo
		if e > 745 {
			break
		}
		// 2 sin β/(β + sin β cos β) is the weight in either case; sin β from the
		// root for large Bi.
		sin := math.Sin(b)
		if math.IsInf(s.bi, 1) {
			sin = 1 - 2*float64(n%2)
		}
		sum += 2 * sin / (b + sin*math.Cos(b)) * math.Cos(b*(1-xi)) * math.Exp(-e)
	}
	return sum
}

// MeanTime returns when the share f, 0 < f < 1, of the charge is left.
func (s *EarthedStrip) MeanTime(f float64) units.Time { // f [1]
	return units.Time(whenFalls(func(fo float64) float64 { return s.MeanAt(units.Time(fo / s.rate)) }, f) / s.rate)
}

// FarTime returns when the point furthest from an earthed edge has fallen to the
// share f, 0 < f < 1, of its start: the middle, or the free edge.
func (s *EarthedStrip) FarTime(f float64) units.Time { // f [1]
	far := func(fo float64) float64 {
		if v := s.At(units.Length(s.b), units.Time(fo/s.rate)); !math.IsNaN(v) {
			return v
		}
		return 1 // too early for the series: e^{−1/(4·2e-4)} has arrived
	}
	return units.Time(whenFalls(far, f) / s.rate)
}

// whenFalls returns u > 0 where the falling function v(u), 1 at 0, is f; NaN for f
// outside 0 … 1.
func whenFalls(v func(float64) float64, f float64) float64 {
	if !(f > 0 && f < 1) {
		return math.NaN()
	}
	lo, hi := 0.0, 1.0
	for v(hi) > f {
		lo, hi = hi, 2*hi
		if hi > 1e300 {
			return math.Inf(1)
		}
	}
	u, err := numeric.Brent(func(u float64) float64 { return v(u) - f }, lo, hi, 0x1p-52, 0)
	if err != nil {
		return math.NaN()
	}
	return u
}

// RectangleMean returns the share of a uniform charge left on a rectangle that is
// earthed close behind and along all edges, the product of two strips: the rates
// of its modes add. [1] Nil strips give NaN.
func RectangleMean(a, b *EarthedStrip, t units.Time) float64 { // [1]
	if a == nil || b == nil {
		return math.NaN()
	}
	return a.MeanAt(t) * b.MeanAt(t)
}

// EarthedDisc is the decay of a uniform charge on a disc close to earth that is
// earthed at its rim. Immutable; see [NewEarthedDisc].
type EarthedDisc struct {
	rate float64 // D/a² [1/s]
	zero []float64
	j1   []float64 // J1 at the zeros of J0
}

// NewEarthedDisc checks radius and diffusivity, both > 0. Errors are
// [known.FieldError]s, joined.
func NewEarthedDisc(radius units.Length, d units.Diffusivity) (*EarthedDisc, error) {
	if err := errors.Join(known.Positive("radius", radius), known.Positive("diffusivity", d)); err != nil {
		return nil, err
	}
	s := &EarthedDisc{rate: float64(d) / float64(radius) / float64(radius),
		zero: make([]float64, stripTerms), j1: make([]float64, stripTerms)}
	for n := range s.zero {
		// McMahon's expansion alternates: j lies between its first two sums.
		b := (float64(n) + 0.75) * math.Pi
		j, err := numeric.Brent(math.J0, b, b+1/(8*b), 0x1p-52, 0)
		if err != nil {
			return nil, known.Wrong("radius", radius, "one for which the zeros of J0 are found: "+err.Error())
		}
		s.zero[n], s.j1[n] = j, math.J1(j)
	}
	return s, nil
}

// TimeConstant returns the time constant of the slowest mode, a²/(j² D) with
// j = 2.404825558 the first zero of J0.
func (s *EarthedDisc) TimeConstant() units.Time {
	if s.zero == nil {
		return units.Time(math.NaN())
	}
	return units.Time(1 / (s.rate * s.zero[0] * s.zero[0]))
}

// MeanAt returns the share of the charge left at t, Σ 4/j² e^{−j²Dt/a²}. [1] Early
// it falls as 1 − (4/√π)√(Dt/a²). It does not allocate.
func (s *EarthedDisc) MeanAt(t units.Time) float64 { // [1]
	fo := made(s.rate) * float64(t)
	switch {
	case !(fo >= 0):
		return math.NaN()
	case fo < 3e-4:
		// The transform 2 I1(q)/(q³ I0(q)) for large q, term by term: the rest is
		// of the order of fo^{7/2}.
		r := math.Sqrt(fo)
		return 1 - 4*r/math.Sqrt(math.Pi) + fo + fo*r/(3*math.Sqrt(math.Pi)) + fo*fo/8 +
			25*fo*fo*r/(120*math.Sqrt(math.Pi)) + 13*fo*fo*fo/96
	}
	sum := 0.0
	for _, j := range s.zero {
		e := j * j * fo
		if e > 745 {
			break
		}
		sum += 4 / (j * j) * math.Exp(-e)
	}
	return sum
}

// CentreAt returns σ/σ0 at the centre at t, Σ 2/(j J1(j)) e^{−j²Dt/a²}. [1] It does
// not allocate.
func (s *EarthedDisc) CentreAt(t units.Time) float64 { // [1]
	fo := made(s.rate) * float64(t)
	switch {
	case !(fo >= 0):
		return math.NaN()
	case fo < 3e-4:
		return 1 // less by e^{−1/(4 fo)}
	}
	sum := 0.0
	for n, j := range s.zero {
		e := j * j * fo
		if e > 745 {
			break
		}
		sum += 2 / (j * s.j1[n]) * math.Exp(-e)
	}
	return sum
}

// MeanTime returns when the share f, 0 < f < 1, of the charge is left.
func (s *EarthedDisc) MeanTime(f float64) units.Time { // f [1]
	return units.Time(whenFalls(func(fo float64) float64 { return s.MeanAt(units.Time(fo / s.rate)) }, f) / s.rate)
}

// CentreTime returns when the centre has fallen to the share f, 0 < f < 1.
func (s *EarthedDisc) CentreTime(f float64) units.Time { // f [1]
	return units.Time(whenFalls(func(fo float64) float64 { return s.CentreAt(units.Time(fo / s.rate)) }, f) / s.rate)
}
