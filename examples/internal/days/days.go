// Package days reads what two days are compared by, a file of the survey program and a request of the notebook:
// readings, counts or weights before and after a change, or off, on and off again, and how the body leaks in the air of
// each.
package days

import (
	"errors"
	"strings"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/written"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// File are the two sides of a comparison: readings, counts or weights.
type File struct {
	Schema string `json:"schema"`
	Name   string `json:"name"`
	Note   string `json:"note,omitempty"`
	Before Side   `json:"before"`
	After  Side   `json:"after"`
	// the second time off, for a device that was off before and on after.
	Again *Side `json:"again,omitempty"`

	Spots  units.Ratio   `json:"spots,omitempty"`  // scatter from spot to spot, from earlier surveys
	Offset units.Voltage `json:"offset,omitempty"` // error of zero
	Gain   units.Ratio   `json:"gain,omitempty"`   // between two meters

	Leak   *Leak                  `json:"leak,omitempty"`
	Dwell  units.Time             `json:"dwell,omitempty"`
	DryDay units.RelativeHumidity `json:"dryDay,omitempty"` // at the temperature of after

	// the ratio that the weather makes of counts, spread that of its logarithm.
	Weather       float64 `json:"weather,omitempty"`
	WeatherSpread float64 `json:"weatherSpread,omitempty"`
}

// Side is one day: readings, or events of shifts, or weights.
type Side struct {
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

// Scatters says that weights are compared.
func (f *File) Scatters() bool { return f.Before.Weights != nil || f.Before.Deviation != 0 }

// What is counted on each side.
func (f *File) What() string {
	switch {
	case f.Before.Events != nil:
		return "shifts"
	case f.Scatters():
		return "weights"
	}
	return "readings"
}

// sample are the readings of a side, which stands in the file at a field.
func (s *Side) sample(at string) (upkeep.Readings, error) {
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
	r.Air, err = Air(s.Temperature, s.RH, at+".temperature", at+".relativeHumidity")
	return r, err
}

// Compared works the file out; faults have its paths.
func (f *File) Compared() (upkeep.Comparison, error) {
	switch {
	case f.Before.Events != nil:
		var w known.Band
		if f.Weather != 0 {
			w = known.Band{Value: f.Weather, Spread: f.WeatherSpread, Kind: known.LogNormal}
		}
		c, err := upkeep.CompareCounts(upkeep.Counts{Events: f.Before.Events, Shifts: f.Before.Shifts},
			upkeep.Counts{Events: f.After.Events, Shifts: f.After.Shifts}, w)
		return c, written.Under(err, "weather.spread", "weatherSpread")
	case f.Scatters():
		side := func(s *Side) upkeep.Weights {
			return upkeep.Weights{Values: s.Weights, Deviation: s.Deviation, Number: s.Number}
		}
		c, err := upkeep.CompareScatter(side(&f.Before), side(&f.After))
		return c, written.Under(err, "before.values", "before.weights", "after.values", "after.weights")
	}
	before, errBefore := f.Before.sample("before")
	after, errAfter := f.After.sample("after")
	scatter := upkeep.Scatter{Spots: f.Spots, Offset: f.Offset, Gain: f.Gain}
	if f.Again != nil {
		again, err := f.Again.sample("again")
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
func (f *File) weathering() (*upkeep.Weathering, error) {
	if f.Leak == nil {
		return nil, nil
	}
	law, err := f.Leak.Law("leak")
	errs := []error{err, known.Positive("dwell", f.Dwell)}
	if err != nil {
		return nil, errors.Join(errs...)
	}
	w := &upkeep.Weathering{Time: law, Dwell: f.Dwell}
	if f.DryDay > 0 && f.After.RH == 0 {
		return nil, errors.Join(append(errs, known.Wrong("dryDay", f.DryDay, "the air of after beside it"))...)
	}
	if f.DryDay > 0 {
		w.Design, err = Air(f.After.Temperature, f.DryDay, "", "dryDay") // the temperature is told with its side
		errs = append(errs, err)
	}
	return w, errors.Join(errs...)
}

// Leak is two or more decay times at their humidities, or one with the slope.
type Leak struct {
	Points []struct {
		RH   units.RelativeHumidity `json:"rh"`
		Time units.Time             `json:"time"`
	} `json:"points"`
	DecadesPerPercent float64 `json:"decadesPerPercent,omitempty"`
	Decades           float64 `json:"decades,omitempty"`
}

// Law makes the law; faults have the paths of the file, in which it stands at a field.
func (l *Leak) Law(at string) (humidity.Law[units.Time], error) {
	var points []humidity.Point[units.Time]
	for _, p := range l.Points {
		points = append(points, humidity.Point[units.Time]{RH: p.RH, Value: p.Time})
	}
	var law humidity.Law[units.Time]
	var err error
	switch len(points) {
	case 0:
		err = known.Wrong(".points", "", "one decay time or more, each with its humidity")
	case 1:
		law, err = humidity.NewLogLinear(points[0], l.DecadesPerPercent, l.Decades, points[0].RH, points[0].RH)
		err = written.Under(err, "at.value", ".points[0].time", "at", ".points[0]", "decades_per_percent",
			".decadesPerPercent",
			"decades", ".decades", "lo", "", "hi", "")
	default:
		law, err = humidity.FitLogLinear(points, &humidity.FitSettings{Scatter: l.Decades})
		err = written.Fields(err, func(f string) string {
			f = strings.Replace(strings.Replace(f, "].value", "].time", 1), "points[].rh", "points", 1)
			return "." + strings.Replace(f, "scatter", "decades", 1)
		})
	}
	if err != nil {
		return nil, written.Under(err, "", at)
	}
	return law, nil
}

// Air makes air of what a file says of it in two fields.
func Air(t units.Temperature, rh units.RelativeHumidity, temperature, humid string) (humidity.Air, error) {
	a, err := humidity.NewAir(t, rh, units.Atmosphere)
	return a, written.Under(err, "t", temperature, "rh", humid)
}
