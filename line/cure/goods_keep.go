package cure

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/pithball/charge/field"
	"example.org/pithball/charge/hazard"
	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/internal/written"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"gonum.org/v1/gonum/stat"
)

// GoodsCare is what the keeping of goods is worked out from, beside their way.
type GoodsCare struct {
	History []GoodsHistory // readings of a good state
	Outputs []NozzleOutput // currents of nozzles
	Year    *upkeep.Year   // the forecast; nil: none
}

// GoodsHistory is what was read earlier behind a stop, body by body, in a state that was
// found good: in pails or as displays, as the description's readings there are.
type GoodsHistory struct {
	Station string                 // behind which
	Pails   []units.Charge         // four or more for control limits
	Values  []units.DisplayVoltage // the same of displays
}

// NozzleOutput is the current that reaches a plate in the place of the body, against the
// age of the nozzle since it was cleaned.
type NozzleOutput struct {
	Station string          // the ioniser
	Age     []units.Time    // since the last cleaning, rising
	Current []units.Current // each more than 0
	Error   units.Ratio     // relative standard deviation of one current; 0: 5 %
}

// GoodsWatch is what may be read behind a stop of goods: parts and doses by a pail, sheets by
// the meter of the description's readings there, profiles by a meter at the distance of their readings from the axis,
// several times their radius.
type GoodsWatch struct {
	Station string // behind which
	Pail    bool   // whether a pail reads it, in C; else a field meter, in V
	// Limit is the reading for a charge at the limit, of a dose judged by its scatter for
	// the charge that puts 5 % of the doses outside their tolerance, the lower 5 % of what
	// is known of it. [C or V]
	Limit float64
	// Action is what the mean of four bodies must stay below, as magnitude, so that the charge is
	// under the limit with 95 %: Limit·(1 − 1.645·e), e the relative standard deviation of one
	// reading. It counts in full, however many are averaged, since it holds the meter's gain and
	// placing; 0: readings of that error cannot show it. [C or V]
	Action float64
	// Control are the 3 σ limits of one body from earlier readings; 0 where there are fewer than
	// four. [C or V]
	Control [2]float64
	// Distance and Gap are where the meter has to stand and how far metal is behind the sheet.
	Distance, Gap units.Length
	Unused        string // why it cannot watch there, "" if it can
}

// NozzleCleaning is when a nozzle is to be cleaned, as [upkeep.Cleaning] is of a bar.
type NozzleCleaning struct {
	Station       string        // the ioniser
	Needed        units.Current // the charge that arrives, at the median, over the time in the stream
	Every, Median units.Time    // 0 where no history tells: measure
}

// AirFloor is the humidity that an air must not fall below.
type AirFloor struct {
	Air      string                 // by name
	Humidity units.RelativeHumidity // at the air's temperature: the chance over the limit is 5 % there
	DewPoint units.Temperature      // that belongs to it
}

// GoodsUpkeep is what keeps a cure of goods.
type GoodsUpkeep struct {
	Watches  []GoodsWatch     // of every stop behind which the description has readings
	Cleaning []NozzleCleaning // of every nozzle that is on
	Floors   []AirFloor       // of every air with a leak or a source that follows it
	Tasks    []upkeep.Task    // in the order of the way, then of the calendar
	Triggers []string         // what asks for new readings before the next shift
	Notices  []known.Notice   // cautions that go with the tasks
}

