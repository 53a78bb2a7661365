package linetest_test

import (
	"errors"
	"fmt"

	"example.org/pithball/line/linetest"
	"example.org/pithball/units/lawtest"
)

// What each kit says of a model that is wrong: the law that it breaks first. The violation holds the
// input and what came out as well.

// A year whose least and greatest hours are exchanged.
func ExampleSeasons() {
	kit := linetest.Seasons()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: quantiles | 5 % ≤ 50 % ≤ 95 % of humidity and hours, within the year
}

// A chance of more than one.
func ExampleComparisons() {
	kit := linetest.Comparisons()
	var v *lawtest.Violation
	if err := kit.Check(kit.Laws[0].Broken); errors.As(err, &v) {
		fmt.Println(v.Law, "|", v.Says)
	}
	// Output: chance | 0 ≤ p ≤ 1, and the effect lies in its interval
}

// What a kit asks of changes to a line.
func ExampleCures() {
	for _, l := range linetest.Cures().Laws[:3] {
		fmt.Printf("%s: %s\n", l.Name, l.Says)
	}
	// Output:
	// nothing tried: without changes every number keeps its bits
	// place added: a place where nothing happens changes no number elsewhere
	// put back: a station that is removed and put back leaves what was there
}
