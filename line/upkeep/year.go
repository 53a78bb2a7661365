package upkeep

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/internal/written"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Hall is the room in which the line stands.
type Hall struct {
	Room        humidity.Room     // ventilation, moisture gain, buffer; without humidifier
	Temperature units.Temperature // of the hall, −40 … 80 °C
	// Humidifier adds at most Most, and nothing as soon as the set point is met where
	// it is controlled: an air with that vapour, wherever the hygrometer hangs. A
	// Most of 0: none.
	Most     units.MassFlow
	SetPoint humidity.Air
	// AlwaysOn is a humidifier without control, which runs at Most.
	AlwaysOn bool
}

// Weather is a year outdoors: hour by hour, or the mean of each month.
type Weather struct {
	Hourly []humidity.Air // one an hour; the zero Air is a gap and counts as neither
	Begin  time.Time      // of the first hour; zero: 1 January of a year that begins on a Monday
	// Monthly is the mean dew point of each month from January on.
	Monthly *[12]units.Temperature
	// Within is the standard deviation of the hourly dew point inside a month.
	Within units.TemperatureDifference
}

// Spell is a run of weeks of which more than half the hours are over the limit.
type Spell struct {
	From, To time.Time // first and last hour
}

// Year is when a line runs over its limit. Three numbers are the 5, 50 and 95 %
// quantiles of what is known of the threshold: the drier the threshold, the fewer
// hours.
type Year struct {
	Binding   string           // the station that asks for the dampest air
	Threshold StationThreshold // of that station
	// Outdoor is the outdoor dew point below which the hall misses the threshold,
	// −150 °C if the humidifier holds it whatever the weather.
	Outdoor [3]units.Temperature
	Hours   [3]units.Time
	Weeks   [3]int // with more than half of their hours over; hourly weather only
	Shifts  [3]int // of 8 h, with any hour over; hourly weather only
	// Months is the share of each month that is over, at the median. [1]
	Months   [12]float64
	Driest   time.Month // the month with the largest share, the driest of equals: survey then
	Calendar []Spell    // at the median; hourly weather only
	// ByWeek is the share of each week of 168 h from the first hour on that is over, of its hours with air, at the
	// median; 0 of one without air; hourly weather only. [1]
	ByWeek  []float64
	Missing int // hours without air
}

// indoors is what the hall makes of outdoor air.
type indoors struct {
	room, wet humidity.Room // without and with the humidifier at its most
	hall      *Hall
	set       float64 // humidity ratio of the set point, −1 without humidifier
}

func (h *Hall) indoors() (indoors, error) {
	in := indoors{room: h.Room, wet: h.Room, hall: h, set: -1}
	err := errors.Join(known.InRange("hall.temperature", h.Temperature, units.Celsius(-40), units.Celsius(80)),
		known.NotNegative("hall.most", h.Most))
	if h.Room.Spec().Volume == 0 {
		err = errors.Join(err, known.Wrong("hall.room", "the zero Room", "a room made by NewRoom"))
	}
	if err != nil || h.Most == 0 {
		return in, err
	}
	switch {
	case h.AlwaysOn:
		in.set = math.Inf(1)
	case h.SetPoint == (humidity.Air{}):
		return in, known.Wrong("hall.setPoint", "the zero Air", "the air to which the humidifier is controlled, or AlwaysOn")
	default:
		in.set = float64(h.SetPoint.HumidityRatio())
	}
	in.wet, err = h.Room.Adding(h.Most)
	return in, err
}

// hold joins the hall without humidifier, dry, and with it at its most, wet: it runs
// no longer than its set point asks. Humidity ratios. [kg/kg]
func (in *indoors) hold(dry, wet float64) float64 { return max(dry, min(in.set, wet)) }

// outdoorFor is the outdoor dew point at which the hall comes to the humidity ratio
// of target.
func (in *indoors) outdoorFor(target humidity.Air) units.Temperature {
	room := in.room
	if in.set >= float64(target.HumidityRatio()) {
		room = in.wet // the set point is damp enough: it fails when the humidifier falls short
	}
	air, err := room.OutdoorFor(target.At(in.hall.Temperature), units.Celsius(0))
	if err != nil {
		return units.Celsius(-150) // the gain alone keeps it
	}
	return air.DewPoint()
}

