// Package decaytest checks that a [decay.Law] behaves as a decay must. It is for
// the test suites of other projects that write laws of their own, and it is what
// pithball checks its own laws with.
//
// Three layers: each [Law] is a statement with a plain function that returns an
// error and knows no test engine; [AnyLaw] and [Inputs] draw laws and times with
// pgregory.net/rapid; [Run], [Check] and [Fuzz] bring both together:
//
//	func TestMyLaw(t *testing.T) {
//		decaytest.Run(t, rapid.Just[decay.Law](myLaw), decaytest.Domain{})
//	}
//
// [Broken] has one wrong law for every statement, so that a suite can prove that
// it would have noticed.
package decaytest
