package upkeep

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/internal/written"
	"example.org/pithball/ionflow"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"gonum.org/v1/gonum/stat"
)

// Output is the current of an ioniser against its age since it was cleaned.
type Output struct {
	Station string              // the ioniser
	Age     []units.Time        // since the last cleaning, rising
	Current []units.LineCurrent // that it delivers then, each more than 0
	Error   units.Ratio         // relative standard deviation of one current; 0: 5 %
}

// Cleaning is when an ioniser is to be cleaned.
type Cleaning struct {
	Station string // the ioniser
	// Needed is the current that it must deliver: the net charge that arrives, times
	// speed and margin.
	Needed units.LineCurrent
	// Every is the interval, the 5 % early end; Median is when half of such bars
	// have fallen that far. 0 where no history tells: measure.
	Every, Median units.Time
}

// CleaningOf finds the interval from the fall of the current. ln I falls with the
// least-squares rate of the history (of two points ln(I₀/I₁)/t with deviation
// e·√2/t), I₀ is what the fit says of a clean bar, and the interval is the early end of
// ln(I₀/I_needed)/rate (package ionflow, TimeToLimit). A history that does not fall
// by twice its own error gives 0: it tells no interval. Errors are [*known.FieldError]s.
func CleaningOf(o Output, needed units.LineCurrent) (Cleaning, error) {
	c := Cleaning{Station: o.Station, Needed: needed}
	if err := errors.Join(known.Positive("needed", needed), o.check("output")); err != nil {
		return c, err
	}
	e := float64(o.Error)
	if e == 0 {
		e = 0.05
	}
	t, y := units.Floats(o.Age), make([]float64, len(o.Current))
	for i, x := range o.Current {
		y[i] = math.Log(float64(x))
	}
	at, slope := stat.LinearRegression(t, y, numeric.Ones(len(t)), false)
	mean := stat.Mean(t, numeric.Ones(len(t)))
	var spread float64
	for _, x := range t {
		spread += sq(x - mean)
	}
	sd := e / math.Sqrt(spread)
	if !(-slope > 2*sd) {
		return c, nil
	}
	rate := known.Band{Value: -slope, Spread: sd, Kind: known.Normal}
	c.Median, c.Every, _ = ionflow.TimeToLimit(units.LineCurrent(numeric.Exp(at)), needed, rate)
	return c, nil
}

// Care is what the keeping of a line is worked out from.
type Care struct {
	Meter    string            // field meter of the description that is used for the checks
	Readings int               // spots a place; 0: 4
	History  []History         // earlier readings of a good state
	Outputs  []Output          // currents of ionisers
	Margin   float64           // [1] of a bar's current over what it must carry; 0: 5
	Found    *survey.Diagnosis // what was found; nil: the description runs as it stands
	Year     *Year             // the forecast; nil: none
}

// Task is who does what when.
type Task struct {
	What  string `json:"what"`            // the check or work
	Who   string `json:"who"`             // does it
	When  string `json:"when"`            // how often, or on which occasion
	Limit string `json:"limit,omitempty"` // what must come out of it
}

// Upkeep is what keeps a cure.
type Upkeep struct {
	Watches  []Watch        // of every place
	Cleaning []Cleaning     // of every ioniser
	Tasks    []Task         // in the order of the path, then of the calendar
	Triggers []string       // what asks for a new survey before the next shift
	Notices  []known.Notice // cautions that go with the tasks
}

