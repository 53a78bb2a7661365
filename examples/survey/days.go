package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/internal/written"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// daysFile are the two sides of a comparison: readings, counts or weights.
type daysFile struct {
	Schema string  `json:"schema"`
	Name   string  `json:"name"`
	Note   string  `json:"note,omitempty"`
	Before daySide `json:"before"`
	After  daySide `json:"after"`
	// the second time off, for a device that was off before and on after.
	Again *daySide `json:"again,omitempty"`

	Spots  units.Ratio   `json:"spots,omitempty"`  // scatter from spot to spot, from earlier surveys
	Offset units.Voltage `json:"offset,omitempty"` // error of zero
	Gain   units.Ratio   `json:"gain,omitempty"`   // between two meters

	Leak   *leakFile              `json:"leak,omitempty"`
	Dwell  units.Time             `json:"dwell,omitempty"`
	DryDay units.RelativeHumidity `json:"dryDay,omitempty"` // at the temperature of after

	// the ratio that the weather makes of counts, spread that of its logarithm.
	Weather       float64 `json:"weather,omitempty"`
	WeatherSpread float64 `json:"weatherSpread,omitempty"`
}

type daySide struct {
	Label       string                 `json:"label,omitempty"`
	Readings    []units.DisplayVoltage `json:"readings,omitempty"`
	Spots       []int                  `json:"spots,omitempty"` // of each reading
	Temperature units.Temperature      `json:"temperature,omitempty"`
	RH          units.RelativeHumidity `json:"relativeHumidity,omitempty"`
	RHError     units.RelativeHumidity `json:"rhError,omitempty"`
	Events      []int                  `json:"events,omitempty"`
	Shifts      []float64              `json:"shifts,omitempty"`
	Weights     []units.Mass           `json:"weights,omitempty"`
	Deviation   units.Mass             `json:"deviation,omitempty"`
	Number      int                    `json:"number,omitempty"`
}

// scatters says that weights are compared.
func (f *daysFile) scatters() bool { return f.Before.Weights != nil || f.Before.Deviation != 0 }

// what is counted on each side.
func (f *daysFile) what() string {
	switch {
	case f.Before.Events != nil:
		return "shifts"
	case f.scatters():
		return "weights"
	}
	return "readings"
}

// readings are those of a side, which stands in the file at a field.
func (s *daySide) readings(at string) (upkeep.Readings, error) {
	r := upkeep.Readings{Values: s.Readings, Spots: s.Spots, AirError: s.RHError}
	switch {
	case s.Temperature == 0 && s.RH == 0:
		return r, nil
	case s.RH == 0: // no air is that dry: it was not read
		return r, known.Wrong(at+".relativeHumidity", "", "the humidity beside the temperature, or neither")
	case s.Temperature == 0:
		return r, known.Wrong(at+".temperature", "", "the temperature beside the humidity, or neither")
	}
	var err error
	r.Air, err = airAt(s.Temperature, s.RH, at+".temperature", at+".relativeHumidity")
	return r, err
}

// compared works the file out; faults have its paths.
func (f *daysFile) compared() (upkeep.Comparison, error) {
	switch {
	case f.Before.Events != nil:
		var w known.Band
		if f.Weather != 0 {
			w = known.Band{Value: f.Weather, Spread: f.WeatherSpread, Kind: known.LogNormal}
		}
		c, err := upkeep.CompareCounts(upkeep.Counts{Events: f.Before.Events, Shifts: f.Before.Shifts},
			upkeep.Counts{Events: f.After.Events, Shifts: f.After.Shifts}, w)
		return c, under(err, "weather.spread", "weatherSpread")
	case f.scatters():
		side := func(s *daySide) upkeep.Weights {
			return upkeep.Weights{Values: s.Weights, Deviation: s.Deviation, Number: s.Number}
		}
		c, err := upkeep.CompareScatter(side(&f.Before), side(&f.After))
		return c, under(err, "before.values", "before.weights", "after.values", "after.weights")
	}
	before, errBefore := f.Before.readings("before")
	after, errAfter := f.After.readings("after")
	scatter := upkeep.Scatter{Spots: f.Spots, Offset: f.Offset, Gain: f.Gain}
	if f.Again != nil {
		again, err := f.Again.readings("again")
		c, errs := upkeep.CompareSwitched(before, after, again, scatter)
		return c, errors.Join(errBefore, errAfter, err, sides(errs))
	}
	w, errLeak := f.weathering()
	c, errs := upkeep.CompareReadings(before, after, scatter, w)
	return c, errors.Join(errBefore, errAfter, errLeak, sides(errs))
}

