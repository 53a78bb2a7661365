package cure

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"

	"example.org/pithball/charge/field"
	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/plain"
	"example.org/pithball/internal/strictjson"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// GoodsSchema is the first field of every description of goods.
const GoodsSchema = "pithball goods 1"

// Goods describes what moves on a line where it is no web, and its way: plain data,
// read by [ReadGoods] and checked by [NewRoute]. Charges are in the unit of the body:
// C/m² of a sheet, C of a part, C/m of a profile, C/kg of a dose.
type Goods struct {
	Schema string `json:"schema"`         // the constant GoodsSchema
	Name   string `json:"name"`           // of the line
	Note   string `json:"note,omitempty"` // free text; a demo says here that it is invented
	// what moves: cable, tube, section and yarn are a profile, powder and granulate
	// into a container a dose.
	Kind  BodyKind          `json:"kind"`
	Rate  units.Frequency   `json:"rate,omitempty"`  // of sheets, parts or doses
	Speed units.Speed       `json:"speed,omitempty"` // of a profile
	Basis units.BasisWeight `json:"basis,omitempty"` // of a sheet, for the cling limit
	Mass  units.Mass        `json:"mass,omitempty"`  // of a dose
	// the charge that counts as too much, above 0; 0 at a sheet: the cling limit,
	// at a dose: by the scatter of its mass. [unit of the body]
	Limit      float64        `json:"limit,omitempty"`
	Scatter    *MassScatter   `json:"scatter,omitempty"` // of a dose
	Airs       []NamedAir     `json:"airs"`              // by name
	Leak       *LeakLaw       `json:"leak,omitempty"`    // of the body against humidity
	Conductors []Metal        `json:"conductors,omitempty"`
	Stations   []Stop         `json:"stations"`           // in the order of the way
	Patches    []BodyPatch    `json:"patches,omitempty"`  // of a large part, round a profile, of a sheet; none: one charge
	Readings   []GoodsReading `json:"readings,omitempty"` // that correct what is thought of the stops

	places strictjson.Places // where everything stood in the file it was read from
}

// NamedAir is the air of a place: its own, or the water of another at another
// temperature.
type NamedAir struct {
	Name             string                 `json:"name"`                       // of the place
	Temperature      units.Temperature      `json:"temperature"`                // −40 … 80 °C
	RelativeHumidity units.RelativeHumidity `json:"relativeHumidity,omitempty"` // over water; 0: from
	From             string                 `json:"from,omitempty"`             // the air with the same water
	Spread           units.RelativeHumidity `json:"spread,omitempty"`           // error of the hygrometer; 0: 2.5 %RH
}

// LeakLaw is how fast a body loses charge along its path: log₁₀ of the time constant
// falls by Decades per %RH from Time at At.
type LeakLaw struct {
	Class   humidity.Class         `json:"class"`            // inert: moisture does nothing
	At      units.RelativeHumidity `json:"at"`               // humidity of a decay test, in which it was conditioned
	Time    units.Time             `json:"time"`             // its time constant
	Decades float64                `json:"decades"`          // [1/%RH] 0 … 1
	Spread  float64                `json:"spread,omitempty"` // [1] standard deviation of log₁₀ of the time
}

// MassScatter is what the charge does to the mass of a dose, by two states of the
// plant: SD² = SD₀² + (k·|q|^m)², m drawn from 1 to 2.
type MassScatter struct {
	Tolerance  units.Mass          `json:"tolerance"`  // of a dose, either way
	Now        units.Mass          `json:"now"`        // standard deviation in the present state
	NowCharge  units.ChargePerMass `json:"nowCharge"`  // and the charge then
	Good       units.Mass          `json:"good"`       // in a good state
	GoodCharge units.ChargePerMass `json:"goodCharge"` // and the charge then
}

// Metal is a conductor beside the way.
type Metal struct {
	Name       string           `json:"name"`                 // of the part
	Resistance units.Resistance `json:"resistance,omitempty"` // to earth as last measured; 0: not measured
	Current    units.Current    `json:"current,omitempty"`    // that charges it, if known
}