// Keep tells who checks what when for the goods at the described rate. Intervals are
// common practice, no source, as in [upkeep.Keep]; a site's own rules stand over them. It
// needs no answer about the zone: it changes nothing. Errors are [*known.FieldError]s.
func (r *Route) Keep(care GoodsCare) (*GoodsUpkeep, error) {
	if len(r.gains) == 0 {
		return nil, known.Wrong("goods", "none", "a way made by NewRoute")
	}
	if err := r.checkCare(&care); err != nil {
		return nil, err
	}
	u := &GoodsUpkeep{Watches: r.watches(care.History)}
	var metal []string
	for _, c := range r.goods.Conductors {
		metal = append(metal, c.Name)
	}
	if len(metal) == 0 {
		metal = []string{"every metal part: none is listed yet"}
	}
	u.add("earth of each: "+strings.Join(metal, ", "), "maintenance", "monthly, and after each conversion or cleaning",
		"at most "+survey.GroundLimit.String())
	for i := range r.goods.Stations {
		s := &r.goods.Stations[i]
		if s.Without != nil {
			u.add("what charges at "+s.Name+" (liner, cover): as after the cure, whole, no new one on metal", "maintenance",
				"monthly, and after each conversion", "as after the cure")
		}
		if s.Nozzle != nil && !s.Nozzle.Off {
			if err := u.clean(r, s, care.Outputs); err != nil {
				return nil, err
			}
		}
	}
	for i := range u.Watches {
		if w := &u.Watches[i]; w.Unused == "" && w.Action > 0 {
			what := fmt.Sprintf("charge of four %ss from behind %s, each in a pail, its empty container taken off",
				r.goods.Kind, w.Station)
			switch {
			case r.goods.Kind == ProfileBody:
				what = fmt.Sprintf("field at four places of the running profile, the meter %v from its axis, behind %s, no metal "+
					"within three times that", w.Distance, w.Station)
			case !w.Pail:
				what = fmt.Sprintf("field with the meter %v off four sheets behind %s, %s", w.Distance, w.Station, behind(w.Gap))
			}
			u.add(what, "operator trained for it, guards in place", "weekly, and on the first dry day",
				"mean below the action limit, either sign")
		}
	}
	if s := r.goods.Scatter; s != nil {
		u.add("standard deviation of the mass of 50 doses", "operator", "weekly, and after the hopper is filled",
			fmt.Sprintf("at most %.0f mg: then 5 %% are outside ±%v", 1e6*float64(s.Tolerance)/z975, s.Tolerance))
	}
	u.floors(r)
	u.add("meter or pail: zero away from charge, against a known charge or a second one", "operator", "before each round",
		"within its error of zero")
	u.add("hygrometers against a calibrated one, at the place where the goods are conditioned", "maintenance",
		"twice a year", "within 2.5 %RH")
	when := "once a year on a dry day; no forecast names the month"
	if care.Year != nil {
		when = "in " + care.Year.Driest.String() + ", the driest month"
	}
	u.add("readings behind every stop, as for this description", "process engineer", when, "")
	u.add("answers on zone and flammables", "who is responsible for explosion protection",
		"yearly, and at each change", "")
	u.Triggers = r.triggers()
	u.Notices = append(u.Notices, hazard.NoticeReachIn.Notice(""), hazard.NoticeNotApproval.Notice(""))
	if len(u.Cleaning) > 0 {
		u.Notices = append(u.Notices, hazard.NoticeHighVoltage.Notice(""), hazard.NoticeChemicals.Notice(""))
	}
	if len(u.Floors) > 0 {
		u.Notices = append(u.Notices, hazard.NoticeHumidity.Notice(""))
	}
	return u, nil
}

// z975 is the normal quantile beyond which, on both sides, 5 % lie.
const z975 = 1.959963984540054

func (u *GoodsUpkeep) add(what, who, when, limit string) {
	u.Tasks = append(u.Tasks, upkeep.Task{What: what, Who: who, When: when, Limit: limit})
}

// behind says what stands behind a sheet.
func behind(gap units.Length) string {
	if gap == 0 {
		return "no metal near behind it"
	}
	return gap.String() + " of air behind it"
}

func (r *Route) checkCare(care *GoodsCare) error {
	var errs []error
	for i := range care.History {
		h := &care.History[i]
		at := fmt.Sprintf("history[%d]", i)
		if r.stop(h.Station) < 0 {
			errs = append(errs, known.Wrong(at+".station", h.Station, "the name of a station"))
		}
		for k, v := range h.Pails {
			errs = append(errs, known.InRange(fmt.Sprintf("%s.pails[%d]", at, k), v, -1, 1))
		}
		for k, v := range h.Values {
			errs = append(errs, known.InRange(fmt.Sprintf("%s.values[%d]", at, k), v, -1e7, 1e7))
		}
	}
	for i := range care.Outputs {
		o := &care.Outputs[i]
		at := fmt.Sprintf("outputs[%d]", i)
		if k := r.stop(o.Station); k < 0 || r.goods.Stations[k].Nozzle == nil {
			errs = append(errs, known.Wrong(at+".station", o.Station, "an ioniser"))
		}
		_, err := upkeep.CleaningOf(o.perMetre(), units.LineCurrent(1))
		errs = append(errs, under(at, err))
	}
	return errors.Join(errs...)
}

// under puts the place before the fields of faults of one output.
func under(at string, err error) error {
	var f *known.FieldError
	if errors.As(err, &f) {
		f.Field = strings.Replace(f.Field, "output", at, 1)
	}
	return err
}

// perMetre is the output as one of a bar of one metre: its fall in time is the same.
func (o *NozzleOutput) perMetre() upkeep.Output {
	x := upkeep.Output{Station: o.Station, Age: o.Age, Error: o.Error}
	for _, i := range o.Current {
		x.Current = append(x.Current, units.LineCurrent(i))
	}
	return x
}

