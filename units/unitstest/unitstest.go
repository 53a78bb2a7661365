// Package unitstest checks that a quantity type reads and writes text without loss,
// converts without drift and guesses nothing. A project with quantity types of its
// own runs the laws on them by writing a [Codec]:
//
//	func TestTorque(t *testing.T) { unitstest.Quantities().Run(t, torqueCodec{}) }
//
// See package lawtest for what a kit can do. Import this package from tests only.
package unitstest

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Codec is a quantity type as the laws see it.
//
// Beyond reading and writing what is listed, the laws ask: only listed units are
// read, none built from prefixes, suffixes or products of them; a number needs its
// unit, also 0, unless "" is listed; NaN, Inf, hexadecimal and separated numbers are
// errors, to be read and to be written; a text has the fewest digits that read back
// to the same bits, and −0 is not 0; after an error a variable holds what it held.
type Codec interface {
	// Name is the kind in words, for messages.
	Name() string
	// Units lists accepted units; "" if a bare number is accepted.
	Units() []string
	// Shifted reports whether zero of some unit is another zero than that of SI,
	// as for temperatures.
	Shifted() bool
	// Parse reads a number with its unit as a value in SI.
	Parse(text string) (float64, error) // [SI]
	// Text writes a value in SI as a number with a unit.
	Text(v float64) (string, error) // v [SI]
	// In expresses a value in SI as a number in the unit.
	In(v float64, unit string) (float64, error) // v [SI], result [unit]
	// Marshal writes the JSON of a value in SI: a string with the text.
	Marshal(v float64) ([]byte, error) // v [SI]
	// Unmarshal reads JSON into a variable that holds old, and returns what the
	// variable holds then.
	Unmarshal(b []byte, old float64) (float64, error) // [SI]
}

// Of returns the codec of a quantity type of package units.
func Of[T units.Quantity]() Codec { return codec[T]{} }

type codec[T units.Quantity] struct{}

func (codec[T]) Name() string { return fmt.Sprintf("%T", T(0)) }

func (codec[T]) Units() []string { return units.Spellings[T]() }

func (codec[T]) Shifted() bool {
	_, shifted := any(T(0)).(units.Temperature)
	return shifted
}

func (codec[T]) Parse(text string) (float64, error) {
	q, err := units.Parse[T](text)
	return float64(q), err
}

func (codec[T]) Text(v float64) (string, error) {
	b, err := any(T(v)).(interface {
		AppendText([]byte) ([]byte, error)
	}).AppendText(nil)
	return string(b), err
}

func (codec[T]) In(v float64, unit string) (float64, error) { return units.In(T(v), unit) }

func (codec[T]) Marshal(v float64) ([]byte, error) { return json.Marshal(T(v)) }

func (codec[T]) Unmarshal(b []byte, old float64) (float64, error) {
	q := T(old)
	err := json.Unmarshal(b, &q)
	return float64(q), err
}

// Input is one point at which a law is tried.
type Input struct {
	Value   float64 // [SI] finite
	Number  float64 // [A] 0, or 1e-9 to 1e9 in magnitude
	Other   float64 // [A] as Number
	A, B, C string  // accepted units
}

// String writes the input for messages, one thing a line.
func (in Input) String() string {
	return fmt.Sprintf("Value: %v in SI\nNumber: %v %s\nOther: %v %s\nB: %s\nC: %s", in.Value,
		in.Number, in.A, in.Other, in.A, in.B, in.C)
}

// Quantities returns the laws of every quantity type.
func Quantities() lawtest.Kit[Codec, Input] {
	return lawtest.Kit[Codec, Input]{
		Laws: append(textLaws(), numberLaws()...),
		Input: func(d *lawtest.Draw, c Codec) Input {
			in := Input{Value: value(d), Number: ordinary(d, "number"), Other: ordinary(d, "other")}
			for _, u := range []*string{&in.A, &in.B, &in.C} {
				*u = lawtest.Pick(d, "unit", c.Units()...)
			}
			return in
		},
	}
}

// Like returns the law that a codec gives the bits of another and refuses the same
// texts, for instance a fast path against a plain one.
func Like(want Codec) lawtest.Kit[Codec, Input] {
	k := Quantities()
	says := "the same bits and errors as " + want.Name()
	k.Laws = []lawtest.Law[Codec, Input]{{Name: "like", Says: says, Source: practice, Broken: sixDigits{want},
		Check: func(c Codec, in Input) error {
			long := strings.TrimSpace(strconv.FormatFloat(math.Trunc(1e3*in.Number), 'f', -1, 64) + " " + in.A)
			for _, s := range []string{join(in.Number, in.A), join(in.Value, in.A), join(in.Number, in.A+"x"), long, "00" +
				long} {
				v, err1 := want.Parse(s)
				w, err2 := c.Parse(s)
				if (err1 == nil) != (err2 == nil) || err1 == nil && !bits(v, w) {
					return lawtest.That(false, fmt.Sprintf("%v, %v for %q", v, err1, s), w, err2)
				}
			}
			a, err1 := want.Text(in.Value)
			b, err2 := c.Text(in.Value)
			return lawtest.That(a == b && (err1 == nil) == (err2 == nil), fmt.Sprintf("%q, %v", a, err1), b, err2)
		}}}
	return k
}

// value draws finite values of all sizes and signs: ordinary ones, few digits, any
// power of two, zeros and ends of the range.
func value(d *lawtest.Draw) float64 {
	switch d.Int("kind of value", 0, 3) {
	case 0:
		return lawtest.Between(d, "value", -1e6, 1e6)
	case 1: // few digits, any prefix
		return float64(d.Int("digits", -99999, 99999)) * math.Pow(10, float64(d.Int("power of ten", -20, 20)))
	case 2:
		return math.Ldexp(lawtest.EitherSign(d, "value", 1.0, 2), d.Int("power of two", -1074, 1022))
	}
	return lawtest.Pick(d, "value", 0, math.Copysign(0, -1), 1, -1, 273.15, 256, math.MaxFloat64, -math.MaxFloat64,
		math.SmallestNonzeroFloat64, 0x1p-1022)
}

// ordinary draws numbers as people write them.
func ordinary(d *lawtest.Draw, name string) float64 {
	if d.Bool("few digits") {
		return float64(d.Int(name, -9999, 9999)) * math.Pow(10, float64(d.Int("power of ten", -9, 5)))
	}
	return lawtest.EitherSign(d, name, 1e-9, 1e9)
}
