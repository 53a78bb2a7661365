package unitstest_test

import (
	"errors"
	"fmt"
	"strings"

	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
	"example.org/pithball/units/unitstest"
)

// hopeful is a quantity type of somebody else, which takes a bare number for SI.
type hopeful struct{ unitstest.Codec }

func (h hopeful) Parse(s string) (float64, error) {
	if s == strings.TrimSpace(s) && !strings.Contains(s, " ") {
		s += " m"
	}
	return h.Codec.Parse(s)
}

// The laws need no test: a sound type passes, a broken one says where.
func ExampleQuantities() {
	length := unitstest.Of[units.Length]()
	fmt.Println(unitstest.Quantities().Check(length))
	err := unitstest.Quantities().Check(hopeful{length})
	var v *lawtest.Violation // the first of them
	fmt.Println(errors.As(err, &v), v.Law)
	fmt.Println(v)
	// Output:
	// <nil>
	// true unit needed
	// unit needed: a number without its unit is an error, also 0
	// 	why: BIPM, SI Brochure, 9th edition, 2019, 5.4
	// 	model: units.Length
	// 	Value: 0 in SI
	// 	Number: 1 nm
	// 	Other: 1 nm
	// 	B: nm
	// 	C: nm
	// 	got: 0
	// 	want: an error for "0"
}

func ExampleOf() {
	c := unitstest.Of[units.Speed]()
	v, err := c.Parse("300 m/min")
	fmt.Println(c.Name(), v, err)
	// Output: units.Speed 5 <nil>
}
