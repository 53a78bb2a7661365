package unitstest_test

import (
	"errors"
	"fmt"

	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
	"example.org/pithball/units/unitstest"
)

// What each kit says of a model that is wrong: the law that it breaks first. The violation holds the
// input and what came out as well.

// A length that is written with six digits.
func ExampleLike() {
	kit := unitstest.Like(unitstest.Of[units.Length]())
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: like | the same bits and errors as units.Length
}
