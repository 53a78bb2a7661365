package survey

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/charge/field"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Estimate is a number with its standard deviation, in the unit of its field.
type Estimate struct {
	Value float64 `json:"value"` // [unit of the field]
	SD    float64 `json:"sd"`    // [unit of the field] standard deviation
}

// Band returns the 5, 50 and 95 % quantiles of the estimate, taken as normal.
func (e Estimate) Band() (lo, mid, hi float64) { // [unit of the field]
	return e.Value - known.Z95*e.SD, e.Value, e.Value + known.Z95*e.SD
}

// Change is what one face gained at one station, as the readings tell it.
type Change struct {
	line.Unknown
	Found Estimate // [C/m²] posterior of the change
	Prior Estimate // [C/m²] what the description expected
	// Identified says that the readings alone, without the priors, fix this change.
	Identified bool
	// Told is the share of the prior variance that the readings removed. [1]
	Told float64
}

// Leads is the chance that the station made the largest change of any face.
type Leads struct {
	Station int     // index of the station
	Chance  float64 // [1]
}

// Fit is one reading beside its prediction.
type Fit struct {
	Reading  int                // index in the survey
	Band     [3]float64         // [unit of the quantity] 5, 50, 95 % of what such a reading would show
	Residual float64            // [1] (reading − prediction)/standard deviation of such a reading
	Used     bool               // whether the reading entered the estimate
	Why      string             // why not, or what is odd about it
	Flaws    field.ReadingFlaws // of the way a field-meter reading was taken
}

// StationState is the charge of the web when it leaves a station.
type StationState struct {
	A, B, Net Estimate // [C/m²]
}

// Suggestion is the one measurement that would tell most of what is still open.
type Suggestion struct {
	Quantity line.Quantity // field meter or over-roller voltmeter
	Station  int           // index of the station
	Face     line.Face     // the face to look at; line.NoFace for a field meter in a free span
	// Removes is the share of the open variance of all changes that it would
	// remove. [1]
	Removes float64
}

// Diagnosis is what a survey tells of a line.
type Diagnosis struct {
	line     *line.Line
	desc     line.Description
	survey   *Survey
	Speed    units.Speed     // at which the readings were taken
	Changes  []Change        // in the order of the path
	States   []StationState  // after each station, as the readings there were taken: with the devices off that the place names
	Fits     []Fit           // for each reading
	Leads    []Leads         // by falling chance
	Together [][]int         // indices into Changes that the readings cannot separate
	Rank     int             // of the readings alone
	Ground   []GroundFinding // of every conductor
	Next     *Suggestion     // nil if no measurement would tell more
	// Main is the index of the main source's station, -1 if these readings cannot
	// tell.
	Main int

	cov   *mat.SymDense // of the changes [C²/m⁴]
	mean  []float64     // of the changes [C/m²]
	lower *mat.TriDense // of cov
}

// obs is one reading as a row of the linear model.
type obs struct {
	line.View
	reading int        // index in the survey
	row     []float64  // derivative of the display with respect to each change
	value   float64    // zero-corrected
	target  float64    // what the next solution fits: the value, or for a reading out of range its stand-in
	fit     float64    // expected display at the last solution
	noise   line.Noise // at fit
	weight  float64    // robust weight
	atLeast bool       // the range was exceeded
	active  bool       // counts in the next solution
}

// Diagnose estimates what every contact and device changed on each face from
// the readings of a survey: weighted linear least squares with the description's
// priors, the meters' own errors, gains and offsets that a meter's readings share,
// an error of geometry that the readings of one place share, robust weights
// (Huber, then biweight) against gross errors, and readings out of range as "at least".
//
// The rank test asks which changes the readings fix without the priors; those
// they do not fix are grouped in Together. The main source is named only if one
// station made the largest change of a face with a chance of 90 % or more and
// that change is fixed by the readings; else Main is -1: these readings cannot
// tell.
//
// Readings of a stopped line, pail charges and decay times are listed as not
// used. Errors are [*known.FieldError]s: an unknown station or meter, a reading
// at another speed, no usable reading.
func Diagnose(l *line.Line, s *Survey) (*Diagnosis, error) {
	if s == nil || len(s.Readings) == 0 {
		return nil, known.Wrong("survey", "no readings", "at least one reading")
	}
	d := &Diagnosis{line: l, desc: l.Description(), survey: s, Main: -1}
	d.Speed = d.desc.Speed
	u, m0, s0 := l.Unknowns()
	rows, err := d.rows(u)
	if err != nil {
		return nil, err
	}
	if d.Ground, err = d.ground(); err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, known.Wrong("survey", fmt.Sprintf("%d readings, none usable", len(s.Readings)), "at least one field-meter or over-roller reading of the running line")
	}
	sys := newSystem(l, d.desc.Meters, rows, m0, s0)
	for i := range 14 {
		if err := sys.solve(); err != nil {
			return nil, err
		}
		sys.reweight(i >= 7)
	}
	if err := sys.solve(); err != nil {
		return nil, err
	}
	d.mean, d.cov = sys.mean, sys.cov
	identified, groups, rank := sys.rankTest(s0)
	d.Rank, d.Together = rank, groups
	for k := range u {
		sd := math.Sqrt(max(d.cov.At(k, k), 0))
		d.Changes = append(d.Changes, Change{Unknown: u[k], Found: Estimate{d.mean[k], sd}, Prior: Estimate{m0[k], s0[k]},
			Identified: identified[k], Told: max(0, 1-sd*sd/(s0[k]*s0[k]))})
	}
	d.states()
	d.predict(rows)
	d.lead()
	d.Next = d.suggest(u)
	return d, nil
}

