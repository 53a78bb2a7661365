package main

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"example.org/pithball/examples/internal/days"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/divided"
	"example.org/pithball/internal/plain"
	"example.org/pithball/internal/written"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// yearsOf reads a season and works out one year for each limit of its first station.
func yearsOf(in files, path string) (out []yearOf, f *seasonFile, err error) {
	f = &seasonFile{}
	_, err = in.json(path, "season.json", f, func() (err error) {
		out, err = f.years(in, path)
		return err
	})
	return out, f, err
}

// years works the file out; faults have its paths.
func (f *seasonFile) years(in files, path string) ([]yearOf, error) {
	h, errHall := f.hall()
	w, errWeather := f.weather(in, path)
	needs, errNeeds := f.needs()
	var errs []error
	for i := range needs {
		_, err := f.Stations[i].logged(&needs[i], fmt.Sprintf("stations[%d]", i))
		errs = append(errs, err)
	}
	if err := errors.Join(schema(f.Schema, seasonSchema), errNeeds, errHall, errWeather,
		errors.Join(errs...)); err != nil {
		_, more := upkeep.ForecastYear(needs, h, w) // for what it says of the rest
		return nil, errors.Join(err, f.paths(more, errHall != nil, errWeather != nil))
	}
	var out []yearOf
	for k, limit := range f.Stations[0].Limits {
		var logs []loggedAt
		for i := range needs {
			needs[i].Limit = f.Stations[i].Limits[k]
			l, err := f.Stations[i].logged(&needs[i], fmt.Sprintf("stations[%d]", i))
			if err != nil {
				return nil, err
			}
			logs = append(logs, l...)
		}
		y, err := upkeep.ForecastYear(needs, h, w)
		if err != nil {
			return nil, f.paths(err, false, false)
		}
		out = append(out, yearOf{limit, y, logs, w.Begin})
	}
	return out, nil
}

// needs are those of all stations, at the first limit.
func (f *seasonFile) needs() (needs []upkeep.Need, err error) {
	var errs []error
	if len(f.Stations) == 0 || len(f.Stations[0].Limits) == 0 {
		errs = append(errs, known.Wrong("stations", "", "a station with a limit or more"))
	}
	for i := range f.Stations {
		s := &f.Stations[i]
		at := fmt.Sprintf("stations[%d]", i)
		law, err := s.Leak.Law(at + ".leak")
		errs = append(errs, err, known.NotNegative(at+".chargeSpread", s.Spread))
		if got, want := len(s.Limits), len(f.Stations[0].Limits); got != want {
			errs = append(errs, known.Wrong(at+".limits", got, fmt.Sprintf("%d, as of the first station", want)))
		}
		for k, limit := range s.Limits {
			errs = append(errs, known.Positive(fmt.Sprintf("%s.limits[%d]", at, k), limit))
		}
		start := known.Band{Value: float64(s.Charge), Spread: float64(s.Charge) * float64(s.Spread), Kind: known.Normal}
		if s.Spread == 0 {
			start.Kind = known.Exact
		}
		n := upkeep.Need{Station: s.Station, Start: start, Limit: units.SurfaceChargeDensity(1), Dwell: s.Dwell, Leak: law,
			At:       s.Temperature,
			AirError: s.AirError}
		if len(s.Limits) > 0 && s.Limits[0] > 0 {
			n.Limit = s.Limits[0]
		}
		needs = append(needs, n)
	}
	return needs, errors.Join(errs...)
}

// paths gives faults of a forecast the paths of the file. What follows from parts that could not be made is
// told with them already, as are the parts of the stations.
func (f *seasonFile) paths(err error, noHall, noWeather bool) error {
	rules := []string{"needs[", "needs["}
	if noHall {
		rules = append(rules, "hall.room", "", "hall.setPoint", "", "hall.most", "")
	}
	if noWeather {
		rules = append(rules, "weather", "")
	}
	for i := range f.Stations {
		need, at := fmt.Sprintf("needs[%d].", i), fmt.Sprintf("stations[%d].", i)
		leak := at + "leak"
		if _, err := f.Stations[i].Leak.Law(leak); err != nil {
			leak = ""
		}
		rules = slices.Concat([]string{need + "start.spread", "", need + "start", at + "charge", need + "limit", at +
			"limits",
			need + "at", at + "temperature", need + "leak", leak, need, at}, rules)
	}
	rules = append(rules, "hall.setPoint", "hall.humidifier", "hall.most", "hall.humidifier.most",
		"gain", "hall.humidifier.most", "weather.monthly", "months", "weather.within", "within", "weather.hourly", "hours")
	return written.Under(err, rules...)
}

func (f *seasonFile) hall() (upkeep.Hall, error) {
	h := upkeep.Hall{Temperature: f.Hall.Temperature}
	var err, wet error
	h.Room, err = humidity.NewRoom(humidity.RoomSpec{Volume: f.Hall.Volume, Ventilation: f.Hall.FreshAir,
		Gain: f.Hall.Gain, Buffer: f.Hall.Buffer})
	err = written.Under(err, "volume", "hall.volume", "ventilation", "hall.freshAir", "gain", "hall.gain", "buffer",
		"hall.buffer")
	if x := f.Hall.Humidifier; x != nil {
		h.Most, h.AlwaysOn = x.Most, x.AlwaysOn
		wet = known.NotNegative("hall.humidifier.most", x.Most)
		if !x.AlwaysOn {
			var set error
			h.SetPoint, set = days.Air(x.Temperature, x.Set, "hall.humidifier.temperature", "hall.humidifier.relativeHumidity")
			wet = errors.Join(wet, set)
		}
	}
	return h, errors.Join(err, wet)
}

