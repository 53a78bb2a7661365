// Package chargetest checks that a contact, a covered roller, a breakdown law or
// a parting behaves as physics demands. It is for the test suites of other
// projects that write models of their own, and it is what pithball checks its
// own models with.
//
// Three layers: a [Law] is a statement with a plain function that returns an
// error and knows no test engine ([ContactLaws], [RollerLaws], [GasLaws],
// [PartingLaws]); the generators ([Contacts], [ContactInputs], …) draw models and
// inputs with pgregory.net/rapid; [Run], [Check] and [Fuzz] bring both together:
//
//	func TestMyContact(t *testing.T) {
//		chargetest.Run(t, chargetest.ContactLaws(), rapid.Just[chargetest.Contact](mine), chargetest.ContactInputs())
//	}
//
// The Broken functions have one wrong model for every law, so that a suite can
// prove that it would have noticed.
package chargetest
