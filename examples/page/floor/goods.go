package floor

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// goodsAsked is a line of goods that are no web, as the page takes it down: text with a unit, empty where open.
type goodsAsked struct {
	Goods struct {
		Name        string    `json:"name"`
		Note        string    `json:"note"`
		Kind        string    `json:"kind"` // sheet, part, profile, dose
		Rate        string    `json:"rate"`
		Speed       string    `json:"speed"` // of a profile
		Basis       string    `json:"basis"` // of a sheet
		Mass        string    `json:"mass"`  // of a dose
		Limit       string    `json:"limit"` // empty at a sheet: the cling limit
		Temperature string    `json:"temperature"`
		Humidity    string    `json:"humidity"`
		Water       string    `json:"water"` // class of the goods; empty: inert
		Decays      []decayed `json:"decays"`
		Stops       []stop    `json:"stops"`
		Conductors  []struct {
			Name       string `json:"name"`
			Resistance string `json:"resistance"` // empty: not measured
		} `json:"conductors"`
		Readings []struct {
			Station  string `json:"station"`
			Charge   string `json:"charge"`
			Humidity string `json:"humidity"`
		} `json:"readings"`
	} `json:"goods"`
	Safety  upkeep.SafetyAnswers `json:"safety"`
	Changes []struct {
		Do      string `json:"do"` // pace, nearer, replace, moisten
		Station string `json:"station"`
		To      string `json:"to"`
	} `json:"changes"`
	Units string `json:"units"`
}

type stop struct {
	Name     string `json:"name"`
	Kind     string `json:"kind"`
	Earthed  bool   `json:"earthed"`  // part of the goods lies on earthed metal there
	Dwell    string `json:"dwell"`    // empty: one interval
	Part     bool   `json:"part"`     // a liner or cover there could be replaced by bonded metal
	Distance string `json:"distance"` // of a nozzle
	Air      string `json:"air"`      // its speed at the goods
	Radius   string `json:"radius"`   // half of the stream's width there
}

// GoodsAnswer is what is known of the goods.
type GoodsAnswer struct {
	Faults  []Fault       `json:"faults"`
	Assumed []string      `json:"assumed"`
	File    string        `json:"file"` // the description that the library reads
	Stop    string        `json:"stop"` // why nothing but earthing is planned
	Before  string        `json:"before"`
	Stops   []GoodsStop   `json:"stops"`
	Sources []GoodsSource `json:"sources"`
	Ground  []GoodsGround `json:"ground"`
	Cures   []GoodsStep   `json:"cures"`
	Refused []GoodsStep   `json:"refused"`
	Rate    string        `json:"rate"` // greatest within the limit, empty: none found

	Hazards []upkeep.Hazard `json:"hazards"`
}

// GoodsStop is the goods behind a stop.
type GoodsStop struct {
	Name   string `json:"name"`
	Charge string `json:"charge"`
	Over   string `json:"over"`
	Then   string `json:"then"` // with the changes that were asked for
	OverIt string `json:"overThen"`
}

// GoodsSource is a stop with its chance of being the main source.
type GoodsSource struct {
	Name   string `json:"name"`
	Chance string `json:"chance"`
	Gain   string `json:"gain"`
}

// GoodsGround is a conductor beside the way.
type GoodsGround struct {
	Name     string `json:"name"`
	Measured bool   `json:"measured"`
	Isolated bool   `json:"isolated"`
}

// GoodsStep is one cure.
type GoodsStep struct {
	Step   string `json:"step"`
	What   string `json:"what"`
	Before string `json:"before"`
	After  string `json:"after"`
	Reason string `json:"reason"`
}

// bodies are what moves where it is no web: the unit in which its charge is shown, and the spread of what a contact is
// thought to give, of either sign.
var bodies = map[cure.BodyKind]struct {
	unit   string
	per    float64 // SI for one unit
	spread float64 // in the unit
	parse  func(string) (float64, error)
}{
	cure.SheetBody:   {"µC/m²", 1e-6, 5, parsed[units.SurfaceChargeDensity]},
	cure.PartBody:    {"nC", 1e-9, 100, parsed[units.Charge]},
	cure.ProfileBody: {"µC/m", 1e-6, 1, parsed[units.LineChargeDensity]},
	cure.DoseBody:    {"nC/g", 1e-6, 5, parsed[units.ChargePerMass]},
}

func parsed[T units.Quantity](s string) (float64, error) {
	v, err := units.Parse[T](s)
	return float64(v), err
}

// touching are the kinds of stop that give charge by a contact.
var touching = []cure.StopKind{cure.PileStop, cure.PickStop, cure.RollerStop, cure.BoardStop, cure.SlideStop,
	cure.MouldStop, cure.DieStop, cure.HaulOffStop, cure.HopperStop}

