package floor

import (
	"bytes"
	"fmt"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// days is the request to compare the readings of one place before and after a moment.
type days struct {
	files
	Station string `json:"station"`
	Moment  string `json:"moment"` // "2026-01-14 10:05": readings from then on are after
}

// Compared says what a cure did.
type Compared struct {
	Faults []Fault `json:"faults"`
	Before int     `json:"before"` // readings
	After  int     `json:"after"`
	Says   string  `json:"says"`
	Turned bool    `json:"turned"` // the sign turned
	More   int     `json:"more"`   // readings that each side needs; -1: no number does
}

// compare takes the field-meter readings of the running line. The page knows no leak law of the goods, so the weather
// of the two days is not taken out, and the answer says so.
func compare(q *days) (*Compared, error) {
	c := &Compared{Faults: []Fault{}}
	csv, err := SurveyFile(q.Rows)
	if err != nil {
		return nil, err
	}
	s, err := survey.ReadSurvey(bytes.NewReader(csv))
	if err != nil {
		c.Faults = faults("survey", err)
		return c, nil
	}
	at, err := time.Parse("2006-01-02 15:04", q.Moment)
	if err != nil {
		c.Faults = faults("", known.Wrong("moment of the change", q.Moment, "a date and a time"))
		return c, nil
	}
	var side [2]upkeep.Readings
	spots := map[units.Length]int{}
	for i := range s.Readings {
		r := &s.Readings[i]
		if r.Station != q.Station || r.Quantity != line.FieldMeter || !r.Running || r.AtLeast || r.AsField ||
			r.Time.IsZero() {
			continue
		}
		x := &side[0]
		if !r.Time.Before(at) {
			x = &side[1]
		}
		spot := 1000 + i // where nobody wrote down the spot, each reading is one of its own
		if r.Cross != 0 {
			if _, ok := spots[r.Cross]; !ok {
				spots[r.Cross] = len(spots)
			}
			spot = spots[r.Cross]
		}
		x.Values = append(x.Values, units.DisplayVoltage(r.Value-r.Zero))
		x.Spots = append(x.Spots, spot)
	}
	c.Before, c.After = len(side[0].Values), len(side[1].Values)
	if c.Before < 2 || c.After < 2 {
		c.Faults = faults("", fmt.Errorf("%d readings before and %d after at %q: want two or more on each side",
			c.Before, c.After, q.Station))
		return c, nil
	}
	x, err := upkeep.CompareReadings(side[0], side[1], upkeep.Scatter{Offset: 40 * units.Volt}, nil)
	if err != nil {
		c.Faults = faults("", err)
		return c, nil
	}
	c.Says, c.Turned, c.More = x.String(), x.Turned, x.More
	return c, nil
}
