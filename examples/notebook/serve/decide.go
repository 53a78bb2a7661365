package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/examples/internal/days"
	"example.org/pithball/examples/survey/report"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// decideParams asks for a plan; what is left out is as the library has it.
type decideParams struct {
	Line   document    `json:"line"`
	Survey document    `json:"survey,omitempty"` // without one the description alone speaks
	Units  string      `json:"units,omitempty"`
	Speed  units.Speed `json:"speed,omitempty"`
	Chance float64     `json:"chance,omitempty"`
	Faces  bool        `json:"faces,omitempty"`
	Site   decideSite  `json:"site,omitempty"`
}

// decideSite is [cure.Site]; what nobody answers may be left out.
type decideSite struct {
	Safety         upkeep.SafetyAnswers   `json:"safety,omitempty"`
	Prices         cure.Prices            `json:"prices,omitempty"`
	Leak           *cure.LeakLaw          `json:"leak,omitempty"`
	WebTemperature units.Temperature      `json:"webTemperature,omitempty"`
	Devices        map[string]cure.Device `json:"devices,omitempty"`
}

func systemOf(name string) (units.System, error) {
	switch name {
	case "", "metric":
		return units.Metric, nil
	case "us":
		return units.US, nil
	}
	return units.Metric, known.Wrong("units", name, "metric or us")
}

type (
	decidedCure struct {
		Step   string   `json:"step"`
		What   string   `json:"what"`
		Before float64  `json:"before"`
		After  float64  `json:"after"`
		Chosen bool     `json:"chosen"`
		Reason string   `json:"reason"`
		Raises []string `json:"raises"`
	}
	decidedPlace struct {
		Name string          `json:"name"`
		Now  *cure.Quantiles `json:"now_5_50_95_C_per_m2"`
		Then cure.Quantiles  `json:"then_5_50_95_C_per_m2"`
		Over float64         `json:"over_then"`
	}
)

func cures(list []cure.Cure, set []int) []decidedCure {
	out := []decidedCure{}
	for i, c := range list {
		var what []string
		for _, x := range c.Changes {
			what = append(what, fmt.Sprint(x))
		}
		out = append(out, decidedCure{c.Step.String(), strings.Join(what, ", "), c.Before, c.After, slices.Contains(set, i),
			c.Reason, append([]string{}, c.Raises...)})
	}
	return out
}

// decide plans the cures of a line as its survey left it known.
func decide(ctx context.Context, raw []byte) (any, error) {
	var p decideParams
	if err := readParams(raw, &p); err != nil {
		return nil, err
	}
	system, err := systemOf(p.Units)
	if err != nil {
		return nil, err
	}
	var l *line.Line
	var s *survey.Survey
	if p.Survey == "" {
		l, err = readLine(p.Line)
	} else {
		l, s, err = readBoth(p.Line, p.Survey)
	}
	if err != nil {
		return nil, err
	}
	site := cure.Site(p.Site)
	if err := site.Check(); err != nil {
		return nil, written.Fields(err, func(field string) string { return "site." + field })
	}
	var found *survey.Diagnosis
	var m *cure.Calibrated
	if s == nil {
		m, err = cure.Assume(l, &site)
	} else {
		if found, err = survey.DiagnoseContext(ctx, l, s); err != nil {
			return nil, err
		}
		m, err = cure.Calibrate(found, &site)
	}
	if err != nil {
		return nil, err
	}
	d := l.Description()
	hazards, err := upkeep.Hazards(&d, site.Safety, found)
	if err != nil {
		return nil, err
	}
	plan, err := m.PlanContext(ctx, cure.Aim{Speed: p.Speed, Chance: p.Chance, Faces: p.Faces})
	if err != nil {
		return nil, err
	}
	places := []decidedPlace{}
	var now, then *cure.Prediction
	if plan.Stop == "" {
		if now, then, err = outlook(m, plan); err != nil {
			return nil, err
		}
		for _, s := range then.Stations {
			if s.Kind != line.Place && s.Kind != line.Winder {
				continue
			}
			x := decidedPlace{Name: s.Name, Then: s.Net, Over: s.Over}
			for i := range now.Stations {
				if now.Stations[i].Name == s.Name {
					x.Now = &now.Stations[i].Net
				}
			}
			places = append(places, x)
		}
	}
	words := report.Decide(plan, now, then, m.Limit(), system)
	var text strings.Builder
	words.Text(&text)
	return map[string]any{"stop": plan.Stop, "before": number(plan.Before), "after": number(plan.After),
		"reached": plan.Reached, "fastest_m_per_s": number(plan.Fastest.Speed), "cures": cures(plan.Cures, plan.Set),
		"refused": cures(plan.Refused, nil), "places": places, "measure_next": words.Test, "text": text.String(),
		"notices": report.Merged(hazards, system), "figures": pictures("outlook", words.Picture())}, nil
}

