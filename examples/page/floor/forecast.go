package floor

import (
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/pithball/humidity"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// season is the request for when in a year the line runs over its limit.
type season struct {
	files
	Season struct {
		Charge      string    `json:"charge"`      // made, as magnitude
		Limit       string    `json:"limit"`       // empty: that of the line
		Dwell       string    `json:"dwell"`       // for which it leaks before it matters
		Temperature string    `json:"temperature"` // of the goods there
		Hall        string    `json:"hall"`        // temperature of the hall
		Months      []string  `json:"months"`      // twelve mean dew points outdoors, from January
		Within      string    `json:"within"`      // their scatter inside a month; empty: 4 K
		Decays      []decayed `json:"decays"`      // of sheets, which are no web: with a limit, in place of line and readings
	} `json:"season"`
}

// Foreseen is the year in words and shares.
type Foreseen struct {
	Faults   []Fault     `json:"faults"`
	Never    bool        `json:"never"`    // dry air does not bring it over the limit
	Below    string      `json:"below"`    // humidity at the place below which it is over
	DewPoint string      `json:"dewPoint"` // the same as a dew point at the place
	Outdoor  string      `json:"outdoor"`  // and outdoors
	Hours    string      `json:"hours"`    // of a year
	Months   [12]float64 `json:"months"`   // share of each month that is over
	Driest   string      `json:"driest"`   // the month in which to survey
	Flag     string      `json:"flag"`     // of the law of the leak
	Wet      bool        `json:"wet"`      // saturated air does not cure one in twenty
}

// hallVolume and hallAir are those of an unmoistened hall: without a source of water its dew point is that outdoors,
// whatever they are.
const (
	hallVolume = 1000 * units.CubicMetre
	hallAir    = units.VolumeFlow(0.5) // [m³/s]
)

// forecast takes the law of the leak from the decay times among the readings.
func forecast(q *season) (*Foreseen, error) {
	f := &Foreseen{Faults: []Fault{}}
	if len(q.Season.Decays) > 0 {
		law, err := lawOf(q.Season.Decays)
		var y upkeep.Year
		if err == nil && q.Season.Limit == "" {
			err = known.Wrong("limit", "", "the charge that is too much")
		}
		if err == nil {
			y, err = q.year(law, 0)
		}
		if err != nil {
			f.Faults = faults("", err)
			return f, nil
		}
		f.write(&y, q.system())
		return f, nil
	}
	Fill(q.Line)
	d, l, fs := lineOf(&q.files)
	if fs != nil {
		f.Faults = fs
		return f, nil
	}
	law, err := q.leak(d.Web.Humidity)
	var y upkeep.Year
	if err == nil {
		y, err = q.year(law, l.Limit())
	}
	if err != nil {
		f.Faults = faults("", err)
		return f, nil
	}
	f.write(&y, q.system())
	return f, nil
}

// leak is the law of the decay times among the readings.
func (q *season) leak(class humidity.Class) (law humidity.LogLinear[units.Time], err error) {
	s, err := q.survey()
	if err != nil {
		return law, err
	}
	k, err := leakOf(s, class)
	if err == nil && k == nil {
		err = known.Wrong("decay times", "none", "two among the readings, at humidities 3 %RH or more apart")
	}
	if err != nil {
		return law, err
	}
	return k.law, nil
}

func (q *season) year(law humidity.LogLinear[units.Time], limit units.SurfaceChargeDensity) (y upkeep.Year, err error) {
	x := &q.Season
	n := upkeep.Need{Station: "the place", Limit: limit, Leak: law}
	h := upkeep.Hall{}
	w := upkeep.Weather{Monthly: new([12]units.Temperature), Within: 4 * units.KelvinDifference}
	charge, err := units.Parse[units.SurfaceChargeDensity](x.Charge)
	n.Start = known.Band{Value: math.Abs(float64(charge)), Spread: 0.2 * math.Abs(float64(charge)), Kind: known.Normal}
	if err == nil && x.Limit != "" {
		n.Limit, err = units.Parse[units.SurfaceChargeDensity](x.Limit)
	}
	if err == nil {
		n.Dwell, err = units.Parse[units.Time](x.Dwell)
	}
	if err == nil {
		n.At, err = units.Parse[units.Temperature](x.Temperature)
	}
	if err == nil {
		h.Temperature, err = units.Parse[units.Temperature](x.Hall)
	}
	if err == nil && x.Within != "" {
		w.Within, err = units.Parse[units.TemperatureDifference](x.Within)
	}
	if err == nil && len(x.Months) != 12 {
		err = known.Wrong("months", fmt.Sprintf("%d dew points", len(x.Months)), "12, from January on")
	}
	for i := 0; err == nil && i < 12; i++ {
		w.Monthly[i], err = units.Parse[units.Temperature](x.Months[i])
	}
	if err == nil {
		h.Room, err = humidity.NewRoom(humidity.RoomSpec{Volume: hallVolume, Ventilation: hallAir})
	}
	if err != nil {
		return y, err
	}
	return upkeep.ForecastYear([]upkeep.Need{n}, h, w)
}

func (f *Foreseen) write(y *upkeep.Year, system units.System) {
	th := &y.Threshold
	if f.Never = th.Never; f.Never {
		return
	}
	f.Below = fmt.Sprintf("%.0f %%RH (%.0f … %.0f)", 100*float64(th.Humidity[1]), 100*float64(th.Humidity[0]),
		100*float64(th.Humidity[2]))
	temperatures := func(t [3]units.Temperature) string {
		var s [3]string
		for i, x := range t {
			if s[i] = strings.Replace(units.Display(x, system, 2), "-", "−", 1); x <= units.Celsius(-149) {
				s[i] = "never"
			}
		}
		return fmt.Sprintf("%s (%s … %s)", s[1], s[0], s[2])
	}
	f.DewPoint, f.Outdoor = temperatures(th.DewPoint), temperatures(y.Outdoor)
	hours := func(k int) float64 { return float64(y.Hours[k]) / float64(units.Hour) }
	f.Hours = fmt.Sprintf("%.0f (%.0f … %.0f)", hours(1), hours(0), hours(2))
	f.Months, f.Driest, f.Wet = y.Months, y.Driest.String(), th.Unreached
	if y.Driest < time.January || y.Driest > time.December {
		f.Driest = ""
	}
	if th.Validity != known.Inside {
		f.Flag = th.Validity.String()
	}
}
