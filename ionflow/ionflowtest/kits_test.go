package ionflowtest_test

import (
	"errors"
	"fmt"

	. "example.org/pithball/ionflow/ionflowtest"
	"example.org/pithball/units/lawtest"
)

// What each kit says of a model that is wrong: the law that it breaks first. The violation holds the
// input and what came out as well.

// A bar that takes a share of its own however slow the web is.
func ExampleIonisers() {
	kit := Ionisers()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: halves | two passes at v leave what one at v/2 leaves
}

// Ions that are gone by half before any time has passed.
func ExamplePopulations() {
	kit := Populations(pairs)
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: unchanged | n±(0) = n±0
}

// A solution that swings below nothing.
func ExampleSteadies() {
	kit := Steadies(Domain{})
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: not negative | n+ ≥ 0 and n− ≥ 0 at every node and between them
}