func (f *seasonFile) weather(in files, path string) (upkeep.Weather, error) {
	var w upkeep.Weather
	if f.Hours == "" {
		if len(f.Months) != 12 {
			return w, known.Wrong("months", fmt.Sprintf("%d dew points", len(f.Months)), "12, or hours")
		}
		w.Monthly, w.Within = (*[12]units.Temperature)(f.Months), f.Within
		return w, nil
	}
	if path == "" || f.Months != nil {
		return w, known.Wrong("hours", f.Hours, "a file beside this one, and no months")
	}
	b, name, err := in.read(filepath.Join(filepath.Dir(path), f.Hours), "")
	if err != nil {
		return w, err
	}
	if w.Hourly, w.Begin, err = readHours(bytes.NewReader(b)); err != nil {
		return w, named(name, err)
	}
	return w, nil
}

// mostHours is the greatest length of a file of hours in bytes, mostFaults the number of its faults that are told.
const (
	mostHours  = 64 << 20
	mostFaults = 100
)

// readHours reads one row an hour, "time,dew point" with units, such as
// "2025-01-01 00:00,-3.2 °C"; an empty dew point is a gap. Semicolons or tabs may divide the columns, and a comma is
// the decimal sign then: "2025-01-01 00:00;-3,2 °C". All faults of all rows come
// back, up to a hundred, each with its line.
func readHours(r io.Reader) (list []humidity.Air, begin time.Time, err error) {
	b, err := io.ReadAll(io.LimitReader(r, mostHours+1))
	first := func(err error) ([]humidity.Air, time.Time, error) {
		return nil, begin, &survey.RowError{Line: 1, Err: err}
	}
	switch {
	case err != nil:
		return nil, begin, err
	case len(b) > mostHours:
		return first(known.Wrong("hours", "more text", fmt.Sprintf("at most %d MiB", mostHours>>20)))
	case plain.Encoded(b) != "":
		return first(known.Wrong("hours", "text in "+plain.Encoded(b), "text in UTF-8"))
	}
	c := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(b, []byte("\ufeff"))))
	c.FieldsPerRecord, c.Comma = -1, divided.By(b)
	head, err := c.Read()
	if err != nil || !slices.Equal(head, []string{"time", "dew point"}) {
		return first(known.Wrong("row", strings.Join(head, string(c.Comma)), "time"+string(c.Comma)+"dew point"))
	}
	var errs []error
	var due time.Time
	for len(errs) < mostFaults {
		f, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var p *csv.ParseError
		if errors.As(err, &p) {
			errs = append(errs, &survey.RowError{Line: p.Line, Err: fmt.Errorf("not a CSV row: %w", p.Err)})
			break
		}
		line, _ := c.FieldPos(0)
		fault := func(column string, err error) {
			errs = append(errs, &survey.RowError{Line: line, Column: column, Err: err})
		}
		if len(f) != 2 {
			fault("", known.Wrong("row", fmt.Sprintf("%d fields", len(f)), "2, a time and a dew point"))
			due = due.Add(time.Hour)
			continue
		}
		const form = "2006-01-02 15:04"
		at, err := time.Parse(form, f[0])
		switch {
		case err != nil:
			fault("time", known.Wrong("time", f[0], "a time such as 2025-01-01 00:00"))
			at = due
		case due.IsZero():
			begin = at
		case !at.Equal(due):
			fault("time", known.Wrong("time", f[0], due.Format(form)+", an hour after the row before; leave the dew point "+
				"of a gap empty"))
		}
		due = at.Add(time.Hour)
		a, err := dewAir(f[1], c.Comma != ',')
		if err != nil {
			fault("dew point", err)
		}
		list = append(list, a)
	}
	if err := errors.Join(errs...); err != nil {
		return nil, begin, err
	}
	return list, begin, nil
}

// dewAir is outdoor air of a dew point, none where it is not known; a comma may be its decimal sign.
func dewAir(text string, comma bool) (humidity.Air, error) {
	if text == "" {
		return humidity.Air{}, nil
	}
	if n := divided.Read(text); comma && n.Comma {
		if n.Two() {
			return humidity.Air{}, known.Wrong("dew point", text, n.Both(",")+"a comma before three digits may divide thousands")
		}
		a, err := dewAir(n.Text, false)
		return a, divided.AsWritten(err, n.Text, text)
	}
	dew, err := units.Parse[units.Temperature](text)
	if err != nil {
		return humidity.Air{}, err
	}
	if err := within("dew point", text, dew, units.Celsius(-99), units.Celsius(60)); err != nil {
		return humidity.Air{}, err
	}
	return humidity.AirFrom(units.Atmosphere, humidity.DryBulb(max(dew, units.Celsius(0))), humidity.DewPoint(dew))
}