// ForecastYear tells when the stations run over their limits in the weather of a
// year. The hall makes of outdoor air what ventilation, gain and humidifier make of
// it (package humidity, Room); the body at the place has the hall's vapour at its
// own temperature. Counting is monotonic in the threshold, so the quantiles of hours
// are the counts at its quantiles. Monthly: hours 730·Φ((T_c − T_m)/s) with the
// outdoor dew point T_c. Errors are [*known.FieldError]s.
func ForecastYear(needs []Need, h Hall, w Weather) (Year, error) {
	var errs []error
	if len(needs) == 0 || len(needs) > 1000 {
		errs = append(errs, known.Wrong("needs", fmt.Sprintf("%d stations", len(needs)), "1 … 1000 stations"))
	}
	in, err := h.indoors()
	errs = append(errs, err, w.check())
	for i := range needs {
		errs = append(errs, needs[i].check(fmt.Sprintf("needs[%d]", i)))
	}
	if err := errors.Join(errs...); err != nil {
		return Year{}, err
	}
	var out Year
	most := math.Inf(-1)
	for i := range needs {
		th, err := needs[i].Threshold()
		if err != nil {
			return Year{}, written.Fields(err, func(f string) string {
				return fmt.Sprintf("needs[%d]", i) + strings.TrimPrefix(f, "need")
			})
		}
		if x := float64(th.DewPoint[1]); x > most {
			most, out.Binding, out.Threshold = x, needs[i].Station, th
		}
	}
	var ratio [3]float64 // humidity ratio below which the place is too dry
	for k, td := range out.Threshold.DewPoint {
		if out.Threshold.Humidity[k] == 0 {
			out.Outdoor[k] = units.Celsius(-150)
			continue
		}
		target, err := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(max(td, h.Temperature)), humidity.DewPoint(td))
		if err != nil {
			return Year{}, err
		}
		ratio[k] = float64(target.HumidityRatio())
		out.Outdoor[k] = in.outdoorFor(target)
	}
	if w.Monthly != nil {
		out.monthly(&w)
		return out, nil
	}
	return out, out.hourly(&in, &w, ratio)
}

func (w *Weather) check() error {
	if w.Monthly == nil {
		if len(w.Hourly) < 24 || len(w.Hourly) > 24*366*100 {
			return known.Wrong("weather.hourly", fmt.Sprintf("%d hours", len(w.Hourly)), "24 … 878400 hours, or monthly means")
		}
		return nil
	}
	var errs []error
	if w.Hourly != nil {
		errs = append(errs, known.Wrong("weather.monthly", "hourly weather too", "one of the two"))
	}
	for i, t := range w.Monthly {
		errs = append(errs, known.InRange(fmt.Sprintf("weather.monthly[%d]", i), t, units.Celsius(-60), units.Celsius(40)))
	}
	return errors.Join(append(errs, known.Positive("weather.within", w.Within))...)
}

const hoursPerMonth = 730

func (y *Year) monthly(w *Weather) {
	for m, mean := range w.Monthly {
		for k, td := range y.Outdoor {
			share := 0.5 * numeric.Erfc(-float64(td.Sub(mean))/(float64(w.Within)*math.Sqrt2))
			y.Hours[k] += units.Time(share * hoursPerMonth * float64(units.Hour))
			if k == 1 {
				y.Months[m] = share
			}
		}
	}
	y.Driest = driest(y.Months, func(m int) float64 { return float64(w.Monthly[m]) })
}

// driest returns the month with the largest share, of equals that of the least dew.
func driest(share [12]float64, dew func(m int) float64) time.Month {
	best := 0
	for m := range share {
		if share[m] > share[best] || share[m] == share[best] && dew(m) < dew(best) {
			best = m
		}
	}
	return time.Month(best + 1)
}

