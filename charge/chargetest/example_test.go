package chargetest_test

import (
	"errors"
	"fmt"

	"example.org/pithball/charge/chargetest"
	"example.org/pithball/units"
)

// additive adds its strength at every contact whatever the face carries.
type additive struct{}

func (additive) Transfer(before units.SurfaceChargeDensity, v units.Speed, load units.ForcePerWidth) units.SurfaceChargeDensity {
	return before + 5*units.MicrocoulombPerSquareMetre
}

// A model of somebody else against the laws, without a test engine.
func ExampleCheck() {
	in := chargetest.ContactInput{Before: 2e-6, Other: -1e-6, Speed: 3, Load: 100}
	err := chargetest.Check(chargetest.ContactLaws(), chargetest.Contact(additive{}), in)
	var v *chargetest.Violation
	fmt.Println(errors.As(err, &v), v.Law, "law broken first")
	// Output: true finite law broken first
}

// The laws and what they say.
func ExampleGasLaws() {
	for _, l := range chargetest.GasLaws() {
		fmt.Println(l.Name)
	}
	// Output:
	// positive
	// minimum
	// similarity
	// field
	// published
}