// goods turns what was typed into the library's description and says what it assumed.
func (q *goodsAsked) goods() (*cure.Goods, []string, error) {
	x := &q.Goods
	g := &cure.Goods{Schema: cure.GoodsSchema, Name: x.Name, Note: x.Note}
	if err := g.Kind.UnmarshalText([]byte(x.Kind)); err != nil {
		return nil, nil, err
	}
	body := bodies[g.Kind]
	assumed := []string{}
	var errs []error
	get(&errs, "rate", x.Rate, g.Kind != cure.ProfileBody, &g.Rate)
	get(&errs, "speed", x.Speed, g.Kind == cure.ProfileBody, &g.Speed)
	get(&errs, "basis weight", x.Basis, g.Kind == cure.SheetBody && x.Limit == "", &g.Basis)
	get(&errs, "mass of a dose", x.Mass, g.Kind == cure.DoseBody, &g.Mass)
	if x.Limit != "" {
		v, err := body.parse(x.Limit)
		g.Limit = math.Abs(v)
		errs = append(errs, named("limit", err))
	}
	room := cure.NamedAir{Name: "room"}
	get(&errs, "temperature", x.Temperature, true, &room.Temperature)
	get(&errs, "humidity", x.Humidity, true, &room.RelativeHumidity)
	g.Airs = []cure.NamedAir{room}
	var err error
	if g.Leak, err = q.leak(); err != nil {
		errs = append(errs, err)
	}
	for i := range x.Stops {
		s := cure.Stop{Name: x.Stops[i].Name, Air: "room", Change: known.Band{Kind: known.Exact}}
		errs = append(errs, named(s.Name, s.Kind.UnmarshalText([]byte(x.Stops[i].Kind))))
		if slices.Contains(touching, s.Kind) {
			s.Change = known.Band{Spread: body.spread * body.per, Kind: known.Normal}
			assumed = append(assumed, fmt.Sprintf("%s: any charge of either sign may be made there, %v %s", s.Name, body.spread,
				body.unit))
		}
		if x.Stops[i].Part {
			s.Without = &known.Band{Kind: known.Exact}
			assumed = append(assumed, s.Name+": bonded metal in its place would leave no charge")
		}
		if x.Stops[i].Earthed && g.Leak != nil {
			s.Path = decay.EarthedContact
		}
		get(&errs, s.Name+": time there", x.Stops[i].Dwell, false, &s.Dwell)
		if s.Kind == cure.IoniserStop {
			s.Nozzle = &cure.IonStream{}
			get(&errs, s.Name+": distance", x.Stops[i].Distance, true, &s.Nozzle.Distance)
			get(&errs, s.Name+": air at the goods", x.Stops[i].Air, true, &s.Nozzle.Air)
			get(&errs, s.Name+": half width of the stream", x.Stops[i].Radius, true, &s.Nozzle.HalfRadius)
		}
		g.Stations = append(g.Stations, s)
	}
	for _, c := range x.Conductors {
		m := cure.Metal{Name: c.Name}
		get(&errs, c.Name+": resistance", c.Resistance, false, &m.Resistance)
		g.Conductors = append(g.Conductors, m)
	}
	for _, r := range x.Readings {
		v, err := body.parse(r.Charge)
		errs = append(errs, named("reading at "+r.Station, err))
		y := cure.GoodsReading{Station: r.Station, Charge: v, Spread: math.Hypot(0.1*v, 0.02*body.spread*body.per)}
		get(&errs, "humidity of a reading", r.Humidity, false, &y.RelativeHumidity)
		g.Readings = append(g.Readings, y)
	}
	if len(x.Readings) > 0 {
		assumed = append(assumed, "a reading of charge is good to 10 %")
	}
	return g, assumed, errors.Join(errs...)
}

// decayed is one decay time at its humidity.
type decayed struct {
	Time     string `json:"time"`
	Humidity string `json:"humidity"`
}

func lawOf(list []decayed) (law humidity.LogLinear[units.Time], err error) {
	var points []humidity.Point[units.Time]
	var errs []error
	for _, d := range list {
		var p humidity.Point[units.Time]
		get(&errs, "decay time", d.Time, true, &p.Value)
		get(&errs, "humidity of a decay time", d.Humidity, true, &p.RH)
		points = append(points, p)
	}
	if err := errors.Join(errs...); err != nil {
		return law, err
	}
	return humidity.FitLogLinear(points, nil)
}

// leak is the law of the decay times, nil where there are none.
func (q *goodsAsked) leak() (*cure.LeakLaw, error) {
	if len(q.Goods.Decays) == 0 {
		return nil, nil
	}
	law, err := lawOf(q.Goods.Decays)
	if err != nil {
		return nil, err
	}
	low, high := law.Range()
	at := (low + high) / 2
	k := &cure.LeakLaw{Class: humidity.Absorbing, At: at, Time: law.At(at), Decades: law.DecadesPerPercent(),
		Spread: law.DecadesAt(at)}
	if q.Goods.Water != "" {
		err = k.Class.UnmarshalText([]byte(q.Goods.Water))
	}
	return k, err
}