// sides gives faults of a comparison of readings the paths of the file.
func sides(err error) error {
	return written.Fields(err, func(f string) string {
		for from, to := range map[string]string{"off1.": "before.", "on.": "after.", "off2.": "again.", "scatter.": ""} {
			if rest, ok := strings.CutPrefix(f, from); ok {
				f = to + rest
				break
			}
		}
		if strings.HasPrefix(f, "weathering.") { // told by weathering
			return map[string]string{"weathering.time": "leak"}[f]
		}
		return strings.NewReplacer(".values", ".readings", ".airError", ".rhError").Replace(f)
	})
}

// weathering is how the body leaks between the days, nil where nothing is said of it.
func (f *daysFile) weathering() (*upkeep.Weathering, error) {
	if f.Leak == nil {
		return nil, nil
	}
	law, err := f.Leak.law("leak")
	errs := []error{err, known.Positive("dwell", f.Dwell)}
	if err != nil {
		return nil, errors.Join(errs...)
	}
	w := &upkeep.Weathering{Time: law, Dwell: f.Dwell}
	if f.DryDay > 0 {
		w.Design, err = airAt(f.After.Temperature, f.DryDay, "", "dryDay") // the temperature is told with its side
		errs = append(errs, err)
	}
	return w, errors.Join(errs...)
}

const daysSchema = "pithball days 1"

// compare says whether a cure worked.
func compare(o *options, stdout io.Writer) error {
	f := &daysFile{}
	var c upkeep.Comparison
	_, err := readJSON(o.days, "days.json", f, func() (err error) {
		c, err = f.compared()
		return errors.Join(schema(f.Schema, daysSchema), err)
	})
	if err != nil {
		return err
	}
	if o.json {
		return encode(stdout, comparisonJSON(f, &c))
	}
	var b strings.Builder
	title(&b, f.Name, f.Note)
	label := func(s *daySide, or string) string {
		if s.Label != "" {
			return s.Label
		}
		return or
	}
	if f.Again != nil {
		fmt.Fprintf(&b, "%s against %s and off again; \"the weather\" is the drift between the two\n",
			label(&f.Before, "off"),
			label(&f.After, "on"))
	} else {
		fmt.Fprintf(&b, "%s against %s\n", label(&f.Before, "before"), label(&f.After, "after"))
	}
	if f.scatters() {
		fmt.Fprintln(&b, "The standard deviations of the weights are compared, not their means.")
	}
	fmt.Fprintf(&b, "%s.\n", report.Wrap(strings.ToUpper(c.String()[:1])+c.String()[1:], 96, ""))
	if c.Turned {
		fmt.Fprintln(&b, "The sign turned; magnitudes are compared. Read both faces before explaining it.")
	}
	if c.DryDay.Middle > 0 {
		fmt.Fprintf(&b, "On the dry day the meter would show %s kV (%s … %s).\n", kilo(c.DryDay.Middle), kilo(c.DryDay.Low),
			kilo(c.DryDay.High))
	}
	switch {
	case c.P < 0.05:
	case c.More < 0:
		fmt.Fprintln(&b, "No number of readings on such days would tell: the error of the weather hides it. Compare "+
			"off, on and")
		fmt.Fprintln(&b, "off on one day, which needs no law of the weather (only where zone and flammables are "+
			"\"none\" and signed).")
	default:
		fmt.Fprintf(&b, "To tell an effect of that size, %d %s a side would be needed.\n", c.More, f.what())
	}
	if c.Validity != known.Inside {
		fmt.Fprintf(&b, "The law of the weather is used %v.\n", c.Validity)
	}
	notices(&b, ofCompare())
	_, err = io.WriteString(stdout, b.String())
	return err
}
