package plants

import (
	"slices"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

// blunder makes a reading wrong: the sign, a digit too many or too few, another
// place, or kilovolts typed as volts. reach is the end of the field meter's range.
func blunder(d dice, rows []survey.Reading, i int, reach float64) {
	r := &rows[i]
	r.AtLeast = false
	switch d.IntN(4) {
	case 0:
		r.Value = -r.Value
	case 1:
		if d.chance(0.5) {
			r.Value *= 10
		} else {
			r.Value /= 10
		}
		full := reach
		if r.Quantity == line.OverRoller {
			full = 500
		}
		if r.Value > full || r.Value < -full {
			r.Value /= 100
		}
	case 2:
		var other []int
		for j := range rows {
			if rows[j].Quantity == r.Quantity && rows[j].Station != r.Station && !rows[j].AtLeast {
				other = append(other, j)
			}
		}
		if len(other) > 0 {
			r.Value = rows[pick(d, other...)].Value
		}
	case 3:
		if r.Quantity == line.FieldMeter {
			r.Value /= 1000
		} else {
			r.Value = -r.Value
		}
	}
}

// blunders spoils a share of the readings, and for kind Gross one of the
// voltmeter's; it returns which.
func blunders(d dice, k Kind, rows []survey.Reading, share, reach float64) []int {
	var out []int
	if k == NoGross {
		return nil
	}
	if k == Turned || k == Random {
		for i := range rows {
			switch {
			case k == Random && rows[i].Quantity == line.FieldMeter:
				rows[i].Value, rows[i].AtLeast = 4000*d.NormFloat64(), false
			case k == Random:
				rows[i].Value, rows[i].AtLeast = 30*d.NormFloat64(), false
			case rows[i].Quantity == line.OverRoller:
				rows[i].Value = -rows[i].Value
			}
		}
		return nil
	}
	for i := range rows {
		if d.chance(share) {
			blunder(d, rows, i, reach)
			out = append(out, i)
		}
	}
	if k == Gross {
		var volts []int
		for i := range rows {
			if rows[i].Quantity == line.OverRoller {
				volts = append(volts, i)
			}
		}
		if len(volts) > 0 {
			i := pick(d, volts...)
			blunder(d, rows, i, reach)
			out = append(out, i)
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}
