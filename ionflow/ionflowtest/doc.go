// Package ionflowtest checks that a model of an ioniser, or of ions on their way,
// obeys the laws that hold for all of them. It is for the test suites of other
// projects that write models of their own, and it is what pithball checks its
// own with.
//
// Three layers: each [Law] is a statement with a plain function that returns an
// error and knows no test engine; [Webs], [Parcels], [AnyNeutraliser] and
// [AnyPopulation] draw inputs and models with pgregory.net/rapid; [Run], [Check]
// and [Fuzz] bring both together:
//
//	func TestMyBar(t *testing.T) {
//		d := ionflowtest.Domain{Supply: 300 * units.MicroamperePerMetre}
//		ionflowtest.Run(t, ionflowtest.SurfaceLaws(), rapid.Just[ionflowtest.Actor](myBar), ionflowtest.Webs(d), d)
//	}
//
// [BrokenActors] and [BrokenPopulations] have one wrong model for every statement, so that a
// suite can prove that it would have noticed.
package ionflowtest
