package upkeep

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Logged is one time of the log of complaints: the air at the place, how long the
// charge had to leak, and whether there was trouble.
type Logged struct {
	Label   string       // for the report
	Air     humidity.Air // in which the body was conditioned, at its temperature
	Dwell   units.Time   // 0: that of the need
	Trouble bool         // as the log says
}

// LoggedLimit is what a log of complaints says of the limit: it lies above every charge
// that ran without trouble and below every one that did not.
type LoggedLimit struct {
	// Above and Below are the greatest charge without trouble and the least with it; 0
	// and +Inf where the log has none.
	Above, Below units.SurfaceChargeDensity
	AboveBy      string // label of the time that sets it
	BelowBy      string // see AboveBy
	// Mixed says that some trouble came at less charge than some quiet time: something
	// else than this charge decides as well, or the log is wrong.
	Mixed bool
	// Contradicts says that the limit of the need lies outside, by more than the doubt of
	// the start explains: then both answers are to be told.
	Contradicts bool
}

// LimitFromLog judges the limit of the need by the calendar of complaints, which is a
// measurement of it: at each time of the log the charge left is
//
//	σ = σ₀·exp(−T/τ(RH))
//
// by the medians of the law. Errors are [*known.FieldError]s.
func (n Need) LimitFromLog(log []Logged) (LoggedLimit, error) {
	out := LoggedLimit{Below: units.SurfaceChargeDensity(math.Inf(1))}
	err := n.check("need")
	if len(log) == 0 || len(log) > 100000 {
		err = errors.Join(err, known.Wrong("log", fmt.Sprintf("%d times", len(log)), "1 … 100000 times"))
	}
	for i, x := range log {
		at := fmt.Sprintf("log[%d]", i)
		err = errors.Join(err, known.NotNegative(at+".dwell", x.Dwell))
		if x.Air == (humidity.Air{}) {
			err = errors.Join(err, known.Wrong(at+".air", "the zero Air", "air made by NewAir or AirFrom"))
		}
	}
	if err != nil {
		return out, err
	}
	for _, x := range log {
		dwell := x.Dwell
		if dwell == 0 {
			dwell = n.Dwell
		}
		left := units.SurfaceChargeDensity(n.Start.Value * numeric.Exp(-float64(dwell)/float64(n.Leak.Value(x.Air))))
		switch {
		case x.Trouble && left < out.Below:
			out.Below, out.BelowBy = left, x.Label
		case !x.Trouble && left > out.Above:
			out.Above, out.AboveBy = left, x.Label
		}
	}
	out.Mixed = out.Above > out.Below
	// All charges of the log share the doubt of the start.
	lo, hi := n.Start.At(-known.Z95)/n.Start.Value, n.Start.At(known.Z95)/n.Start.Value
	limit := float64(n.Limit)
	out.Contradicts = limit < lo*float64(min(out.Above, out.Below)) || limit > hi*float64(max(out.Above, out.Below))
	return out, nil
}
