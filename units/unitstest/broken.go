package unitstest

import (
	"encoding/json"
	"math"
	"strconv"
	"strings"
)

// The broken codecs make mistakes that unit code in use has made.

// notFiniteText writes NaN as if it were a number.
type notFiniteText struct{ Codec }

func (c notFiniteText) Text(v float64) (string, error) { return number(v) + " m", nil }

// guessesUnit takes a bare number for SI.
type guessesUnit struct{ Codec }

func (c guessesUnit) Parse(s string) (float64, error) {
	if v, err := strconv.ParseFloat(strings.TrimSpace(s), 64); err == nil {
		return v, nil
	}
	return c.Codec.Parse(s)
}

// freeProduct multiplies any prefix with any unit.
type freeProduct struct{ Codec }

func (c freeProduct) Parse(s string) (float64, error) {
	n, u, _ := strings.Cut(s, " ")
	if v, err := c.Codec.Parse(n + " " + strings.TrimPrefix(u, "Y")); err == nil && strings.HasPrefix(u, "Y") {
		return v * 1e24, nil
	}
	return c.Codec.Parse(s)
}

// plainParseFloat reads the number with strconv, which accepts NaN, hexadecimal
// digits and underscores.
type plainParseFloat struct{ Codec }

func (c plainParseFloat) Parse(s string) (float64, error) {
	n, u, _ := strings.Cut(s, " ")
	one, err := c.Codec.Parse("1 " + u)
	if err != nil {
		return 0, err
	}
	x, err := strconv.ParseFloat(n, 64)
	return x * one, err
}

// sixDigits rounds the text as for a display.
type sixDigits struct{ Codec }

func (c sixDigits) Text(v float64) (string, error) {
	_, err := c.Codec.Text(v)
	return strconv.FormatFloat(v, 'e', 5, 64) + " m", err
}

// seventeenDigits writes all digits that a float64 may need.
type seventeenDigits struct{ Codec }

func (c seventeenDigits) Text(v float64) (string, error) {
	_, err := c.Codec.Text(v)
	return strconv.FormatFloat(v, 'e', 16, 64) + " m", err
}

// bareNumber writes JSON without the unit.
type bareNumber struct{ Codec }

func (c bareNumber) Marshal(v float64) ([]byte, error) { return json.Marshal(v) }

// zeroesOnError clears the variable before it reads.
type zeroesOnError struct{ Codec }

func (c zeroesOnError) Unmarshal(b []byte, old float64) (float64, error) {
	return c.Codec.Unmarshal(b, 0)
}

// losesSign forgets the sign of numbers.
type losesSign struct{ Codec }

func (c losesSign) Parse(s string) (float64, error) {
	v, err := c.Codec.Parse(s)
	return math.Abs(v), err
}

// offsetDifference reads a difference of 10 °F as −12.2 °C, as unit systems
// without a difference type do.
type offsetDifference struct{ Codec }

func (c offsetDifference) Parse(s string) (float64, error) {
	v, err := c.Codec.Parse(s)
	if strings.HasSuffix(s, "F") {
		v += 459.67 * 5 / 9
	}
	return v, err
}

// fixedPoint keeps nanounits in an int64, which ends at 9.2e9.
type fixedPoint struct{ Codec }

func (c fixedPoint) Parse(s string) (float64, error) {
	v, err := c.Codec.Parse(s)
	const nano, wrap = 1e9, 1 << 64
	n := math.Mod(math.Round(v*nano), wrap) // as a conversion that wraps
	if n >= wrap/2 {
		n -= wrap
	} else if n < -wrap/2 {
		n += wrap
	}
	return n / nano, err
}

// roundedFactor converts back with a factor of seven digits, as printed.
type roundedFactor struct{ Codec }

func (c roundedFactor) In(v float64, unit string) (float64, error) {
	x, err := c.Codec.In(v, unit)
	return x * 1.0000001, err
}

// surveyFoot reads the foot of the survey and writes the foot of 1959.
type surveyFoot struct{ Codec }

func (c surveyFoot) Parse(s string) (float64, error) {
	v, err := c.Codec.Parse(s)
	if strings.HasSuffix(s, "ft") {
		v *= 1.000002
	}
	return v, err
}
