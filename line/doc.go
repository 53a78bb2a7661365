// Package line puts a whole production line together, forward and inverse:
//
//	Description ──▶ New (checks everything once) ──▶ Line (immutable)
//	Line.RunTo          walks the path once: charge on each face, what ruled, notices
//	Line + Survey ──▶ Diagnose: what each contact changed, with its uncertainty; what
//	                  cannot be told apart, and which measurement would tell
//	Diagnosis.Verdict   earth these; the main source; what to measure, do and not do
//
// It owns no physics formula: what contact makes, what the gas caps, what leaks
// and what ions remove come from packages charge, decay, ionflow and humidity.
// line owns the order, the bookkeeping of both faces and the inverse search.
//
// # Conventions
//
// The state is the charge density on each face, σ_A and σ_B (C/m², signed).
// Faces are fixed to the web at the unwind. Every contact and device names the
// face it meets. Stations are ordered along the web path. Net charge leaks only
// along a named path; without one, bulk conduction only pairs the two faces.
package line
