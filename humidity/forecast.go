package humidity

import (
	"errors"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Spells says how long and when a series stays below a limit.
type Spells struct {
	Total   units.Time // time below the limit
	Longest units.Time // longest time below it without a break
	Count   int        // number of unbroken times
	First   int        // row where the first begins, −1 if there is none
	Last    int        // row where the last ends, −1 if there is none
}

// SpellsBelow counts the rows of a series of air, each of length step, in which
// the relative humidity at a place of temperature at lies below limit. Rows
// that hold the zero Air break a spell and count as neither. Errors are
// [*known.FieldError]s for at, limit and step.
func SpellsBelow(series []Air, step units.Time, at units.Temperature, limit units.RelativeHumidity) (Spells, error) {
	err := errors.Join(known.Positive("step", step), known.InRange("limit", limit, 0, units.RelativeHumidity(1)))
	if e := known.InRange("at", at, lowestT, highestT); e != nil {
		err = errors.Join(err, known.Wrong("at", at, "−100 … 200 °C"))
	}
	s := Spells{First: -1, Last: -1}
	if err != nil {
		return s, err
	}
	run, rows, longest := 0, 0, 0
	for i, a := range series {
		if !(a.At(at).RelativeHumidity() < limit) { // NaN is no spell
			run = 0
			continue
		}
		if run++; run == 1 {
			s.Count++
		}
		if s.First < 0 {
			s.First = i
		}
		s.Last = i
		rows++
		longest = max(longest, run)
	}
	s.Total = units.Time(float64(rows) * float64(step))
	s.Longest = units.Time(float64(longest) * float64(step))
	return s, nil
}