// Stop is one place of the way.
type Stop struct {
	Name string `json:"name"` // unique
	// of a sheet: pile, pick, roller, board, ioniser, place, stack; of a part:
	// mould, slide, drop, ioniser, place, bin; of a profile: die, roller, haul-off,
	// ioniser, place, coiler; of a dose: hopper, slide, drop, ioniser, place, container.
	Kind StopKind `json:"kind"`
	Air  string   `json:"air,omitempty"` // in which the body is, or, without conditioned, was conditioned
	// the air in which an absorbing body came to rest: it does not follow that of
	// the stop in the time that it is there. Inert and adsorbing bodies have none.
	Conditioned string `json:"conditioned,omitempty"`
	// what the stop gives to the body at the humidity "at" [unit of the body];
	// slope is the fall of its logarithm per %RH. without is what is left of it when the
	// part that charges (a liner, a cover) is taken away or replaced by bonded metal [1].
	Change  known.Band             `json:"change"`
	At      units.RelativeHumidity `json:"at,omitempty"`      // see change
	Slope   float64                `json:"slope,omitempty"`   // [1/%RH] see change
	Without *known.Band            `json:"without,omitempty"` // see change
	Path    decay.Path             `json:"path,omitempty"`    // how charge reaches earth here; no path, no leak
	Dwell   units.Time             `json:"dwell,omitempty"`   // here; 0: one interval, 1/rate
	Nozzle  *IonStream             `json:"nozzle,omitempty"`  // at an ioniser
}

// BodyPatch is a place of a body whose charge is not the same all over: a face or a corner of a
// large part, a side of a profile, an edge of a sheet. Each goes the way by itself.
type BodyPatch struct {
	Name  string      `json:"name"`  // unique
	Share units.Ratio `json:"share"` // of the charge of the body's stops that is found here, −100 … 100
	Reach units.Ratio `json:"reach"` // of what an ioniser brings to the body at best that reaches it, 0 … 1
}

// IonStream is a stream of ionised air on a body.
type IonStream struct {
	Distance   units.Length  `json:"distance"`         // from the mouth to the body, 1 mm … 5 m
	Air        units.Speed   `json:"air"`              // at the body, above 0
	HalfRadius units.Length  `json:"halfRadius"`       // of the stream there; a ring: of the same cross-section
	Supply     units.Current `json:"supply,omitempty"` // most that the emitters give; 0: not known
	Off        bool          `json:"off,omitempty"`    // switched off
}

// GoodsReading is what was read behind a stop: a charge in the unit of the body, the
// charge of one part or dose in a pail, or the display of a field meter before a sheet.
type GoodsReading struct {
	Station string  `json:"station"`          // behind which
	Charge  float64 `json:"charge,omitempty"` // [unit of the body]; or one of the two below
	// what a pail shows for a part or a dose, its empty container taken off.
	Pail units.Charge `json:"pail,omitempty"`
	// what a field meter that calls field × nominal volts shows at distance
	// before a sheet with metal gap behind it: σ = ε₀·V/nominal·(distance + gap)/gap.
	Display units.DisplayVoltage `json:"display,omitempty"`
	// 0: 25 mm. Of a profile, whose charge per metre is told: that of a meter to its axis, by which it may be watched.
	Distance units.Length `json:"distance,omitempty"`
	Nominal  units.Length `json:"nominal,omitempty"` // 0: 25 mm
	Gap      units.Length `json:"gap,omitempty"`     // 0: none, a free sheet
	// [unit of the body] standard deviation, above 0; or Share
	Spread float64 `json:"spread,omitempty"`
	// the standard deviation as a share, up to 1, of the mean magnitude of what
	// was read behind the stop in the same air: of the single reading it would trust the
	// small ones most.
	Share            units.Ratio            `json:"share,omitempty"`
	RelativeHumidity units.RelativeHumidity `json:"relativeHumidity,omitempty"` // then; 0: that of the stop's air
}

// inBody returns the reading with its charge and spread in the unit of the body.
func (x GoodsReading) inBody(g *Goods) GoodsReading {
	or := func(l units.Length) float64 {
		if l == 0 {
			return 25e-3
		}
		return float64(l)
	}
	switch {
	case x.Pail != 0 && g.Kind == DoseBody:
		x.Charge = float64(x.Pail) / float64(g.Mass)
	case x.Pail != 0:
		x.Charge = float64(x.Pail)
	case x.Display != 0:
		x.Charge = units.Epsilon0 * float64(x.Display) / or(x.Nominal)
		if h := float64(x.Gap); h > 0 {
			x.Charge *= (or(x.Distance) + h) / h
		}
	}
	return x
}

// inBody returns all readings with their charges and spreads in the unit of the body.
func (g *Goods) inBody() []GoodsReading {
	out := slices.Clone(g.Readings)
	for i := range out {
		out[i] = out[i].inBody(g)
	}
	for i := range out {
		x := &out[i]
		if x.Share == 0 {
			continue
		}
		sum, n := 0.0, 0.0
		for _, o := range out {
			if o.Station == x.Station && o.RelativeHumidity == x.RelativeHumidity {
				sum, n = sum+math.Abs(o.Charge), n+1
			}
		}
		x.Spread = float64(x.Share) * sum / n
	}
	return out
}

