package floor

import (
	"fmt"
	"time"

	"example.org/pithball/humidity"
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
	Dwell   string `json:"dwell"`  // for which the charge leaks before it is read; empty: not known
}

// Compared says what a cure did.
type Compared struct {
	Faults []Fault `json:"faults"`
	Before int     `json:"before"` // readings
	After  int     `json:"after"`
	Says   string  `json:"says"`
	Turned bool    `json:"turned"` // the sign turned
	More   int     `json:"more"`   // readings that each side needs; -1: no number does
	// Weather says why the weather of the two days is in it: "law", there are no decay times at two humidities;
	// "dwell", it is not told how long the charge leaks; "air", readings of a side have none; "counted", no law takes it
	// out of counts and weights; empty, it is taken out.
	Weather string `json:"weather"`
	Flag    string `json:"flag"` // of the law at the airs of the two days
}

// compare takes the field-meter readings of the running line, and takes the weather of the two days out where the
// readings hold decay times at two humidities.
func compare(q *days) (*Compared, error) {
	c := &Compared{Faults: []Fault{}}
	Fill(q.Line)
	s, err := q.survey()
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
	var airs [2]meanAir
	spots := map[units.Length]int{}
	for i := range s.Readings {
		r := &s.Readings[i]
		if r.Station != q.Station || r.Quantity != line.FieldMeter || !r.Running || r.AtLeast || r.AsField ||
			r.Time.IsZero() {
			continue
		}
		k := 0
		if !r.Time.Before(at) {
			k = 1
		}
		x := &side[k]
		airs[k].add(r)
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
	w, err := c.weathering(q, s, &side, &airs)
	if err != nil {
		c.Faults = faults("", err)
		return c, nil
	}
	x, err := upkeep.CompareReadings(side[0], side[1], upkeep.Scatter{Offset: 40 * units.Volt}, w)
	if err != nil {
		c.Faults = faults("", err)
		return c, nil
	}
	c.Says, c.Turned, c.More = x.String(), x.Turned, x.More
	if x.Validity != known.Inside {
		c.Flag = x.Validity.String()
	}
	return c, nil
}

// meanAir is the mean of the air in which readings were taken.
type meanAir struct {
	temperature, humidity float64 // [K], [1] sums
	n, without            int
}

func (m *meanAir) add(r *survey.Reading) {
	if !r.HasAir {
		m.without++
		return
	}
	m.temperature += float64(r.AirTemperature)
	m.humidity += float64(r.AirHumidity)
	m.n++
}

// weathering gives the airs to both sides and the law by which the weather is taken out; nil, with the reason, where
// one of what it needs is not known.
func (c *Compared) weathering(q *days, s *survey.Survey, side *[2]upkeep.Readings,
	airs *[2]meanAir) (*upkeep.Weathering,
	error) {
	var class humidity.Class
	if w, ok := q.Line["web"].(map[string]any); ok {
		if err := class.UnmarshalText([]byte(text(w, "humidity"))); err != nil {
			class = 0
		}
	}
	k, err := leakOf(s, class)
	if err != nil {
		return nil, err
	}
	switch {
	case k == nil:
		c.Weather = "law"
		return nil, nil
	case q.Dwell == "":
		c.Weather = "dwell"
		return nil, nil
	case airs[0].without+airs[1].without > 0:
		c.Weather = "air"
		return nil, nil
	}
	dwell, err := units.Parse[units.Time](q.Dwell)
	if err != nil {
		return nil, err
	}
	for i, a := range airs {
		if side[i].Air, err = humidity.NewAir(units.Temperature(a.temperature/float64(a.n)),
			units.RelativeHumidity(a.humidity/float64(a.n)), units.Atmosphere); err != nil {
			return nil, err
		}
	}
	return &upkeep.Weathering{Time: k.law, Dwell: dwell}, nil
}
