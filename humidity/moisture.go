package humidity

import (
	"math"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Regain is the mass of water per mass of dry material, R. 0.085 is 8.5 % on
// the dry basis. It is no [MoistureContent]: textile tables give regain, paper
// tables mostly moisture content, and a law measured in the one must not be fed
// with the other.
type Regain float64

// MoistureContent is the mass of water per mass of moist material,
// M = R/(1 + R).
type MoistureContent float64

// Moisture is either measure; laws that depend on moisture keep to one.
type Moisture interface {
	Regain | MoistureContent
}

const (
	dryBasis = "% dry basis"
	wetBasis = "% wet basis"
)

// Content converts to moisture per moist mass, M = R/(1 + R).
func (r Regain) Content() MoistureContent { return MoistureContent(float64(r) / (1 + float64(r))) }

// Regain converts to moisture per dry mass, R = M/(1 − M). A content of 1 or
// more is no material: NaN.
func (m MoistureContent) Regain() Regain {
	if !(m < 1) {
		return Regain(math.NaN())
	}
	return Regain(float64(m) / (1 - float64(m)))
}

// String returns the regain as "8.5 % dry basis"; it parses back to the same
// bits.
func (r Regain) String() string { return percent(float64(r), dryBasis) }

// String returns the content as "7.8 % wet basis"; it parses back to the same
// bits.
func (m MoistureContent) String() string { return percent(float64(m), wetBasis) }

// The exact decimal shift of percent is that of the relative humidity of units.
func percent(v float64, suffix string) string {
	s := units.RelativeHumidity(v).String()
	return strings.TrimRight(strings.TrimSuffix(s, "%RH"), " ") + " " + suffix
}

// MarshalText returns the text of String; NaN and Inf have none.
func (r Regain) MarshalText() ([]byte, error) { return percentText(float64(r), dryBasis) }

// MarshalText returns the text of String; NaN and Inf have none.
func (m MoistureContent) MarshalText() ([]byte, error) { return percentText(float64(m), wetBasis) }

func percentText(v float64, suffix string) ([]byte, error) {
	if _, err := units.RelativeHumidity(v).MarshalText(); err != nil {
		return nil, known.Wrong("moisture", v, "a finite value")
	}
	return []byte(percent(v, suffix)), nil
}

// UnmarshalText reads percent with the basis, "8.5 % dry basis"; without the
// basis or with the other one it is a [*known.FieldError].
func (r *Regain) UnmarshalText(b []byte) error {
	v, err := parsePercent(string(b), dryBasis)
	if err == nil {
		*r = Regain(v)
	}
	return err
}

// UnmarshalText reads percent with the basis, "7.8 % wet basis"; without the
// basis or with the other one it is a [*known.FieldError].
func (m *MoistureContent) UnmarshalText(b []byte) error {
	v, err := parsePercent(string(b), wetBasis)
	if err == nil {
		*m = MoistureContent(v)
	}
	return err
}

func parsePercent(s, suffix string) (float64, error) {
	num, ok := strings.CutSuffix(strings.TrimSpace(s), suffix)
	if !ok {
		return 0, known.Wrong("moisture", s, `a number followed by "`+suffix+`"`)
	}
	v, err := units.Parse[units.RelativeHumidity](strings.TrimSpace(num) + "%RH")
	if err != nil {
		return 0, known.Wrong("moisture", s, `a number followed by "`+suffix+`"`)
	}
	return float64(v), nil
}
