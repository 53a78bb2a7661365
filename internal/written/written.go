// Package written says what a user wrote back in the user's own unit.
package written

import (
	"encoding"
	"errors"
	"reflect"
	"strconv"
	"strings"

	"example.org/pithball/units/known"
)

// Fields gives the [*known.FieldError]s of err, joined or not, the names by which the
// caller's user knows their fields. It drops the fault of a field that gets no name.
func Fields(err error, rename func(field string) string) error {
	if list, ok := err.(interface{ Unwrap() []error }); ok {
		var out []error
		for _, e := range list.Unwrap() {
			out = append(out, Fields(e, rename))
		}
		return errors.Join(out...)
	}
	f, ok := err.(*known.FieldError)
	if !ok {
		return err
	}
	name := rename(f.Field)
	if name == "" && f.Field != "" {
		return nil
	}
	return &known.FieldError{Field: name, Value: f.Value, Want: f.Want}
}

// Unit returns what follows the number of a text, "m/min" of "1e6 m/min".
func Unit(text string) string {
	s := strings.TrimSpace(text)
	n := len(s)
	for n > 0 { // the longest beginning that is a number
		if _, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(s[:n]), "−", "-"), 64); err == nil {
			break
		}
		n--
	}
	return strings.TrimSpace(s[n:])
}

// Range turns a range "low … high" of quantities of type t into the unit of the text
// that is out of it: "6 … 6000 m/min". What is no such range, and a text without a unit,
// leave it as it is.
func Range(t reflect.Type, text, want string) string {
	unit := Unit(text)
	low, high, ok := strings.Cut(want, " … ")
	if !ok || unit == "" || t.Kind() != reflect.Float64 {
		return want
	}
	zero, okZero := number(t, "0 "+unit)
	one, okOne := number(t, "1 "+unit)
	lo, okLow := number(t, low)
	hi, okHigh := number(t, high)
	if !(okZero && okOne && okLow && okHigh) || one == zero {
		return want
	}
	show := func(x float64) string { return strconv.FormatFloat((x-zero)/(one-zero), 'g', 6, 64) }
	return show(lo) + " … " + show(hi) + " " + unit
}

// number reads a quantity as its own type does.
func number(t reflect.Type, text string) (float64, bool) { // [SI]
	v := reflect.New(t)
	u, ok := v.Interface().(encoding.TextUnmarshaler)
	if !ok || u.UnmarshalText([]byte(text)) != nil {
		return 0, false
	}
	return v.Elem().Float(), true
}

// Reads reports whether a text read as type t prints as value: what is wrong is still
// what was written.
func Reads(t reflect.Type, text, value string) bool {
	v := reflect.New(t)
	u, ok := v.Interface().(encoding.TextUnmarshaler)
	if !ok {
		return text == value || same(text, value)
	}
	if u.UnmarshalText([]byte(text)) != nil {
		return false
	}
	if s, ok := v.Elem().Interface().(interface{ String() string }); ok {
		return s.String() == value
	}
	return text == value
}

// same says that two texts are one number, 1e5 and 100000.
func same(a, b string) bool {
	x, errX := strconv.ParseFloat(a, 64)
	y, errY := strconv.ParseFloat(b, 64)
	return errX == nil && errY == nil && x == y
}

// Under gives fields of a library the names that they have in a file: of the first prefix that fits, "" drops the
// fault.
func Under(err error, prefixes ...string) error {
	return Fields(err, func(f string) string {
		for i := 0; i < len(prefixes); i += 2 {
			if rest, ok := strings.CutPrefix(f, prefixes[i]); ok {
				if prefixes[i+1] == "" {
					return ""
				}
				return prefixes[i+1] + rest
			}
		}
		return f
	})
}
