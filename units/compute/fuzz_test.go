package compute_test

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// FuzzArgParse reads any text as a choice, as a quantity and as a bare number: a choice gives its place, a quantity
// what
// its own reader gives, and a refusal is NaN and names the argument.
func FuzzArgParse(f *testing.F) {
	for _, s := range []string{"25 mm", "1 in", "dew point", "", "4", "NaN", "-0 m", "1e999 m", "25", "frost point",
		"25 mm "} {
		f.Add(s)
	}
	e := compute.Of("Length", func(l units.Length) units.Length { return l }, source, "length 0…1", "-> same")
	number := compute.Arg{Name: "x", Unit: "1"}
	choice := compute.Arg{Name: "kind", Choices: []string{"dew point", "frost point"}}
	f.Fuzz(func(t *testing.T, s string) {
		for _, a := range []*compute.Arg{&choice, &e.Args[0], &number} {
			v, err := a.Parse(s)
			var fault *known.FieldError
			if (err != nil) != math.IsNaN(v) || err != nil && (!errors.As(err, &fault) || fault.Field != a.Name) {
				t.Fatalf("%s %q: %v, %v", a.Name, s, v, err)
			}
			if err != nil {
				continue
			}
			if len(a.Choices) > 0 {
				if a.Choices[int(v)] != s {
					t.Fatalf("%q is choice %v", s, v)
				}
			} else if want, err := units.Parse[units.Length](s); err != nil || float64(want) != v {
				t.Fatalf("%q: %v, want %v, %v", s, v, want, err)
			}
		}
	})
}