// get reads text with a unit; empty is left open, or a fault where it is needed.
func get[T units.Quantity](errs *[]error, name, s string, needed bool, dst *T) {
	if s == "" {
		if needed {
			*errs = append(*errs, fmt.Errorf("%s: nothing given: want a value with its unit", name))
		}
		return
	}
	v, err := units.Parse[T](s)
	*errs = append(*errs, named(name, err))
	*dst = v
}

func named(name string, err error) error {
	if err == nil {
		return nil
	}
	return fmt.Errorf("%s: %w", name, err)
}

func goodsAnswer(q *goodsAsked) (*GoodsAnswer, error) {
	a := &GoodsAnswer{Faults: []Fault{}, Assumed: []string{}}
	wrong := func(err error) (*GoodsAnswer, error) {
		a.Faults = faults("goods", err)
		return a, nil
	}
	g, assumed, err := q.goods()
	if a.Assumed = assumed; err != nil {
		return wrong(err)
	}
	site := &cure.Site{Safety: q.Safety}
	r, err := cure.NewRoute(g, site)
	if err != nil {
		return wrong(err)
	}
	file, err := json.Marshal(g)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, file, "", "  "); err != nil {
		return nil, err
	}
	a.File = b.String() + "\n"
	then := r
	if len(q.Changes) > 0 {
		list, err := q.changes()
		if err == nil {
			then, err = r.Try(list...)
		}
		if err != nil {
			return wrong(err)
		}
	}
	a.write(g, r, then, len(q.Changes) > 0, q.system())
	return a, nil
}

func (q *goodsAsked) system() units.System { return (&files{Units: q.Units}).system() }

func (q *goodsAsked) changes() (list []cure.GoodsChange, err error) {
	if q.Safety.Open() != "" {
		return nil, fmt.Errorf("not before it is answered whether anything may burn here (%s)", q.Safety.Open())
	}
	for _, c := range q.Changes {
		switch c.Do {
		case "pace":
			var v units.Frequency
			v, err = units.Parse[units.Frequency](c.To)
			list = append(list, cure.Pace{Rate: v})
		case "nearer":
			var v units.Length
			v, err = units.Parse[units.Length](c.To)
			list = append(list, cure.Nearer{Station: c.Station, Distance: v})
		case "moisten":
			var v units.RelativeHumidity
			v, err = units.Parse[units.RelativeHumidity](c.To)
			list = append(list, cure.Moisten{Air: "room", To: v})
		case "replace":
			list = append(list, cure.Replace{Station: c.Station})
		default:
			err = known.Wrong("change", c.Do, "pace, nearer, moisten or replace")
		}
		if err != nil {
			return nil, err
		}
	}
	return list, nil
}

func (a *GoodsAnswer) write(g *cure.Goods, r, then *cure.Route, tried bool, system units.System) {
	body := bodies[g.Kind]
	quantiles := func(q cure.Quantiles) string {
		return fmt.Sprintf("%s (%s … %s) %s", figure(q[1]/body.per), figure(q[0]/body.per), figure(q[2]/body.per), body.unit)
	}
	now, later := r.Predict(0), then.Predict(0)
	for i, s := range now {
		x := GoodsStop{Name: s.Name, Charge: quantiles(s.Charge), Over: percent(s.Over)}
		if tried && i < len(later) {
			x.Then, x.OverIt = quantiles(later[i].Charge), percent(later[i].Over)
		}
		a.Stops = append(a.Stops, x)
	}
	for _, s := range r.Sources() {
		a.Sources = append(a.Sources, GoodsSource{s.Name, percent(s.Chance), quantiles(s.Gain)})
	}
	a.Hazards = r.Hazards()
	p := r.Plan(0)
	a.Stop, a.Before = p.Stop, percent(p.Before)
	for _, m := range p.Ground {
		a.Ground = append(a.Ground, GoodsGround{m.Name, m.Resistance > 0, m.Resistance > 1*units.Megohm})
	}
	step := func(c *cure.GoodsCure) GoodsStep {
		return GoodsStep{c.Step.String(), c.What, percent(c.Before), percent(c.After), c.Reason}
	}
	for i := range p.Cures {
		a.Cures = append(a.Cures, step(&p.Cures[i]))
	}
	for i := range p.Refused {
		a.Refused = append(a.Refused, step(&p.Refused[i]))
	}
	if p.MaxRate > 0 {
		a.Rate = units.Display(p.MaxRate, system, 2)
	}
}
