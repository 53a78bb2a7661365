// Package rangecheck holds constructors and functions to the ranges that their
// documentation states for each field: both ends are taken, what lies just beyond
// them is refused with an error that names the field.
package rangecheck

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/units/known"
)

// Faults tries one field of a spec, or one argument, and returns what is wrong, one
// line each: a value within the range that is refused, one beyond it that is taken,
// an error that names no field, and one that names another.
//
// of is the constructor or function, name the field as its errors name it, and try
// calls it with v there and ordinary values elsewhere. in are values that are taken,
// the ends of the range among them (of an end that is itself outside, a value next to
// it); out are values beyond the ends. NaN and the infinities are refused always.
func Faults(of, name string, try func(v float64) error, in, out []float64) []string {
	var faults []string
	say := func(v float64, what string) {
		faults = append(faults, fmt.Sprintf("%s: %s %v: %s", of, name, v, what))
	}
	for _, v := range in {
		if err := try(v); err != nil {
			say(v, "refused: "+err.Error())
		}
	}
	for _, v := range append([]float64{math.NaN(), math.Inf(1), math.Inf(-1)}, out...) {
		err := try(v)
		if err == nil {
			say(v, "taken")
			continue
		}
		names := named(err)
		if len(names) == 0 {
			say(v, "the error names no field: "+err.Error())
		}
		for _, n := range names {
			if n != name {
				say(v, "the error names "+n)
			}
		}
	}
	return faults
}

// named lists the fields that an error, or one of the errors that it joins, names.
func named(err error) []string {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		var out []string
		for _, e := range many.Unwrap() {
			out = append(out, named(e)...)
		}
		return out
	}
	var f *known.FieldError
	if errors.As(err, &f) {
		return []string{f.Field}
	}
	return nil
}