// at puts the line of the file before the field of an error.
func (r *Reading) at(err error) error {
	var f *known.FieldError
	if r.Line > 0 && errors.As(err, &f) {
		c := *f
		c.Field = fmt.Sprintf("line %d: %s", r.Line, f.Field)
		return &c
	}
	return err
}

// perMinute writes a line speed as the floor says it.
func perMinute(v units.Speed) string { return units.Display(v, units.Metric, 3) }

// rows turns the readings into rows of the linear model.
func (d *Diagnosis) rows(u []line.Unknown) ([]obs, error) {
	l, s := d.line, d.survey
	var out []obs
	d.Fits = make([]Fit, len(s.Readings))
	nan := math.NaN()
	cache := map[string][][2][]float64{}
	for i := range s.Readings {
		r := &s.Readings[i]
		d.Fits[i] = Fit{Reading: i, Band: [3]float64{nan, nan, nan}, Residual: nan}
		w, err := l.View(&r.Look)
		if err != nil {
			return nil, r.at(err)
		}
		if w.Unused != "" {
			d.Fits[i].Why = w.Unused
			continue
		}
		if math.Abs(float64(r.Speed-d.desc.Speed)) > 0.05*float64(d.desc.Speed) {
			return nil, known.Wrong(fmt.Sprintf("line %d: line speed", r.Line), perMinute(r.Speed), fmt.Sprintf("within 5 %% of the description's speed %s; describe the line at the speed of the survey", perMinute(d.desc.Speed)))
		}
		off := d.desc.Stations[w.Station].Off
		key := fmt.Sprint(off)
		co, ok := cache[key]
		if !ok {
			co = l.Response(u, d.desc.Speed, off)
			cache[key] = co
		}
		o := obs{View: w, reading: i, row: make([]float64, len(u)), value: r.Value - r.Zero, target: r.Value - r.Zero, atLeast: r.AtLeast, weight: 1, active: true}
		limit := r.FullScale
		if limit == 0 {
			limit = float64(d.desc.Meters[w.Meter].FullScale)
		}
		o.atLeast = o.atLeast || limit > 0 && math.Abs(r.Value) >= limit
		for k := range o.row {
			o.row[k] = w.OnA*co[w.Station][0][k] + w.OnB*co[w.Station][1][k]
		}
		d.Fits[i].Used = true
		if r.Quantity == line.FieldMeter {
			d.Fits[i].Flaws = d.flaws(r, w.Station)
		}
		out = append(out, o)
	}
	return out, nil
}

// flaws says what is wrong with the way a field-meter reading was taken, as far
// as a survey records it.
func (d *Diagnosis) flaws(r *Reading, station int) field.ReadingFlaws {
	st := &d.desc.Stations[station]
	gap := r.Gap
	switch {
	case gap > 0:
	case st.Past != nil:
		gap = field.GapBehindRoller(st.Past.Radius, st.Past.X)
	default:
		gap = st.Gap
	}
	repeats := 0
	for i := range d.survey.Readings {
		if o := &d.survey.Readings[i]; o.Quantity == r.Quantity && o.Station == r.Station && o.Meter == r.Meter {
			repeats++
		}
	}
	return field.ReadingConditions{Distance: r.Distance, Gap: gap, Width: d.desc.Web.Width, Repeats: repeats, Zeroed: r.HasZero, Earthed: true,
		BothFaces: true, HumidityHere: r.HasAir, Running: r.Running, TroubleRunning: true, FullScale: r.AtLeast}.Lint()
}

// states fills the charge after each station.
func (d *Diagnosis) states() {
	u := d.unknownList()
	co := d.line.Response(u, d.Speed, nil)
	for i := range co {
		a, b := co[i][0], co[i][1]
		if off := d.desc.Stations[i].Off; len(off) > 0 {
			o := d.line.Response(u, d.Speed, off)
			a, b = o[i][0], o[i][1]
		}
		net := make([]float64, len(a))
		for k := range net {
			net[k] = a[k] + b[k]
		}
		d.States = append(d.States, StationState{A: d.estimate(a), B: d.estimate(b), Net: d.estimate(net)})
	}
}

func (d *Diagnosis) unknownList() []line.Unknown {
	u := make([]line.Unknown, len(d.Changes))
	for k := range u {
		u[k] = d.Changes[k].Unknown
	}
	return u
}

// estimate returns the posterior of the combination Σ c·x.
func (d *Diagnosis) estimate(c []float64) Estimate {
	v := mat.NewVecDense(len(c), c)
	var e Estimate
	for k := range c {
		e.Value += c[k] * d.mean[k]
	}
	e.SD = math.Sqrt(max(mat.Inner(v, d.cov, v), 0))
	return e
}

// predict gives for each used reading the band of what such a reading shows and
// the standardised residual.
func (d *Diagnosis) predict(rows []obs) {
	for i := range rows {
		o := &rows[i]
		e := d.estimate(o.row)
		sd := math.Hypot(e.SD, d.line.Deviation(&o.View, e.Value))
		f := &d.Fits[o.reading]
		f.Band = [3]float64{e.Value - known.Z95*sd, e.Value, e.Value + known.Z95*sd}
		f.Residual = (o.value - e.Value) / sd
		switch {
		case o.atLeast && math.Abs(e.Value) >= math.Abs(o.value):
			f.Why, f.Residual = "at least: beyond the meter's range, as predicted", 0
		case o.atLeast:
			f.Why = "at least: beyond the meter's range"
		case math.Abs(f.Residual) > 4:
			f.Why = "odd: far outside what the other readings say; given little weight"
		}
	}
}

func sq(x float64) float64 { return x * x }
