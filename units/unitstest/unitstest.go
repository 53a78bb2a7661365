// Package unitstest checks that a quantity type reads and writes text without
// loss, converts without drift and guesses nothing. The laws are plain
// functions that return an error; [Run], [Check] and [Fuzz] try them on drawn or
// given inputs. A project with quantity types of its own runs them on these by
// writing a [Codec]:
//
//	func TestTorque(t *testing.T) { unitstest.Run(t, torqueCodec{}) }
//
// [Broken] has one deliberately wrong codec for each law. The package imports a
// property-testing engine: import it from tests only.
package unitstest

import (
	"encoding/json"
	"fmt"

	"example.org/pithball/units"
)

// Codec is a quantity type as the laws see it.
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
	// Marshal writes the JSON of a value in SI.
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
	Number  float64 // [A] finite, of an ordinary size
	Other   float64 // [A] finite, of an ordinary size
	A, B, C string  // accepted units
}

// String writes the input for messages, floats with all their digits.
func (in Input) String() string {
	return fmt.Sprintf("value %.17g SI, number %.17g, other %.17g, units %q %q %q", in.Value, in.Number, in.Other, in.A, in.B, in.C)
}

// Law is one statement that holds for every quantity type.
type Law struct {
	Name   string                        // name of the subtest; stable
	Says   string                        // one sentence
	Source string                        // where it comes from
	Check  func(c Codec, in Input) error // nil, or a *Violation
}

// Violation reports a broken law; errors.As finds it.
type Violation struct {
	Law   string // name of the law
	Codec string // name of the quantity
	In    Input  // where it broke
	Got   string // what came
	Want  string // what the law demands
}

// Error returns the law, the quantity, the input, got and want in one line.
func (v *Violation) Error() string {
	return fmt.Sprintf("%s broken by %s: got %s, want %s (%v)", v.Law, v.Codec, v.Got, v.Want, v.In)
}
