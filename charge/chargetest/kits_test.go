package chargetest_test

import (
	"errors"
	"fmt"

	. "example.org/pithball/charge/chargetest"
	"example.org/pithball/units/lawtest"
)

// What each kit says of a model that is wrong: the law that it breaks first. The violation holds the
// input and what came out as well.

// A contact that charges less the faster it runs.
func ExampleGrowing() {
	kit := Growing()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: grows | |σ(2v)| ≥ |σ(v)|
}

// Two faces that both gain the same charge.
func ExamplePairs() {
	kit := Pairs()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: swapped | σ(A,B) = −σ(B,A) on uncharged faces
}

// A web that gains what no roller loses.
func ExampleRollers() {
	kit := Rollers()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: conservation | σ_w' + σ_r' + lost = σ_w + σ_r
}

// A parting that makes a charge of nothing out of what is not known.
func ExamplePartings() {
	kit := Partings()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: finite | finite in, finite out; NaN in, NaN out
}

// A field with the factor of two of a missing image.
func ExamplePlaces() {
	kit := Places()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: bounds | 0 <= E·ε0/σ <= 1
}

// A meter that rectifies.
func ExampleMeters() {
	kit := Meters()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: mirror | the displays of σ and −σ lie evenly about that of 0
}

// Half of the field behind a film is lost.
func ExampleFilms() {
	kit := Films()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: gauss | ε0·(E_meter + E_behind) = σ_near + σ_far
}

// A breakdown that adds charge to a pile.
func ExamplePiles() {
	kit := Piles()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: cut | |V| ≤ |free V|, of the same sign
}

// A spark judged by the greatest energy that a table prints.
func ExampleJudges() {
	kit := Judges()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: low end | an energy at or above the least value held reaches
}
