// Package survey finds the sources of charge on a line from readings: the inverse
// of package line.
//
//	ReadSurvey        reads a surveyor's table: displays, places, speeds, airs, resistances
//	Diagnose          what each contact changed, with its uncertainty; what cannot be
//	                  told apart, and which measurement would tell
//	Diagnosis.Verdict earth these; the main source; what to measure, do and not do
package survey
