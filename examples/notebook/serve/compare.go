package main

import (
	"math"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/examples/internal/days"
	"example.org/pithball/internal/written"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units/known"
)

// compare says whether a change worked or the weather did.
func compare(raw []byte) (any, error) {
	var p days.File
	if err := readParams(raw, &p); err != nil {
		return nil, err
	}
	c, err := p.Compared()
	if err != nil {
		return nil, written.Fields(err, asClientCalls)
	}
	three := func(i upkeep.Interval) [3]number { return [3]number{number(i.Low), number(i.Middle), number(i.High)} }
	dry := upkeep.Interval{Low: math.NaN(), Middle: math.NaN(), High: math.NaN()}
	if c.DryDay.Middle > 0 {
		dry = c.DryDay
	}
	return map[string]any{"weather": c.Weather, "observed": number(c.Observed), "effect_low_middle_high": three(c.Effect),
		"p": c.P, "plain_p": c.PlainP, "corrected": c.Corrected, "more": c.More, "turned": c.Turned,
		"validity": c.Validity.String(), "text": c.String() + ".\n", "dry_day_low_middle_high_V": three(dry),
		"notices": []known.Notice{hazard.NoticeNotApproval.Notice(""), hazard.NoticeReachIn.Notice("")}}, nil
}

// asClientCalls gives a field of the file the name of the argument of the client.
func asClientCalls(field string) string {
	if field == "spots" {
		return "scatter"
	}
	return strings.NewReplacer("relativeHumidity", "relative_humidity", "rhError", "rh_error", "dryDay", "dry_day",
		"weatherSpread", "weather_spread", "decadesPerPercent", "decades_per_percent").Replace(field)
}
