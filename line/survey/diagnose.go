package survey

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/pithball/charge/field"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Estimate is a number with its standard deviation and its 5 and 95 % quantiles,
// in the unit of its field.
type Estimate struct {
	Value float64 `json:"value"` // [unit of the field] median
	SD    float64 `json:"sd"`    // [unit of the field] standard deviation
	Low   float64 `json:"low"`   // [unit of the field] 5 %
	High  float64 `json:"high"`  // [unit of the field] 95 %
}

// Band returns the 5, 50 and 95 % quantiles of the estimate.
func (e Estimate) Band() (lo, mid, hi float64) { // [unit of the field]
	return e.Low, e.Value, e.High
}

// FaceGain is what one face gained at one station, as the readings tell it.
type FaceGain struct {
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

// ReadingFit is one reading beside its prediction.
type ReadingFit struct {
	Reading  int                // index in the survey
	Band     [3]float64         // [unit of the quantity] 5, 50, 95 % of what such a reading would show
	Value    float64            // [V] what was read, zero taken off, in volts; of a used reading
	Residual float64            // [1] (reading − prediction)/standard deviation of such a reading
	Used     bool               // whether the reading entered the estimate
	Why      string             // why not, or what is odd about it
	Flaws    field.ReadingFlaws // of the way a field-meter reading was taken
}

// StationState is the charge of the web when it leaves a station.
type StationState struct {
	A, B, Net Estimate // [C/m²]
}

// Diagnosis is what a survey tells of a line.
type Diagnosis struct {
	line    *line.Line
	desc    line.Description
	survey  *Survey
	Speed   units.Speed // for which Changes and States hold: that of most readings
	Changes []FaceGain  // in the order of the path
	// States are the charges after each station, as the readings there were taken: with
	// the devices off that the place names.
	States   []StationState
	Fits     []ReadingFit    // for each reading
	Leads    []Leads         // by falling chance
	Together [][]int         // indices into Changes that the readings cannot separate
	Ground   []GroundFinding // of every conductor
	Leaks    []LeakFound     // of every way to earth that is described
	Answer   Answer          // where the charge comes from

	// Quiet is the chance that nothing which was read comes near the limit. [1]
	Quiet float64

	shown     []shown    // of each reading
	settled   *line.Line // the line with the leaks as found, in the air of Changes and States
	model     *model
	free      *free
	wrong     []float64 // chance that each row is wrong [1]
	posterior *Posterior
	stop      func() bool             // see check
	asked     context.Context         // who wants to know how far the work is; nil: nobody
	looks     map[line.Look]line.View // that were seen
	// Room for what a step needs, for models that are thrown away, and for what this
	// diagnosis keeps: none, but where it is thrown away itself.
	room, passing, lasting *arena

	samples          [][]float64 // of the posterior [µC/m²]
	spots            []float64   // of each sample its weight by the scatter of spots; nil: none was heard
	still, likeliest float64     // Quiet by the means alone; chance of the likeliest source or unlisted span [1]
	dismissed        bool        // a quiet line would have several readings of one place wrong
}

// Diagnose finds what every contact and device changed on each face from the
// readings of a survey, taken at any speeds, in any airs and on any days.
//
// The readings are linear in the changes, and every statement may be wrong: what
// the description says of a contact, that nothing unlisted acts between two places,
// each reading. A statement that is wrong is a normal distribution too, a known and
// much wider one, so that the answer is a mixture of explanations; those that
// compete are searched and kept with their weights. A spot scatters with the charge
// of each face; what repeats share (gain and offset of a meter, geometry of a place,
// thickness of the film, stripes that stay with the web) is an unknown that they
// share. Readings out of range enter by their likelihood. States and Changes are
// quantiles of [Posterior] samples; [Answer] is what the samples say together.
//
// Readings of a stopped line, pail charges and decay times are listed as not used,
// and so are readings that cannot be read against the charge of the web: Fits says
// why. Errors are [*known.FieldError]s that name the row, all of them: an unknown station or
// meter, a number that is none, no reading that says anything.
func Diagnose(l *line.Line, s *Survey) (*Diagnosis, error) {
	d := &Diagnosis{}
	if err := d.find(l, s); err != nil {
		return nil, err
	}
	return d, nil
}

// find makes the diagnosis.
func (d *Diagnosis) find(l *line.Line, s *Survey) error {
	if l == nil || l.Len() == 0 {
		return known.Wrong("line", "none", "a line made by line.New")
	}
	if s == nil || len(s.Readings) == 0 {
		return known.Wrong("survey", "no readings", "at least one reading")
	}
	d.line, d.desc, d.survey, d.looks = l, l.Description(), s, map[line.Look]line.View{}
	d.room, d.passing = arenas.Get().(*arena), arenas.Get().(*arena)
	defer d.done()
	alone := false // readings with an answer of their own
	var errs []error
	for i := range s.Readings {
		r := &s.Readings[i]
		if err := r.finite(); err != nil {
			errs = append(errs, r.at(i, err))
		}
		alone = alone || r.Quantity != line.FieldMeter && r.Quantity != line.OverRoller
	}
	d.Ground = d.ground()
	groups, conds, err := d.readings()
	if err := errors.Join(append(errs, err)...); err != nil {
		return err
	}
	if len(groups) == 0 {
		if !alone {
			return known.Wrong(
				"survey",
				fmt.Sprintf("%d readings, none usable", len(s.Readings)),
				"at least one reading of the running line, or of a conductor's earth, a pail or a decay",
			)
		}
		conds = []condition{{speed: d.desc.Speed, humidity: describedDamp(&d.desc),
			airTemperature: d.desc.Air.Temperature, airHumidity: d.desc.Air.RelativeHumidity}}
	}
	d.Speed = conds[0].speed
	d.begin("looking for explanations", 0)
	d.fit(groups, conds)
	d.model.solve(nil)
	d.free = d.model.free()
	d.wrong = d.model.wrongs(d.posterior)
	if err := d.leaks(); err != nil {
		return err
	}
	d.begin("working out the charges", 0)
	d.states()
	d.changes()
	d.predict()
	if len(groups) == 0 {
		d.Answer = Answer{Kind: CannotTell, Between: [2]int{-1, -1}, Why: NoCharge, Rests: -1}
		return nil
	}
	d.begin("asking whether a quiet line shows this", 0)
	d.Quiet = d.quiet(groups, conds)
	d.still = d.Quiet
	d.begin("putting the answer together", 0)
	d.hear()
	d.answer()
	return nil
}

// done takes away what only the making needs: later questions have no context and room of
// their own.
func (d *Diagnosis) done() {
	if d.model != nil {
		d.model.giveBack()
	}
	d.room.leave()
	d.passing.leave()
	d.stop, d.asked, d.looks, d.room, d.passing = nil, nil, nil, nil, nil
}

// fit finds the explanations of the groups and draws samples of them.
func (d *Diagnosis) fit(groups []*group, conds []condition) {
	d.model = newModel(d, groups, conds, d.lasting)
	p := d.room.mark()
	d.posterior = d.model.posterior(d.model.fitted())
	d.room.back(p)
	d.sample()
}

// readings checks the rows and collects those that see the charge of the web.
func (d *Diagnosis) readings() ([]*group, []condition, error) {
	s := d.survey
	var errs []error
	views, running := d.look(func(r *Reading, i int, err error) { errs = append(errs, r.at(i, err)) })
	if err := errors.Join(errs...); err != nil || len(running) == 0 {
		return nil, nil, err
	}
	type spot struct {
		station int
		meter   string
	}
	repeats := map[spot]int{}
	for _, i := range running {
		if r := &s.Readings[i]; r.Quantity == line.FieldMeter {
			repeats[spot{views[i].Station, r.Meter}]++
		}
	}
	for _, i := range running {
		if r := &s.Readings[i]; r.Quantity == line.FieldMeter {
			d.Fits[i].Flaws = d.flaws(r, views[i].Station, repeats[spot{views[i].Station, r.Meter}])
		}
	}
	conds, of := conditions(s, &d.desc, running)
	groups := grouped(s, views, of, d.desc.Web.Width, d.shown)
	return slices.DeleteFunc(groups, func(g *group) bool {
		if g.lost {
			for _, i := range g.readings {
				d.Fits[i].Used, d.Fits[i].Why = false, "not used: out of the range to either side at the same place"
			}
		}
		return g.lost
	}), conds, nil
}

// volts is a reading in volts of mid-web, its zero taken off; why says why it cannot
// be used.
func (d *Diagnosis) volts(r *Reading, w *line.View) (s shown, why string, err error) {
	m := &d.desc.Meters[w.Meter]
	unit := 1.0
	if r.AsField {
		unit = float64(m.Nominal)
	}
	full := r.FullScale * unit
	if full == 0 {
		full = float64(m.FullScale)
	}
	v := r.Value * unit
	s.over = r.AtLeast || full > 0 && math.Abs(v) >= full
	if r.Over {
		switch {
		case full == 0:
			return s, "", known.Wrong(
				"full scale",
				"",
				"the end of the range that was exceeded, in the row or of the meter "+m.Name,
			)
		case r.Sign == 0:
			return s, "not used: over its range without a sign", nil
		}
		v = float64(r.Sign) * full
	}
	s.volts = (v - r.Zero*unit) / w.Edge
	if w.Most > 0 && math.Abs(s.volts) > w.Most {
		return s, "not used: at such a field the air at the roll has given way, and the display says nothing of the web", nil
	}
	return s, "", nil
}

// finite checks that the numbers of a reading are numbers.
func (r *Reading) finite() error {
	for _, f := range []struct {
		name string
		v    float64
	}{
		{"value", r.Value}, {"zero", r.Zero}, {"full scale", r.FullScale},
		{"line speed", float64(r.Speed)}, {"distance", float64(r.Distance)},
		{"gap behind", float64(r.Gap)}, {"cross-web position", float64(r.Cross)},
		{"air humidity", float64(r.AirHumidity)}, {"air temperature", float64(r.AirTemperature)},
	} {
		if math.IsNaN(f.v) || math.IsInf(f.v, 0) {
			return known.Wrong(f.name, f.v, "a finite number")
		}
	}
	if top := greatest(r.Quantity); math.Abs(r.Value) > top || math.Abs(r.Zero) > top {
		return known.Wrong("value", r.Value, "a magnitude of at most "+show(r.Quantity, top))
	}
	return nil
}

// flaws says what is wrong with the way a field-meter reading was taken, as far
// as a survey records it.
func (d *Diagnosis) flaws(r *Reading, station, repeats int) field.ReadingFlaws {
	st := &d.desc.Stations[station]
	gap := r.Gap
	switch {
	case gap > 0:
	case st.Past != nil:
		gap = field.GapBehindRoller(st.Past.Radius, st.Past.X)
	default:
		gap = st.Gap
	}
	return field.ReadingConditions{
		Distance:       r.Distance,
		Nominal:        r.Distance, // both distances are in what the reading is compared with
		Gap:            gap,
		Width:          d.desc.Web.Width,
		Repeats:        repeats,
		Zeroed:         r.HasZero,
		Earthed:        true,
		BothFaces:      true,
		HumidityHere:   r.HasAir,
		Running:        r.Running,
		TroubleRunning: true,
		FullScale:      r.AtLeast,
	}.Flaws()
}

// overEarthedMetal reports whether a non-contact voltmeter over the roller reads
// against earthed metal: a metal roller that the survey did not find isolated.
func (d *Diagnosis) overEarthedMetal(station int) bool {
	if r := d.desc.Stations[station].Roller; r == nil || r.Kind != line.BareMetal {
		return false
	}
	return !slices.ContainsFunc(d.Ground, func(g GroundFinding) bool { return g.Station == station && g.Isolated })
}

// earthMeasured reports whether the survey has the roller's resistance to earth.
func (d *Diagnosis) earthMeasured(station int) bool {
	return slices.ContainsFunc(d.Ground, func(g GroundFinding) bool { return g.Station == station && g.Measured })
}

// changes fills what each contact and bar did.
func (d *Diagnosis) changes() {
	l := d.model.lay
	identified := d.identify()
	defer d.room.back(d.room.mark())
	x := d.room.take(len(d.samples))
	for k, u := range l.changes {
		for i, s := range d.samples {
			x[i] = s[k]
		}
		sd := l.spread[k]
		prior := Estimate{
			Value: l.mean[k] * 1e-6,
			SD:    sd * 1e-6,
			Low:   (l.mean[k] - known.Z95*sd) * 1e-6,
			High:  (l.mean[k] + known.Z95*sd) * 1e-6,
		}
		c := FaceGain{Unknown: u, Found: estimate(x, 1e-6), Prior: prior, Identified: identified[k]}
		c.Told = min(max(0, 1-sq(c.Found.SD/prior.SD)), 1)
		d.Changes = append(d.Changes, c)
	}
}

// states fills the charge after each station.
func (d *Diagnosis) states() {
	defer d.room.back(d.room.mark())
	n := len(d.desc.Stations)
	a, b, net := make([][]float64, n), make([][]float64, n), d.room.take(len(d.samples))
	for i := range n {
		a[i], b[i] = d.room.take(len(d.samples)), d.room.take(len(d.samples))
	}
	f := newForward(d.line, &d.desc, d.model.lay, d.model.walk.at)
	for j, s := range d.samples {
		f.run(s, nil, func(i int, qa, qb float64) { a[i][j], b[i][j] = qa, qb })
	}
	for i := range n {
		off := d.desc.Stations[i].Off
		if len(off) == 0 {
			continue
		}
		d.check()
		for j, s := range d.samples {
			f.runTo(i, s, off, func(k int, qa, qb float64) {
				if k == i {
					a[i][j], b[i][j] = qa, qb
				}
			})
		}
	}
	for i := range n {
		for j := range net {
			net[j] = a[i][j] + b[i][j]
		}
		d.States = append(
			d.States,
			StationState{A: estimate(a[i], 1e-6), B: estimate(b[i], 1e-6), Net: estimate(net, 1e-6)},
		)
	}
}

// predict gives for each used reading the band of what such a reading shows and
// the standardised residual.
func (d *Diagnosis) predict() {
	m := d.model
	for i := range m.rows {
		r := &m.rows[i]
		if r.group == nil {
			continue
		}
		g := r.group
		mean, variance := m.dual.moments(m.dual.row(i))
		mean += m.constant(r.gi)
		sd := math.Sqrt(variance + m.misfit*m.own(r.gi, m.fit(r.gi), 1, 1))
		set := func(reading int, value float64) {
			f := &d.Fits[reading]
			f.Band = [3]float64{mean - known.Z95*sd, mean, mean + known.Z95*sd}
			f.Residual = (value - mean) / sd
			if g.over != 0 {
				f.Why = "at least: beyond the meter's range"
				if g.over*mean >= g.over*value {
					f.Why, f.Residual = "at least: beyond the meter's range, as predicted", 0
				}
			}
		}
		if r.at >= 0 {
			set(g.readings[r.at], g.values[r.at])
			continue
		}
		for j, reading := range g.readings {
			v := g.mean
			if g.over == 0 {
				v = g.values[j]
			}
			set(reading, v)
		}
		for _, reading := range g.dropped {
			set(reading, d.shown[reading].volts)
		}
		for _, reading := range g.beyond {
			set(reading, d.shown[reading].volts)
			d.Fits[reading].Why = "at least: beyond the meter's range; it counts by its place in the order"
		}
	}
}
