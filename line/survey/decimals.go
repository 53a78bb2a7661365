package survey

import (
	"errors"

	"example.org/pithball/internal/divided"
	"example.org/pithball/units/known"
)

// NumberColumns are the columns that hold a number, most with a unit: where semicolons or tabs divide the
// columns, a decimal comma is read in them.
func NumberColumns() []string {
	var out []string
	for i := range columns {
		if columns[i].number {
			out = append(out, columns[i].name)
		}
	}
	return out
}

// decimals reads the numbers of a survey that semicolons or tabs divide; nil, one that commas divide, changes nothing.
type decimals struct {
	comma   bool                 // one had a decimal comma
	point   []*RowError          // numbers with a point that would be thousands then
	changed map[string][2]string // of the row, by column: digits as they are read and as written
}

// withPoint writes a number with a decimal point.
func (d *decimals) withPoint(column, s string) (string, error) {
	if d == nil {
		return s, nil
	}
	n := divided.Read(s)
	switch {
	case n.Comma && n.Two():
		return "", known.Wrong("", s, n.Both(",")+"a comma before three digits is the decimal sign of one "+
			"reader and divides the thousands of another")
	case n.Comma:
		d.comma = true
		if d.changed == nil {
			d.changed = map[string][2]string{}
		}
		d.changed[column] = [2]string{n.Text, s}
	case n.Two() && len(d.point) < mostFaults:
		d.point = append(d.point, &RowError{Column: column, Err: known.Wrong("", s, n.Both(".")+
			"beside the decimal commas of this file a point before three digits may divide thousands")})
	}
	return n.Text, nil
}

// row gives what was noted of a row its line, and tells its faults in the words of the file.
func (d *decimals) row(line int, wrong []error) {
	if d == nil {
		return
	}
	for i := len(d.point) - 1; i >= 0 && d.point[i].Line == 0; i-- {
		d.point[i].Line = line
	}
	for _, err := range wrong {
		var e *RowError
		if !errors.As(err, &e) {
			continue
		}
		if w, ok := d.changed[e.Column]; ok {
			e.Err = divided.AsWritten(e.Err, w[0], w[1])
		}
	}
	clear(d.changed)
}

// doubtful are the numbers with a point that may be thousands, where the file has decimal commas.
func (d *decimals) doubtful() (faults []error) {
	if d == nil || !d.comma {
		return nil
	}
	for _, e := range d.point {
		faults = append(faults, e)
	}
	return faults
}