// ReadGoods reads a description in JSON. All faults come back at once, joined by
// errors.Join: each names line, field, the value as written and, where it can be told,
// the range in the unit of the file; [NewRoute] tells what it finds in the same way. A charge
// of the body may stand as a number in its unit or as a text with one, as in "6 µC/m²".
func ReadGoods(r io.Reader) (*Goods, error) {
	const most = 1 << 20
	b, err := io.ReadAll(io.LimitReader(r, most+1))
	if err != nil {
		return nil, err
	}
	if len(b) > most || len(bytes.TrimSpace(b)) == 0 {
		return nil, known.Wrong("goods", fmt.Sprintf("%d bytes", len(b)), "a description of 1 byte to 1 MiB")
	}
	if e := plain.Encoded(b); e != "" {
		return nil, known.Wrong("goods", "text in "+e, "text in UTF-8")
	}
	b = bytes.TrimPrefix(b, []byte("\ufeff")) // the byte order mark of some editors
	g := &Goods{}
	places, err := strictjson.DecodePlaces(inNumbers(b), g)
	if err != nil { // with what is out of its range among the rest
		return nil, errors.Join(err, places.Stated(g.check()))
	}
	g.places = places
	return g, nil
}

func (g *Goods) check() error {
	var errs []error
	add := func(err error) { errs = append(errs, err) }
	kinds := g.Kind.stops()
	if g.Schema != GoodsSchema {
		add(known.Wrong("schema", g.Schema, "\""+GoodsSchema+"\""))
	}
	if kinds == nil {
		return errors.Join(append(errs, known.Wrong("kind", g.Kind, enum.OneOf(bodyNames[:])))...)
	}
	if g.Kind == ProfileBody {
		add(known.InRange("speed", g.Speed, 1e-4, 100))
	} else {
		add(known.InRange("rate", g.Rate, 1e-4, 1e3))
	}
	if g.Kind == DoseBody {
		add(known.InRange("mass", g.Mass, 1e-6, 100))
	}
	switch {
	case g.Limit != 0:
		add(known.Positive("limit", units.Ratio(g.Limit)))
	case g.Kind == SheetBody:
		add(known.InRange("basis", g.Basis, 1e-4, 100))
	case g.Kind == DoseBody && g.Scatter != nil:
	default:
		add(known.Wrong("limit", g.Limit, "a charge above 0"))
	}
	names := map[string]bool{}
	for i, a := range g.Airs {
		at := fmt.Sprintf("airs[%d]", i)
		if a.Name == "" || names[a.Name] {
			add(known.Wrong(at+".name", a.Name, "a name that no other air has"))
		}
		if (a.RelativeHumidity > 0) == (a.From != "") || a.From != "" && !names[a.From] {
			add(known.Wrong(at+".from", a.From, "either a relative humidity or the name of an air before it"))
		}
		names[a.Name] = true
		add(known.InRange(at+".temperature", a.Temperature, units.Celsius(-40), units.Celsius(80)))
		add(known.InRange(at+".relativeHumidity", a.RelativeHumidity, 0, 1))
		add(known.InRange(at+".spread", a.Spread, 0, 0.3))
	}
	if l := g.Leak; l != nil {
		if l.Class < humidity.Inert || l.Class > humidity.Absorbing {
			add(known.Wrong("leak.class", uint8(l.Class), "inert, adsorbing or absorbing"))
		}
		add(errors.Join(known.InRange("leak.at", l.At, 0, 1), known.InRange("leak.time", l.Time, 1e-9, 1e12),
			known.InRange("leak.decades", units.Ratio(l.Decades), 0, 1),
			known.InRange("leak.spread", units.Ratio(l.Spread), 0, 3)))
	}
	if s := g.Scatter; s != nil {
		if g.Kind != DoseBody || !(s.Now > s.Good) || math.Abs(float64(s.NowCharge)) <= math.Abs(float64(s.GoodCharge)) {
			add(known.Wrong("scatter", s.Now, "of a dose, greater now than good, by a greater charge"))
		}
		add(errors.Join(known.Positive("scatter.tolerance", s.Tolerance), known.Positive("scatter.good", s.Good)))
	}
	patches := map[string]bool{}
	for i, x := range g.Patches {
		at := fmt.Sprintf("patches[%d]", i)
		if x.Name == "" || patches[x.Name] || g.Kind == DoseBody {
			add(known.Wrong(at+".name", x.Name, "a name that no other patch has, of a body that is no dose"))
		}
		patches[x.Name] = true
		add(errors.Join(known.InRange(at+".share", x.Share, -100, 100), known.InRange(at+".reach", x.Reach, 0, 1)))
	}
	add(g.checkStops(kinds, names))
	add(g.checkBounds())
	return errors.Join(errs...)
}