// Keep tells who checks what when on the line at speed v. Intervals of earthing and
// of checks are common practice, no source: weekly readings, monthly earth checks with
// the rollers turning, a survey in the driest month; a site's own rules stand over
// them. Errors are [*known.FieldError]s.
func Keep(l *line.Line, v units.Speed, care Care) (Upkeep, error) {
	n := care.Readings
	if n == 0 {
		n = 4
	}
	margin := care.Margin
	if margin == 0 {
		margin = 5
	}
	err := errors.Join(known.InRange("margin", units.Ratio(margin), 1, 1000), known.Positive("speed", v))
	w, errW := Watches(l, care.Meter, n, care.History)
	errs := []error{err, errW}
	for i := range care.Outputs {
		o := &care.Outputs[i]
		at := fmt.Sprintf("outputs[%d]", i)
		errs = append(errs, o.check(at))
		if l != nil && !ionises(l, o.Station) {
			errs = append(errs, known.Wrong(at+".station", o.Station, "an ioniser of the line"))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return Upkeep{}, err
	}
	out := Upkeep{Watches: w}
	d := l.Description()
	net, err := arriving(l, v, care.Found)
	if err != nil {
		return Upkeep{}, err
	}
	var metal []string
	for i := range d.Stations {
		s := &d.Stations[i]
		switch {
		case s.Roller != nil && s.Roller.Kind == line.BareMetal:
			metal = append(metal, s.Name)
		case s.Roller != nil:
			out.add("cover of "+s.Name+": pinholes, marks; its core to earth", "maintenance", "monthly",
				"core at most "+survey.GroundLimit.String())
		case s.Ioniser != nil:
			c, err := out.clean(s, units.LineCurrent(net[i]*float64(v)*margin), care.Outputs)
			if err != nil {
				return Upkeep{}, err
			}
			out.Cleaning = append(out.Cleaning, c)
		}
	}
	if len(metal) > 0 {
		out.add("earth of each, turning: "+strings.Join(metal, ", "), "maintenance", "monthly, and after work on bearings",
			"at most "+survey.GroundLimit.String())
	}
	var places []string
	for _, x := range w {
		if x.Unused == "" && x.Action > 0 {
			places = append(places, x.Station)
		}
	}
	if len(places) > 0 {
		out.add(fmt.Sprintf("field with %s at %v, %d spots each, line running: %s", care.Meter, nominal(&d, care.Meter), n,
			strings.Join(places, ", ")), "operator trained for it, guards in place", "weekly, and on the first dry day",
			"mean of the spots below the action limit of its place, either sign")
	}
	out.add("meter: zero away from charge, against a known charge or a second meter", "operator", "before each round",
		"within its error of zero")
	out.add("hygrometers against a calibrated one, at the place where the goods are conditioned", "maintenance",
		"twice a year",
		"within 2.5 %RH")
	if care.Year != nil {
		out.add("survey of the line as of today", "process engineer", "in "+care.Year.Driest.String()+", the driest month",
			fmt.Sprintf("dry below a dew point of %s outdoors (%s binds)", written.Degrees(care.Year.Outdoor[1]),
				care.Year.Binding))
	} else {
		out.add("survey of the line as of today", "process engineer",
			"once a year on a dry day; no forecast names the month", "")
	}
	out.add("answers on zone and flammables", "who is responsible for explosion protection",
		"yearly, and at each change", "")
	out.Triggers = triggers(&d)
	for _, id := range []hazard.NoticeID{hazard.NoticeReachIn, hazard.NoticeNotApproval} {
		out.Notices = append(out.Notices, id.Notice(""))
	}
	if len(out.Cleaning) > 0 {
		out.Notices = append(out.Notices, hazard.NoticeHighVoltage.Notice(""), hazard.NoticeChemicals.Notice(""))
	}
	return out, nil
}

func (u *Upkeep) add(what, who, when, limit string) {
	u.Tasks = append(u.Tasks, Task{what, who, when, limit})
}

func (o *Output) check(at string) error {
	err := known.InRange(at+".error", o.Error, 0, 1)
	if len(o.Age) < 2 || len(o.Age) != len(o.Current) {
		err = errors.Join(err, known.Wrong(at+".current", fmt.Sprintf("%d currents, %d ages", len(o.Current), len(o.Age)),
			"two or more currents, each with its age"))
	}
	for i := range min(len(o.Age), len(o.Current)) {
		age := fmt.Sprintf("%s.age[%d]", at, i)
		err = errors.Join(err, known.Positive(fmt.Sprintf("%s.current[%d]", at, i), o.Current[i]),
			known.NotNegative(age, o.Age[i]))
		if i > 0 && !(o.Age[i] > o.Age[i-1]) {
			err = errors.Join(err, known.Wrong(age, o.Age[i], "later than the one before"))
		}
	}
	return err
}

// ionises says that a station of that name is an ioniser.
func ionises(l *line.Line, name string) bool {
	d := l.Description()
	return slices.ContainsFunc(d.Stations, func(s line.StationSpec) bool { return s.Name == name && s.Ioniser != nil })
}

// clean adds the task of an ioniser that must carry the current needed.
func (u *Upkeep) clean(s *line.StationSpec, needed units.LineCurrent, outputs []Output) (Cleaning, error) {
	const who = "qualified person, high voltage off, discharged and locked out"
	c := Cleaning{Station: s.Name, Needed: needed}
	for i := range outputs {
		if outputs[i].Station != s.Name {
			continue
		}
		var err error
		if c, err = CleaningOf(outputs[i], max(needed, units.LineCurrent(1e-12))); err != nil {
			return c, err
		}
		c.Needed = needed
	}
	limit := "display behind it as after the last cleaning"
	if needed > 0 {
		limit = "current at least " + written.Figures(needed)
	}
	if c.Every > 0 && !math.IsInf(float64(c.Every), 0) {
		u.add("clean "+s.Name, who, written.EveryDays(c.Every), limit)
	} else {
		u.add("clean "+s.Name+" and write down its current before and after", who,
			"monthly until its fall is known", limit)
	}
	return c, nil
}

// arriving is the magnitude of the net charge [C/m²] that comes to each station.
func arriving(l *line.Line, v units.Speed, found *survey.Diagnosis) ([]float64, error) {
	if found != nil {
		calibrated, err := found.Calibrated()
		if err != nil {
			return nil, err
		}
		l = calibrated
	}
	res := make([]line.Result, l.Len())
	l.RunTo(res, v)
	out := make([]float64, len(res))
	for i, r := range res {
		out[i] = math.Abs(float64(r.Net() - r.GainA - r.GainB))
	}
	return out, nil
}

func nominal(d *line.Description, meter string) units.Length {
	for i := range d.Meters {
		if d.Meters[i].Name == meter {
			return d.Meters[i].Nominal
		}
	}
	return 0
}

// triggers are the changes after which the figures of a survey no longer hold.
func triggers(d *line.Description) []string {
	out := []string{"another material, supplier or lot of " + d.Web.Material, "a roller or cover exchanged or re-ground",
		"bearings, brushes or earth straps worked on", fmt.Sprintf("a line speed beyond %.0f m/min (surveyed %.0f)",
			1.5*float64(d.Speed)/float64(units.MetrePerMinute), float64(d.Speed)/float64(units.MetrePerMinute)),
		"nip load, wrap or tension changed",
		"a treater, dryer or other source of ions or heat added or moved",
		"a set point or place of the air conditioning changed"}
	for i := range d.Stations {
		if s := &d.Stations[i]; s.Ioniser != nil {
			return append(out, "an ioniser moved, exchanged or switched off for more than a shift")
		}
	}
	return out
}
