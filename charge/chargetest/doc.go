// Package chargetest checks that a contact, a covered roller, a parting, a breakdown
// law of air, or a model of the field side (a place, a meter, a film) behaves as
// physics demands. It is for the test suites of other projects that write models of
// their own, and it is what pithball checks its own models with:
//
//	func TestMyContact(t *testing.T) { chargetest.Contacts().Run(t, mine) }
//
// See package lawtest for what a kit can do. Import this package from tests only.
package chargetest

import (
	"math"

	"example.org/pithball/units"
)

// must returns what was made: the drawn arguments are inside the ranges.
func must[T any](v T, err error) *T {
	if err != nil {
		panic(err)
	}
	return &v
}

// sigma is short for what this package handles most.
type sigma = units.SurfaceChargeDensity

// most is the largest charge density of a face before a contact.
const most sigma = 1e-3

// slack is for rounding only: relative to the largest number in play.
func slack[T ~float64](xs ...T) float64 {
	s := 0.0
	for _, x := range xs {
		s = math.Max(s, math.Abs(float64(x)))
	}
	return 1e-13*s + 1e-300
}

func abs[T ~float64](x T) float64 { return math.Abs(float64(x)) }

func nan[T ~float64]() T { return T(math.NaN()) }