// tolerable is the charge that counts as too much: the limit, or the lower 5 % of the
// charge at which 5 % of the doses are outside their tolerance; 0 where the good state is beyond that.
func (r *Route) tolerable() float64 { // [unit of the body]
	if limit := r.goods.limit(); limit > 0 {
		return limit
	}
	s := r.goods.Scatter
	sd := float64(s.Tolerance) / z975
	if sd <= float64(s.Good) {
		return 0
	}
	x := make([]float64, Draws)
	for i := range x {
		m := r.power[i] // Scatter backwards
		x[i] = numeric.Pow(raised(s.GoodCharge, m)+(sq(sd)-sq(float64(s.Good)))/s.steepness(m), 1/(2*m))
	}
	return quantiles(x)[0]
}

// watches are those of every stop with readings. Where the charge at the end of the way is judged,
// a stop that is not the last can be watched only if nothing behind it gives or takes charge: else the last
// one is, with the meter as it stands before it.
func (r *Route) watches(history []GoodsHistory) []GoodsWatch {
	limit := r.tolerable()
	end := len(r.goods.Stations) - 1
	var out []GoodsWatch
	var instead *GoodsWatch // behind the last stop
	for i := range r.goods.Stations {
		w, e := r.watchBehind(i, limit)
		if w == nil {
			continue
		}
		if by := r.changed(i); by != "" && r.goods.limit() > 0 && w.Unused == "" {
			moved := *w
			moved.Station, moved.Action = r.goods.Stations[end].Name, max(0, moved.Limit*(1-known.Z95*e))
			instead = &moved
			w.Unused = fmt.Sprintf("%s comes behind it and changes the charge: check behind %s", by, moved.Station)
			w.Limit = 0
		}
		w.Action = max(0, w.Limit*(1-known.Z95*e))
		out = append(out, *w)
	}
	if last, _ := r.watchBehind(end, limit); last == nil && instead != nil {
		out = append(out, *instead)
	}
	for i := range out {
		w := &out[i]
		if limit == 0 {
			w.Unused = "the good state scatters beyond the tolerance already"
		}
		for _, h := range history {
			v := units.Floats(h.Values)
			if w.Pail {
				v = units.Floats(h.Pails)
			}
			if h.Station == w.Station && len(v) >= 4 {
				mean, sd := stat.MeanStdDev(v, numeric.Ones(len(v)))
				w.Control = [2]float64{mean - 3*sd, mean + 3*sd}
			}
		}
	}
	return out
}

// changed names the first stop behind one that gives, leaks or takes charge, "" without any.
func (r *Route) changed(i int) string {
	for k := range r.goods.Stations {
		s := &r.goods.Stations[k]
		if k > i && (s.Change.Value != 0 || s.Change.Spread != 0 || s.Path != decay.NoPath || s.Nozzle != nil &&
			!s.Nozzle.Off) {
			return s.Name
		}
	}
	return ""
}

// watchBehind is the watch behind a stop with readings, without its action limit, and the relative error of one
// reading there; nil without any.
func (r *Route) watchBehind(i int, limit float64) (w *GoodsWatch, e float64) { // [1]
	for k := range r.goods.Readings {
		x := &r.goods.Readings[k]
		if x.Station != r.goods.Stations[i].Name {
			continue
		}
		e = max(e, float64(x.Share))
		if x.Share == 0 && x.Charge != 0 {
			e = max(e, x.Spread/math.Abs(x.Charge))
		}
		if w == nil || x.Display != 0 && w.Distance == 0 {
			w = r.watchOf(x, limit)
		}
	}
	return w, e
}

// watchOf is what a pail or, of a sheet, the meter of a reading may show: the reading backwards.
func (r *Route) watchOf(x *GoodsReading, limit float64) *GoodsWatch {
	w := &GoodsWatch{Station: x.Station}
	switch {
	case r.goods.Kind == DoseBody:
		w.Pail, w.Limit = true, limit*float64(r.goods.Mass)
	case r.goods.Kind == PartBody:
		w.Pail, w.Limit = true, limit
	case x.Display != 0:
		one := GoodsReading{Display: units.DisplayVoltage(1), Distance: x.Distance, Nominal: x.Nominal,
			Gap: x.Gap}.inBody(&r.goods)
		w.Limit, w.Gap = limit/one.Charge, x.Gap
		w.Distance = cmp.Or(x.Distance, 25*units.Millimetre)
	case r.goods.Kind == ProfileBody && x.Distance > 0:
		w.Limit, w.Distance = overProfile(limit, x), x.Distance
	case r.goods.Kind == ProfileBody:
		w.Unused = "give the reading distance, that of the meter to the axis: a charge per metre shows there what the " +
			"distance makes of it"
	default:
		w.Unused = "the description has charges of it: what a meter shows there is not described"
	}
	return w
}