func (y *Year) hourly(in *indoors, w *Weather, ratio [3]float64) error {
	begin := w.Begin
	if begin.IsZero() {
		begin = time.Date(2001, time.January, 1, 0, 0, 0, 0, time.UTC)
	}
	dry := make([]humidity.Air, len(w.Hourly))
	first := firstAir(w.Hourly)
	if first < 0 {
		return known.Wrong("weather.hourly", "no air at all", "hours with air")
	}
	follow := func(room humidity.Room, dst []humidity.Air) error {
		start, err := room.Steady(w.Hourly[first], in.hall.Temperature)
		if err != nil {
			return err
		}
		// Gaps are listed in the error and hold the zero Air, which counts as neither.
		_ = room.SeriesTo(dst, units.Hour, start, w.Hourly)
		return nil
	}
	if err := follow(in.room, dry); err != nil {
		return err
	}
	wet := dry
	if in.set >= 0 {
		wet = make([]humidity.Air, len(dry))
		if err := follow(in.wet, wet); err != nil {
			return err
		}
	}
	var c tally
	var month, dew [12]float64
	for i := range dry {
		x := float64(dry[i].HumidityRatio())
		if in.set >= 0 {
			x = in.hold(x, float64(wet[i].HumidityRatio()))
		}
		if math.IsNaN(x) {
			y.Missing++
			c.next(i, [3]bool{}, false)
			continue
		}
		over := [3]bool{x < ratio[0], x < ratio[1], x < ratio[2]}
		c.next(i, over, true)
		m := int(begin.Add(time.Duration(i)*time.Hour).Month()) - 1
		month[m]++
		dew[m] += x
		if over[1] {
			y.Months[m]++
		}
	}
	c.close(len(dry))
	for m := range month {
		if month[m] > 0 {
			y.Months[m] /= month[m]
			dew[m] /= month[m]
		} else {
			dew[m] = math.Inf(1)
		}
	}
	for k := range c.hours {
		y.Hours[k] = units.Time(float64(c.hours[k]) * float64(units.Hour))
	}
	y.Weeks, y.Shifts, y.ByWeek = c.weeks, c.shifts, c.byWeek
	y.Driest = driest(y.Months, func(m int) float64 { return dew[m] })
	for _, s := range c.spells {
		last := min((s[1]+1)*perWeek, len(dry)) - 1
		y.Calendar = append(y.Calendar, Spell{begin.Add(time.Duration(s[0]*perWeek) * time.Hour),
			begin.Add(time.Duration(last) * time.Hour)})
	}
	return nil
}

func firstAir(list []humidity.Air) int {
	for i := range list {
		if list[i] != (humidity.Air{}) {
			return i
		}
	}
	return -1
}

// tally counts hours, shifts of 8 h and weeks of 168 h.
type tally struct {
	hours, weeks, shifts [3]int
	inWeek, inShift      [3]int
	from, aired          int // hour at which the running week began, and its hours with air
	byWeek               []float64
	spells               [][2]int
}

const (
	perShift = 8
	perWeek  = 168
)

func (c *tally) next(i int, over [3]bool, air bool) {
	if i > 0 && i%perShift == 0 {
		c.shift()
	}
	if i > 0 && i%perWeek == 0 {
		c.week(i)
	}
	if air {
		c.aired++
	}
	for k, o := range over {
		if o {
			c.hours[k]++
			c.inWeek[k]++
			c.inShift[k]++
		}
	}
}

func (c *tally) shift() {
	for k := range c.inShift {
		if c.inShift[k] > 0 {
			c.shifts[k]++
		}
	}
	c.inShift = [3]int{}
}

func (c *tally) week(i int) {
	n := c.from / perWeek
	c.byWeek = append(c.byWeek, float64(c.inWeek[1])/float64(max(c.aired, 1)))
	for k := range c.inWeek {
		if 2*c.inWeek[k] <= i-c.from {
			continue
		}
		c.weeks[k]++
		if k != 1 {
			continue
		}
		if l := len(c.spells); l > 0 && c.spells[l-1][1] == n-1 {
			c.spells[l-1][1] = n
		} else {
			c.spells = append(c.spells, [2]int{n, n})
		}
	}
	c.inWeek, c.from, c.aired = [3]int{}, i, 0
}

// close ends the last shift and week, which may be short.
func (c *tally) close(n int) {
	c.shift()
	c.week(n)
}
