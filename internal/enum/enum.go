// Package enum writes and reads the names of small integers that stand for a
// choice, so that every enumeration of pithball has its text both ways by the same
// rules: a value without a name is written by no one, an unknown name is refused
// with the list of the known ones and leaves the value as it was.
package enum

import (
	"fmt"
	"slices"
	"strings"

	"example.org/pithball/units/known"
)

// Enum is the type of an enumeration; its values index a table of names, in which
// "" is no name.
type Enum interface{ ~uint8 }

// Name is the String of an enumeration: the name of v, "Type(n)" without one.
func Name[T Enum](typ string, names []string, v T) string {
	if int(v) < len(names) && names[v] != "" {
		return names[v]
	}
	return fmt.Sprintf("%s(%d)", typ, uint8(v))
}

// Write is the MarshalText of an enumeration. A value without a name is a
// [*known.FieldError] for field, so that nothing is written that would not read
// back.
func Write[T Enum](field string, names []string, v T) ([]byte, error) {
	if int(v) < len(names) && names[v] != "" {
		return []byte(names[v]), nil
	}
	return nil, known.Wrong(field, uint8(v), OneOf(names))
}

// Read is the UnmarshalText of an enumeration. It leaves v on an error, a
// [*known.FieldError] for field.
func Read[T Enum](field string, names []string, b []byte, v *T) error {
	i := slices.Index(names, string(b))
	if i < 0 || names[i] == "" {
		return known.Wrong(field, string(b), OneOf(names))
	}
	*v = T(i)
	return nil
}

// OneOf lists the names as the allowed range of an error.
func OneOf(names []string) string {
	named := slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == "" })
	return "one of " + strings.Join(named, ", ")
}
