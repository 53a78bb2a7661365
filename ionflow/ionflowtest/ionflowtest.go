// Package ionflowtest checks that a model of an ioniser, of ions on their way, or of
// the coupled one-dimensional problem obeys the laws that hold for all of them. It is
// for the test suites of other projects that write models of their own, and it is
// what pithball checks its own with:
//
//	func TestMyBar(t *testing.T) {
//		d := ionflowtest.Domain{Supply: 300 * units.MicroamperePerMetre}
//		ionflowtest.Actors(d).Run(t, myBar)
//	}
//
// See package lawtest for what a kit can do. Import this package from tests only.
package ionflowtest

import (
	"math"

	"example.org/pithball/units"
)

// Domain says what the model under test claims. The zero value claims least.
type Domain struct {
	// Offset is the net charge density that the source leaves.
	Offset units.SurfaceChargeDensity
	// Supply is the most that the source can bring per metre; 0: not stated.
	Supply units.LineCurrent
	// Lopsided says that the polarities differ, so that signs may not be swapped.
	Lopsided bool
	// Alpha and Mobility, if not 0, are the recombination coefficient and the common mobility of
	// the population, for the two ceilings; Alpha without Mobility: no repulsion.
	Alpha    units.RecombinationCoefficient
	Mobility units.Mobility // see Alpha
	// RelTol is slack for rounding, not for physics; 0 means 1e-9. [1]
	RelTol float64
}

func (d Domain) filled() Domain {
	if d.RelTol == 0 {
		d.RelTol = 1e-9
	}
	return d
}

// must returns what was made: the drawn arguments are inside the ranges.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func abs[T ~float64](x T) float64 { return math.Abs(float64(x)) }

func nan[T ~float64]() T { return T(math.NaN()) }
