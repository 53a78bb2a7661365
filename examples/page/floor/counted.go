package floor

import (
	"fmt"
	"slices"
	"strconv"

	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// counted is the request to compare what people counted or weighed before and after a change: it needs no meter, and
// serves goods of any kind.
type counted struct {
	What   string   `json:"what"`   // "events", stoppages or rejects shift by shift; "weights", of filled doses
	Before []string `json:"before"` // numbers of events, or weights with their unit
	After  []string `json:"after"`
}

// count compares events by their rate and weights by their scatter.
func count(q *counted) (*Compared, error) {
	c := &Compared{Faults: []Fault{}, Before: len(q.Before), After: len(q.After), Weather: "counted"}
	var x upkeep.Comparison
	var err error
	switch q.What {
	case "events":
		var side [2]upkeep.Counts
		if side[0].Events, err = each(q.Before, "before", strconv.Atoi); err == nil {
			side[1].Events, err = each(q.After, "after", strconv.Atoi)
		}
		if err == nil {
			x, err = upkeep.CompareCounts(side[0], side[1], known.Band{})
		}
	case "weights":
		var side [2]upkeep.Weights
		if side[0].Values, err = each(q.Before, "before", units.Parse[units.Mass]); err == nil {
			side[1].Values, err = each(q.After, "after", units.Parse[units.Mass])
		}
		if err == nil {
			x, err = upkeep.CompareScatter(side[0], side[1])
		}
	default:
		err = known.Wrong("what", q.What, "events or weights")
	}
	if err != nil {
		c.Faults = faults("", err)
		return c, nil
	}
	c.Says, c.Turned, c.More = x.String(), x.Turned, x.More
	return c, nil
}

func each[T any](list []string, side string, read func(string) (T, error)) ([]T, error) {
	if len(list) == 0 || slices.Contains(list, "") {
		return nil, known.Wrong(side, "", "one number or more")
	}
	out := make([]T, len(list))
	for i, s := range list {
		var err error
		if out[i], err = read(s); err != nil {
			return nil, known.Wrong(fmt.Sprintf("%s[%d]", side, i), s, "a number as the one that is counted or weighed")
		}
	}
	return out, nil
}
