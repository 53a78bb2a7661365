package humidity

import (
	"errors"
	"fmt"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units/known"
)

// Stress is the kind of test voltage of [BreakdownCorrection].
type Stress uint8

// The kinds.
const (
	DC Stress = iota
	AC
	Impulse
)

var stressNames = [...]string{"dc", "ac", "impulse"}

// String returns "dc", "ac" or "impulse".
func (s Stress) String() string { return enum.Name("Stress", stressNames[:], s) }

// MarshalText writes the name; a value that is no stress is a
// [*known.FieldError].
func (s Stress) MarshalText() ([]byte, error) { return enum.Write("stress", stressNames[:], s) }

// UnmarshalText reads a name as written by String.
func (s *Stress) UnmarshalText(b []byte) error { return enum.Read("stress", stressNames[:], b, s) }

// Correction carries a breakdown voltage from the standard reference
// atmosphere (20 °C, 101.3 kPa, 11 g/m³) to air: V = V₀·K.
type Correction struct {
	Delta    float64        // [1] relative air density δ
	Humidity float64        // [1] k = f(h/δ), before its exponent
	K1       float64        // [1] δ^m
	K2       float64        // [1] k^w
	K        float64        // [1] K1·K2
	Validity known.Validity // Unpublished always; Below- or AboveRange for δ outside 0.8 … 1.05
}

// BreakdownCorrection returns the atmospheric correction of disruptive discharge
// of rod-like external insulation in the form of IEC 60060-1:
//
//	K = δ^m·k^w,  δ = (p/101.3 kPa)·293/(273 + t),  x = h/δ − 11 g/m³
//	k = 1 + 0.014 x − 0.00022 x² (DC), 1 + 0.012 x (AC), 1 + 0.010 x (impulse)
//	m, w from g: g < 0.2: 0, 0; 0.2 … 1: m = w = g(g − 0.2)/0.8; 1 … 1.2: 1, 1;
//	1.2 … 2: m = 1, w = (2.2 − g)(2.0 − g)/0.8; above: 1, 0
//
// with h the absolute humidity and g = V_50/(500 kV/m·L·δ·k) of the gap L, which
// says how much streamers lead (0 … 3). The standard bounds h/δ to 1 … 15 g/m³ (impulse
// 1 … 20); outside it the correction is refused with a [*known.FieldError] for "a".
// Outside δ 0.8 … 1.05 it is flagged: rod-plane gaps at 2240 m are off by more
// than 10 %. The uniform field of films and narrow gaps is no such case; package
// charge/gas has the factor of humidity there.
//
// Formulas of IEC 60060-1:2010, clause 4.3, not compared with the standard: every result is flagged
// [known.Unpublished].
func BreakdownCorrection(a Air, s Stress, g float64) (Correction, error) { // g [1]
	var err error
	if !(g >= 0 && g <= 3) {
		err = known.Wrong("g", g, "0 … 3")
	}
	if int(s) >= len(stressNames) {
		err = errors.Join(err, known.Wrong("s", s, "DC, AC or Impulse"))
	}
	if !a.valid() {
		err = errors.Join(err, known.Wrong("a", "the zero Air", "air made by NewAir or AirFrom"))
	}
	if err != nil {
		return Correction{}, err
	}
	c := Correction{Validity: known.Unpublished}
	c.Delta = float64(a.p) / 101.3e3 * 293 / (273 + a.t.Celsius()) // the standard's round numbers
	ratio := float64(a.VapourDensity()) * 1e3 / c.Delta            // [g/m³]
	most := 15.0
	if s == Impulse {
		most = 20
	}
	if !(ratio > 1 && ratio < most) {
		return Correction{}, known.Wrong("a", fmt.Sprintf("h/δ %.3g g/m³", ratio), fmt.Sprintf("h/δ of 1 … %g g/m³ for %v",
			most, s))
	}
	x := ratio - 11
	switch s {
	case DC:
		c.Humidity = 1 + 0.014*x - 0.00022*x*x
	case AC:
		c.Humidity = 1 + 0.012*x
	default:
		c.Humidity = 1 + 0.010*x
	}
	m, w := 1.0, 0.0
	switch {
	case g < 0.2:
		m = 0
	case g <= 1:
		m = g * (g - 0.2) / 0.8
		w = m
	case g <= 1.2:
		w = 1
	case g <= 2:
		w = (2.2 - g) * (2.0 - g) / 0.8
	}
	c.K1, c.K2 = numeric.Pow(c.Delta, m), numeric.Pow(c.Humidity, w)
	c.K = c.K1 * c.K2
	c.Validity |= rangeOf(c.Delta, 0.8, 1.05)
	return c, nil
}