// outlook predicts the line at the speed that is wanted, without any change and with what was chosen.
func outlook(m *cure.Calibrated, plan *cure.Plan) (now, then *cure.Prediction, err error) {
	fast, err := m.Try(cure.Run{Speed: plan.Aim.Speed})
	if err != nil {
		return nil, nil, err
	}
	var chosen []cure.Change
	for _, k := range plan.Set {
		chosen = append(chosen, plan.Cures[k].Changes...)
	}
	with, err := fast.Try(chosen...)
	if err != nil {
		return nil, nil, err
	}
	a, b := fast.Predict(), with.Predict()
	return &a, &b, nil
}

func pictures(name, svg string) map[string]string {
	if svg == "" {
		return map[string]string{}
	}
	return map[string]string{name: svg}
}

// seasonParams asks when in a year a place is over its limit.
type seasonParams struct {
	Units       string                     `json:"units,omitempty"`
	Station     string                     `json:"station,omitempty"`
	Charge      units.SurfaceChargeDensity `json:"charge"`           // made, as magnitude
	Spread      units.Ratio                `json:"spread,omitempty"` // of it, relative
	Limit       units.SurfaceChargeDensity `json:"limit"`
	Dwell       units.Time                 `json:"dwell"`
	Temperature units.Temperature          `json:"temperature"` // of the goods at the place
	Leak        days.Leak                  `json:"leak"`
	Hall        struct {
		Temperature units.Temperature `json:"temperature"`
		Volume      units.Volume      `json:"volume,omitempty"`
		FreshAir    units.VolumeFlow  `json:"fresh_air,omitempty"`
		Gain        units.MassFlow    `json:"gain,omitempty"` // of water vapour
	} `json:"hall"`
	Months []units.Temperature         `json:"months,omitempty"` // twelve mean dew points outdoors
	Within units.TemperatureDifference `json:"within,omitempty"` // their scatter inside a month
	Hours  []units.Temperature         `json:"hours,omitempty"`  // or one dew point an hour
	Begin  string                      `json:"begin,omitempty"`  // the first of them, 2025-01-01 00:00
}

func (p *seasonParams) weather() (w upkeep.Weather, err error) {
	if len(p.Hours) == 0 {
		if len(p.Months) != 12 {
			return w, known.Wrong("months", fmt.Sprintf("%d dew points", len(p.Months)), "12, or hours")
		}
		w.Monthly, w.Within = (*[12]units.Temperature)(p.Months), p.Within
		return w, nil
	}
	if len(p.Months) > 0 {
		return w, known.Wrong("months", "hours as well", "one of both")
	}
	if w.Begin, err = time.Parse("2006-01-02 15:04", p.Begin); err != nil {
		return w, known.Wrong("begin", p.Begin, "a time such as 2025-01-01 00:00")
	}
	for i, dew := range p.Hours {
		a, err := humidity.AirFrom(units.Atmosphere, humidity.DryBulb(max(dew, units.Celsius(0))), humidity.DewPoint(dew))
		if err != nil {
			return w, fmt.Errorf("hours[%d]: %w", i, err)
		}
		w.Hourly = append(w.Hourly, a)
	}
	return w, nil
}

