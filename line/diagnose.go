package line

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.org/pithball/charge"
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
	Unknown
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
	Reading  int                 // index in the survey
	Band     [3]float64          // [unit of the quantity] 5, 50, 95 % of what such a reading would show
	Residual float64             // [1] (reading − prediction)/standard deviation of such a reading
	Used     bool                // whether the reading entered the estimate
	Why      string              // why not, or what is odd about it
	Flaws    charge.ReadingFlaws // of the way a field-meter reading was taken
}

// StationState is the charge of the web when it leaves a station.
type StationState struct {
	A, B, Net Estimate // [C/m²]
}

// Suggestion is the one measurement that would tell most of what is still open.
type Suggestion struct {
	Quantity Quantity // field meter or over-roller voltmeter
	Station  int      // index of the station
	Face     Face     // the face to look at; NoFace for a field meter in a free span
	// Removes is the share of the open variance of all changes that it would
	// remove. [1]
	Removes float64
}

// Diagnosis is what a survey tells of a line.
type Diagnosis struct {
	line     *Line
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
	view
	reading int       // index in the survey
	row     []float64 // derivative of the display with respect to each change
	value   float64   // zero-corrected
	target  float64   // what the next solution fits: the value, or for a reading out of range its stand-in
	fit     float64   // expected display at the last solution
	noise   noise     // at fit
	weight  float64   // robust weight
	atLeast bool      // the range was exceeded
	active  bool      // counts in the next solution
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
func (l *Line) Diagnose(s *Survey) (*Diagnosis, error) {
	if s == nil || len(s.Readings) == 0 {
		return nil, known.Wrong("survey", "no readings", "at least one reading")
	}
	d := &Diagnosis{line: l, survey: s, Speed: l.desc.Speed, Main: -1}
	u, m0, s0 := l.unknowns()
	rows, err := l.rows(s, d, u)
	if err != nil {
		return nil, err
	}
	if d.Ground, err = l.ground(s); err != nil {
		return nil, err
	}
	if len(rows) == 0 {
		return nil, known.Wrong("survey", fmt.Sprintf("%d readings, none usable", len(s.Readings)), "at least one field-meter or over-roller reading of the running line")
	}
	sys := newSystem(l, rows, m0, s0)
	for i := range 14 {
		if err := sys.solve(); err != nil {
			return nil, err
		}
		sys.reweight(l, i >= 7)
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

// view is how one reading sees the web at its station.
type view struct {
	station, meter int
	onA, onB       float64 // display per charge density of each face [V/(C/m²)]
	sens           float64 // relative error of the display from placing [1]
	placeSD        float64 // relative standard deviation of the geometry, or of the film [1]
	film           bool    // over a roller
	unused         string  // why the reading does not enter an estimate of charge
}

// perOuter is the potential of the web on an earthed roller per charge density
// of its outer face. [V/(C/m²)]
func (l *Line) perOuter() float64 {
	return float64(l.film.SurfaceVoltage(units.MicrocoulombPerSquareMetre)) / float64(units.MicrocoulombPerSquareMetre)
}

// look works out how a reading sees the web.
func (l *Line) look(r *Reading) (view, error) {
	w := view{station: l.Station(r.Station)}
	where := func(field string) string {
		if r.Line > 0 {
			return fmt.Sprintf("line %d: %s", r.Line, field)
		}
		return field
	}
	if w.station < 0 {
		return w, known.Wrong(where("station"), r.Station, "the name of a station of the description")
	}
	kind := l.desc.Stations[w.station].Kind
	switch {
	case r.Quantity == EarthResistance:
		w.unused = "ground check"
		return w, nil
	case r.Quantity != FieldMeter && r.Quantity != OverRoller:
		w.unused = "not used: " + r.Quantity.String() + " does not enter this estimate"
		return w, nil
	case !r.Running:
		w.unused = "not used: the line stood still"
		return w, nil
	}
	want := map[Quantity]string{FieldMeter: "field meter", OverRoller: "voltmeter"}[r.Quantity]
	w.meter = slices.IndexFunc(l.desc.Meters, func(m Meter) bool { return m.Name == r.Meter })
	if w.meter < 0 || l.desc.Meters[w.meter].Kind != want {
		return w, known.Wrong(where("meter"), r.Meter, "the name of a "+want+" of the description")
	}
	metal := kind == Roller || kind == Nip
	if r.Quantity == OverRoller {
		if !metal {
			return w, known.Wrong(where("station"), r.Station, "a roller or nip for an over-roller voltmeter")
		}
		if l.desc.Stations[w.station].Roller.Kind != "metal" {
			w.unused = "not used: a voltmeter over an insulating roller does not read against earthed metal"
		}
		w.film, w.placeSD = true, l.filmSD
		volts := l.perOuter()
		if r.Face == FaceA {
			w.onA = volts
		} else {
			w.onB = volts
		}
		return w, nil
	}
	if metal {
		w.unused = "not used: a field meter over a roller sees almost nothing of the web"
	}
	factor, sd := l.PlaceFactor(w.station, r.Distance, r.Gap)
	w.placeSD = sd
	if factor > 0 {
		m := l.meters[w.meter]
		w.onA = float64(m.DisplayAt(units.MicrocoulombPerSquareMetre, factor)) / float64(units.MicrocoulombPerSquareMetre)
		w.onB = w.onA
		w.sens = math.Abs(m.DistanceSensitivity(r.Distance, gapFor(r.Distance, factor))) * float64(l.desc.Meters[w.meter].Placing) / float64(r.Distance)
	}
	return w, nil
}

// gapFor returns the gap h for which h/(d+h) is the factor, by which a place
// behind a roller gets its sensitivity to distance; a factor of 1 gives 1 km.
func gapFor(d units.Length, factor float64) units.Length {
	const far = 1000 * units.Metre
	if factor >= 1 {
		return far
	}
	return min(units.Length(float64(d)*factor/(1-factor)), far)
}

// deviation is the standard deviation of what a reading with expectation mid
// shows, for charges that are known.
func (l *Line) deviation(w *view, mid float64) float64 {
	m := &l.desc.Meters[w.meter]
	n := m.noise(mid, w.sens, !w.film)
	return math.Sqrt(sq(n.own) + sq(n.gain*float64(m.Gain)) + sq(float64(m.Offset)) + sq(n.place*w.placeSD))
}

// Expect returns the 5, 50 and 95 % quantiles of what a reading shows if the web
// carries the charges a and b on its faces at the reading's station: the spread
// of the meter, of its placing, of the geometry and of the spots. The reading's
// own value is not used. Errors are [*known.FieldError]s: an unknown station or
// meter, a quantity that does not see the charge of the web.
func (l *Line) Expect(r *Reading, a, b units.SurfaceChargeDensity) (band [3]float64, err error) { // [unit of the quantity]
	w, err := l.look(r)
	if err != nil {
		return band, err
	}
	if w.unused != "" {
		return band, known.Wrong("quantity", r.Quantity, "a reading of the running web: "+w.unused)
	}
	mid := w.onA*float64(a) + w.onB*float64(b)
	sd := l.deviation(&w, mid)
	return [3]float64{mid - known.Z95*sd, mid, mid + known.Z95*sd}, nil
}

// perMinute writes a line speed as the floor says it.
func perMinute(v units.Speed) string { return units.Display(v, units.Metric, 3) }

// rows turns the readings into rows of the linear model.
func (l *Line) rows(s *Survey, d *Diagnosis, u []Unknown) ([]obs, error) {
	var out []obs
	d.Fits = make([]Fit, len(s.Readings))
	nan := math.NaN()
	cache := map[string][][2][]float64{}
	for i := range s.Readings {
		r := &s.Readings[i]
		d.Fits[i] = Fit{Reading: i, Band: [3]float64{nan, nan, nan}, Residual: nan}
		w, err := l.look(r)
		if err != nil {
			return nil, err
		}
		if w.unused != "" {
			d.Fits[i].Why = w.unused
			continue
		}
		if math.Abs(float64(r.Speed-l.desc.Speed)) > 0.05*float64(l.desc.Speed) {
			return nil, known.Wrong(fmt.Sprintf("line %d: line speed", r.Line), perMinute(r.Speed), fmt.Sprintf("within 5 %% of the description's speed %s; describe the line at the speed of the survey", perMinute(l.desc.Speed)))
		}
		off := l.desc.Stations[w.station].Off
		key := fmt.Sprint(off)
		co, ok := cache[key]
		if !ok {
			co = l.coefficients(u, l.desc.Speed, off)
			cache[key] = co
		}
		o := obs{view: w, reading: i, row: make([]float64, len(u)), value: r.Value - r.Zero, target: r.Value - r.Zero, atLeast: r.AtLeast, weight: 1, active: true}
		limit := r.FullScale
		if limit == 0 {
			limit = float64(l.desc.Meters[w.meter].FullScale)
		}
		o.atLeast = o.atLeast || limit > 0 && math.Abs(r.Value) >= limit
		for k := range o.row {
			o.row[k] = w.onA*co[w.station][0][k] + w.onB*co[w.station][1][k]
		}
		d.Fits[i].Used = true
		if r.Quantity == FieldMeter {
			d.Fits[i].Flaws = l.flaws(s, r, w.station)
		}
		out = append(out, o)
	}
	return out, nil
}

// flaws says what is wrong with the way a field-meter reading was taken, as far
// as a survey records it.
func (l *Line) flaws(s *Survey, r *Reading, station int) charge.ReadingFlaws {
	st := &l.desc.Stations[station]
	gap := r.Gap
	switch {
	case gap > 0:
	case st.Past != nil:
		gap = charge.GapBehindRoller(st.Past.Radius, st.Past.X)
	default:
		gap = st.Gap
	}
	repeats := 0
	for i := range s.Readings {
		if o := &s.Readings[i]; o.Quantity == r.Quantity && o.Station == r.Station && o.Meter == r.Meter {
			repeats++
		}
	}
	return charge.ReadingConditions{Distance: r.Distance, Gap: gap, Width: l.desc.Web.Width, Repeats: repeats, Zeroed: r.HasZero, Earthed: true,
		BothFaces: true, HumidityHere: r.HasAir, Running: r.Running, TroubleRunning: true, FullScale: r.AtLeast}.Lint()
}

// states fills the charge after each station.
func (d *Diagnosis) states() {
	u := d.unknownList()
	co := d.line.coefficients(u, d.Speed, nil)
	for i := range co {
		a, b := co[i][0], co[i][1]
		if off := d.line.desc.Stations[i].Off; len(off) > 0 {
			o := d.line.coefficients(u, d.Speed, off)
			a, b = o[i][0], o[i][1]
		}
		net := make([]float64, len(a))
		for k := range net {
			net[k] = a[k] + b[k]
		}
		d.States = append(d.States, StationState{A: d.estimate(a), B: d.estimate(b), Net: d.estimate(net)})
	}
}

func (d *Diagnosis) unknownList() []Unknown {
	u := make([]Unknown, len(d.Changes))
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
		sd := math.Hypot(e.SD, d.line.deviation(&o.view, e.Value))
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
