package main

import (
	"fmt"
	"math"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/strictjson"
	"example.org/pithball/internal/written"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// leakParams is how the time constant of a place depends on the air.
type leakParams struct {
	Points []struct {
		RH   units.RelativeHumidity `json:"rh"`
		Time units.Time             `json:"time"`
	} `json:"points"`
	DecadesPerPercent float64 `json:"decades_per_percent,omitempty"` // with one point
	Decades           float64 `json:"decades,omitempty"`             // scatter
}

func (p *leakParams) law() (humidity.Law[units.Time], error) {
	var points []humidity.Point[units.Time]
	for _, x := range p.Points {
		points = append(points, humidity.Point[units.Time]{RH: x.RH, Value: x.Time})
	}
	switch len(points) {
	case 0:
		return nil, known.Wrong("leak.points", "", "one decay time or more, each with its humidity")
	case 1:
		return humidity.NewLogLinear(points[0], p.DecadesPerPercent, p.Decades, points[0].RH, points[0].RH)
	}
	return humidity.FitLogLinear(points, &humidity.FitSettings{Scatter: p.Decades})
}

// sideParams is one day: readings, or events of shifts, or weights.
type sideParams struct {
	Readings    []units.DisplayVoltage `json:"readings,omitempty"`
	Spots       []int                  `json:"spots,omitempty"` // of each reading
	Temperature units.Temperature      `json:"temperature,omitempty"`
	RH          units.RelativeHumidity `json:"relative_humidity,omitempty"`
	RHError     units.RelativeHumidity `json:"rh_error,omitempty"`
	Events      []int                  `json:"events,omitempty"`
	Shifts      []float64              `json:"shifts,omitempty"`
	Weights     []units.Mass           `json:"weights,omitempty"`
}

func (s *sideParams) sample(name string) (upkeep.Readings, error) {
	r := upkeep.Readings{Values: s.Readings, Spots: s.Spots, AirError: s.RHError}
	switch {
	case s.RH == 0: // not read: the client may give one temperature for all
		return r, nil
	case s.Temperature == 0:
		return r, known.Wrong(name+".temperature", "", "the temperature beside the humidity")
	}
	var err error
	if r.Air, err = humidity.NewAir(s.Temperature, s.RH, units.Atmosphere); err != nil {
		err = fmt.Errorf("%s: %w", name, err)
	}
	return r, err
}

// daysParams are two days, before and after a change, or off, on and off again.
type daysParams struct {
	Before sideParams  `json:"before"`
	After  sideParams  `json:"after"`
	Again  *sideParams `json:"again,omitempty"`

	Scatter units.Ratio            `json:"scatter,omitempty"` // from spot to spot, from earlier surveys
	Offset  units.Voltage          `json:"offset,omitempty"`  // error of zero
	Gain    units.Ratio            `json:"gain,omitempty"`    // between two meters
	Leak    *leakParams            `json:"leak,omitempty"`
	Dwell   units.Time             `json:"dwell,omitempty"`
	DryDay  units.RelativeHumidity `json:"dry_day,omitempty"` // at the temperature of after

	Weather       float64 `json:"weather,omitempty"` // ratio that the weather makes of events
	WeatherSpread float64 `json:"weather_spread,omitempty"`
}

func (p *daysParams) compared() (c upkeep.Comparison, err error) {
	switch {
	case p.Before.Events != nil:
		var w known.Band
		if p.Weather != 0 {
			w = known.Band{Value: p.Weather, Spread: p.WeatherSpread, Kind: known.LogNormal}
		}
		return upkeep.CompareCounts(upkeep.Counts{Events: p.Before.Events, Shifts: p.Before.Shifts},
			upkeep.Counts{Events: p.After.Events, Shifts: p.After.Shifts}, w)
	case p.Before.Weights != nil:
		return upkeep.CompareScatter(upkeep.Weights{Values: p.Before.Weights}, upkeep.Weights{Values: p.After.Weights})
	}
	before, err := p.Before.sample("before")
	if err != nil {
		return c, err
	}
	after, err := p.After.sample("after")
	if err != nil {
		return c, err
	}
	scatter := upkeep.Scatter{Spots: p.Scatter, Offset: p.Offset, Gain: p.Gain}
	if p.Again != nil {
		again, err := p.Again.sample("again")
		if err != nil {
			return c, err
		}
		return upkeep.CompareSwitched(before, after, again, scatter)
	}
	var w *upkeep.Weathering
	if p.Leak != nil {
		law, err := p.Leak.law()
		if err != nil {
			return c, err
		}
		w = &upkeep.Weathering{Time: law, Dwell: p.Dwell}
		if p.DryDay > 0 {
			if p.After.RH == 0 {
				return c, known.Wrong("dry_day", p.DryDay, "the air of the day after beside it")
			}
			if w.Design, err = humidity.NewAir(p.After.Temperature, p.DryDay, units.Atmosphere); err != nil {
				return c, fmt.Errorf("dry_day: %w", err)
			}
		}
	}
	return upkeep.CompareReadings(before, after, scatter, w)
}

// compare says whether a change worked or the weather did.
func compare(raw []byte) (any, error) {
	var p daysParams
	if err := strictjson.Decode(raw, &p); err != nil {
		return nil, known.Wrong("params", "", err.Error())
	}
	c, err := p.compared()
	if err != nil {
		return nil, written.Fields(err, func(f string) string { // as the client calls them
			return strings.NewReplacer("scatter.spots", "scatter", "scatter.offset", "offset", "scatter.gain", "gain",
				"off1.", "before.", "on.", "after.", "off2.", "again.", ".values", ".readings", ".airError", ".rh_error",
				"weathering.dwell", "dwell", "weathering.time", "leak", "weather.spread", "weather_spread").Replace(f)
		})
	}
	three := func(i upkeep.Interval) [3]number { return [3]number{number(i.Low), number(i.Middle), number(i.High)} }
	out := map[string]any{"weather": c.Weather, "observed": number(c.Observed), "effect_low_middle_high": three(c.Effect),
		"p": c.P, "plain_p": c.PlainP, "corrected": c.Corrected, "more": c.More, "turned": c.Turned,
		"validity": c.Validity.String(), "text": c.String() + ".\n",
		"notices": []known.Notice{hazard.NoticeNotApproval.Notice(""), hazard.NoticeReachIn.Notice("")}}
	dry := upkeep.Interval{Low: math.NaN(), Middle: math.NaN(), High: math.NaN()}
	if c.DryDay.Middle > 0 {
		dry = c.DryDay
	}
	out["dry_day_low_middle_high_V"] = three(dry)
	return out, nil
}
