package unitstest_test

import (
	"errors"
	"fmt"

	"example.org/pithball/units"
	"example.org/pithball/units/unitstest"
)

// Check needs no test: a sound type passes, a broken one says where.
func ExampleCheck() {
	in := unitstest.Input{Value: 0.0254, Number: 12, Other: 36, A: "ft", B: "in", C: "m"}
	fmt.Println(unitstest.Check(unitstest.Of[units.Length](), in))
	err := unitstest.Check(unitstest.Broken()["scale"], unitstest.Input{Number: 10, A: "Δ°F", B: "K", C: "K"})
	fmt.Println(err != nil)
	// Output:
	// <nil>
	// true
}

func ExampleViolation() {
	in := unitstest.Input{Value: 1, Number: 3, A: "m", B: "mm", C: "in"}
	err := unitstest.Odd().Check(unitstest.Broken()["odd"], in)
	var v *unitstest.Violation
	if errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Got, "|", v.Want)
	}
	// Output: odd | 3 and 3 SI, <nil>, <nil> | opposite values
}

func ExampleLaws() {
	for _, l := range unitstest.Laws()[:3] {
		fmt.Printf("%s: %s\n", l.Name, l.Says)
	}
	// Output:
	// finite: NaN and Inf have no text and no JSON
	// unit needed: a number without its unit is an error, also 0
	// closed: an unknown unit is an error: no free product of prefix and unit, no suffix, no annotation
}

func ExampleOf() {
	c := unitstest.Of[units.Speed]()
	v, err := c.Parse("300 m/min")
	fmt.Println(c.Name(), v, err)
	// Output: units.Speed 5 <nil>
}
