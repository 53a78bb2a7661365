package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"
	"time"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/examples/internal/days"
	"example.org/pithball/examples/survey/report"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/internal/written"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// seasonFile is what a forecast is made from.
type seasonFile struct {
	Schema   string       `json:"schema"`
	Name     string       `json:"name"`
	Note     string       `json:"note,omitempty"`
	Stations []seasonNeed `json:"stations"`
	Hall     seasonHall   `json:"hall"`
	// mean outdoor dew points from January on, within their scatter; or hours
	// a CSV file beside this one, one dew point an hour, in the columns time and dew point (divided by commas, or by
	// semicolons or tabs and with decimal commas): 2025-01-01 00:00,-3.2 °C; empty: a gap.
	Months []units.Temperature         `json:"months,omitempty"`
	Within units.TemperatureDifference `json:"within,omitempty"`
	Hours  string                      `json:"hours,omitempty"`
}

type seasonNeed struct {
	Station string                       `json:"station"`
	Charge  units.SurfaceChargeDensity   `json:"charge"`
	Spread  units.Ratio                  `json:"chargeSpread"`
	Limits  []units.SurfaceChargeDensity `json:"limits"`
	Dwell   units.Time                   `json:"dwell"`
	// of the body there, at which the water of the hall counts: of a web that is heated or cooled, its own (the
	// line's webTemperature).
	Temperature units.Temperature      `json:"temperature"`
	AirError    units.RelativeHumidity `json:"airError,omitempty"`
	Leak        days.Leak              `json:"leak"`
	// the calendar of complaints: a measurement of the limit.
	Log []struct {
		Label       string                 `json:"label,omitempty"`
		RH          units.RelativeHumidity `json:"relativeHumidity"`
		Temperature units.Temperature      `json:"temperature,omitempty"` // that of the station if left out
		Dwell       units.Time             `json:"dwell,omitempty"`       // that of the station if left out
		Trouble     bool                   `json:"trouble"`
	} `json:"log,omitempty"`
}

type seasonHall struct {
	Temperature units.Temperature `json:"temperature"`
	Volume      units.Volume      `json:"volume"`
	FreshAir    units.VolumeFlow  `json:"freshAir"`
	Gain        units.MassFlow    `json:"gain,omitempty"`
	Buffer      float64           `json:"buffer,omitempty"`
	Humidifier  *struct {
		Most        units.MassFlow         `json:"most"`
		AlwaysOn    bool                   `json:"alwaysOn,omitempty"`
		Temperature units.Temperature      `json:"temperature,omitempty"`
		Set         units.RelativeHumidity `json:"relativeHumidity,omitempty"`
	} `json:"humidifier,omitempty"`
}

const seasonSchema = "pithball season 1"

// yearOf is a forecast for one choice of limits.
type yearOf struct {
	Limit units.SurfaceChargeDensity `json:"limit"`
	upkeep.Year
	Log   []loggedAt // of the stations that have a log
	begin time.Time  // of hourly weather
}

// loggedAt is what the log of a station says of its limit.
type loggedAt struct {
	Station string
	upkeep.LoggedLimit
}

// logged judges a need by the log of its station, which stands in the file at a path.
func (s *seasonNeed) logged(n *upkeep.Need, path string) (out []loggedAt, err error) {
	if len(s.Log) == 0 {
		return nil, nil
	}
	var log []upkeep.Logged
	var errs []error
	for i, x := range s.Log {
		at := fmt.Sprintf("%s.log[%d]", path, i)
		t := x.Temperature
		if t == 0 {
			if t = s.Temperature; known.InRange("", t, units.Celsius(-40), units.Celsius(80)) != nil {
				t = units.Celsius(20) // it is told of the station
			}
		}
		a, err := days.Air(t, x.RH, at+".temperature", at+".relativeHumidity")
		errs = append(errs, err, known.NotNegative(at+".dwell", x.Dwell))
		log = append(log, upkeep.Logged{Label: x.Label, Air: a, Dwell: x.Dwell, Trouble: x.Trouble})
	}
	l, err := n.LimitFromLog(log)
	// The need is told with the forecast, an air and a dwell above.
	errs = append(errs, written.Under(err, "need", "", "log[", "", "log", path+".log"))
	return []loggedAt{{s.Station, l}}, errors.Join(errs...)
}