// forecast tells the dew point below which a place is over its limit, and when in a year that is.
func forecast(raw []byte) (any, error) {
	var p seasonParams
	if err := readParams(raw, &p); err != nil {
		return nil, err
	}
	system, err := systemOf(p.Units)
	if err != nil {
		return nil, err
	}
	law, err := p.Leak.Law("leak")
	if err != nil {
		return nil, written.Fields(err, asClientCalls)
	}
	w, err := p.weather()
	if err != nil {
		return nil, err
	}
	h := upkeep.Hall{Temperature: p.Hall.Temperature}
	if p.Hall.Volume == 0 && p.Hall.FreshAir == 0 { // without a source of water the dew point is that outdoors
		p.Hall.Volume, p.Hall.FreshAir = 1000*units.CubicMetre, 0.5*units.CubicMetrePerSecond
	}
	if h.Room, err = humidity.NewRoom(humidity.RoomSpec{Volume: p.Hall.Volume, Ventilation: p.Hall.FreshAir,
		Gain: p.Hall.Gain}); err != nil {
		return nil, err
	}
	charge := math.Abs(float64(p.Charge))
	start := known.Band{Value: charge, Spread: charge * float64(p.Spread), Kind: known.Normal}
	if p.Spread == 0 {
		start.Kind = known.Exact
	}
	y, err := upkeep.ForecastYear([]upkeep.Need{{Station: p.Station, Start: start, Limit: p.Limit, Dwell: p.Dwell,
		Leak: law,
		At:   p.Temperature}}, h, w)
	if err != nil {
		return nil, err
	}
	three := func(at func(k int) float64) [3]number { return [3]number{number(at(0)), number(at(1)), number(at(2))} }
	th := &y.Threshold
	out := map[string]any{"never": th.Never, "driest_month": int(y.Driest), "missing_hours": y.Missing,
		"unreached":                   th.Unreached,
		"relative_humidity_5_50_95":   three(func(k int) float64 { return float64(th.Humidity[k]) }),
		"dew_point_5_50_95_K":         three(func(k int) float64 { return float64(th.DewPoint[k]) }),
		"outdoor_dew_point_5_50_95_K": three(func(k int) float64 { return outdoors(y.Outdoor[k]) }),
		"over_5_50_95_s":              three(func(k int) float64 { return float64(y.Hours[k]) }),
		"share_by_month":              y.Months,
		"validity":                    th.Validity.String(),
		"notices":                     []known.Notice{hazard.NoticeHumidity.Notice("")},
		"figures":                     pictures("months", report.MonthPicture(y.Months)),
		"text":                        yearText(&y, system)}
	spells := [][2]string{}
	for _, s := range y.Calendar {
		spells = append(spells, [2]string{s.From.Format("01-02"), s.To.Format("01-02")})
	}
	out["calendar"] = spells
	return out, nil
}

// outdoors is NaN where no weather brings the place over its limit.
func outdoors(t units.Temperature) float64 { // [K]
	if t <= units.Celsius(-149) {
		return math.NaN()
	}
	return float64(t)
}

func yearText(y *upkeep.Year, system units.System) string {
	th := &y.Threshold
	if th.Never {
		return "The charge is below the limit in dry air already; the weather does not matter.\n"
	}
	c := func(t units.Temperature) string {
		if t <= units.Celsius(-149) {
			return "never"
		}
		return strings.Replace(units.Display(t, system, 2), "-", "−", 1)
	}
	h := func(k int) float64 { return float64(y.Hours[k]) / float64(units.Hour) }
	low, middle, high := written.BandTo(1, h(0), h(1), h(2))
	s := fmt.Sprintf("Over the limit below %.0f %%RH (%.0f … %.0f), that is below a dew point of %s (%s … %s), "+
		"outdoors %s "+
		"(%s … %s).\nOf the year: %s h (%s … %s). Survey in %v.\n", 100*float64(th.Humidity[1]),
		100*float64(th.Humidity[0]), 100*float64(th.Humidity[2]), c(th.DewPoint[1]), c(th.DewPoint[0]), c(th.DewPoint[2]),
		c(y.Outdoor[1]), c(y.Outdoor[0]), c(y.Outdoor[2]), middle, low, high, y.Driest)
	if th.Validity != known.Inside {
		s += fmt.Sprintf("The leak law is used %v.\n", th.Validity)
	}
	if th.Unreached {
		s += "More than one body in twenty stays over the limit in saturated air: humidity is no cure for them.\n"
	}
	return s
}
