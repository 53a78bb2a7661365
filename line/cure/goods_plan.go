package cure

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/internal/written"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// GoodsChange is one change on the way of goods, out of a closed list: [Replace],
// [Moisten], [Warm], [Nearer], [Pace].
type GoodsChange interface {
	// Step is where the change stands in the order of cures.
	Step() Step
	// String says in words what is changed.
	String() string
	change(r *Route) error
}

// Replace takes away what charges at a stop (a liner, a cover), or puts bonded metal
// in its place: what the description says is left without it.
type Replace struct {
	Station string `json:"station"` // with a change and what is left without it
}

// Step returns AtSource.
func (Replace) Step() Step { return AtSource }

// String says where.
func (c Replace) String() string { return "take away what charges at " + c.Station + ", or bond it" }

func (c Replace) change(r *Route) error {
	k := r.stop(c.Station)
	if k < 0 || r.goods.Stations[k].Without == nil {
		return known.Wrong("station", c.Station, "a station that says what is left without its source")
	}
	r.gains[k] = r.gains[k].times(drawn(*r.goods.Stations[k].Without, "without", c.Station))
	return nil
}

// Moisten brings an air to a relative humidity at its temperature; airs with the same
// water follow.
type Moisten struct {
	// one of the goods' airs by name; of a web nothing or "line", the air at the line, or the name of a station
	// with a leak path.
	Air string                 `json:"air,omitempty"`
	To  units.RelativeHumidity `json:"to"` // over water, 1 … 100 %
}

// Step returns Leaking.
func (Moisten) Step() Step { return Leaking }

// String says which and how far.
func (c Moisten) String() string { return "moisten " + spaced(c.Air) + "to " + c.To.String() }

// spaced is a name with the space behind it, nothing without a name.
func spaced(name string) string {
	if name == "" {
		return ""
	}
	return name + " "
}

func (c Moisten) change(r *Route) error {
	a, ok := r.airs[c.Air]
	if !ok {
		return known.Wrong("air", c.Air, "the name of an air")
	}
	if err := known.InRange("to", c.To, 0.01, 1); err != nil {
		return err
	}
	if open := r.site.Safety.Open(); open != "" {
		return known.Wrong("safety.zone", "not answered", "an answer to zone and flammables by a person who decides, first")
	}
	wet, err := humidity.NewAir(a.Temperature(), c.To, a.Pressure())
	if err != nil {
		return err
	}
	r.spread(c.Air, wet)
	return nil
}

// spread gives an air and all that have its water the same vapour at their own
// temperatures.
func (r *Route) spread(name string, a humidity.Air) {
	r.airs[name] = a
	for _, o := range r.goods.Airs {
		if o.From == name {
			r.spread(o.Name, a.At(r.airs[o.Name].Temperature()))
		}
	}
}

// Warm brings an air to another temperature with the same water: warmer is drier.
type Warm struct {
	Air string            `json:"air,omitempty"` // as in Moisten
	To  units.Temperature `json:"to"`            // −40 … 80 °C
}

// Step returns Leaking.
func (Warm) Step() Step { return Leaking }

// String says which and how far.
func (c Warm) String() string {
	t, _ := units.Format(c.To, "°C", 3)
	return "bring " + spaced(c.Air) + "to " + t + ", same water"
}

func (c Warm) change(r *Route) error {
	a, ok := r.airs[c.Air]
	if !ok {
		return known.Wrong("air", c.Air, "the name of an air")
	}
	if err := known.InRange("to", c.To, units.Celsius(-40), units.Celsius(80)); err != nil {
		return err
	}
	if open := r.site.Safety.Open(); open != "" && c.To > a.Temperature() {
		return known.Wrong("safety.zone", "not answered", "an answer to zone and flammables by a person who decides, first")
	}
	r.airs[c.Air] = a.At(c.To)
	return nil
}

// Nearer brings a nozzle to another distance.
type Nearer struct {
	Station  string       `json:"station"`  // an ioniser
	Distance units.Length `json:"distance"` // 1 mm … 5 m
}

// Step returns Neutralise.
func (Nearer) Step() Step { return Neutralise }