// text says what the log says.
func (l *loggedAt) text(b *strings.Builder) {
	from, to := "", ""
	if l.Above > 0 {
		from = fmt.Sprintf(" above %.2g µC/m² (%s)", 1e6*float64(l.Above), l.AboveBy)
	}
	if !math.IsInf(float64(l.Below), 0) {
		to = fmt.Sprintf(" below %.2g µC/m² (%s)", 1e6*float64(l.Below), l.BelowBy)
	}
	s := "By the log of complaints the limit at " + l.Station + " lies" + from
	if from != "" && to != "" {
		s += " and"
	}
	s += to + "."
	switch {
	case l.Mixed:
		s += " These cross: something else decides as well, or the log is wrong."
	case l.Contradicts:
		s += " The limit above contradicts that: one of them is wrong, so take both answers."
	}
	fmt.Fprintln(b, report.Wrap(s, 96, ""))
}

// forecast tells the year.
func forecast(o *options, stdout io.Writer) error {
	years, f, err := yearsOf(o.files, o.season)
	if err != nil {
		return err
	}
	if o.json {
		return encode(stdout, yearsJSON(f, years))
	}
	var b strings.Builder
	title(&b, f.Name, f.Note)
	for i := range years {
		years[i].text(&b, o.system)
	}
	notices(&b, ofForecast())
	_, err = io.WriteString(stdout, b.String())
	return err
}

// pageYears are the forecasts of a report; none without weather.
func (o *options) pageYears() ([]report.Year, error) {
	if o.season == "" {
		return nil, nil
	}
	years, f, err := yearsOf(o.files, o.season)
	if err != nil {
		return nil, err
	}
	var out []report.Year
	for i := range years {
		y := &years[i]
		var b strings.Builder
		y.text(&b, o.system)
		text, _, _ := strings.Cut(b.String(), "\n   Jan") // the row of months is a picture there
		out = append(out, report.Year{Limit: fmt.Sprintf("%.3g µC/m²", 1e6*float64(y.Limit)), Weeks: y.weeks(f),
			Lines: []string{strings.Join(strings.Fields(text), " ")}})
	}
	return out, nil
}

// weeks is the share of each week that is too dry: of monthly means by the normal law
// about a mean that runs from the middle of one month to that of the next, of hourly
// weather as counted, the mean where a week of January comes twice. nil where the weather does not matter.
func (y *yearOf) weeks(f *seasonFile) []float64 {
	if y.Threshold.Never {
		return nil
	}
	out := make([]float64, 52)
	if f.Hours != "" {
		n := make([]float64, len(out))
		for i, share := range y.ByWeek {
			k := min((y.begin.AddDate(0, 0, 7*i).YearDay()-1)/7, len(out)-1)
			out[k] += share
			n[k]++
		}
		for k := range out {
			out[k] /= max(n[k], 1)
		}
		return out
	}
	for i := range out {
		m := (float64(i)+0.5)*12/52 - 0.5 // months from the middle of January
		k := int(math.Floor(m))
		at := func(k int) float64 { return float64(f.Months[(k+12)%12]) }
		mean := at(k) + (m-float64(k))*(at(k+1)-at(k))
		out[i] = 0.5 * numeric.Erfc((mean-float64(y.Outdoor[1]))/float64(f.Within)/math.Sqrt2)
	}
	return out
}