func (g *Goods) checkStops(kinds []StopKind, airs map[string]bool) error {
	if n := len(g.Stations); n < 2 || n > 200 {
		return known.Wrong("stations", fmt.Sprintf("%d stations", n), "2 … 200 stations")
	}
	var errs []error
	add := func(err error) { errs = append(errs, err) }
	seen := map[string]bool{}
	for i := range g.Stations {
		s := &g.Stations[i]
		at := fmt.Sprintf("stations[%d] (%s)", i, s.Name)
		if s.Name == "" || seen[s.Name] {
			add(known.Wrong(at+".name", s.Name, "a name that no other station has"))
		}
		seen[s.Name] = true
		k := slices.Index(kinds, s.Kind)
		if k < 0 {
			add(known.Wrong(at+".kind", s.Kind, "of a "+g.Kind.String()+" one of "+listed(kinds)))
		} else if (k == 0) != (i == 0) || (k == len(kinds)-1) != (i == len(g.Stations)-1) {
			add(known.Wrong(at+".kind", s.Kind, kinds[0].String()+" first and "+kinds[len(kinds)-1].String()+" last"))
		}
		if s.Air != "" && !airs[s.Air] {
			add(known.Wrong(at+".air", s.Air, "the name of an air"))
		}
		if c := s.Conditioned; c != "" && (!airs[c] || g.Leak == nil || g.Leak.Class != humidity.Absorbing) {
			add(known.Wrong(at+".conditioned", c, "the name of an air, of an absorbing body"))
		}
		add(s.Change.Check(at + ".change"))
		add(known.InRange(at+".slope", units.Ratio(s.Slope), 0, 1))
		add(known.InRange(at+".at", s.At, 0, 1))
		if s.Without != nil {
			add(s.Without.Check(at + ".without"))
		}
		if s.Path != decay.NoPath && g.Leak == nil {
			add(known.Wrong(at+".path", s.Path, "a leak law of the body beside a path"))
		}
		add(known.InRange(at+".dwell", s.Dwell, 0, 1e6))
		if (s.Kind == IoniserStop) != (s.Nozzle != nil) {
			add(known.Wrong(at+".nozzle", s.Kind, "a nozzle at an ioniser and nowhere else"))
		}
		if n := s.Nozzle; n != nil {
			add(errors.Join(known.InRange(at+".nozzle.distance", n.Distance, 1e-3, 5), known.InRange(at+".nozzle.air", n.Air,
				1e-3, 340), known.InRange(at+".nozzle.halfRadius", n.HalfRadius, 1e-4, 2),
				known.NotNegative(at+".nozzle.supply", n.Supply)))
		}
	}
	inBody := g.inBody()
	for i, r := range g.Readings {
		at := fmt.Sprintf("readings[%d]", i)
		if !seen[r.Station] {
			add(known.Wrong(at+".station", r.Station, "the name of a station"))
		}
		add(errors.Join(known.Finite(at+".charge", units.Ratio(r.Charge)),
			known.InRange(at+".relativeHumidity", r.RelativeHumidity, 0, 1), known.InRange(at+".share", r.Share, 0, 1),
			known.InRange(at+".gap", r.Gap, 0, 100), known.InRange(at+".distance", r.Distance, 0, 10),
			known.InRange(at+".nominal", r.Nominal, 0, 1), known.InRange(at+".pail", r.Pail, -1, 1),
			known.InRange(at+".display", r.Display, -1e7, 1e7)))
		switch {
		case r.Charge != 0 && (r.Pail != 0 || r.Display != 0) || r.Pail != 0 && r.Display != 0:
			add(known.Wrong(at+".charge", r.Charge, "one of charge, pail and display"))
		case r.Pail != 0 && g.Kind != PartBody && g.Kind != DoseBody:
			add(known.Wrong(at+".pail", r.Pail, "a charge or a display: a pail takes a part or a dose"))
		case r.Display != 0 && g.Kind != SheetBody:
			add(known.Wrong(at+".display", r.Display, "a charge or a pail: a display means a charge before a sheet only"))
		case (r.Spread != 0) == (r.Share != 0):
			add(known.Wrong(at+".spread", r.Spread, "a standard deviation above 0, or a share of the reading, not both"))
		default:
			add(known.Positive(at+".spread", units.Ratio(inBody[i].Spread)))
		}
	}
	for i, c := range g.Conductors {
		add(known.NotNegative(fmt.Sprintf("conductors[%d].resistance", i), c.Resistance))
	}
	return errors.Join(errs...)
}

// limit is the charge that counts as too much, 0 where the scatter of a dose decides.
func (g *Goods) limit() float64 { // [unit of the body]
	if g.Limit == 0 && g.Kind == SheetBody {
		return float64(field.ClingLimit(g.Basis))
	}
	return g.Limit
}

// Unit names the unit of the body's charge.
func (g *Goods) Unit() string { return g.Kind.unit() }
