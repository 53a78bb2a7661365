package humiditytest_test

import (
	"errors"
	"fmt"

	"example.org/pithball/humidity/humiditytest"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// What each kit says of a model that is wrong: the law that it breaks first. The violation holds the
// input and what came out as well.

// Paper that still holds water in bone-dry air.
func ExampleIsotherms() {
	kit := humiditytest.Isotherms()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: dry | no regain at 0 %RH
}

// A material that leaks the less the damper it is.
func ExampleResistivities() {
	kit := humiditytest.Resistivities[units.SheetResistance]()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: falls | above 0 and never rising with humidity
}

// A core that warms before the outside.
func ExampleWarmers() {
	kit := humiditytest.Warmers()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: core last | the core passes the dew point and the hall's temperature no sooner than the face
}

// The depression of a wick added instead of taken off.
func ExampleWicks() {
	kit := humiditytest.Wicks()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: between | dew point <= reading <= dry bulb
}

// A band of as many ohms for tests of every height.
func ExampleFitters() {
	kit := humiditytest.Fitters()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: scale | tests that are 10 times as high have a band that is 10 times as high, of the same spread
}

// A threshold that forgets how the law spreads.
func ExampleThresholds() {
	kit := humiditytest.Thresholds()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: band | low <= median <= high, apart where the law spreads, and so the dew points
}
