// Package named gives the enumerations of a package their names in text, both ways.
package named

import (
	"fmt"
	"slices"
	"strings"

	"example.org/pithball/units/known"
)

// Of returns the name of v, "kind(n)" for a value without one.
func Of[T ~uint8](kind string, names []string, v T) string {
	if int(v) < len(names) && names[v] != "" {
		return names[v]
	}
	return fmt.Sprintf("%s(%d)", kind, uint8(v))
}

// Write is the MarshalText of an enumeration: a value without a name is an error, so that nothing is written that
// would not read back.
func Write[T ~uint8](field string, names []string, v T) ([]byte, error) {
	if int(v) < len(names) && names[v] != "" {
		return []byte(names[v]), nil
	}
	return nil, known.Wrong(field, uint8(v), oneOf(names))
}

// Read is the UnmarshalText of an enumeration. It leaves v on an error.
func Read[T ~uint8](field string, names []string, b []byte, v *T) error {
	i := slices.Index(names, string(b))
	if i < 0 || names[i] == "" {
		return known.Wrong(field, string(b), oneOf(names))
	}
	*v = T(i)
	return nil
}

func oneOf(names []string) string {
	return "one of " + strings.Join(slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == "" }), ", ")
}