// overProfile is what a field meter shows of a long profile with that charge per metre, its axis at the distance of the
// reading and no metal near: nominal·λ/(2π·ε₀·ρ), [field.CylinderField] of a length without end in free space. A meter
// with a wide earthed face shows up to twice that, so that a limit in volts is reached early by it, never late.
func overProfile(perMetre float64, x *GoodsReading) float64 { // [V] of C/m
	const long = 1e6 * units.Metre
	nominal := cmp.Or(x.Nominal, 25*units.Millimetre)
	e := field.CylinderField(units.Charge(perMetre*float64(long)), 0, long, x.Distance, field.FreeSpace)
	return float64(e) * float64(nominal)
}

// clean adds the task of a nozzle.
func (u *GoodsUpkeep) clean(r *Route, s *Stop, outputs []NozzleOutput) error {
	needed, _ := r.ions(s.Name, s.Nozzle)
	c := NozzleCleaning{Station: s.Name, Needed: needed}
	for i := range outputs {
		if outputs[i].Station != s.Name {
			continue
		}
		x, err := upkeep.CleaningOf(outputs[i].perMetre(), units.LineCurrent(max(float64(needed), 1e-15)))
		if err != nil {
			return err
		}
		c.Every, c.Median = x.Every, x.Median
	}
	const who = "qualified person, high voltage off, discharged and locked out"
	nA, _ := units.Format(needed, "nA", 2)
	limit := "current to a plate in the place of the body at least " + nA
	if c.Every > 0 && !math.IsInf(float64(c.Every), 0) {
		u.add("clean "+s.Name, who, written.EveryDays(c.Every), limit)
	} else {
		u.add("clean "+s.Name+" and write down its current before and after", who, "monthly until its fall is known", limit)
	}
	u.Cleaning = append(u.Cleaning, c)
	return nil
}

// floors finds the humidity below which each air on its own takes the goods over the limit.
func (u *GoodsUpkeep) floors(r *Route) {
	if r.dry() != "" {
		return
	}
	seen := map[string]bool{}
	for i := range r.goods.Stations {
		s := &r.goods.Stations[i]
		name := s.Air
		if s.Conditioned != "" {
			name = s.Conditioned
		}
		a, ok := r.airs[name]
		if !ok || seen[name] || s.Path == decay.NoPath && s.Slope == 0 {
			continue
		}
		seen[name] = true
		over := func(rh float64) bool {
			wet, err := humidity.NewAir(a.Temperature(), units.RelativeHumidity(rh), a.Pressure())
			if err != nil {
				return true
			}
			c := *r
			c.airs = copied(r.airs)
			c.spread(name, wet)
			chance, _ := c.judge()
			return chance > goodsChance
		}
		const lo, hi = 0.01, 0.95
		if !over(lo) || over(hi) {
			continue
		}
		_, rh := numeric.Edge(over, lo, hi, 0, 1e-5)
		wet, err := humidity.NewAir(a.Temperature(), units.RelativeHumidity(rh), a.Pressure())
		if err != nil {
			continue
		}
		f := AirFloor{Air: name, Humidity: units.RelativeHumidity(rh), DewPoint: wet.DewPoint()}
		u.Floors = append(u.Floors, f)
		t, _ := units.Format(a.Temperature(), "°C", 3)
		u.add("humidity of "+name+", where the goods are conditioned", "operator", "each shift",
			fmt.Sprintf("at least %.0f %%RH at %s, a dew point of %s", math.Ceil(100*rh), t, written.Degrees(f.DewPoint)))
	}
}

// triggers are the changes after which the figures no longer hold.
func (r *Route) triggers() []string {
	out := []string{"another material, supplier, lot or additive of the goods", "a conversion: a liner, cover, tool or " +
		"container exchanged", "earth straps or mountings worked on"}
	if r.goods.Rate > 0 {
		out = append(out, fmt.Sprintf("a rate beyond %.0f an hour (described %.0f)", 1.5*3600*float64(r.goods.Rate),
			3600*float64(r.goods.Rate)))
	}
	if r.goods.Speed > 0 {
		out = append(out, fmt.Sprintf("a speed beyond %.0f m/min (described %.0f)",
			1.5*float64(r.goods.Speed)/float64(units.MetrePerMinute), float64(r.goods.Speed)/float64(units.MetrePerMinute)))
	}
	if len(r.goods.Airs) > 0 {
		out = append(out, "a set point or place of the air conditioning changed, or goods stored elsewhere")
	}
	if slices.ContainsFunc(r.goods.Stations, func(s Stop) bool { return s.Nozzle != nil }) {
		out = append(out, "an ioniser moved, exchanged or switched off for more than a shift")
	}
	return out
}
