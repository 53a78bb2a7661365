package survey

import (
	"example.org/pithball/line"
	"example.org/pithball/units/known"
)

// none says that nothing made this diagnosis: the zero value.
func (d *Diagnosis) none() bool { return d.posterior == nil }

// errNone is what the zero value answers.
func errNone() error {
	return known.Wrong("diagnosis", "none", "one that Diagnose returns")
}

// Line returns the line that the diagnosis is of.
func (d *Diagnosis) Line() *line.Line { return d.line }

// Survey returns the readings that the diagnosis was made from; they must not be
// changed.
func (d *Diagnosis) Survey() *Survey { return d.survey }
