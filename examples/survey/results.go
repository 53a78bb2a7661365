package main

import (
	"fmt"
	"math"

	"example.org/pithball/examples/internal/days"
	"example.org/pithball/line"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// careFile is what is known of bars and places from earlier.
type careFile struct {
	Schema   string  `json:"schema"`
	Readings int     `json:"readings,omitempty"` // spots a place, 1 … 100; left out: 4
	Margin   float64 `json:"margin,omitempty"`   // [1] of a bar's current over what it must carry; left out: 5
	Outputs  []struct {
		Station string              `json:"station"`         // an ioniser
		Age     []units.Time        `json:"age"`             // since it was cleaned, two or more
		Current []units.LineCurrent `json:"current"`         // that it delivered then
		Error   units.Ratio         `json:"error,omitempty"` // of one current; left out: 5 %
	} `json:"outputs,omitempty"`
	History []struct {
		Station string                 `json:"station"` // a place
		Values  []units.DisplayVoltage `json:"values"`  // read there in a state that was good, four or more
	} `json:"history,omitempty"`
}

func (f *careFile) fill(c *upkeep.Care) error {
	c.Readings, c.Margin = f.Readings, f.Margin
	for _, x := range f.Outputs {
		c.Outputs = append(c.Outputs, upkeep.Output{Station: x.Station, Age: x.Age, Current: x.Current, Error: x.Error})
	}
	for _, x := range f.History {
		c.History = append(c.History, upkeep.History{Station: x.Station, Values: x.Values})
	}
	return schema(f.Schema, "pithball care 1")
}

// The JSON forms: numbers in SI with the unit in the key.
type (
	jsonYear struct {
		Limit    float64     `json:"limit_C_per_m2"`
		Binding  string      `json:"binding"`
		Never    bool        `json:"never"`
		Humidity [3]float64  `json:"rh_5_50_95"`
		DewPoint [3]float64  `json:"dew_point_5_50_95_K"`
		Outdoor  [3]*float64 `json:"outdoor_dew_point_5_50_95_K"`
		Hours    [3]float64  `json:"hours_5_50_95_h"`
		Shifts   [3]int      `json:"shifts_5_50_95"`
		Weeks    [3]int      `json:"weeks_5_50_95"`
		Months   [12]float64 `json:"share_by_month"`
		Driest   int         `json:"driest_month"`
		Calendar [][2]string `json:"calendar"`
		ByWeek   []float64   `json:"share_by_week,omitempty"`
		Missing  int         `json:"hours_without_air"`
		Flags    string      `json:"flags,omitempty"`
		Log      []jsonLog   `json:"limit_by_log,omitempty"`
	}
	jsonLog struct {
		Station     string   `json:"station"`
		Above       float64  `json:"above_C_per_m2"`
		Below       *float64 `json:"below_C_per_m2"`
		Mixed       bool     `json:"mixed"`
		Contradicts bool     `json:"contradicts"`
	}
	jsonCompared struct {
		Schema    string     `json:"schema"`
		Name      string     `json:"name"`
		Note      string     `json:"note,omitempty"`
		Says      string     `json:"says"`
		Weather   float64    `json:"weather"`
		Observed  float64    `json:"observed"`
		Effect    [3]float64 `json:"effect_2.5_50_97.5"`
		P         float64    `json:"p"`
		PlainP    float64    `json:"p_without_weather"`
		DryDay    [3]float64 `json:"dry_day_2.5_50_97.5_V"`
		Corrected bool       `json:"corrected"`
		More      int        `json:"needed_a_side"`
		Turned    bool       `json:"sign_turned"`
		Flags     string     `json:"flags,omitempty"`

		Notices []known.Notice `json:"notices"`
	}
	jsonWatch struct {
		Station string     `json:"station"`
		Meter   string     `json:"meter"`
		Limit   float64    `json:"limit_V"`
		Action  float64    `json:"action_V"`
		Spots   int        `json:"spots"`
		Control [2]float64 `json:"control_V"`
		Unused  string     `json:"unused,omitempty"`
	}
	jsonCleaning struct {
		Station string   `json:"station"`
		Needed  float64  `json:"needed_A_per_m"`
		Every   *float64 `json:"every_s"`
		Median  *float64 `json:"median_s"`
	}
	jsonKeep struct {
		Schema   string         `json:"schema"`
		Line     string         `json:"line"`
		Note     string         `json:"note,omitempty"`
		Watches  []jsonWatch    `json:"watches"`
		Cleaning []jsonCleaning `json:"cleaning"`
		Tasks    []upkeep.Task  `json:"tasks"`
		Triggers []string       `json:"triggers"`
		Notices  []known.Notice `json:"notices"`
	}
)

func yearsJSON(f *seasonFile, years []yearOf) any {
	out := struct {
		Schema string     `json:"schema"`
		Name   string     `json:"name"`
		Note   string     `json:"note,omitempty"`
		Years  []jsonYear `json:"years"`

		Notices []known.Notice `json:"notices"`
	}{"pithball forecast 1", f.Name, f.Note, nil, ofForecast()}
	for _, y := range years {
		j := jsonYear{Limit: float64(y.Limit), Binding: y.Binding, Never: y.Threshold.Never, Shifts: y.Shifts, Weeks: y.Weeks,
			Months: y.Months, Driest: int(y.Driest), Missing: y.Missing, Calendar: [][2]string{}, ByWeek: y.ByWeek}
		for k := range 3 {
			j.Humidity[k], j.DewPoint[k] = float64(y.Threshold.Humidity[k]), float64(y.Threshold.DewPoint[k])
			j.Hours[k] = float64(y.Hours[k]) / float64(units.Hour)
			if x := float64(y.Outdoor[k]); y.Outdoor[k] > units.Celsius(-149) {
				j.Outdoor[k] = &x
			}
		}
		for _, s := range y.Calendar {
			j.Calendar = append(j.Calendar, [2]string{s.From.Format("01-02"), s.To.Format("01-02")})
		}
		if v := y.Threshold.Validity; v != known.Inside {
			j.Flags = v.String()
		}
		for _, l := range y.Log {
			x := jsonLog{Station: l.Station, Above: float64(l.Above), Mixed: l.Mixed, Contradicts: l.Contradicts}
			if b := float64(l.Below); !math.IsInf(b, 0) {
				x.Below = &b
			}
			j.Log = append(j.Log, x)
		}
		out.Years = append(out.Years, j)
	}
	return out
}

func comparisonJSON(f *days.File, c *upkeep.Comparison) any {
	three := func(i upkeep.Interval) [3]float64 {
		if math.IsInf(i.High, 0) {
			i.High = math.MaxFloat64
		}
		return [3]float64{i.Low, i.Middle, i.High}
	}
	j := jsonCompared{Schema: "pithball comparison 1", Name: f.Name, Note: f.Note, Says: fmt.Sprint(*c),
		Weather:  c.Weather,
		Observed: c.Observed, Effect: three(c.Effect), P: c.P, PlainP: c.PlainP, DryDay: three(c.DryDay),
		Corrected: c.Corrected,
		More:      c.More, Turned: c.Turned, Notices: ofCompare()}
	if c.Validity != known.Inside {
		j.Flags = c.Validity.String()
	}
	return j
}

// endingAfter is a time in s for JSON, nil where there is none or it never ends.
func endingAfter(t units.Time) *float64 {
	if x := float64(t); x > 0 && !math.IsInf(x, 0) {
		return &x
	}
	return nil
}

func keepJSON(d *line.Description, k *upkeep.Upkeep) any {
	j := jsonKeep{Schema: "pithball upkeep 1", Line: d.Name, Note: d.Note, Cleaning: []jsonCleaning{}, Tasks: k.Tasks,
		Triggers: k.Triggers, Notices: k.Notices}
	for _, w := range k.Watches {
		j.Watches = append(j.Watches, jsonWatch{w.Station, w.Meter, float64(w.Limit), float64(w.Action), w.Readings,
			[2]float64{float64(w.Control[0]), float64(w.Control[1])}, w.Unused})
	}
	for _, c := range k.Cleaning {
		j.Cleaning = append(j.Cleaning, jsonCleaning{c.Station, float64(c.Needed), endingAfter(c.Every),
			endingAfter(c.Median)})
	}
	return j
}
