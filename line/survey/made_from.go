package survey

import "example.org/pithball/line"

// Line returns the line that the diagnosis is of.
func (d *Diagnosis) Line() *line.Line { return d.line }

// Survey returns the readings that the diagnosis was made from; they must not be
// changed.
func (d *Diagnosis) Survey() *Survey { return d.survey }
