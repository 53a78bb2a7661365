package decaytest_test

import (
	"errors"
	"fmt"

	"example.org/pithball/decay"
	"example.org/pithball/decay/decaytest"
	"example.org/pithball/units/lawtest"
)

// What each kit says of a model that is wrong: the law that it breaks first. The violation holds the
// input and what came out as well.

// A stretched decay has an age.
func ExampleMemoryless() {
	kit := decaytest.Memoryless(decaytest.Domain{})
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: memoryless | f(t + dt) = f(t)·f(dt)
}

// A decay that begins slowly whatever is there.
func ExampleAutonomous() {
	kit := decaytest.Autonomous(restartHyperbolic, decaytest.Domain{})
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: autonomous | f(t + dt) = f(t)·f_restarted(dt)
}

// A decay that ends at one in a hundred.
func ExampleLike() {
	kit := decaytest.Like(law(decay.NewExponential(7)), decaytest.Domain{})
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: like | the fractions of a decay.Exponential
}

// A half-life without its error.
func ExampleFitters() {
	kit := decaytest.Fitters()
	kit.Laws = kit.Laws[:1] // the others fit many records
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: interval | low <= time to a half <= high, apart where there is noise
}

// A spread in decades multiplied as if it were one in ohms.
func ExampleRelaxers() {
	kit := decaytest.Relaxers()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: limits | both limits of the time are ε0·εr times those of the resistivity
}

// A verdict on a finish by the median alone.
func ExampleFinishers() {
	kit := decaytest.Finishers()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: verdict | helps if even the upper end is low enough, no help if not even the lower end is, else open
}