func (y *yearOf) text(b *strings.Builder, s units.System) {
	th := &y.Threshold
	micro := float64(y.Limit) * 1e6
	if th.Never {
		fmt.Fprintf(b, "Limit %.3g µC/m²: the charge is below it in dry air already; the weather does not matter.\n\n", micro)
		return
	}
	fmt.Fprintf(b, "Limit %.3g µC/m²: over it below %.0f %%RH at %s (%.0f … %.0f), that is below a dew point there of\n"+
		"%s (%s … %s), outdoors %s (%s … %s).\n", micro, 100*float64(th.Humidity[1]), y.Binding,
		100*float64(th.Humidity[0]), 100*float64(th.Humidity[2]), outdoor(th.DewPoint[1], s), outdoor(th.DewPoint[0], s),
		outdoor(th.DewPoint[2], s), outdoor(y.Outdoor[1], s), outdoor(y.Outdoor[0], s), outdoor(y.Outdoor[2], s))
	fmt.Fprintf(b, "In doubt by: leak law ±%.1f, hygrometer ±%.1f, charge ±%.1f %%RH.\n", 100*float64(th.Law),
		100*float64(th.Air), 100*float64(th.Start))
	if th.Validity != known.Inside {
		fmt.Fprintf(b, "The leak law is used %v.\n", th.Validity)
	}
	if th.Unreached {
		fmt.Fprintln(b, "More than one body in twenty stays over the limit in saturated air: humidity is no cure for them.")
	}
	for i := range y.Log {
		y.Log[i].text(b)
	}
	var hours [3]float64
	for k, t := range y.Hours {
		hours[k] = float64(t) / float64(units.Hour)
	}
	fmt.Fprintf(b, "Of the year: %s", counted(hours, "h"))
	if y.Shifts[2] > 0 {
		fmt.Fprintf(b, ", %s, %s of which more than half", counted(floats(y.Shifts), "shifts"),
			counted(floats(y.Weeks), "weeks"))
	}
	fmt.Fprintf(b, ". Survey in %v.\n", y.Driest)
	for _, x := range y.Calendar {
		fmt.Fprintf(b, "  %s … %s\n", x.From.Format("2 January"), x.To.Format("2 January"))
	}
	const row = 13 // a quarter of a year
	for i, x := range y.ByWeek {
		if i == 0 {
			fmt.Fprintln(b, "Of each week, in %:")
		}
		if i%row == 0 {
			fmt.Fprintf(b, "  from %-13s", y.begin.AddDate(0, 0, 7*i).Format("2 January"))
		}
		fmt.Fprintf(b, " %3.0f", 100*x)
		if i%row == row-1 || i == len(y.ByWeek)-1 {
			fmt.Fprintln(b)
		}
	}
	if y.Missing > 0 {
		fmt.Fprintf(b, "%d hours have no record and count as neither.\n", y.Missing)
	}
	t := tabwriter.NewWriter(b, 0, 0, 1, ' ', tabwriter.AlignRight)
	for m := time.January; m <= time.December; m++ {
		fmt.Fprintf(t, "%s\t", m.String()[:3])
	}
	fmt.Fprintln(t, "")
	for _, x := range y.Months {
		fmt.Fprintf(t, "%.0f %%\t", 100*x)
	}
	fmt.Fprintln(t, "")
	t.Flush()
	fmt.Fprintln(b)
}

// counted writes "about what (low … high)" of hours and the like, which are whole.
func counted(x [3]float64, what string) string {
	low, middle, high := written.BandTo(1, x[0], x[1], x[2])
	return fmt.Sprintf("%s %s (%s … %s)", middle, what, low, high)
}

func floats(n [3]int) [3]float64 { return [3]float64{float64(n[0]), float64(n[1]), float64(n[2])} }

func outdoor(t units.Temperature, s units.System) string {
	if t <= units.Celsius(-149) {
		return "never"
	}
	return celsius(t, s)
}

// ofForecast and ofCompare are the cautions of what these commands lead to: to humidify,
// and to read again at a running line with ionisers off and on.
func ofForecast() []known.Notice { return []known.Notice{hazard.NoticeHumidity.Notice("")} }

func ofCompare() []known.Notice {
	return []known.Notice{hazard.NoticeNotApproval.Notice(""), hazard.NoticeReachIn.Notice("")}
}

// notices ends a text.
func notices(b *strings.Builder, list []known.Notice) {
	fmt.Fprint(b, "\nHazards and limits of use\n")
	for _, n := range list {
		fmt.Fprintf(b, "- %s\n", report.Wrap(n.String(), 94, "  "))
	}
}
