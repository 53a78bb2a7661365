package survey

import (
	"strings"
	"time"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Reading is one row of a survey.
type Reading struct {
	line.Look                             // what was read, with which meter, where
	Line           int                    // of the file the row came from, 0 if none
	Repeat         int                    // 1, 2, … at the same place
	Time           time.Time              // when, zero if not recorded
	Speed          units.Speed            // line speed during the reading
	HasAir         bool                   // whether AirTemperature and AirHumidity were recorded
	AirTemperature units.Temperature      // at the place
	AirHumidity    units.RelativeHumidity // at the place, over water
	HasZero        bool                   // whether a zero away from charge was recorded
	Zero           float64                // [unit of the quantity] display away from charge, subtracted
	FullScale      float64                // [unit of the quantity] 0: that of the meter
	Value          float64                // [unit of the quantity: V, V, C, Ω, s]
	// AsField says that a field meter showed a field: Value, Zero and FullScale are in
	// V/m, which its nominal distance turns into volts.
	AsField bool
	AtLeast bool // the range was exceeded: the magnitude is Value or more
	// Over says that the display only told that it was over its range, then Value is
	// 0 and the full scale stands for it; Sign is the sign that it showed, 0 if none.
	Over   bool
	Sign   int    // see Over
	Remark string // free text
}

// Survey is a list of readings.
type Survey struct {
	Readings []Reading // in the order of the file
}

// overRange reports whether a display only told that it was over its range, and
// with which sign.
func overRange(s string) (over bool, sign int) {
	switch {
	case strings.HasPrefix(s, "+"):
		sign, s = 1, s[1:]
	case strings.HasPrefix(s, "-"), strings.HasPrefix(s, "−"):
		sign, s = -1, strings.TrimPrefix(strings.TrimPrefix(s, "-"), "−")
	}
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "ol", "o.l.", "over", "over range", "overrange":
		return true, sign
	}
	return false, 0
}

// exceeded completes a row whose display was over its range: the full scale stands
// for it, that of the row or that of the meter.
func (r *Reading) exceeded(sign int, zero, full string) error {
	r.Over, r.AtLeast, r.Sign = true, true, sign
	if nothing(zero) {
		r.HasZero = true
	} else if zero != "" {
		v, _, err := parseAs(r.Quantity, zero)
		if err != nil {
			return &RowError{Column: "zero", Err: err}
		}
		r.Zero, r.HasZero = v, true
	}
	if full == "" {
		if r.Quantity != line.FieldMeter && r.Quantity != line.OverRoller {
			return &RowError{
				Column: "full scale",
				Err:    known.Wrong("full scale", "", "the end of the range that was exceeded"),
			}
		}
		return r.complete()
	}
	v, asField, err := parseAs(r.Quantity, full)
	if err != nil {
		return &RowError{Column: "full scale", Err: err}
	}
	if v <= 0 || v > greatest(r.Quantity) {
		return &RowError{
			Column: "full scale",
			Err:    known.Wrong("full scale", full, "more than 0 and at most "+show(r.Quantity, greatest(r.Quantity))),
		}
	}
	r.FullScale, r.AsField = v, asField
	if r.Quantity != line.FieldMeter && r.Quantity != line.OverRoller {
		r.Value = v
	}
	return r.complete()
}
