package survey

import (
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ReadSurveyOf is [ReadSurvey] of readings on a line that is described: it tells what [Diagnose] would
// not find on the line together with all else, so that one round mends the file. Of a description that
// line.New refuses only names are asked; nil asks nothing.
func ReadSurveyOf(r io.Reader, d *line.Description) (*Survey, error) {
	s, faults := readRows(r)
	if s == nil || d == nil || len(d.Stations) == 0 {
		return s.unless(faults)
	}
	told := map[int][]string{} // columns of lines with a fault of their own
	for _, err := range faults {
		var row *RowError
		if errors.As(err, &row) {
			told[row.Line] = append(told[row.Line], row.Column)
		}
	}
	faults = append(faults, s.lost(d, told)...)
	slices.SortStableFunc(faults, func(a, b error) int { return lineOf(a) - lineOf(b) })
	return s.unless(faults[:min(len(faults), mostFaults)])
}

func lineOf(err error) int {
	var row *RowError
	if errors.As(err, &row) {
		return row.Line
	}
	return math.MaxInt // the text ends there
}

// lost finds what the line does not have, row by row. Rows that are told already are asked for their names alone.
func (s *Survey) lost(d *line.Description, told map[int][]string) (faults []error) {
	add := func(r *Reading, _ int, err error) {
		for _, f := range fields(err) {
			if !slices.Contains(told[r.Line], f.Field) {
				faults = append(faults, &RowError{Line: r.Line, Column: f.Field, Err: f})
			}
		}
	}
	l, err := line.New(d)
	seen := map[line.Look]error{}
	sound := s
	if err != nil || len(told) > 0 {
		sound = &Survey{}
		for i := range s.Readings {
			r := &s.Readings[i]
			if err == nil && told[r.Line] == nil {
				sound.Readings = append(sound.Readings, *r)
				continue
			}
			look := line.Look{Station: r.Station, Quantity: r.Quantity, Running: r.Running, Meter: r.Meter}
			e, ok := seen[look]
			if !ok {
				e = d.CheckLook(&look)
				seen[look] = e
			}
			add(r, i, e)
		}
	}
	if err == nil {
		g := &Diagnosis{line: l, desc: l.Description(), survey: sound, looks: map[line.Look]line.View{}}
		g.Ground = g.ground()
		g.look(add)
	}
	return faults
}

// fields are the faults of fields in err.
func fields(err error) (out []*known.FieldError) {
	if list, ok := err.(interface{ Unwrap() []error }); ok {
		for _, e := range list.Unwrap() {
			out = append(out, fields(e)...)
		}
	} else if f, ok := err.(*known.FieldError); ok {
		out = append(out, f)
	}
	return out
}

// look finds how each reading sees the web, and which readings of the running web can be used. It tells
// what the line does not have.
func (d *Diagnosis) look(tell func(r *Reading, i int, err error)) (views map[int]line.View, running []int) {
	l, s := d.line, d.survey
	d.Fits, d.shown = make([]ReadingFit, len(s.Readings)), make([]shown, len(s.Readings))
	nan := math.NaN()
	views = map[int]line.View{}
	for i := range s.Readings {
		r := &s.Readings[i]
		d.Fits[i] = ReadingFit{Reading: i, Band: [3]float64{nan, nan, nan}, Residual: nan}
		w, ok := d.looks[r.Look]
		if !ok {
			var err error
			if w, err = l.View(&r.Look); err != nil {
				tell(r, i, err)
				continue
			}
			d.looks[r.Look] = w
		}
		if w.OverFilm && w.Unused == "" && !d.overEarthedMetal(w.Station) {
			w.Unused = "not used: this survey found the roller isolated, and a voltmeter over it does not read against earth"
		}
		if w.Unused == "" {
			var err error
			if d.shown[i], w.Unused, err = d.volts(r, &w); err != nil {
				tell(r, i, err)
				continue
			}
			d.Fits[i].Value = d.shown[i].volts * w.Edge
		}
		if w.Unused != "" {
			d.Fits[i].Why = w.Unused
			continue
		}
		if err := known.InRange("line speed", r.Speed, 1e-4, 100); err != nil {
			tell(r, i, err)
			continue
		}
		if err := d.dewy(r); err != nil {
			tell(r, i, err)
			continue
		}
		views[i] = w
		running = append(running, i)
		d.Fits[i].Used = true
	}
	return views, running
}

// dewy refuses air whose water would condense on a web that the description calls colder.
func (d *Diagnosis) dewy(r *Reading) error {
	if !r.HasAir || !slices.ContainsFunc(d.desc.Stations, func(s line.StationSpec) bool { return s.WebTemperature != 0 }) {
		return nil
	}
	a, err := humidity.NewAir(r.AirTemperature, r.AirHumidity, units.Atmosphere)
	if err != nil {
		return nil // told elsewhere, or at the thermometer only
	}
	i, dew := d.desc.Condensing(a)
	if i < 0 {
		return nil
	}
	s := &d.desc.Stations[i]
	return known.Wrong("air humidity", r.AirHumidity, fmt.Sprintf("a dew point below %v, at which the description has "+
		"the web behind %s; that of this air is %v, and water would condense there", s.WebTemperature, s.Name, dew))
}

// at puts the row of a reading before the field of an error: its line in the file,
// or its number in the survey.
func (r *Reading) at(i int, err error) error {
	row := fmt.Sprintf("readings[%d]: ", i)
	if r.Line > 0 {
		row = fmt.Sprintf("line %d: ", r.Line)
	}
	return written.Fields(err, func(f string) string { return row + f })
}