// String says which and where.
func (c Nearer) String() string { return fmt.Sprintf("%s at %v", c.Station, c.Distance) }

func (c Nearer) change(r *Route) error {
	k := r.stop(c.Station)
	if k < 0 || r.goods.Stations[k].Nozzle == nil {
		return known.Wrong("station", c.Station, "an ioniser")
	}
	if r.site.Safety.Open() != "" {
		return known.Wrong("safety.zone", "not answered", "an answer to zone and flammables by a person who decides, first")
	}
	n := *r.goods.Stations[k].Nozzle
	n.Distance, n.Off = c.Distance, false
	r.goods.Stations[k].Nozzle = &n
	return known.InRange("distance", c.Distance, 1e-3, 5)
}

// Pace runs the goods at another rate.
type Pace struct {
	Rate units.Frequency `json:"rate"` // above 0
}

// Step returns SlowDown.
func (Pace) Step() Step { return SlowDown }

// String says how fast.
func (c Pace) String() string {
	return "run at " + written.Short(float64(c.Rate)*float64(units.Hour), 4) + " 1/h"
}

func (c Pace) change(r *Route) error {
	if err := known.InRange("rate", c.Rate, 1e-4, 1e3); err != nil {
		return err
	}
	for i := range r.goods.Stations {
		s := &r.goods.Stations[i]
		s.Dwell = units.Time(r.dwell(s, c.Rate)) // the stops keep their share of the way
	}
	r.goods.Rate = c.Rate
	return nil
}

// stop is the index of a stop, -1 without one.
func (r *Route) stop(name string) int {
	return slices.IndexFunc(r.goods.Stations, func(s Stop) bool { return s.Name == name })
}

// Try returns the way with the changes; the way itself stays as it is.
func (r *Route) Try(changes ...GoodsChange) (*Route, error) {
	if len(r.gains) == 0 {
		return nil, known.Wrong("goods", "none", "a way made by NewRoute")
	}
	c := *r
	c.goods.Stations = slices.Clone(r.goods.Stations)
	c.gains, c.airs = slices.Clone(r.gains), copied(r.airs)
	var errs []error
	for i, x := range changes {
		if x == nil {
			errs = append(errs, known.Wrong(fmt.Sprintf("changes[%d]", i), "none", "a change"))
			continue
		}
		if err := x.change(&c); err != nil {
			errs = append(errs, ofChange(i, err))
		}
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	return &c, nil
}

// GoodsCure is one change and what it brings.
type GoodsCure struct {
	Step    Step        // where it stands in the order
	Change  GoodsChange // nil: earthing, or a step that is refused
	What    string      // in words
	Before  float64     // [1] chance over the limit
	After   float64     // [1] with the change
	Charge  Quantiles   // at the last stop [unit of the body]
	Reaches bool        // After is no more than 5 %
	Reason  string      // why it is refused or what it cannot do
	// Water is what has to evaporate besides, with the fresh air of the site.
	Water units.MassFlow
	// Needed is the current of ions that the goods ask for and Brought what reaches
	// them: 5, 50 and 95 %; at a nozzle.
	Needed  units.Current
	Brought [3]units.Current
}

// GoodsPlan is what to do for goods, in the order in which it is to be done.
type GoodsPlan struct {
	Stop    string       // why nothing but earthing is planned; empty: nothing stops it
	Ground  []Metal      // every conductor of the description, measured or not
	Verdict []StopSource // where the charge comes from
	Before  float64      // [1] chance over the limit if nothing is done
	Cures   []GoodsCure  // in the order of steps
	Refused []GoodsCure  // with the reason
	Stays   string       // the patch that is most likely over the limit at the end; empty without patches
	// MaxRate is the greatest rate at which the chance over the limit is 5 % or less; 0: none, or one that nothing
	// limits. The cure that slows down to it takes it rounded down to two figures of what goes an hour, or a minute
	// where fewer than 6000 an hour are described: the draws tell no more.
	MaxRate units.Frequency
}

// goodsChance is the chance over the limit that a plan for goods aims at. [1]
const goodsChance = 0.05

// Plan lists the cures that the way allows, or those offered, in the order of their
// steps. Zone and ground come first; while the question of zone and flammables is open
// it holds earthing only. cold is the temperature of the coldest goods that come in, 0
// for none: what wets them is said.
func (r *Route) Plan(cold units.Temperature, offer ...GoodsChange) *GoodsPlan {
	if len(r.gains) == 0 {
		nan := math.NaN()
		return &GoodsPlan{Stop: "a way made by NewRoute comes first", Before: nan, MaxRate: units.Frequency(nan)}
	}
	p := &GoodsPlan{Stop: r.site.Safety.Open(), Ground: slices.Clone(r.goods.Conductors), Verdict: r.Sources()}
	p.Before, _ = r.judge()
	ends := -1.0
	for _, s := range r.PredictPatches(0) {
		if s.Ends > ends {
			p.Stays, ends = s.Name, s.Ends
		}
	}
	for _, c := range p.Ground {
		if c.isolated() {
			g := GoodsCure{Step: Earthing, What: "earth " + c.Name, Before: p.Before, After: p.Before, Reason: "not measured"}
			if c.Resistance > 0 {
				g.Reason = c.Resistance.String() + " to earth, above 1 MΩ"
			}
			g.Reason += "; " + earthingOnly + "goods"
			p.Cures = append(p.Cures, g)
		}
	}
	if p.Stop != "" {
		return p
	}
	if offer == nil {
		offer = r.allowed()
	}
	for _, x := range offer {
		r.add(p, x, cold)
	}
	if why := r.dry(); why != "" {
		p.Refused = append(p.Refused, GoodsCure{Step: Leaking, What: "moisten", Before: p.Before, After: p.Before,
			Reason: why})
	}
	if p.MaxRate = r.maxRate(); p.MaxRate > 0 && p.MaxRate < r.goods.Rate {
		r.add(p, Pace{units.Frequency(written.Rate(float64(p.MaxRate), float64(r.goods.Rate)))}, cold)
	}
	slices.SortStableFunc(p.Cures, func(a, b GoodsCure) int { return int(a.Step) - int(b.Step) })
	return p
}

// judge is the chance over the limit: of the last stop, there of any patch, or, where the scatter of a
// dose decides, of the greatest charge on the way, since the grains scatter before
// the container is neutralised.
func (r *Route) judge() (chance float64, last column) { // [1]
	cols := r.columns(r.goods.Rate, &whole)
	last = cols[len(cols)-1]
	if r.goods.limit() > 0 {
		if len(r.goods.Patches) == 0 {
			return r.over(last), last
		}
		most := make(column, Draws+1)
		for k := range r.goods.Patches {
			cols := r.columns(r.goods.Rate, &r.goods.Patches[k])
			for i, x := range cols[len(cols)-1] {
				most[i] = max(most[i], math.Abs(x))
			}
		}
		return r.over(most), most
	}
	most := make(column, Draws+1)
	for _, c := range cols {
		for i, x := range c {
			most[i] = max(most[i], math.Abs(x))
		}
	}
	return r.over(most), last
}

func (r *Route) add(p *GoodsPlan, x GoodsChange, cold units.Temperature) {
	c := GoodsCure{Step: x.Step(), Change: x, What: x.String(), Before: p.Before}
	then, err := r.Try(x)
	if err != nil {
		c.Reason = whyNot(x, err)
		p.Refused = append(p.Refused, c)
		return
	}
	var last column
	c.After, last = then.judge()
	c.Charge = quantiles(slices.Clone(last[:Draws]))
	c.Reaches = c.After <= goodsChance
	switch x := x.(type) {
	case Moisten:
		was, is := r.airs[x.Air], then.airs[x.Air]
		extra := float64(is.HumidityRatio()) - float64(was.HumidityRatio())
		c.Water = units.MassFlow(float64(r.site.Prices.FreshAir) * float64(was.DryAirDensity()) * extra) // m³/s · kg/m³
		if cold > 0 && humidity.Condenses(is, cold) {
			c.Reason = fmt.Sprintf("wets goods of %v until they are above the dew point, %s", cold,
				written.Degrees(is.DewPoint()))
		}
	case Nearer:
		n := then.goods.Stations[then.stop(x.Station)].Nozzle
		c.Needed, c.Brought = then.ions(x.Station, n)
		if r.goods.limit() == 0 {
			c.Reason = "it treats the container, not what the grains did on their way"
		}
	}
	if !c.Reaches && c.Reason == "" {
		c.Reason = "does not reach the limit alone"
	}
	p.Cures = append(p.Cures, c)
}

// ions is the current that the goods ask for at a nozzle, at the median, and what the
// nozzle brings.
func (r *Route) ions(name string, n *IonStream) (needed units.Current, brought [3]units.Current) {
	k := r.stop(name)
	s := &r.goods.Stations[k]
	x := make([]float64, Draws)
	b := make([]float64, Draws)
	for i := range x {
		if k > 0 {
			x[i] = math.Abs(r.walk(i, r.goods.Rate, 0)[k-1])
		}
		b[i] = r.bound(n, i)
	}
	q := quantiles(x)[1]
	switch r.goods.Kind {
	case DoseBody:
		q *= float64(r.goods.Mass) / r.dwell(s, r.goods.Rate)
	case ProfileBody:
		q *= float64(r.goods.Speed)
	default:
		q /= r.dwell(s, r.goods.Rate)
	}
	for i, v := range quantiles(b) {
		brought[i] = units.Current(v)
	}
	return units.Current(q), brought
}

// allowed lists what the description allows.
func (r *Route) allowed() []GoodsChange {
	var out []GoodsChange
	for i := range r.goods.Stations {
		s := &r.goods.Stations[i]
		if s.Without != nil {
			out = append(out, Replace{s.Name})
		}
		if n := s.Nozzle; n != nil && n.Distance > 100*units.Millimetre {
			out = append(out, Nearer{s.Name, 100 * units.Millimetre})
		}
	}
	if r.dry() == "" {
		seen := map[string]bool{}
		for i := range r.goods.Stations {
			s := &r.goods.Stations[i]
			a, ok := r.airs[s.Air]
			if !ok || seen[s.Air] || s.Path == decay.NoPath && s.Slope == 0 {
				continue
			}
			seen[s.Air] = true
			if t := units.Celsius(22); a.Temperature() > t {
				out = append(out, Warm{s.Air, t})
			}
			if a.RelativeHumidity() < 50*units.PercentRH {
				out = append(out, Moisten{s.Air, 50 * units.PercentRH})
			}
		}
	}
	return out
}

// dry says why moisture does nothing; empty: it does.
func (r *Route) dry() string {
	if slices.ContainsFunc(r.goods.Stations, func(s Stop) bool { return s.Slope > 0 }) {
		return ""
	}
	switch {
	case r.goods.Leak == nil:
		return "no law of the leak against humidity: two decay tests at unlike humidities give one"
	case r.goods.Leak.Class == humidity.Inert:
		return "an inert body: moisture does not make it leak"
	case !slices.ContainsFunc(r.goods.Stations, func(s Stop) bool { return s.Path != decay.NoPath }):
		return "no path to earth: a net charge that touches nothing earthed does not leak"
	}
	return ""
}

// maxRate is the greatest rate within the limit, between a thousandth and twice the
// rate described; 0 if there is none, or nothing changes with it.
func (r *Route) maxRate() units.Frequency {
	if r.goods.Rate == 0 {
		return 0
	}
	ok := func(f float64) bool {
		c, err := r.Try(Pace{units.Frequency(float64(r.goods.Rate) * f)})
		if err != nil {
			return false
		}
		over, _ := c.judge()
		return over <= goodsChance
	}
	lo, hi := 1e-3, 2.0
	if !ok(lo) || ok(hi) {
		return 0
	}
	least, _ := numeric.Edge(func(l float64) bool { return ok(numeric.Exp(l)) }, math.Log(lo), math.Log(hi), 0, 1e-4)
	return units.Frequency(float64(r.goods.Rate) * numeric.Exp(least))
}
